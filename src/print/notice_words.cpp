#include "print/notice_words.hpp"

#include <fmt/format.h>

#include <string_view>

#include "climate/columns.hpp"

namespace strikebed::print {
namespace {

using climate::Finding;
using climate::Moment;
using climate::Notice;
using climate::NoticeKind;
using climate::WrittenNumber;

std::string words_of(const Moment& moment) {
  const std::string day = to_iso(moment.date);
  return moment.minute ? fmt::format("{} {:02}:{:02}", day, *moment.minute / 60, *moment.minute % 60) : day;
}

std::string words_of(const WrittenNumber& written) { return fmt::format("{:.6g} {}", written.number, written.unit); }

std::string cell_words(const Finding& finding) { return finding.cell.empty() ? "empty" : finding.cell; }

std::string gap_words(const Finding& gap, std::string_view what) {
  const std::string days =
      gap.count == 1 ? words_of(gap.when) : fmt::format("{} to {}", words_of(gap.when), words_of(gap.other));
  return fmt::format(fmt::runtime(what), days, gap.count, gap.count == 1 ? "day" : "days");
}

std::string to_two_metres(const Finding& wind) {
  return fmt::format("multiplied by {:.3f} for 2 m above the ground (FAO-56)", wind.factor);
}

std::string unknown_height_words(const FieldNames& names) {
  const auto name = field_name(names, "wind_height_m");
  return fmt::format("the height at which the wind was measured is not said; taken as 2 m{}",
                     name ? fmt::format(" ({} changes it)", *name) : "");
}

/// What is about the file as a whole.
std::string about_file(const Notice& notice, const FieldNames& names) {
  const Finding& f = notice.finding;
  switch (notice.kind) {
    case NoticeKind::strange_unit:
      return fmt::format("{}: the unit {} is not known (known: {}); the column is not read", f.name, f.cell,
                         climate::unit_list(climate::about(notice.role).family));
    case NoticeKind::unread:
      return fmt::format("{} {} not read: {}", f.count, f.count == 1 ? "column is" : "columns are", f.name);
    case NoticeKind::no_unit:
      return fmt::format("{} has no unit in the header; read as {}", f.name, f.low.unit);
    case NoticeKind::wind_height:
      return fmt::format("the wind was measured at {}; {}", words_of(f.low), to_two_metres(f));
    case NoticeKind::wind_height_of_form:
      return fmt::format("the wind is taken as measured at {}; {}", words_of(f.low), to_two_metres(f));
    case NoticeKind::wind_height_unknown:
      return unknown_height_words(names);
    case NoticeKind::zone_left_aside:
      return "times carry a zone or an offset; it was left aside, days are local days as written";
    case NoticeKind::typical_year:
      return fmt::format(
          "a typical year, put together from months of different years; its days are written as those of {}", f.count);
    case NoticeKind::place:
      return fmt::format("place: {}, {}; hours are of the zone {:+g} {} from UTC, all year", f.name, f.cell,
                         f.low.number, f.low.unit);
    case NoticeKind::leap_day:
      return "29 February was left out of the typical year";
    case NoticeKind::no_rain:
      return "the rain is 0 in every hour of the year; taken as not measured";
    default:
      return "";
  }
}

/// The first finding of a run.
std::string finding_words(const Notice& notice, const FieldNames& names) {
  const Finding& f = notice.finding;
  switch (notice.kind) {
    case NoticeKind::long_gap:
      return gap_words(f, "{}: {} {} without temperature, too long a gap to fill or at the edge of the record");
    case NoticeKind::too_few_hours:
      return fmt::format("{} has {} of its 24 hours of temperature; {} are needed, so it counts as missing",
                         words_of(f.when), f.count, f.of);
    case NoticeKind::filled:
      return gap_words(f, "{}: temperature of {} {} filled by a straight line between its neighbours");
    case NoticeKind::few_hours:
      return fmt::format("{} has {} of its 24 hours; its extremes may lie in the hours that are missing",
                         words_of(f.when), f.count);
    case NoticeKind::not_a_number:
      return fmt::format("{}: {} is not a number; taken as missing", f.name, f.cell);
    case NoticeKind::impossible:
      return fmt::format("{}: {} cannot be (possible: {:.5g} to {:.5g} {}); taken as missing", f.name, f.cell,
                         f.low.number, f.high.number, f.high.unit);
    case NoticeKind::sunny_day:
      return fmt::format("{}: {:.1f} {} of solar radiation in a day cannot be (at most {:.3g}); taken as missing",
                         words_of(f.when), f.low.number, f.low.unit, f.high.number);
    case NoticeKind::swapped:
      return fmt::format("{}: the minimum, {}, was above the maximum, {}; swapped", words_of(f.when), words_of(f.low),
                         words_of(f.high));
    case NoticeKind::short_row:
      return fmt::format("the row has {} of {} cells; the rest count as missing", f.count, f.of);
    case NoticeKind::doubled:
      return fmt::format("{} is there twice with the same values (first in line {}); dropped", words_of(f.when),
                         f.first_line);
    case NoticeKind::clock_change:
      return fmt::format("{} is there twice with different values; both were kept, as when clocks are set back",
                         words_of(f.when));
    case NoticeKind::out_of_order:
      return fmt::format("{} comes after {}; the rows were put in order", words_of(f.when), words_of(f.other));
    case NoticeKind::missing:
      return fmt::format("{}: missing ({})", f.name, cell_words(f));
    default:
      return about_file(notice, names);
  }
}

/// The rest of a run, behind the words of its first finding.
std::string rest_of_run(const Notice& notice) {
  if (notice.findings < 2) return "";
  const bool days = notice.kind == NoticeKind::few_hours || notice.kind == NoticeKind::too_few_hours ||
                    notice.kind == NoticeKind::sunny_day;
  const std::string_view what = days ? "day" : "row";
  const std::string_view on = days ? "on" : "in";
  if (notice.findings == 2) return fmt::format(", and likewise {} the {} after it", on, what);
  return fmt::format(", and likewise {} the {} {}s after it", on, notice.findings - 1, what);
}

std::string_view kind_words(NoticeKind kind) {
  switch (kind) {
    case NoticeKind::long_gap:
      return "gaps too long to fill";
    case NoticeKind::too_few_hours:
      return "days with too few hours";
    case NoticeKind::filled:
      return "gaps filled";
    case NoticeKind::few_hours:
      return "days with hours missing";
    case NoticeKind::not_a_number:
      return "values that are not numbers";
    case NoticeKind::impossible:
    case NoticeKind::sunny_day:
      return "impossible values";
    case NoticeKind::swapped:
      return "days with minimum and maximum swapped";
    case NoticeKind::short_row:
      return "rows with too few cells";
    case NoticeKind::doubled:
      return "rows that were there twice";
    case NoticeKind::clock_change:
      return "hours that were there twice";
    case NoticeKind::out_of_order:
      return "rows out of order";
    case NoticeKind::missing:
      return "missing values";
    default:
      return "the file as a whole";
  }
}

}  // namespace

std::string notice_words(const Notice& notice, const FieldNames& names) {
  if (notice.not_kept) return fmt::format("and {} more like these: {}", notice.findings, notice_kind_words(notice));
  return finding_words(notice, names) + rest_of_run(notice);
}

std::string notice_kind_words(const Notice& notice) {
  const bool of_a_column = notice.role != climate::Role::date && !climate::is_about_file(notice.kind);
  return std::string(kind_words(notice.kind)) +
         (of_a_column ? fmt::format(" of {}", climate::about(notice.role).meaning) : "");
}

}  // namespace strikebed::print

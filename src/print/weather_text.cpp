#include "print/weather_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <vector>

#include "climate/notices.hpp"
#include "climate/seasons.hpp"
#include "print/notice_words.hpp"
#include "print/text_table.hpp"

namespace strikebed::print {
namespace {

using climate::Coverage;
using climate::DateRange;
using climate::WeatherSummary;

constexpr std::string_view kUnknown = "-";
constexpr std::size_t kNoticesShown = 20;
constexpr int kShownOfAKind = 5;

std::string with_decimals(const std::optional<double>& value, int decimals) {
  return value ? fmt::format("{:.{}f}", *value, decimals) : std::string(kUnknown);
}

std::string short_date(Date date) {
  return fmt::format("{} {} {}", day_of_month(date), month_name(month_of(date)).substr(0, 3), year_of(date));
}

std::string day_words(const std::chrono::month_day& day) {
  return fmt::format("{} {}", static_cast<unsigned>(day.day()),
                     month_name(static_cast<int>(static_cast<unsigned>(day.month()))).substr(0, 3));
}

std::string heading(std::string_view text) { return fmt::format("\n{}\n\n", text); }

bool typical(const WeatherSummary& summary) { return summary.kind == climate::RecordKind::typical_year; }

std::string opening(const WeatherSummary& s, std::size_t width) {
  std::string text = fmt::format("{}: ", s.name);
  if (s.days == 0) return paragraph(text + "no days.", width) + "\n";
  text += typical(s) ? fmt::format("one typical year of {} days, put together from the months of several years", s.days)
                     : fmt::format("{} days, {} to {}", s.days, short_date(s.first), short_date(s.last));
  if (s.hourly_rows > 0) text += fmt::format(", from {} hourly rows", s.hourly_rows);
  text += ".";
  if (s.coldest && s.hottest) {
    const auto when = [&](Date date) { return typical(s) ? std::string() : fmt::format(" on {}", short_date(date)); };
    text += fmt::format(" Lowest {:.1f} °C{}, highest {:.1f} °C{}.", s.lowest_tmin_c, when(*s.coldest),
                        s.highest_tmax_c, when(*s.hottest));
  }
  if (s.place) {
    text += fmt::format(" Place: {:.2f}° {}", std::abs(s.place->latitude_deg),
                        s.place->latitude_deg < 0 ? "south" : "north");
    if (const auto longitude = s.place->longitude_deg) {
      text += fmt::format(", {:.2f}° {}", std::abs(*longitude), *longitude < 0 ? "west" : "east");
    }
    text += s.place->elevation_m ? fmt::format(", {:.0f} m.", *s.place->elevation_m)
                                 : ". Its elevation is not known; reckoned as at sea level.";
  } else {
    text += " The latitude is not known, so day length, radiation and evapotranspiration are left out.";
  }
  return paragraph(text, width);
}

/// "62", or "18*" for the days that were measured of less than a month.
std::string total(const std::optional<climate::MonthTotal>& of_month, int decimals) {
  if (!of_month) return std::string(kUnknown);
  return fmt::format("{:.{}f}{}", of_month->amount, of_month->whole_month ? decimals : 0,
                     of_month->whole_month ? "" : "*");
}

std::string month_table(const WeatherSummary& s, std::size_t width) {
  std::vector<std::vector<std::string>> rows;
  bool partial = false;
  for (std::size_t m = 0; m < 12; ++m) {
    const climate::MonthSummary& month = s.months[m];
    if (!month.measured()) continue;
    for (const auto& sum : {month.frost_days, month.rain_mm}) partial = partial || (sum && !sum->whole_month);
    rows.push_back({std::string(month_name(static_cast<int>(m) + 1).substr(0, 3)), std::to_string(month.days),
                    with_decimals(month.tmin_c, 1), with_decimals(month.tmin_sd_c, 1), with_decimals(month.tmax_c, 1),
                    with_decimals(month.tmax_sd_c, 1), total(month.frost_days, 1), total(month.rain_mm, 0),
                    with_decimals(month.day_length_h, 1), with_decimals(month.radiation_mj_m2, 1),
                    with_decimals(month.evaporation_mm, 1)});
  }
  const std::vector<Column> columns = {{"", false},      {"days", true},  {"min °C", true}, {"±", true},
                                       {"max °C", true}, {"±", true},     {"frosts", true}, {"rain mm", true},
                                       {"day h", true},  {"MJ/m2", true}, {"ET mm", true}};
  std::string note =
      "±: standard deviation of single days. Frosts: nights at or below 0 °C in the month. Rain: of the month. Day: "
      "sunrise to sunset. MJ/m2: sun's radiation a day. ET: water that short grass gives off a day (FAO-56).";
  if (partial) note += " *: of the days measured, which are fewer than a month has; not scaled up.";
  return heading("Months") + table(columns, rows, width) + paragraph(note, width, "  ");
}

std::string degree_days(const WeatherSummary& s, std::size_t width) {
  if (s.bases_c.empty() || s.years.empty()) return "";
  std::vector<Column> columns = {{"", false}, {"days", true}};
  for (const double base : s.bases_c) {
    columns.push_back({fmt::format("{:g} °C sine", base), true});
    columns.push_back({fmt::format("{:g} °C hours", base), true});
  }
  std::vector<std::vector<std::string>> rows;
  bool partial = false;
  for (const climate::YearDegreeDays& year : s.years) {
    const bool whole = year.days == year.days_of_year || typical(s);
    partial = partial || !whole;
    std::vector<std::string> row = {(typical(s) ? "typical" : std::to_string(year.year)) + (whole ? "" : "*"),
                                    std::to_string(year.days)};
    for (const climate::DegreeDays& sum : year.by_base) {
      row.push_back(fmt::format("{:.0f}", sum.single_sine));
      row.push_back(with_decimals(sum.hours, 0));
    }
    rows.push_back(std::move(row));
  }
  std::string note =
      "Degree-days above each base. Sine: single sine through the day's minimum and maximum (Baskerville & Emin 1969). "
      "Hours: sum over the hours of a sine by day and an exponential fall by night (Parton & Logan 1981), which the "
      "plan "
      "uses. Methods differ by 1 to 5 %: compare like with like.";
  if (partial) note += " *: not a whole year, so the sum is too low.";
  return heading("Degree-days, °C d") + table(columns, rows, width) + paragraph(note, width, "  ");
}

std::string frost_sentence(std::string_view which, const DateRange& dates) {
  if (dates.seasons == 0) return fmt::format("{}: no half-year is whole enough to tell.", which);
  if (!dates.median)
    return fmt::format("{}: none in {} {}.", which, dates.seasons, dates.seasons == 1 ? "year" : "years");
  std::string text = fmt::format("{}: {}", which, day_words(*dates.median));
  if (dates.seasons > 1) {
    text += fmt::format(" in the middle of {} years, {} at the earliest, {} at the latest", dates.seasons,
                        day_words(*dates.earliest), day_words(*dates.latest));
  }
  if (dates.without_frost > 0) text += fmt::format(" ({} without any)", dates.without_frost);
  return text + ".";
}

std::string frosts(const WeatherSummary& s, std::size_t width) {
  std::string text = heading("Frosts (minimum at or below 0 °C)") +
                     paragraph(frost_sentence("Last in spring", s.last_spring_frost), width, "  ") +
                     paragraph(frost_sentence("First in autumn", s.first_autumn_frost), width, "  ");
  if (typical(s) || s.frosts.size() < 2) return text;
  const auto frost = [](bool known, const std::optional<Date>& date) {
    return !known ? std::string("not known") : date ? short_date(*date) : std::string("none");
  };
  const bool south = s.place && s.place->latitude_deg < 0;
  std::vector<std::vector<std::string>> rows;
  for (const climate::FrostSeason& season : s.frosts) {
    rows.push_back({south ? fmt::format("{}/{:02}", season.starts_in, (season.starts_in + 1) % 100)
                          : std::to_string(season.starts_in),
                    frost(season.spring_known, season.last_spring_frost),
                    frost(season.autumn_known, season.first_autumn_frost)});
  }
  return text + "\n" + table({{"season", false}, {"last in spring", true}, {"first in autumn", true}}, rows, width);
}

std::string coverage(const WeatherSummary& s, std::size_t width) {
  std::vector<std::vector<std::string>> rows;
  const auto row = [&](std::string name, const Coverage& days, std::string how) {
    rows.push_back({std::move(name), std::to_string(days.measured), std::to_string(days.estimated),
                    std::to_string(days.missing), days.estimated > 0 ? std::move(how) : ""});
  };
  row("temperature", s.temperature, "short gaps filled between their neighbours");
  row("rain", s.rain, "");
  row("humidity", s.humidity, "as if dew formed at the day's minimum (FAO-56)");
  row("wind", s.wind, fmt::format("{:g} m/s (FAO-56)", climate::kUsualWind_m_s));
  row("radiation", s.radiation, "from the day's temperature range (FAO-56), ±20 % a day");
  return heading("Days measured, estimated and missing") +
         table({{"", false}, {"measured", true}, {"estimated", true}, {"missing", true}, {"how estimated", false}},
               rows, width);
}

std::string futures(const WeatherSummary& s, std::size_t width) {
  const std::string text =
      typical(s) ? "One typical year is no record of years: a plan makes its weather day by day to match these months."
      : s.can_be_resampled
          ? fmt::format("{} whole seasons: a plan uses them as they were.", s.whole_seasons)
          : fmt::format(
                "{} whole {}: with {} years or more a plan uses the seasons as they were; with fewer it makes its "
                "weather day by day to match this record.",
                s.whole_seasons, s.whole_seasons == 1 ? "season" : "seasons", climate::kYearsToResample);
  return heading("For a plan") + paragraph(text, width, "  ");
}

std::string where(const climate::Notice& notice) {
  if (notice.line == 0) return "";
  std::string place = notice.last_line > notice.line ? fmt::format("lines {}-{}", notice.line, notice.last_line)
                                                     : fmt::format("line {}", notice.line);
  if (notice.finding.column > 0) place += fmt::format(", column {}", notice.finding.column);
  return place + ": ";
}

/// The most serious first; the first few of each kind, so that no kind hides another.
std::string notices(const WeatherSummary& s, const FieldNames& names, std::size_t width) {
  if (s.notices.empty()) return "";
  std::string text = heading("Found while reading");
  std::size_t shown = 0;
  int of_this_kind = 0;
  std::string kind;
  for (const climate::Notice& notice : s.notices) {
    const std::string this_kind = notice_kind_words(notice);
    of_this_kind = kind == this_kind ? of_this_kind + 1 : 1;
    kind = this_kind;
    if (of_this_kind > kShownOfAKind || shown == kNoticesShown) continue;
    ++shown;
    text += paragraph(where(notice) + notice_words(notice, names), width, "  ");
  }
  if (const std::size_t more = s.notices.size() - shown; more > 0) {
    const auto document = field_name(names, "json");
    text += paragraph(
        fmt::format(
            "and {} more{}", more,
            document ? fmt::format(" ({} lists all, up to {} of a kind)", *document, climate::NoticeBook::kKept) : ""),
        width, "  ");
  }
  return text;
}

}  // namespace

std::string weather_text(const WeatherSummary& summary, const FieldNames& names, int width) {
  const std::size_t cells = lines_of(width);
  std::string text = opening(summary, cells);
  if (summary.days > 0) {
    text += month_table(summary, cells) + degree_days(summary, cells) + frosts(summary, cells) +
            coverage(summary, cells) + futures(summary, cells);
  }
  return plain_spaces(text + notices(summary, names, cells));
}

}  // namespace strikebed::print

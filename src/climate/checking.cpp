#include "climate/checking.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <bitset>
#include <cmath>
#include <limits>
#include <numeric>
#include <optional>
#include <utility>

#include "climate/sun.hpp"

namespace strikebed::climate {
namespace {

constexpr double kMostRadiationADay = 50;   // MJ/m2; about what arrives above the air on the longest polar day
constexpr double kTwilight = 0.5;           // MJ/m2 a day that come with the sun below the horizon, at most
constexpr int kClockChangeBefore = 4 * 60;  // clocks are set back in the small hours

Date date_of(int day) { return Date{Days{day}}; }
int number_of(Date date) { return static_cast<int>(date.time_since_epoch().count()); }

std::string moment_words(const RowStamp& row, bool hourly) {
  const std::string day = to_iso(date_of(row.day));
  return hourly ? fmt::format("{} {:02}:{:02}", day, row.minute / 60, row.minute % 60) : day;
}

/// One file's rows on their way to days.
class Checker {
 public:
  Checker(Observations observed, NoticeBook notices, std::string name, RecordKind kind)
      : seen_(std::move(observed)), notices_(std::move(notices)) {
    record_.name = std::move(name);
    record_.kind = kind;
  }

  Result<WeatherRecord> run() {
    if (seen_.rows.empty()) return wrong("there are no rows of data under the header", "one row a day or an hour", 0);
    sort_rows();
    hourly_ = seen_.timed && has_two_times_on_a_day();
    if (auto error = drop_doubles()) return *error;
    if (!in_order_) note_disorder();
    if (hourly_) {
      record_.hourly_rows = static_cast<int>(order_.size());
    } else {
      if (auto error = missing_extremes()) return *error;
    }
    gather_days();
    if (auto error = no_temperature()) return *error;
    fill_gaps(&Day::tmin_c, &Day::tmax_c, Role::tmin);
    fill_gaps(&Day::tmax_c, &Day::tmin_c, Role::tmax);
    count_days();
    record_.notices = std::move(notices_).finish();
    return std::move(record_);
  }

 private:
  [[nodiscard]] Error wrong(std::string problem, std::string allowed, int line, std::string field = {}) const {
    return Error{std::move(problem), std::move(allowed), std::move(field), record_.name, line, 0};
  }
  [[nodiscard]] const RowStamp& stamp(std::size_t place) const { return seen_.rows[order_[place]]; }
  [[nodiscard]] const double* values(std::size_t place) const {
    return seen_.values.data() + std::size_t{order_[place]} * seen_.columns.size();
  }
  [[nodiscard]] bool has_column(Role role) const {
    return std::any_of(seen_.columns.begin(), seen_.columns.end(),
                       [&](const MeasuredColumn& column) { return column.role == role; });
  }

  void sort_rows() {
    order_.resize(seen_.rows.size());
    std::iota(order_.begin(), order_.end(), 0U);
    const auto when = [&](std::uint32_t row) { return std::pair{seen_.rows[row].day, seen_.rows[row].minute}; };
    const auto earlier = [&](std::uint32_t a, std::uint32_t b) { return when(a) < when(b); };
    in_order_ = std::is_sorted(order_.begin(), order_.end(), earlier);
    if (!in_order_) std::stable_sort(order_.begin(), order_.end(), earlier);
    repeats_.assign(seen_.rows.size(), false);
  }

  /// Rows that go back in time, but for those that repeat another: of these it is said that they do.
  void note_disorder() {
    const RowStamp* before = nullptr;
    for (std::size_t i = 0; i < seen_.rows.size(); ++i) {
      if (repeats_[i]) continue;
      const RowStamp& row = seen_.rows[i];
      if (before && std::pair{row.day, row.minute} < std::pair{before->day, before->minute}) {
        notices_.note(NoticeKind::out_of_order, Role::date, row.line, row.line,
                      [&] { return Finding{.when = moment(row), .other = moment(*before)}; });
      }
      before = &row;
    }
  }

  [[nodiscard]] bool has_two_times_on_a_day() const {
    for (std::size_t i = 1; i < order_.size(); ++i) {
      if (stamp(i).day == stamp(i - 1).day && stamp(i).minute != stamp(i - 1).minute) return true;
    }
    return false;
  }

  [[nodiscard]] bool same_values(std::size_t a, std::size_t b) const {
    return std::equal(values(a), values(a) + seen_.columns.size(), values(b),
                      [](double x, double y) { return x == y || (std::isnan(x) && std::isnan(y)); });
  }

  /// Drops rows that repeat another; keeps both of an hour that differs when a clock set back explains it.
  std::optional<Error> drop_doubles() {
    std::size_t kept = 0;
    std::size_t run = 0;  // first kept row with the time of the one looked at
    for (std::size_t i = 0; i < order_.size(); ++i) {
      const RowStamp& row = stamp(i);
      if (kept == 0 || stamp(kept - 1).day != row.day || stamp(kept - 1).minute != row.minute) {
        run = kept;
        order_[kept++] = order_[i];
        continue;
      }
      bool repeats = false;
      for (std::size_t other = run; other < kept && !repeats; ++other) repeats = same_values(other, i);
      repeats_[order_[i]] = true;
      if (repeats) {
        notices_.note(NoticeKind::doubled, Role::date, row.line, row.line,
                      [&] { return Finding{.when = moment(row), .first_line = stamp(run).line}; });
        continue;
      }
      if (hourly_ && row.minute < kClockChangeBefore && kept - run == 1) {
        notices_.note(NoticeKind::clock_change, Role::date, row.line, row.line,
                      [&] { return Finding{.when = moment(row)}; });
        order_[kept++] = order_[i];
        continue;
      }
      return wrong(fmt::format("{} is there twice with different values (first in line {})", moment_words(row, hourly_),
                               stamp(run).line),
                   hourly_ ? "one row an hour" : "one row a day", row.line);
    }
    order_.resize(kept);
    return std::nullopt;
  }

  /// A value as it stands in the file, with its unit.
  [[nodiscard]] WrittenNumber as_written(Role role, double value) const {
    const auto column = std::find_if(seen_.columns.begin(), seen_.columns.end(),
                                     [&](const MeasuredColumn& one) { return one.role == role; });
    const KnownUnit& unit = column == seen_.columns.end() ? usual_unit(about(role).family) : *column->unit;
    return {written_in(unit, value), unit.name};
  }

  [[nodiscard]] Moment moment(const RowStamp& row) const {
    return {date_of(row.day), hourly_ ? std::optional(row.minute) : std::nullopt};
  }

  /// A daily file needs both extremes; a mean alone does not give them.
  [[nodiscard]] std::optional<Error> missing_extremes() const {
    for (const Role role : {Role::tmin, Role::tmax}) {
      if (has_column(role)) continue;
      return wrong(fmt::format("the file is daily and has no column of {}", about(role).meaning),
                   "daily minimum and maximum temperature, or the temperature of every hour with its time",
                   stamp(0).line, std::string(about(role).word));
    }
    return std::nullopt;
  }

  /// Everything of one day in one column.
  struct Tally {
    double sum = 0;
    double low = std::numeric_limits<double>::infinity();
    double high = -std::numeric_limits<double>::infinity();
    int count = 0;
    std::bitset<25> hours;  // 24:00 may be written beside 00:00

    void add(double value, int minute) {
      if (std::isnan(value)) return;
      sum += value;
      low = std::min(low, value);
      high = std::max(high, value);
      ++count;
      hours.set(static_cast<std::size_t>(minute / 60));
    }
    [[nodiscard]] int hour_count() const { return std::min(24, static_cast<int>(hours.count())); }
  };
  using Tallies = std::array<Tally, kRoles>;

  void gather_days() {
    const int first = stamp(0).day;
    const int last = stamp(order_.size() - 1).day;
    record_.days.resize(static_cast<std::size_t>(last - first) + 1);
    for (std::size_t i = 0; i < record_.days.size(); ++i) record_.days[i].date = date_of(first + static_cast<int>(i));
    lines_.assign(record_.days.size(), 0);
    for (std::size_t from = 0; from < order_.size();) {
      const RowStamp& row = stamp(from);
      Tallies tallies;
      std::size_t to = from;
      for (; to < order_.size() && stamp(to).day == row.day; ++to) {
        const double* value = values(to);
        for (std::size_t column = 0; column < seen_.columns.size(); ++column) {
          tallies[static_cast<std::size_t>(seen_.columns[column].role)].add(value[column], stamp(to).minute);
        }
      }
      const auto place = static_cast<std::size_t>(row.day - first);
      lines_[place] = row.line;
      if (hourly_) {
        day_from_hours(tallies, record_.days[place], row.line);
      } else {
        day_from_row(tallies, record_.days[place], row.line);
      }
      from = to;
    }
  }

  [[nodiscard]] bool per_day(Role role) const {
    return std::any_of(seen_.columns.begin(), seen_.columns.end(),
                       [&](const MeasuredColumn& column) { return column.role == role && column.unit->per_day; });
  }

  void day_from_row(const Tallies& tallies, Day& day, int line) {
    const auto value = [&](Role role) -> std::optional<double> {
      const Tally& tally = tallies[static_cast<std::size_t>(role)];
      if (tally.count == 0) return std::nullopt;
      return tally.sum;
    };
    day.tmin_c = value(Role::tmin);
    day.tmax_c = value(Role::tmax);
    if (day.has_temperature() && *day.tmin_c > *day.tmax_c) {
      notices_.note(NoticeKind::swapped, Role::date, line, line, [&] {
        return Finding{.when = {day.date},
                       .low = as_written(Role::tmin, *day.tmin_c),
                       .high = as_written(Role::tmax, *day.tmax_c)};
      });
      std::swap(day.tmin_c, day.tmax_c);
    }
    day.rain_mm = value(Role::rain);
    day.humidity_pct = value(Role::humidity);
    const auto low = value(Role::humidity_min);
    const auto high = value(Role::humidity_max);
    if (!day.humidity_pct && low && high) day.humidity_pct = (*low + *high) / 2;
    day.dew_point_c = value(Role::dew_point);
    if (const auto wind = value(Role::wind)) day.wind_m_s = *wind * seen_.wind_factor;
    day.radiation_mj_m2 = value(Role::radiation);
    check_radiation(day, line);
  }

  void day_from_hours(const Tallies& tallies, Day& day, int line) {
    const auto tally = [&](Role role) -> const Tally& { return tallies[static_cast<std::size_t>(role)]; };
    const auto enough = [&](Role role) { return tally(role).hour_count() >= kHoursNeeded; };
    const auto mean = [&](Role role) -> std::optional<double> {
      if (!enough(role)) return std::nullopt;
      return tally(role).sum / tally(role).count;
    };
    // A rate is the mean of the rows times the hours they stand for, so that rows of ten minutes and rows of an hour
    // give the same.
    const auto total = [&](Role role) -> std::optional<double> {
      if (!enough(role)) return std::nullopt;
      return per_day(role) ? tally(role).sum / tally(role).count * tally(role).hour_count() / 24 : tally(role).sum;
    };
    day_extremes(tallies, day, line);
    day.rain_mm = total(Role::rain);
    day.humidity_pct = mean(Role::humidity);
    const auto low = mean(Role::humidity_min);
    const auto high = mean(Role::humidity_max);
    if (!day.humidity_pct && low && high) day.humidity_pct = (*low + *high) / 2;
    day.dew_point_c = mean(Role::dew_point);
    if (const auto wind = mean(Role::wind)) day.wind_m_s = *wind * seen_.wind_factor;
    day.radiation_mj_m2 = total(Role::radiation);
    check_radiation(day, line);
  }

  /// The lowest and highest of whatever temperatures the hours carry.
  void day_extremes(const Tallies& tallies, Day& day, int line) {
    Tally all;
    for (const Role role : {Role::temperature, Role::tmin, Role::tmax}) {
      const Tally& one = tallies[static_cast<std::size_t>(role)];
      all.low = std::min(all.low, one.low);
      all.high = std::max(all.high, one.high);
      all.hours |= one.hours;
    }
    // without a temperature of the hour both of its extremes are needed
    int hours = all.hour_count();
    if (!has_column(Role::temperature)) {
      hours = std::min(tallies[static_cast<std::size_t>(Role::tmin)].hour_count(),
                       tallies[static_cast<std::size_t>(Role::tmax)].hour_count());
    }
    most_hours_ = std::max(most_hours_, hours);
    if (hours < kHoursNeeded) {
      notices_.note(NoticeKind::too_few_hours, Role::date, line, number_of(day.date),
                    [&] { return Finding{.when = {day.date}, .count = hours, .of = kHoursNeeded}; });
      return;
    }
    if (hours < 24) {
      notices_.note(NoticeKind::few_hours, Role::date, line, number_of(day.date),
                    [&] { return Finding{.when = {day.date}, .count = hours}; });
    }
    day.tmin_c = all.low;
    day.tmax_c = all.high;
  }

  /// What the sun brings to the top of the air on that day; no more can come through it.
  [[nodiscard]] double most_radiation(Date date) const {
    if (!seen_.latitude_deg) return kMostRadiationADay;
    return extraterrestrial_mj_m2(*seen_.latitude_deg, day_of_year(date)) + kTwilight;
  }

  void check_radiation(Day& day, int line) {
    const double most = most_radiation(day.date);
    if (!day.radiation_mj_m2 || *day.radiation_mj_m2 <= most) return;
    notices_.note(NoticeKind::sunny_day, Role::radiation, line, number_of(day.date), [&] {
      return Finding{.when = {day.date}, .low = {*day.radiation_mj_m2, "MJ/m2"}, .high = {most, "MJ/m2"}};
    });
    day.radiation_mj_m2.reset();
  }

  [[nodiscard]] std::optional<Error> no_temperature() const {
    if (std::any_of(record_.days.begin(), record_.days.end(), [](const Day& day) { return day.has_temperature(); })) {
      return std::nullopt;
    }
    if (hourly_) {
      return wrong(
          fmt::format("no day has temperatures in {} of its 24 hours; the fullest has {}", kHoursNeeded, most_hours_),
          "rows an hour or less apart", stamp(0).line);
    }
    return wrong("no day has both a minimum and a maximum temperature", "at least one such day", stamp(0).line);
  }

  /// Fills runs of at most kLongestFilledGap missing values between two measured ones by a straight line. A filled
  /// value never crosses the other extreme of its day where that was measured.
  void fill_gaps(std::optional<double> Day::* extreme, std::optional<double> Day::* other, Role role) {
    std::vector<Day>& days = record_.days;
    const bool lowest = role == Role::tmin;
    std::size_t before = days.size();  // the last measured day; none yet
    double from = 0;
    for (std::size_t i = 0; i < days.size(); ++i) {
      const auto& measured = days[i].*extreme;
      if (!measured) continue;
      const std::size_t gap = before < i ? i - before - 1 : 0;
      if (gap > 0 && gap <= kLongestFilledGap) {
        const double step = (*measured - from) / static_cast<double>(gap + 1);
        for (std::size_t k = 1; k <= gap; ++k) {
          Day& day = days[before + k];
          double value = from + step * static_cast<double>(k);
          if (const auto& bound = day.*other) value = lowest ? std::min(value, *bound) : std::max(value, *bound);
          day.*extreme = value;
          day.filled = true;
        }
      }
      before = i;
      from = *measured;
    }
  }

  void count_days() {
    for (std::size_t i = 0; i < record_.days.size();) {
      const Day& day = record_.days[i];
      const bool missing = !day.has_temperature();
      if (!missing && !day.filled) {
        ++i;
        continue;
      }
      std::size_t end = i;
      while (end < record_.days.size() && record_.days[end].has_temperature() != missing &&
             (missing || record_.days[end].filled)) {
        ++end;
      }
      const auto count = static_cast<int>(end - i);
      (missing ? record_.days_missing : record_.days_filled) += count;
      if (missing) {  // one extreme may have been filled where the other could not
        for (std::size_t k = i; k < end; ++k) record_.days[k].filled = false;
      }
      // the line of the last row before the gap, if the gap has none of its own
      std::size_t row = i;
      while (row > 0 && lines_[row] == 0) --row;
      const NoticeKind kind = missing ? NoticeKind::long_gap : NoticeKind::filled;
      notices_.note(kind, Role::date, lines_[row], number_of(day.date),
                    [&] { return Finding{.when = {day.date}, .other = {record_.days[end - 1].date}, .count = count}; });
      i = end;
    }
  }

  Observations seen_;
  NoticeBook notices_;
  WeatherRecord record_;
  std::vector<std::uint32_t> order_;  // rows by time
  std::vector<int> lines_;            // first line of each day; 0: no row
  std::vector<bool> repeats_;         // of each row of the file: it has the time of an earlier one
  bool in_order_ = true;
  bool hourly_ = false;
  int most_hours_ = 0;
};

}  // namespace

double wind_factor_to_2_m(double height_m) { return 4.87 / std::log(67.8 * height_m - 5.42); }

Result<WeatherRecord> check_observations(Observations observed, NoticeBook notices, std::string name, RecordKind kind) {
  return Checker(std::move(observed), std::move(notices), std::move(name), kind).run();
}

}  // namespace strikebed::climate

#include "climate/summary.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "climate/degree_days.hpp"
#include "climate/hours.hpp"
#include "climate/seasons.hpp"
#include "climate/statistics.hpp"
#include "climate/sun.hpp"

namespace strikebed::climate {
namespace {

using Months = std::array<MonthSummary, 12>;
constexpr double kFrost_c = 0;
constexpr double kMeanFebruary_days = 28.25;

std::optional<double> mean_if_any(const MonthStatistics& month) {
  return month.count > 0 ? std::optional(month.mean) : std::nullopt;
}

std::optional<double> sd_if_any(const MonthStatistics& month) {
  return month.count > 1 ? std::optional(month.sd) : std::nullopt;
}

double month_days(std::size_t month) {
  return month == 1 ? kMeanFebruary_days : days_in_month(2001, static_cast<int>(month) + 1);
}

std::optional<MonthTotal> total_if_any(const MonthStatistics& month, std::size_t m) {
  if (month.count == 0) return std::nullopt;
  const bool whole = month.count >= std::floor(month_days(m));
  return MonthTotal{
      .amount = month.mean * (whole ? month_days(m) : month.count), .days = month.count, .whole_month = whole};
}

Months month_table(const WeatherRecord& record, const std::optional<Site>& site, Setting setting) {
  const auto tmin = month_statistics(record, tmin_of);
  const auto tmax = month_statistics(record, tmax_of);
  const auto both = month_statistics(record, tmean_of);
  const auto rain = month_statistics(record, [](const Day& day) { return day.rain_mm; });
  const auto frost = month_statistics(record, [](const Day& day) -> std::optional<double> {
    if (!day.tmin_c) return std::nullopt;
    return *day.tmin_c <= kFrost_c ? 1 : 0;
  });
  const auto radiation = month_statistics(record, [&](const Day& day) -> std::optional<double> {
    if (!site) return day.radiation_mj_m2;
    if (const auto full = completed(day, *site, setting)) return full->radiation_mj_m2;
    return day.radiation_mj_m2;
  });
  const auto evaporation = month_statistics(record, [&](const Day& day) -> std::optional<double> {
    if (!site) return std::nullopt;
    const auto full = completed(day, *site, setting);
    if (!full) return std::nullopt;
    return reference_evaporation(*full, *site, day.date).reference_mm;
  });
  const auto day_length = month_statistics(record, [&](const Day& day) -> std::optional<double> {
    if (!site) return std::nullopt;
    return day_length_h(site->latitude_deg, day_of_year(day.date));
  });

  Months months;
  for (std::size_t m = 0; m < 12; ++m) {
    months[m] = {.days = both[m].count,
                 .tmin_c = mean_if_any(tmin[m]),
                 .tmax_c = mean_if_any(tmax[m]),
                 .tmin_sd_c = sd_if_any(tmin[m]),
                 .tmax_sd_c = sd_if_any(tmax[m]),
                 .frost_days = total_if_any(frost[m], m),
                 .rain_mm = total_if_any(rain[m], m),
                 .day_length_h = mean_if_any(day_length[m]),
                 .radiation_mj_m2 = mean_if_any(radiation[m]),
                 .evaporation_mm = mean_if_any(evaporation[m])};
  }
  return months;
}

/// The 24 hours of a day; a neighbour without temperature is taken to be like the day itself.
std::array<double, 24> hours_of(const WeatherRecord& record, std::size_t i, double latitude_deg) {
  const Day& day = record.days[i];
  const auto& next_tmin = i + 1 < record.days.size() ? record.days[i + 1].tmin_c : day.tmin_c;
  const auto& last_tmax = i > 0 ? record.days[i - 1].tmax_c : day.tmax_c;
  const DayEnds ends{*day.tmin_c, *day.tmax_c, next_tmin.value_or(*day.tmin_c), last_tmax.value_or(*day.tmax_c)};
  const double length_h = day_length_h(latitude_deg, day_of_year(day.date));
  std::array<double, 24> hours{};
  for (std::size_t h = 0; h < 24; ++h) hours[h] = parton_logan_c(ends, length_h, static_cast<double>(h) + 0.5);
  return hours;
}

std::vector<YearDegreeDays> yearly_degree_days(const WeatherRecord& record, const std::optional<Site>& site,
                                               const std::vector<double>& bases_c) {
  std::map<int, YearDegreeDays> years;
  for (std::size_t i = 0; i < record.days.size(); ++i) {
    const Day& day = record.days[i];
    const int number = year_of(day.date);
    auto [place, is_new] = years.try_emplace(number);
    YearDegreeDays& year = place->second;
    if (is_new) {
      year = {.year = number, .days = 0, .days_of_year = days_in_month(number, 2) + 337, .by_base = {}};
      year.by_base.resize(bases_c.size(), {0, site ? std::optional(0.0) : std::nullopt});
    }
    if (!day.has_temperature()) continue;
    ++year.days;
    const auto hours = site ? hours_of(record, i, site->latitude_deg) : std::array<double, 24>{};
    for (std::size_t b = 0; b < bases_c.size(); ++b) {
      year.by_base[b].single_sine += degree_days_single_sine(*day.tmin_c, *day.tmax_c, bases_c[b]);
      if (site) *year.by_base[b].hours += degree_days_hourly(hours, bases_c[b]);
    }
  }
  std::vector<YearDegreeDays> list;
  list.reserve(years.size());
  for (auto& [number, year] : years) list.push_back(std::move(year));
  return list;
}

/// Frosts of the half-year that begins on the first of `month` (1 or 7): the last or the first of them.
struct HalfYear {
  bool known = false;
  std::optional<Date> first_frost;
  std::optional<Date> last_frost;
};
HalfYear half_year(const WeatherRecord& record, int year, int month) {
  HalfYear half;
  const Date begin = make_date(year, month, 1);
  const Date end = month == 1 ? make_date(year, 7, 1) : make_date(year + 1, 1, 1);
  const Date first = record.days.front().date;
  if (begin < first || end > record.days.back().date + Days{1}) return half;
  half.known = true;
  for (Date date = begin; date < end; date += Days{1}) {
    const auto& tmin = record.days[static_cast<std::size_t>((date - first).count())].tmin_c;
    if (!tmin) return {};
    if (*tmin > kFrost_c) continue;
    if (!half.first_frost) half.first_frost = date;
    half.last_frost = date;
  }
  return half;
}

std::vector<FrostSeason> frost_seasons(const WeatherRecord& record, bool south) {
  std::vector<FrostSeason> seasons;
  for (int year = year_of(record.days.front().date) - (south ? 1 : 0); year <= year_of(record.days.back().date);
       ++year) {
    const HalfYear spring = half_year(record, year, south ? 7 : 1);
    const HalfYear autumn = half_year(record, south ? year + 1 : year, south ? 1 : 7);
    if (!spring.known && !autumn.known) continue;
    seasons.push_back({year, spring.known, autumn.known, spring.last_frost, autumn.first_frost});
  }
  return seasons;
}

/// Dates of one half of the year, compared by month and day.
DateRange date_range(int seasons, std::vector<Date> dates) {
  DateRange range;
  range.seasons = seasons;
  range.without_frost = seasons - static_cast<int>(dates.size());
  if (dates.empty()) return range;
  constexpr int kLeapYear = 2000;
  for (Date& date : dates) date = same_day_in(date, kLeapYear);
  std::sort(dates.begin(), dates.end());
  const auto month_day_of = [](Date date) {
    const std::chrono::year_month_day day{date};
    return day.month() / day.day();
  };
  const Date lower = dates[(dates.size() - 1) / 2];
  const Date upper = dates[dates.size() / 2];
  range.earliest = month_day_of(dates.front());
  range.median = month_day_of(lower + (upper - lower) / 2);
  range.latest = month_day_of(dates.back());
  return range;
}

void add_frosts(WeatherSummary& summary, const WeatherRecord& record, bool south) {
  summary.frosts = frost_seasons(record, south);
  std::vector<Date> last, first;
  int springs = 0;
  int autumns = 0;
  for (const FrostSeason& season : summary.frosts) {
    springs += season.spring_known ? 1 : 0;
    autumns += season.autumn_known ? 1 : 0;
    if (season.last_spring_frost) last.push_back(*season.last_spring_frost);
    if (season.first_autumn_frost) first.push_back(*season.first_autumn_frost);
  }
  summary.last_spring_frost = date_range(springs, last);
  summary.first_autumn_frost = date_range(autumns, first);
}

void add_coverage(WeatherSummary& summary, const WeatherRecord& record) {
  const auto count = [](Coverage& coverage, bool measured, bool can_be_estimated) {
    ++(measured ? coverage.measured : can_be_estimated ? coverage.estimated : coverage.missing);
  };
  for (const Day& day : record.days) {
    const bool warmth = day.has_temperature();
    count(summary.temperature, warmth && !day.filled, warmth);
    count(summary.rain, day.rain_mm.has_value(), false);
    count(summary.humidity, day.humidity_pct || day.dew_point_c, warmth);
    count(summary.wind, day.wind_m_s.has_value(), true);
    count(summary.radiation, day.radiation_mj_m2.has_value(), warmth && summary.place);
  }
}

void add_extremes(WeatherSummary& summary, const WeatherRecord& record) {
  for (const Day& day : record.days) {
    if (day.tmin_c && (!summary.coldest || *day.tmin_c < summary.lowest_tmin_c)) {
      summary.coldest = day.date;
      summary.lowest_tmin_c = *day.tmin_c;
    }
    if (day.tmax_c && (!summary.hottest || *day.tmax_c > summary.highest_tmax_c)) {
      summary.hottest = day.date;
      summary.highest_tmax_c = *day.tmax_c;
    }
  }
}

}  // namespace

WeatherSummary summarise(const WeatherRecord& record, std::optional<Place> place, const std::vector<double>& bases_c,
                         Setting setting) {
  WeatherSummary summary;
  summary.name = record.name;
  summary.kind = record.kind;
  if (!place && record.site)
    place = Place{record.site->latitude_deg, record.site->longitude_deg, record.site->elevation_m};
  const auto site = place ? std::optional(place->site()) : std::nullopt;
  summary.place = place;
  summary.days = static_cast<int>(record.days.size());
  summary.hourly_rows = record.hourly_rows;
  summary.bases_c = bases_c;
  summary.notices = record.notices;
  if (record.days.empty()) return summary;

  summary.first = record.days.front().date;
  summary.last = record.days.back().date;
  const bool south = site && site->latitude_deg < 0;
  summary.months = month_table(record, site, setting);
  summary.years = yearly_degree_days(record, site, bases_c);
  add_extremes(summary, record);
  add_frosts(summary, record, south);
  add_coverage(summary, record);
  const std::size_t seasons = whole_seasons(record, make_date(2001, south ? 7 : 1, 1), 365).size();
  summary.whole_seasons = static_cast<int>(seasons);
  summary.can_be_resampled = can_be_resampled(record, seasons);
  return summary;
}

}  // namespace strikebed::climate

#include "climate/seasons.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "climate/generator.hpp"
#include "climate/statistics.hpp"

namespace strikebed::climate {
namespace {

constexpr int kLongestStretch_days = 1100;

std::optional<Error> wrong_stretch(int days, int count) {
  if (days < 1 || days > kLongestStretch_days) {
    return Error{.problem = fmt::format("a season of {} days was asked for", days),
                 .allowed = fmt::format("1 to {} days", kLongestStretch_days)};
  }
  if (count < 1) return Error{.problem = fmt::format("{} seasons were asked for", count), .allowed = "1 or more"};
  return std::nullopt;
}

std::optional<Error> wrong_normals(const MonthlyNormals& normals) {
  for (std::size_t m = 0; m < 12; ++m) {
    const auto month = month_name(static_cast<int>(m) + 1);
    const auto between = [](double value, double low, double high) { return value >= low && value <= high; };
    if (!between(normals.tmin_c[m], -90, 60) || !between(normals.tmax_c[m], -90, 60) ||
        normals.tmin_c[m] > normals.tmax_c[m]) {
      return Error{.problem = fmt::format("the normals of {} have a minimum of {} and a maximum of {} degrees C", month,
                                          normals.tmin_c[m], normals.tmax_c[m]),
                   .allowed = "-90 to 60 degrees C, the minimum not above the maximum"};
    }
    for (const double sd : {normals.tmin_sd_c[m], normals.tmax_sd_c[m]}) {
      if (between(sd, 0, 30)) continue;
      return Error{.problem = fmt::format("the normals of {} have a standard deviation of {} degrees C", month, sd),
                   .allowed = "0 to 30 degrees C"};
    }
  }
  return std::nullopt;
}

WeatherSeasons resampled(const WeatherRecord& record, Date first, int days, const std::vector<std::size_t>& starts,
                         const KnownDays& known) {
  WeatherSeasons seasons;
  seasons.first = first;
  seasons.days = days;
  seasons.count = static_cast<int>(starts.size());
  seasons.known = static_cast<int>(known.count());
  for (const std::size_t start : starts) {
    seasons.tmin_c.insert(seasons.tmin_c.end(), known.tmin_c.begin(), known.tmin_c.end());
    seasons.tmax_c.insert(seasons.tmax_c.end(), known.tmax_c.begin(), known.tmax_c.end());
    for (std::size_t d = known.count(); d < static_cast<std::size_t>(days); ++d) {
      seasons.tmin_c.push_back(static_cast<float>(*record.days[start + d].tmin_c));
      seasons.tmax_c.push_back(static_cast<float>(*record.days[start + d].tmax_c));
    }
  }
  seasons.origin = {.way = SeasonsOrigin::Way::as_recorded,
                    .record = record.name,
                    .held = seasons.count,
                    .first_year = year_of(record.days[starts.front()].date),
                    .last_year = year_of(record.days[starts.back()].date)};
  return seasons;
}

WeatherSeasons generated(const DailyGenerator& generator, Date first, int days, int count, std::uint64_t seed,
                         SeasonsOrigin origin, const KnownDays& known = {}) {
  WeatherSeasons seasons;
  seasons.first = first;
  seasons.days = days;
  seasons.count = count;
  seasons.known = static_cast<int>(known.count());
  const std::size_t size = static_cast<std::size_t>(days) * static_cast<std::size_t>(count);
  seasons.tmin_c.resize(size);
  seasons.tmax_c.resize(size);
  generate_seasons(generator, first, static_cast<std::size_t>(days), seed, seasons.tmin_c, seasons.tmax_c, known);
  seasons.origin = std::move(origin);
  return seasons;
}

/// Why the seasons of a record cannot be used as they were.
SeasonsOrigin like_record(const WeatherRecord& record, std::size_t seasons) {
  if (record.kind == RecordKind::typical_year)
    return {.way = SeasonsOrigin::Way::like_typical_year, .record = record.name};
  const int years = whole_years(record);
  if (years < kYearsToResample)
    return {.way = SeasonsOrigin::Way::like_few_years, .record = record.name, .held = years};
  return {.way = SeasonsOrigin::Way::like_gaps, .record = record.name, .held = static_cast<int>(seasons)};
}

}  // namespace

std::vector<std::size_t> whole_seasons(const WeatherRecord& record, Date first, int days) {
  std::vector<std::size_t> starts;
  if (record.kind != RecordKind::years || record.days.empty()) return starts;
  const Date begin = record.days.front().date;
  const auto length = static_cast<std::size_t>(days);
  for (int year = year_of(begin); year <= year_of(record.days.back().date); ++year) {
    const Date start = same_day_in(first, year);
    if (start < begin) continue;
    const auto at = static_cast<std::size_t>((start - begin).count());
    if (at + length > record.days.size()) break;
    const auto from = record.days.begin() + static_cast<std::ptrdiff_t>(at);
    if (std::all_of(from, from + days, [](const Day& day) { return day.has_temperature(); })) starts.push_back(at);
  }
  return starts;
}

int whole_years(const WeatherRecord& record) {
  if (record.kind != RecordKind::years || record.days.empty()) return 0;
  const Date begin = record.days.front().date;
  const Date end = record.days.back().date + Days{1};
  int years = 0;
  while (same_day_in(begin, year_of(begin) + years + 1) <= end) ++years;
  return years;
}

bool can_be_resampled(const WeatherRecord& record, std::size_t seasons) {
  return whole_years(record) >= kYearsToResample && seasons >= kFewestSeasons;
}

KnownDays known_days(const WeatherRecord& record, Date first, Date until) {
  KnownDays known;
  if (record.kind != RecordKind::years || record.days.empty() || first < record.days.front().date) return known;
  for (auto at = static_cast<std::size_t>((first - record.days.front().date).count());
       at < record.days.size() && record.days[at].date < until && record.days[at].has_temperature(); ++at) {
    known.tmin_c.push_back(static_cast<float>(*record.days[at].tmin_c));
    known.tmax_c.push_back(static_cast<float>(*record.days[at].tmax_c));
  }
  return known;
}

Result<WeatherSeasons> weather_seasons(const WeatherRecord& record, Date first, int days, int count, std::uint64_t seed,
                                       const KnownDays& known) {
  if (const auto wrong = wrong_stretch(days, count)) return *wrong;
  const auto starts = whole_seasons(record, first, days);
  if (can_be_resampled(record, starts.size())) return resampled(record, first, days, starts, known);

  const auto normals = monthly_normals(record);
  if (!normals) return normals.error();
  const auto correlations = day_correlations(record, year_course(*normals));
  return generated(daily_generator(*normals, correlations), first, days, count, seed,
                   like_record(record, starts.size()), known);
}

Result<WeatherSeasons> weather_seasons(const MonthlyNormals& normals, Date first, int days, int count,
                                       std::uint64_t seed) {
  if (const auto wrong = wrong_stretch(days, count)) return *wrong;
  if (const auto wrong = wrong_normals(normals)) return *wrong;
  const bool two_months = normals.season_error_c > 0;
  return generated(daily_generator(normals), first, days, count, seed,
                   {.way = two_months ? SeasonsOrigin::Way::like_two_months : SeasonsOrigin::Way::like_normals});
}

}  // namespace strikebed::climate

#include "climate/statistics.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/random.hpp"

namespace strikebed::climate {
namespace {

constexpr int kDaysToFitAMonth = 20;

std::size_t month_index(const Day& day) { return static_cast<std::size_t>(month_of(day.date) - 1); }

/// Sums of pairs, for a Pearson correlation. Values are anomalies, so plain sums lose nothing.
struct PairSums {
  double n = 0, a = 0, b = 0, aa = 0, bb = 0, ab = 0;

  void add(double x, double y) { n += 1, a += x, b += y, aa += x * x, bb += y * y, ab += x * y; }
  [[nodiscard]] std::optional<double> correlation() const {
    const double spread_a = n * aa - a * a;
    const double spread_b = n * bb - b * b;
    if (n < 3 || spread_a <= 0 || spread_b <= 0) return std::nullopt;
    return (n * ab - a * b) / std::sqrt(spread_a * spread_b);
  }
};

std::optional<double> anomaly(const Day& day, const DayValue& value, const std::array<MonthStatistics, 12>& months) {
  const auto found = value(day);
  const MonthStatistics& month = months[month_index(day)];
  if (!found || month.sd <= 0) return std::nullopt;
  return (*found - month.mean) / month.sd;
}

}  // namespace

std::optional<double> tmin_of(const Day& day) { return day.tmin_c; }
std::optional<double> tmax_of(const Day& day) { return day.tmax_c; }
std::optional<double> tmean_of(const Day& day) {
  if (!day.has_temperature()) return std::nullopt;
  return (*day.tmin_c + *day.tmax_c) / 2;
}

std::array<MonthStatistics, 12> month_statistics(const WeatherRecord& record, const DayValue& value) {
  std::array<MonthStatistics, 12> months;
  std::array<double, 12> squares{};  // Welford's running sum of squared deviations
  for (const Day& day : record.days) {
    const auto found = value(day);
    if (!found) continue;
    MonthStatistics& month = months[month_index(day)];
    ++month.count;
    const double step = *found - month.mean;
    month.mean += step / month.count;
    squares[month_index(day)] += step * (*found - month.mean);
  }
  for (std::size_t m = 0; m < 12; ++m) {
    if (months[m].count > 1) months[m].sd = std::sqrt(squares[m] / (months[m].count - 1));
  }
  return months;
}

Result<MonthlyNormals> monthly_normals(const WeatherRecord& record) {
  const auto whole = [](const Day& day, const std::optional<double>& value) {
    return day.has_temperature() ? value : std::nullopt;
  };
  const auto tmin = month_statistics(record, [&](const Day& day) { return whole(day, day.tmin_c); });
  const auto tmax = month_statistics(record, [&](const Day& day) { return whole(day, day.tmax_c); });
  MonthlyNormals normals;
  for (std::size_t m = 0; m < 12; ++m) {
    if (tmin[m].count < kDaysToFitAMonth) {
      return Error{.problem = fmt::format("the record holds {} days of {} with both minimum and maximum temperature",
                                          tmin[m].count, month_name(static_cast<int>(m) + 1)),
                   .allowed = fmt::format("{} or more in every month of the year", kDaysToFitAMonth),
                   .file = record.name};
    }
    normals.tmin_c[m] = tmin[m].mean;
    normals.tmax_c[m] = tmax[m].mean;
    normals.tmin_sd_c[m] = tmin[m].sd;
    normals.tmax_sd_c[m] = tmax[m].sd;
  }
  return normals;
}

SolsticeMeans solstice_means(const MonthlyNormals& normals) {
  const auto mean = [&](std::array<std::size_t, 3> months) {
    double sum = 0;
    for (const std::size_t m : months) sum += (normals.tmin_c[m] + normals.tmax_c[m]) / 2;
    return sum / 3;
  };
  return {mean({11, 0, 1}), mean({5, 6, 7})};
}

std::optional<SolsticeMeans> solstice_means(const WeatherRecord& record) {
  const auto of_days = month_statistics(record, tmean_of);
  MonthlyNormals months;
  for (const std::size_t m : {11U, 0U, 1U, 5U, 6U, 7U}) {
    if (of_days[m].count < kDaysToFitAMonth) return std::nullopt;
    months.tmin_c[m] = of_days[m].mean;
    months.tmax_c[m] = of_days[m].mean;
  }
  return solstice_means(months);
}

std::optional<double> anomaly_correlation(const WeatherRecord& record, const DayValue& a, const DayValue& b,
                                          int lag_days) {
  const auto months_a = month_statistics(record, a);
  const auto months_b = month_statistics(record, b);
  PairSums sums;
  for (std::size_t i = static_cast<std::size_t>(lag_days); i < record.days.size(); ++i) {
    const auto x = anomaly(record.days[i], a, months_a);
    const auto y = anomaly(record.days[i - static_cast<std::size_t>(lag_days)], b, months_b);
    if (x && y) sums.add(*x, *y);
  }
  return sums.correlation();
}

WetDayChances wet_day_chances(const WeatherRecord& record) {
  double days[2] = {};
  double wet[2] = {};
  for (std::size_t i = 1; i < record.days.size(); ++i) {
    const auto& before = record.days[i - 1].rain_mm;
    const auto& rain = record.days[i].rain_mm;
    if (!before || !rain) continue;
    const std::size_t state = *before > 0 ? 1 : 0;
    days[state] += 1;
    wet[state] += *rain > 0 ? 1 : 0;
  }
  WetDayChances chances;
  if (days[0] > 0) chances.after_dry = wet[0] / days[0];
  if (days[1] > 0) chances.after_wet = wet[1] / days[1];
  return chances;
}

double ar1_sd_of_mean(double sd, double lag1, int days) {
  double inflation = 1;
  double power = 1;
  for (int k = 1; k < days; ++k) {
    power *= lag1;
    inflation += 2 * (1 - static_cast<double>(k) / days) * power;
  }
  return sd * std::sqrt(inflation / days);
}

double expected_excess(double mean, double sd, double base) {
  const double z = (mean - base) / sd;
  const double density = std::exp(-z * z / 2) / std::sqrt(2 * std::numbers::pi);
  return sd * (density + z * normal_share_below(z));
}

}  // namespace strikebed::climate

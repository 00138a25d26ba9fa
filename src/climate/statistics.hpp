#pragma once
// Plain statistics of a weather record: by calendar month over all years, and from one day to the next.
#include <array>
#include <functional>
#include <optional>

#include "climate/record.hpp"

namespace strikebed::climate {

/// One value of a day, or nothing: what a statistic is taken of.
using DayValue = std::function<std::optional<double>(const Day&)>;

[[nodiscard]] std::optional<double> tmin_of(const Day& day);   ///< °C
[[nodiscard]] std::optional<double> tmax_of(const Day& day);   ///< °C
[[nodiscard]] std::optional<double> tmean_of(const Day& day);  ///< (tmin + tmax) / 2, °C; nothing unless both are there

/// All days of one calendar month, every year of the record together.
struct MonthStatistics {
  int count = 0;
  double mean = 0;  ///< 0 when count is 0
  double sd = 0;    ///< with count - 1; 0 when count < 2
};

/// January first.
[[nodiscard]] std::array<MonthStatistics, 12> month_statistics(const WeatherRecord& record, const DayValue& value);

/// The normals of a record. Errors: fewer than 20 days with temperature in a calendar month, all years together.
[[nodiscard]] Result<MonthlyNormals> monthly_normals(const WeatherRecord& record);

/// Mean temperature of the two ends of the year, of six months known well enough: 20 days or more of each.
struct SolsticeMeans {
  double december_to_february_c = 0;
  double june_to_august_c = 0;
};
[[nodiscard]] SolsticeMeans solstice_means(const MonthlyNormals& normals);
[[nodiscard]] std::optional<SolsticeMeans> solstice_means(const WeatherRecord& record);

/// Pearson correlation of a's anomaly on a day with b's anomaly `lag_days` earlier, over all such pairs. An anomaly is
/// (value - calendar-month mean) / calendar-month sd. Nothing when fewer than three pairs or no spread.
[[nodiscard]] std::optional<double> anomaly_correlation(const WeatherRecord& record, const DayValue& a,
                                                        const DayValue& b, int lag_days);

/// Chance that a day is wet (rain > 0) after a dry and after a wet day; nothing where no such day precedes a known one.
struct WetDayChances {
  std::optional<double> after_dry;
  std::optional<double> after_wet;
};
[[nodiscard]] WetDayChances wet_day_chances(const WeatherRecord& record);

/// Sd of the mean of `days` consecutive values of an AR(1) series: sd^2 / n [1 + 2 sum (1 - k/n) rho^k].
///   sd >= 0; -1 < lag1 < 1; days >= 1
[[nodiscard]] double ar1_sd_of_mean(double sd, double lag1, int days);

/// Mean of max(T - base, 0) for T normal: sd [phi(z) + z Phi(z)], z = (mean - base) / sd. sd > 0.
[[nodiscard]] double expected_excess(double mean, double sd, double base);

}  // namespace strikebed::climate

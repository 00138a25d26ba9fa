#pragma once
// A daily weather generator: minimum and maximum temperature as a first-order autoregressive pair about the season's
// usual course, with a wandering of whole seasons on top. docs/methods/weather-futures.md
#include <Eigen/Dense>
#include <array>
#include <cstdint>
#include <span>

#include "base/date.hpp"
#include "climate/known_days.hpp"
#include "climate/record.hpp"

namespace strikebed::climate {

/// One value for each day of a leap year, 1 January first; 29 February counts a quarter in February's mean.
using YearCurve = std::array<double, 366>;

[[nodiscard]] std::size_t year_curve_index(Date date);  ///< where a date stands in a YearCurve

/// The broken line through mid-month knots whose twelve month means are exactly the given ones (the knots solve a
/// linear system, which is the limit of adding the interpolated month error again and again). Source: idea of Rymes &
/// Myers 2001, Solar Energy 71:225-231.
[[nodiscard]] YearCurve mean_preserving_curve(const std::array<double, 12>& month_means);

/// The usual course of the year, before correlation between days.
struct YearCourse {
  YearCurve tmax_mean_c;
  YearCurve tmin_mean_c;
  YearCurve tmax_sd_c;  ///< of a single day about that day's mean
  YearCurve tmin_sd_c;
};

/// Month sds are of days about the month's mean, so the drift of the mean within the month is taken out of them. An sd
/// that is hardly more than that drift alone leaves a quarter of its variance, so that no month is without weather.
[[nodiscard]] YearCourse year_course(const MonthlyNormals& normals);

/// Normals whose means are known, with the sds that single days usually have about them. About the day's own mean:
/// of the minimum 1.7 + 0.12 x, of the maximum 3.1 + 0.06 x °C, x being how much colder the month is than the warmest
/// one, °C; the drift of the mean within the month comes on top. Source: our own straight lines through the 24 months
/// of two daily records, Seattle and New York 2012-2015 (NOAA, public domain); they miss a month by 0.5 and 0.65 °C
/// (root mean square), and reach to x = 25. Two places are few: trust C. docs/methods/weather-futures.md
[[nodiscard]] MonthlyNormals with_usual_sds(MonthlyNormals means);

/// What is known of a month: 0 is January.
struct MonthMeans {
  std::size_t month = 0;
  double tmin_c = 0;
  double tmax_c = 0;
};
/// How much a season's mean is missed where two months stand for the year: three months in a row miss it by 0.7 to 1.1
/// °C (root mean square) at four places when the two months are right, and by 0.9 to 1.6 °C when they are taken as
/// January and July. Source: our own, docs/methods/weather-futures.md; trust C.
inline constexpr double kTwoMonthError_c = 1.2;

/// Normals of a place of which only the hottest and the coldest month are known (two different ones): half a wave from
/// one to the other and half a wave back, usual sds, and kTwoMonthError_c more from season to season.
[[nodiscard]] MonthlyNormals two_month_normals(const MonthMeans& hottest, const MonthMeans& coldest);

/// Correlations of the standardised pair x = [tmax, tmin]: lag0(i, j) between x_i and x_j of one day, lag1(i, j)
/// between x_i of a day and x_j of the day before.
struct DayCorrelations {
  Eigen::Matrix2d lag0;
  Eigen::Matrix2d lag1;
};

/// Pooled over the year, from days with recorded (not filled) temperature.
[[nodiscard]] DayCorrelations day_correlations(const WeatherRecord& record, const YearCourse& course);

/// Averages over many stations, for a place of which only normals are known.
/// Source: Richardson & Wright 1984 (WGEN), USDA ARS-8 (from memory).
[[nodiscard]] DayCorrelations usual_correlations();

/// The autoregression x_t = A x_(t-1) + B e_t of Matalas 1967 (Water Resour. Res. 3:937-945).
///   A = M1 M0^-1, for any number of variables; M0 must be invertible
template <int Variables>
[[nodiscard]] Eigen::Matrix<double, Variables, Variables> matalas_a(
    const Eigen::Matrix<double, Variables, Variables>& lag0, const Eigen::Matrix<double, Variables, Variables>& lag1) {
  const auto factors = lag0.transpose().partialPivLu();  // A M0 = M1, row by row
  Eigen::Matrix<double, Variables, Variables> a;
  for (int i = 0; i < Variables; ++i) a.row(i) = factors.solve(lag1.row(i).transpose()).transpose();
  return a;
}

/// How much wider the sd of a season's mean is made than the autoregression alone would have it. Records vary more from
/// season to season than any day-to-day model fitted to them (Katz & Parlange 1998, J. Climate 11:591-601).
inline constexpr double kSeasonWidening = 1.3;
inline constexpr int kSeasonWideningDays = 90;  ///< the length of mean for which it holds

inline constexpr double kSmallestDailyRange_c = 0.5;  ///< tmin <= tmax - this, on every generated day

/// Of a place of which only normals are known: the sd of the daily range is at most this share of what its mean is
/// above the smallest. 24 months of Seattle and New York 2012-2015 have 0.25 to 0.49.
inline constexpr double kWidestRangeSd = 0.45;

/// How the two standardised numbers of a day are mixed for its maximum, own x + other n, and its minimum, own n + other
/// x: what raises their correlation and leaves their sds.
struct Mixing {
  double own = 1;
  double other = 0;
};

/// Everything needed to generate. A day is
///   T = mean + sd * (sqrt(1 - season_share) * x + sqrt(season_share) * z), mixed between tmax and tmin
/// with x the autoregression and z one standard normal number a season, common to tmax and tmin. The autoregression is
/// fitted to what remains of the record's correlations, so the sum has the record's daily sd and correlations.
struct DailyGenerator {
  YearCourse course;               ///< means are set so that they hold after tmin <= tmax - 0.5 is enforced
  std::array<Mixing, 366> mixing;  ///< of each day of the course
  Eigen::Matrix2d a;
  Eigen::Matrix2d b;        ///< lower triangular
  Eigen::Matrix2d start;    ///< lower triangular factor of the autoregression's lag0, for the first day
  double season_share = 0;  ///< share of the daily variance that is common to a whole season
};

/// Source: Matalas 1967; Richardson 1981, Water Resour. Res. 17:182-190.
///   widening  kSeasonWidening; 1: the plain autoregression
[[nodiscard]] DailyGenerator daily_generator(const MonthlyNormals& normals, const DayCorrelations& correlations,
                                             double widening = kSeasonWidening);

/// Of a place of which only normals are known: with the usual correlations, but maximum and minimum of a day go
/// together more closely where the range is narrow for their sds, as it is in a continental winter (kWidestRangeSd).
[[nodiscard]] DailyGenerator daily_generator(const MonthlyNormals& normals);

/// Fills whole seasons of `days` days from `first`; season s, day d at [s * days + d]. A season depends on nothing but
/// the generator, what is known, `seed` and its own index, and the noise of a day on its date: a season that begins
/// some days later soon runs as the other does.
///   days >= 1; tmin_c and tmax_c have the same length, a multiple of days
///   known  the days from `first` on, fewer than days: every season has them, and goes on from the last of them, with
///   its
///          common offset drawn from what they tell of it (the posterior of a normal mean, by the autoregression's
///          innovations)
void generate_seasons(const DailyGenerator& generator, Date first, std::size_t days, std::uint64_t seed,
                      std::span<float> tmin_c, std::span<float> tmax_c, const KnownDays& known = {});

}  // namespace strikebed::climate

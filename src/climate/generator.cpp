// Follows Richardson 1981 for minimum and maximum temperature, except: no rain states (none of the plan's questions
// needs rain), curves that keep the month means instead of a harmonic, and the season's common offset.
#include "climate/generator.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

#include "base/random.hpp"
#include "climate/statistics.hpp"

namespace strikebed::climate {
namespace {

constexpr int kLeapYear = 2000;

/// Day of the year curve: its month (0-11) and how much it counts in the month's mean.
struct CurveDay {
  std::size_t month;
  double weight;
  double position;  ///< in months from the middle of January
};

const std::array<CurveDay, 366>& curve_days() {
  static const std::array<CurveDay, 366> days = [] {
    std::array<CurveDay, 366> all{};
    std::size_t i = 0;
    for (int month = 1; month <= 12; ++month) {
      const int length = days_in_month(kLeapYear, month);
      for (int day = 1; day <= length; ++day, ++i) {
        all[i] = {.month = static_cast<std::size_t>(month - 1),
                  .weight = month == 2 && day == 29 ? 0.25 : 1.0,
                  .position = month - 1 + (day - 0.5) / length - 0.5};
      }
    }
    return all;
  }();
  return days;
}

/// The two knots a day lies between, and the share of the later one.
struct Between {
  std::size_t earlier, later;
  double share;
};
Between between_knots(double position) {
  const double floor = std::floor(position);
  const auto earlier = static_cast<std::size_t>(static_cast<int>(floor) + 12) % 12;
  return {earlier, (earlier + 1) % 12, position - floor};
}

/// Month means of the squared difference between the curve and its month mean.
std::array<double, 12> drift_variance(const YearCurve& curve, const std::array<double, 12>& month_means) {
  std::array<double, 12> sum{};
  std::array<double, 12> weight{};
  for (std::size_t i = 0; i < curve.size(); ++i) {
    const CurveDay& day = curve_days()[i];
    const double off = curve[i] - month_means[day.month];
    sum[day.month] += day.weight * off * off;
    weight[day.month] += day.weight;
  }
  for (std::size_t m = 0; m < 12; ++m) sum[m] /= weight[m];
  return sum;
}

YearCurve sd_curve(const YearCurve& mean_curve, const std::array<double, 12>& means,
                   const std::array<double, 12>& sds) {
  const auto drift = drift_variance(mean_curve, means);
  std::array<double, 12> about_the_day{};
  for (std::size_t m = 0; m < 12; ++m) {
    const double variance = sds[m] * sds[m];
    about_the_day[m] = std::sqrt(std::max(variance - drift[m], 0.25 * variance));
  }
  YearCurve curve = mean_preserving_curve(about_the_day);
  for (double& sd : curve) sd = std::max(sd, 0.0);
  return curve;
}

/// Correlation of a day's maximum and minimum on each day of the course.
using SameDayCorrelation = YearCurve;

/// The usual one, and more where the sd of the range would be above kWidestRangeSd of what its mean leaves above the
/// smallest.
SameDayCorrelation closer_where_range_is_narrow(const YearCourse& course, double usual) {
  constexpr double kClosest = 0.98;
  SameDayCorrelation correlation{};
  for (std::size_t i = 0; i < correlation.size(); ++i) {
    const double sx = course.tmax_sd_c[i];
    const double sn = course.tmin_sd_c[i];
    const double range = std::max(course.tmax_mean_c[i] - course.tmin_mean_c[i] - kSmallestDailyRange_c, 0.0);
    const double widest = kWidestRangeSd * range;
    const double needed = sx > 0 && sn > 0 ? (sx * sx + sn * sn - widest * widest) / (2 * sx * sn) : 0;
    correlation[i] = std::clamp(needed, usual, std::max(usual, kClosest));
  }
  return correlation;
}

/// Half the sum of the two numbers has the variance (1 + correlation) / 2, half their difference (1 - correlation) / 2:
/// each is stretched to what it is to have.
Mixing mixing(double from, double to) {
  if (from == to) return {};
  const double together = std::sqrt((1 + to) / (1 + from));
  const double apart = std::sqrt((1 - to) / (1 - from));
  return {.own = (together + apart) / 2, .other = (together - apart) / 2};
}

/// Moves the two means apart or together so that the means after enforcing tmin <= tmax - 0.5 are those wanted. The
/// range is normal with mean m and sd s; enforced, its mean is 0.5 + E[max(range - 0.5, 0)], which Newton's method sets
/// right.
void allow_for_smallest_range(YearCourse& course, const SameDayCorrelation& correlation) {
  for (std::size_t i = 0; i < course.tmax_mean_c.size(); ++i) {
    const double sx = course.tmax_sd_c[i];
    const double sn = course.tmin_sd_c[i];
    const double range_sd = std::sqrt(std::max(sx * sx + sn * sn - 2 * correlation[i] * sx * sn, 0.0));
    const double wanted = course.tmax_mean_c[i] - course.tmin_mean_c[i];
    if (range_sd < 1e-6 || wanted - kSmallestDailyRange_c < 0.05 * range_sd)
      continue;  // cannot be, or need not be, met
    double range = wanted;
    for (int step = 0; step < 30; ++step) {
      const double enforced = kSmallestDailyRange_c + expected_excess(range, range_sd, kSmallestDailyRange_c);
      range -= (enforced - wanted) / normal_share_below((range - kSmallestDailyRange_c) / range_sd);
    }
    course.tmax_mean_c[i] += (range - wanted) / 2;
    course.tmin_mean_c[i] -= (range - wanted) / 2;
  }
}

struct Autoregression {
  Eigen::Matrix2d lag0;
  Eigen::Matrix2d a;
  Eigen::Matrix2d noise;  ///< B B'
};

/// Correlations estimated with gaps need not belong to any process: lag 0 is kept (short of +-1) and lag 1 shrunk by
/// hundredths until the noise is a covariance matrix, which also makes the process stationary.
Autoregression autoregression(DayCorrelations correlations) {
  constexpr double kClosest = 0.995;
  const double cross = std::clamp(correlations.lag0(0, 1), -kClosest, kClosest);
  correlations.lag0 << 1, cross, cross, 1;
  for (double shrink = 1;; shrink -= 0.01) {
    const Eigen::Matrix2d lag1 = std::max(shrink, 0.0) * correlations.lag1;
    const Eigen::Matrix2d a = matalas_a(correlations.lag0, lag1);
    const Eigen::Matrix2d noise = correlations.lag0 - a * lag1.transpose();
    if (shrink <= 0 || (noise(0, 0) > 1e-6 && noise.determinant() > 1e-9)) return {correlations.lag0, a, noise};
  }
}

/// Variance of the mean over `days` of the combination w'x.
double variance_of_mean(const Autoregression& process, const Eigen::Vector2d& w, int days) {
  Eigen::Matrix2d lagged = process.lag0;
  double sum = w.dot(lagged * w) * days;
  for (int k = 1; k < days; ++k) {
    lagged = process.a * lagged;
    sum += 2 * (days - k) * w.dot(lagged * w);
  }
  return sum / days / days;
}

/// What is left of the correlations for the autoregression once `share` of the variance is common to the season.
DayCorrelations without_season(const DayCorrelations& all, double share) {
  const Eigen::Matrix2d common = Eigen::Matrix2d::Constant(share);
  return {(all.lag0 - common) / (1 - share), (all.lag1 - common) / (1 - share)};
}

/// The share for which the mean over 90 days has `widening` times the sd that the plain autoregression gives it.
double season_share(const DayCorrelations& correlations, const Eigen::Vector2d& w, double widening) {
  const double plain = variance_of_mean(autoregression(correlations), w, kSeasonWideningDays);
  const double wanted = widening * widening * plain;
  const double common = w.sum() * w.sum();
  const auto variance = [&](double share) {
    const auto left = autoregression(without_season(correlations, share));
    return (1 - share) * variance_of_mean(left, w, kSeasonWideningDays) + share * common;
  };
  double low = 0;
  double high = 0.5;
  if (common <= 0 || variance(low) >= wanted) return 0;
  for (int step = 0; step < 50; ++step) {
    const double middle = (low + high) / 2;
    (variance(middle) < wanted ? low : high) = middle;
  }
  return (low + high) / 2;
}

double mean_of(const YearCurve& curve) {
  double sum = 0;
  for (const double value : curve) sum += value;
  return sum / static_cast<double>(curve.size());
}

Eigen::Matrix2d lower_factor(const Eigen::Matrix2d& covariance) {
  return Eigen::LLT<Eigen::Matrix2d>(covariance).matrixL();
}

/// Two standard normal numbers from one draw of 64 bits: 32 bits each reach beyond 6 sd.
struct NormalPair {
  double first, second;
};
NormalPair normal_pair(std::uint64_t bits) {
  const auto uniform = [](std::uint64_t half) { return (static_cast<double>(half) + 0.5) * 0x1p-32; };
  return {quick_normal_quantile(uniform(bits >> 32)), quick_normal_quantile(uniform(bits & 0xffffffffU))};
}

}  // namespace

std::size_t year_curve_index(Date date) {
  return static_cast<std::size_t>(day_of_year(make_date(kLeapYear, month_of(date), day_of_month(date))) - 1);
}

YearCurve mean_preserving_curve(const std::array<double, 12>& month_means) {
  Eigen::Matrix<double, 12, 12> weights = Eigen::Matrix<double, 12, 12>::Zero();
  for (const CurveDay& day : curve_days()) {
    const Between knots = between_knots(day.position);
    const auto month = static_cast<Eigen::Index>(day.month);
    weights(month, static_cast<Eigen::Index>(knots.earlier)) += day.weight * (1 - knots.share);
    weights(month, static_cast<Eigen::Index>(knots.later)) += day.weight * knots.share;
  }
  for (Eigen::Index m = 0; m < 12; ++m) weights.row(m) /= weights.row(m).sum();
  const Eigen::Map<const Eigen::Matrix<double, 12, 1>> wanted(month_means.data());
  const Eigen::Matrix<double, 12, 1> knot_values = weights.partialPivLu().solve(wanted);

  YearCurve curve{};
  for (std::size_t i = 0; i < curve.size(); ++i) {
    const Between knots = between_knots(curve_days()[i].position);
    curve[i] = knot_values(static_cast<Eigen::Index>(knots.earlier)) * (1 - knots.share) +
               knot_values(static_cast<Eigen::Index>(knots.later)) * knots.share;
  }
  return curve;
}

YearCourse year_course(const MonthlyNormals& normals) {
  YearCourse course{};
  course.tmax_mean_c = mean_preserving_curve(normals.tmax_c);
  course.tmin_mean_c = mean_preserving_curve(normals.tmin_c);
  course.tmax_sd_c = sd_curve(course.tmax_mean_c, normals.tmax_c, normals.tmax_sd_c);
  course.tmin_sd_c = sd_curve(course.tmin_mean_c, normals.tmin_c, normals.tmin_sd_c);
  return course;
}

MonthlyNormals with_usual_sds(MonthlyNormals means) {
  const auto mean = [&](std::size_t m) { return (means.tmin_c[m] + means.tmax_c[m]) / 2; };
  const auto drift_of_tmin = drift_variance(mean_preserving_curve(means.tmin_c), means.tmin_c);
  const auto drift_of_tmax = drift_variance(mean_preserving_curve(means.tmax_c), means.tmax_c);
  double warmest = mean(0);
  for (std::size_t m = 1; m < 12; ++m) warmest = std::max(warmest, mean(m));
  for (std::size_t m = 0; m < 12; ++m) {
    const double colder_by = warmest - mean(m);
    means.tmin_sd_c[m] = std::hypot(1.7 + 0.12 * colder_by, std::sqrt(drift_of_tmin[m]));
    means.tmax_sd_c[m] = std::hypot(3.1 + 0.06 * colder_by, std::sqrt(drift_of_tmax[m]));
  }
  return means;
}

MonthlyNormals two_month_normals(const MonthMeans& hottest, const MonthMeans& coldest) {
  MonthlyNormals normals;
  const std::size_t rise = (hottest.month + 12 - coldest.month) % 12;
  for (std::size_t m = 0; m < 12; ++m) {
    const std::size_t since = (m + 12 - coldest.month) % 12;
    const bool warming = since <= rise;
    const double along = warming ? static_cast<double>(since) / static_cast<double>(rise)
                                 : 1 + static_cast<double>(since - rise) / static_cast<double>(12 - rise);
    const double share = (1 - std::cos(std::numbers::pi * along)) / 2;
    normals.tmin_c[m] = coldest.tmin_c + share * (hottest.tmin_c - coldest.tmin_c);
    normals.tmax_c[m] = coldest.tmax_c + share * (hottest.tmax_c - coldest.tmax_c);
  }
  normals = with_usual_sds(normals);
  normals.season_error_c = kTwoMonthError_c;
  return normals;
}

DayCorrelations usual_correlations() {
  DayCorrelations usual;
  usual.lag0 << 1, 0.633, 0.633, 1;
  usual.lag1 << 0.621, 0.445, 0.563, 0.674;
  return usual;
}

DayCorrelations day_correlations(const WeatherRecord& record, const YearCourse& course) {
  std::vector<Eigen::Vector2d> residuals(record.days.size());
  std::vector<bool> usable(record.days.size());
  Eigen::Vector2d mean = Eigen::Vector2d::Zero();
  double count = 0;
  for (std::size_t i = 0; i < record.days.size(); ++i) {
    const Day& day = record.days[i];
    const std::size_t at = year_curve_index(day.date);
    usable[i] = day.has_temperature() && !day.filled && course.tmax_sd_c[at] > 0 && course.tmin_sd_c[at] > 0;
    if (!usable[i]) continue;
    residuals[i] = {(*day.tmax_c - course.tmax_mean_c[at]) / course.tmax_sd_c[at],
                    (*day.tmin_c - course.tmin_mean_c[at]) / course.tmin_sd_c[at]};
    mean += residuals[i];
    count += 1;
  }
  if (count < 3) return {Eigen::Matrix2d::Identity(), Eigen::Matrix2d::Zero()};
  mean /= count;

  Eigen::Matrix2d same_day = Eigen::Matrix2d::Zero();
  Eigen::Matrix2d day_before = Eigen::Matrix2d::Zero();
  double pairs = 0;
  for (std::size_t i = 0; i < residuals.size(); ++i) {
    if (!usable[i]) continue;
    residuals[i] -= mean;
    same_day += residuals[i] * residuals[i].transpose();
    if (i == 0 || !usable[i - 1]) continue;
    day_before += residuals[i] * residuals[i - 1].transpose();
    pairs += 1;
  }
  const Eigen::Vector2d sd = (same_day.diagonal() / count).cwiseSqrt();
  if (pairs < 3 || sd.minCoeff() <= 0) return {Eigen::Matrix2d::Identity(), Eigen::Matrix2d::Zero()};
  const Eigen::Matrix2d scale = sd * sd.transpose();
  return {(same_day / count).cwiseQuotient(scale), (day_before / pairs).cwiseQuotient(scale)};
}

namespace {

/// Of the standardised [tmax, tmin] in a day's mean temperature, °C, over the year.
Eigen::Vector2d mean_weights(const YearCourse& course) {
  return {mean_of(course.tmax_sd_c) / 2, mean_of(course.tmin_sd_c) / 2};
}

/// The widening for which seasons differ by an error of their mean as well.
double widening_with(double season_error_c, const YearCourse& course, const DayCorrelations& correlations) {
  const double plain = variance_of_mean(autoregression(correlations), mean_weights(course), kSeasonWideningDays);
  return plain > 0 ? std::hypot(kSeasonWidening, season_error_c / std::sqrt(plain)) : kSeasonWidening;
}

/// `same_day` lies between the correlation of the record, or the usual one, and 1.
DailyGenerator generator_of(const YearCourse& course, const DayCorrelations& correlations,
                            const SameDayCorrelation& same_day, double widening) {
  DailyGenerator generator;
  generator.course = course;
  const Eigen::Vector2d weights = mean_weights(course);
  generator.season_share = season_share(correlations, weights, widening);
  const Autoregression process = autoregression(without_season(correlations, generator.season_share));
  generator.a = process.a;
  generator.b = lower_factor(process.noise);
  generator.start = lower_factor(process.lag0);
  for (std::size_t i = 0; i < same_day.size(); ++i) generator.mixing[i] = mixing(correlations.lag0(0, 1), same_day[i]);
  allow_for_smallest_range(generator.course, same_day);
  return generator;
}

}  // namespace

DailyGenerator daily_generator(const MonthlyNormals& normals, const DayCorrelations& correlations, double widening) {
  SameDayCorrelation same_day{};
  same_day.fill(correlations.lag0(0, 1));
  return generator_of(year_course(normals), correlations, same_day, widening);
}

DailyGenerator daily_generator(const MonthlyNormals& normals) {
  const DayCorrelations usual = usual_correlations();
  const YearCourse course = year_course(normals);
  return generator_of(course, usual, closer_where_range_is_narrow(course, usual.lag0(0, 1)),
                      widening_with(normals.season_error_c, course, usual));
}

namespace {

struct UsualDay {
  double tmax_mean, tmin_mean, tmax_sd, tmin_sd;
  Mixing mixing;
};

std::vector<UsualDay> usual_days(const DailyGenerator& generator, Date first, std::size_t days) {
  const YearCourse& course = generator.course;
  std::vector<UsualDay> usual(days);
  for (std::size_t day = 0; day < days; ++day) {
    const std::size_t at = year_curve_index(first + Days{day});
    usual[day] = {course.tmax_mean_c[at], course.tmin_mean_c[at], course.tmax_sd_c[at], course.tmin_sd_c[at],
                  generator.mixing[at]};
  }
  return usual;
}

/// What days as they were tell of the seasons that go on from them.
struct KnownSoFar {
  double offset_mean = 0;  ///< of the common offset, a standard normal number before anything was known
  double offset_sd = 1;
  Eigen::Vector2d last = Eigen::Vector2d::Zero();  ///< [tmax, tmin] of the last day, standardised
};

KnownSoFar known_so_far(const DailyGenerator& generator, const std::vector<UsualDay>& usual, const KnownDays& known) {
  KnownSoFar told;
  const double own = std::sqrt(1 - generator.season_share);
  const double common = std::sqrt(generator.season_share) / own;
  const Eigen::Vector2d both = Eigen::Vector2d::Ones();
  const Eigen::Vector2d pull = both - generator.a * both;  // of the offset on an innovation
  double information = 1;
  double sum = 0;
  for (std::size_t day = 0; day < known.count(); ++day) {
    const UsualDay& now = usual[day];
    const auto standard = [](double value, double mean, double sd) { return sd > 0 ? (value - mean) / sd : 0; };
    const Eigen::Vector2d mixed(standard(static_cast<double>(known.tmax_c[day]), now.tmax_mean, now.tmax_sd),
                                standard(static_cast<double>(known.tmin_c[day]), now.tmin_mean, now.tmin_sd));
    const auto [mine, other] = now.mixing;
    const Eigen::Vector2d seen =
        Eigen::Vector2d(mine * mixed(0) - other * mixed(1), mine * mixed(1) - other * mixed(0)) /
        (mine * mine - other * other);
    const Eigen::Matrix2d& factor = day == 0 ? generator.start : generator.b;
    const Eigen::Vector2d effect = common * (day == 0 ? both : pull);
    const Eigen::Vector2d news =
        day == 0 ? Eigen::Vector2d(seen / own) : Eigen::Vector2d((seen - generator.a * told.last) / own);
    if (factor.diagonal().minCoeff() > 0) {
      const Eigen::Vector2d scaled = factor.triangularView<Eigen::Lower>().solve(effect);
      information += scaled.squaredNorm();
      sum += scaled.dot(factor.triangularView<Eigen::Lower>().solve(news));
    }
    told.last = seen;
  }
  told.offset_mean = sum / information;
  told.offset_sd = 1 / std::sqrt(information);
  return told;
}

}  // namespace

void generate_seasons(const DailyGenerator& generator, Date first, std::size_t days, std::uint64_t seed,
                      std::span<float> tmin_c, std::span<float> tmax_c, const KnownDays& known) {
  enum Stream : std::uint64_t { kDay, kStart, kOffset };
  constexpr auto kSmallestRange = static_cast<float>(kSmallestDailyRange_c);
  const std::vector<UsualDay> usual = usual_days(generator, first, days);
  const KnownSoFar told = known_so_far(generator, usual, known);
  const double own = std::sqrt(1 - generator.season_share);
  const double season_sd = std::sqrt(generator.season_share);
  const Eigen::Matrix2d a = generator.a;
  const Eigen::Matrix2d b = generator.b;
  const auto first_date = static_cast<std::uint64_t>(first.time_since_epoch().count());
  for (std::size_t season = 0; season * days < tmin_c.size(); ++season) {
    const double common = season_sd * (told.offset_mean + told.offset_sd * random_normal(seed, season, 0, kOffset));
    double x;
    double n;
    const auto next_day = [&](std::size_t day) {
      const NormalPair noise = normal_pair(random_bits(seed, season, first_date + day, kDay));
      const double next_x = a(0, 0) * x + a(0, 1) * n + b(0, 0) * noise.first;
      n = a(1, 0) * x + a(1, 1) * n + b(1, 0) * noise.first + b(1, 1) * noise.second;
      x = next_x;
    };
    if (known.count() == 0) {
      const NormalPair start = normal_pair(random_bits(seed, season, 0, kStart));
      x = generator.start(0, 0) * start.first;
      n = generator.start(1, 0) * start.first + generator.start(1, 1) * start.second;
    } else {
      x = (told.last(0) - common) / own;
      n = (told.last(1) - common) / own;
      std::copy(known.tmin_c.begin(), known.tmin_c.end(), tmin_c.begin() + static_cast<std::ptrdiff_t>(season * days));
      std::copy(known.tmax_c.begin(), known.tmax_c.end(), tmax_c.begin() + static_cast<std::ptrdiff_t>(season * days));
      next_day(known.count());
    }
    for (std::size_t day = known.count(); day < days; ++day) {
      const UsualDay& now = usual[day];
      const double of_max = own * x + common;
      const double of_min = own * n + common;
      double tmax = now.tmax_mean + now.tmax_sd * (now.mixing.own * of_max + now.mixing.other * of_min);
      double tmin = now.tmin_mean + now.tmin_sd * (now.mixing.own * of_min + now.mixing.other * of_max);
      if (tmax - tmin < kSmallestDailyRange_c) {  // drawn apart about their middle, so that the day's mean stays
        const double middle = (tmax + tmin) / 2;
        tmax = middle + kSmallestDailyRange_c / 2;
        tmin = middle - kSmallestDailyRange_c / 2;
      }
      const std::size_t at = season * days + day;
      tmax_c[at] = static_cast<float>(tmax);
      tmin_c[at] = std::min(static_cast<float>(tmin), tmax_c[at] - kSmallestRange);
      next_day(day + 1);
    }
  }
}

}  // namespace strikebed::climate

#include "evidence/intervals.hpp"

#include <boost/math/distributions/beta.hpp>
#include <cmath>
#include <optional>

#include "base/random.hpp"
#include "evidence/boost_policy.hpp"

namespace strikebed::evidence {
namespace {

using BetaDistribution = boost::math::beta_distribution<double, BoostPolicy>;

std::optional<Error> what_is_wrong(double good, double of, double level) {
  if (!(std::isfinite(of) && of >= 1)) return Error{.problem = "nothing was counted", .allowed = "at least 1 in all"};
  if (!(good >= 0 && good <= of))
    return Error{.problem = "the good ones are not between 0 and all", .allowed = "0 to the number counted"};
  if (!(level > 0 && level < 1))
    return Error{.problem = "the level of an interval is not a share", .allowed = "above 0 and below 1"};
  return std::nullopt;
}

}  // namespace

Result<Interval> clopper_pearson(double good, double of, double level) {
  if (const auto wrong = what_is_wrong(good, of, level)) return *wrong;
  const double tail = (1 - level) / 2;
  const double low = good == 0 ? 0 : quantile(BetaDistribution(good, of - good + 1), tail);
  const double high = good == of ? 1 : quantile(complement(BetaDistribution(good + 1, of - good), tail));
  return Interval{low, high};
}

Result<Interval> wilson(double good, double of, double level) {
  if (const auto wrong = what_is_wrong(good, of, level)) return *wrong;
  const double z = normal_quantile((1 + level) / 2);
  const double share = good / of;
  const double centre = share + z * z / (2 * of);
  const double half = z * std::sqrt(share * (1 - share) / of + z * z / (4 * of * of));
  const double scale = 1 + z * z / of;
  return Interval{good == 0 ? 0 : (centre - half) / scale, good == of ? 1 : (centre + half) / scale};
}

Result<Interval> jeffreys(double good, double of, double level) {
  if (const auto wrong = what_is_wrong(good, of, level)) return *wrong;
  const double tail = (1 - level) / 2;
  const BetaDistribution belief(good + 0.5, of - good + 0.5);
  return Interval{good == 0 ? 0 : quantile(belief, tail), good == of ? 1 : quantile(complement(belief, tail))};
}

}  // namespace strikebed::evidence

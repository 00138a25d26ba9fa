#include "evidence/binomial.hpp"

#include <algorithm>
#include <boost/math/special_functions/beta.hpp>
#include <cmath>

#include "base/random.hpp"
#include "evidence/boost_policy.hpp"

namespace strikebed::evidence {
namespace {

constexpr double kNearlyNormal = 9;     // variance from which a binomial quantile is taken by Cornish-Fisher
constexpr double kPoissonShare = 1e-9;  // below this chance a try the matched binomial is taken as if it were this

struct Matched {
  double tries;
  double chance;
};

/// The binomial with this mean and variance.
Matched matched(double mean, double variance) {
  const double chance = std::clamp(1 - variance / mean, kPoissonShare, 1.0);
  return {mean / chance, chance};
}

/// P(X >= k) = I_p(k, n - k + 1), also for n that is not whole.
double upper_tail(double wanted, double tries, double chance) {
  // A matched number of tries is whole only up to rounding: 59.9999999 tries can still give 60.
  const double others = tries - wanted + 1;
  if (others < 1e-6) return 0;
  if (chance >= 1) return tries >= wanted - 1e-6 ? 1 : 0;
  return boost::math::ibeta(wanted, others, chance, BoostPolicy{});
}

}  // namespace

double chance_at_least(int wanted, double mean, double variance) {
  if (wanted <= 0) return 1;
  if (!(mean > 0)) return 0;
  const Matched m = matched(mean, variance);
  return upper_tail(wanted, m.tries, m.chance);
}

double quick_chance_at_least(int wanted, double mean, double variance) {
  if (wanted <= 0) return 1;
  if (!(mean > 0)) return 0;
  const auto [n, p] = matched(mean, variance);
  const double q = 1 - p;
  const double s = wanted - 0.5;
  const double t = n - s;
  if (t < 0.75 || q <= 0) return upper_tail(wanted, n, p);
  // Far out the answer is 0 or 1 and the logarithms are not worth taking.
  const double far = (s - mean) * (s - mean);
  if (far > 64 * (n * p * q + 1) && wanted > 20) return s > mean ? 0 : 1;
  const double d = s + 1.0 / 6 - (n + 1.0 / 3) * p + 0.02 * (q / (s + 0.5) - p / (t + 0.5) + (q - 0.5) / (n + 1));
  const double gap = s - mean;
  // s ln(s / mean) + t ln(t / (n q)), so written that the two do not cancel when n is large.
  const double deviance = s * std::log1p(gap / mean) + t * std::log1p(-gap / (n * q));
  const double per_gap =
      std::abs(gap) > 1e-5 * s ? std::sqrt(std::max(2 * deviance, 0.0)) / std::abs(gap) : 1 / std::sqrt(n * p * q);
  return quick_normal_share_below(-d * per_gap / std::sqrt(1 + 1 / (6 * n)));
}

std::optional<int> smallest_number(int wanted, double chance, double assurance, int limit) {
  const auto enough = [&](int tries) { return upper_tail(wanted, tries, chance) >= assurance; };
  if (wanted <= 0) return 0;
  if (!(chance > 0) || !enough(limit)) return std::nullopt;
  int low = wanted - 1;  // never enough
  int high = limit;
  while (high - low > 1) {
    const int middle = low + (high - low) / 2;
    (enough(middle) ? high : low) = middle;
  }
  return high;
}

int binomial_at_score(int tries, double chance, double score) {
  if (tries <= 0 || !(chance > 0)) return 0;
  if (chance >= 1) return tries;
  const double variance = tries * chance * (1 - chance);
  if (variance >= kNearlyNormal) {
    const double count = tries * chance + std::sqrt(variance) * score + (1 - 2 * chance) * (score * score - 1) / 6;
    return std::clamp(static_cast<int>(std::lround(count)), 0, tries);
  }
  if (chance > 0.5) return tries - binomial_at_score(tries, 1 - chance, -score);
  const double below = quick_normal_share_below(score);
  double term = std::exp(tries * std::log1p(-chance));
  double sum = term;
  int count = 0;
  while (sum < below && count < tries) {
    term *= (tries - count) / (count + 1.0) * chance / (1 - chance);
    ++count;
    sum += term;
    if (term < 1e-12 && count > tries * chance) break;
  }
  return count;
}

}  // namespace strikebed::evidence

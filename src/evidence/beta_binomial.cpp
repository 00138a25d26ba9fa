#include "evidence/beta_binomial.hpp"

#include <algorithm>
#include <boost/math/special_functions/gamma.hpp>
#include <cmath>

namespace strikebed::evidence {
namespace {

double log_gamma(double x) { return boost::math::lgamma(x); }

double log_beta_function(double a, double b) { return log_gamma(a) + log_gamma(b) - log_gamma(a + b); }

double chance_of_exactly(double count, double number, double alpha, double beta) {
  const double ways = log_gamma(number + 1) - log_gamma(count + 1) - log_gamma(number - count + 1);
  return std::exp(ways + log_beta_function(count + alpha, number - count + beta) - log_beta_function(alpha, beta));
}

}  // namespace

double beta_binomial_at_least(int wanted, int number, double alpha, double beta) {
  if (wanted <= 0) return 1;
  if (wanted > number) return 0;
  // One term by gamma functions, the others from it by the ratio of neighbours; starting at the expected count keeps
  // the first term clear of underflow.
  const double n = number;
  const int start = std::clamp(static_cast<int>(n * alpha / (alpha + beta)), wanted, number);
  const double first = chance_of_exactly(start, n, alpha, beta);
  double sum = first;
  double term = first;
  for (int count = start; count < number; ++count) {
    const double k = count;
    term *= (n - k) * (k + alpha) / ((k + 1) * (n - k - 1 + beta));
    sum += term;
  }
  term = first;
  for (int count = start; count > wanted; --count) {
    const double k = count;
    term *= k * (n - k + beta) / ((n - k + 1) * (k - 1 + alpha));
    sum += term;
  }
  return std::min(sum, 1.0);
}

CountMoments beta_binomial_moments(int number, double alpha, double beta) {
  const double n = number;
  const double total = alpha + beta;
  const double share = alpha / total;
  return {n * share, n * share * (1 - share) * (total + n) / (total + 1)};
}

std::optional<int> beta_binomial_smallest_number(int wanted, double assurance, double alpha, double beta, int at_most) {
  const auto enough = [&](int number) { return beta_binomial_at_least(wanted, number, alpha, beta) >= assurance; };
  int enough_at = std::max(wanted, 0);
  int too_few = enough_at - 1;
  while (enough_at < at_most && !enough(enough_at)) {  // doubling, then halving: the chance only grows with the number
    too_few = enough_at;
    enough_at = static_cast<int>(std::min<long long>(2LL * enough_at, at_most));
  }
  if (enough_at > at_most || !enough(enough_at)) return std::nullopt;
  while (enough_at - too_few > 1) {
    const int middle = too_few + (enough_at - too_few) / 2;
    (enough(middle) ? enough_at : too_few) = middle;
  }
  return enough_at;
}

}  // namespace strikebed::evidence

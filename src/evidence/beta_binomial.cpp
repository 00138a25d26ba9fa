#include "evidence/beta_binomial.hpp"

#include <algorithm>

namespace strikebed::evidence {

double beta_binomial_at_least(int wanted, int number, double alpha, double beta) {
  if (wanted <= 0) return 1;
  if (wanted > number) return 0;
  // All terms from their neighbours, as multiples of the one at the expected count; the whole makes them chances.
  const double n = number;
  const int start = std::clamp(static_cast<int>(n * alpha / (alpha + beta)), 0, number);
  double all = 1;
  double enough = start >= wanted ? 1 : 0;
  const auto add = [&](int count, double term) {
    all += term;
    if (count >= wanted) enough += term;
  };
  double term = 1;
  for (int count = start; count < number; ++count) {
    const double k = count;
    term *= (n - k) * (k + alpha) / ((k + 1) * (n - k - 1 + beta));
    add(count + 1, term);
  }
  term = 1;
  for (int count = start; count > 0; --count) {
    const double k = count;
    term *= k * (n - k + beta) / ((n - k + 1) * (k - 1 + alpha));
    add(count - 1, term);
  }
  return enough / all;
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

#include "evidence/beta_binomial_groups.hpp"

#include <algorithm>
#include <boost/math/quadrature/gauss.hpp>
#include <cmath>
#include <utility>

#include "evidence/beta.hpp"

namespace strikebed::evidence {
namespace {

/// How many counts are above 0, 1, 2, ...: rising factorials of all of them share their factors.
class Factors {
 public:
  void add(int count) {
    if (above_.size() < static_cast<std::size_t>(count)) above_.resize(static_cast<std::size_t>(count));
    for (int i = 0; i < count; ++i) ++above_[static_cast<std::size_t>(i)];
  }
  /// Sum over the counts of ln(x (x + 1) ... (x + count - 1)).
  [[nodiscard]] double log_rising(double x) const {
    double sum = 0;
    for (std::size_t i = 0; i < above_.size(); ++i) sum += above_[i] * std::log(x + static_cast<double>(i));
    return sum;
  }

 private:
  std::vector<double> above_;
};

/// The logarithm of the posterior, in mu and v = u / (1 + u), u = 1 / sqrt(a + b).
class LogDensity {
 public:
  explicit LogDensity(std::span<const GroupCount> groups) {
    for (const GroupCount& group : groups) {
      good_.add(group.good);
      bad_.add(group.of - group.good);
      all_.add(group.of);
    }
  }
  static double size_of(double v) { return std::pow((1 - v) / v, 2); }
  double operator()(double mu, double v) const {
    const double size = size_of(v);
    return good_.log_rising(mu * size) + bad_.log_rising((1 - mu) * size) - all_.log_rising(size) -
           2 * std::log1p(-v);  // du = dv / (1 - v)^2
  }

 private:
  Factors good_, bad_, all_;
};

struct Box {
  double mu_low = 1, mu_high = 0, v_low = 1, v_high = 0;
};
/// All that is within e^-30 of the highest of a coarse grid, and one step more.
Box box_of(const LogDensity& log_density) {
  constexpr int kSteps = 100;
  constexpr double kFar = 30;
  std::vector<double> logs;
  for (int i = 0; i < kSteps; ++i) {
    for (int j = 0; j < kSteps; ++j) logs.push_back(log_density((i + 0.5) / kSteps, (j + 0.5) / kSteps));
  }
  const double most = *std::max_element(logs.begin(), logs.end());
  Box box;
  for (int i = 0; i < kSteps; ++i) {
    for (int j = 0; j < kSteps; ++j) {
      if (logs[static_cast<std::size_t>(i * kSteps + j)] < most - kFar) continue;
      box.mu_low = std::min(box.mu_low, std::max(i - 1.0, 0.0) / kSteps);
      box.mu_high = std::max(box.mu_high, std::min(i + 2.0, 1.0 * kSteps) / kSteps);
      box.v_low = std::min(box.v_low, std::max(j - 1.0, 0.0) / kSteps);
      box.v_high = std::max(box.v_high, std::min(j + 2.0, 1.0 * kSteps) / kSteps);
    }
  }
  return box;
}

}  // namespace

Result<BetaBinomialGroups> BetaBinomialGroups::of(std::span<const GroupCount> groups) {
  for (const GroupCount& group : groups) {
    if (group.good < 0 || group.of < group.good) {
      return Error{.problem = "a count of a batch is none", .allowed = "0 <= good <= of"};
    }
  }
  if (groups.size() < 2)
    return Error{.problem = "one batch does not tell how batches differ", .allowed = "two or more"};
  constexpr int kMuSteps = 300;
  constexpr unsigned kPoints = 60;
  using Gauss = boost::math::quadrature::gauss<double, kPoints>;
  const LogDensity log_density(groups);
  const Box box = box_of(log_density);
  std::vector<Node> nodes;
  std::vector<double> logs;
  for (int i = 0; i < kMuSteps; ++i) {
    const double mu = box.mu_low + (box.mu_high - box.mu_low) * (i + 0.5) / kMuSteps;
    for (std::size_t k = 0; k < Gauss::abscissa().size(); ++k) {
      for (const double side : {-1.0, 1.0}) {
        const double v = (box.v_low + box.v_high + side * Gauss::abscissa()[k] * (box.v_high - box.v_low)) / 2;
        nodes.push_back({mu, LogDensity::size_of(v), Gauss::weights()[k]});
        logs.push_back(log_density(mu, v));
      }
    }
  }
  const double most = *std::max_element(logs.begin(), logs.end());
  double sum = 0;
  for (std::size_t k = 0; k < nodes.size(); ++k) sum += nodes[k].weight *= std::exp(logs[k] - most);
  constexpr double kLeast = 1e-10;  // all that are lighter together weigh 1e-6
  std::erase_if(nodes, [&](const Node& node) { return node.weight < kLeast * sum; });
  sum = 0;
  for (const Node& node : nodes) sum += node.weight;
  for (Node& node : nodes) node.weight /= sum;
  return BetaBinomialGroups(std::move(nodes));
}

double BetaBinomialGroups::mean_of(const std::function<double(double, double)>& value) const {
  double sum = 0;
  for (const Node& node : nodes_) sum += node.weight * value(node.mu * node.size, (1 - node.mu) * node.size);
  return sum;
}

BetaBinomialGroups::Summary BetaBinomialGroups::long_run() const {
  const double mean = mean_of([](double a, double b) { return a / (a + b); });
  return {mean, std::sqrt(mean_of([mean](double a, double b) { return std::pow(a / (a + b) - mean, 2); }))};
}

double BetaBinomialGroups::long_run_quantile(double p) const {
  // Nodes of one mu stand for a step of the grid about it.
  double below = 0;
  for (std::size_t k = 0; k < nodes_.size();) {
    double here = 0;
    const double mu = nodes_[k].mu;
    while (k < nodes_.size() && nodes_[k].mu == mu) here += nodes_[k++].weight;
    const double next = k < nodes_.size() ? nodes_[k].mu : mu;
    if (below + here >= p) return mu + (next - mu) * ((p - below) / here - 0.5);
    below += here;
  }
  return nodes_.back().mu;
}

double BetaBinomialGroups::intraclass_correlation() const {
  return mean_of([](double a, double b) { return 1 / (a + b + 1); });
}

BetaBinomialGroups::Summary BetaBinomialGroups::rate(GroupCount seen) const {
  const double mean = mean_of([&](double a, double b) { return (a + seen.good) / (a + b + seen.of); });
  const double square = mean_of([&](double a, double b) {
    const double size = a + b + seen.of;
    return (a + seen.good) * (a + seen.good + 1) / (size * (size + 1));
  });
  return {mean, std::sqrt(square - mean * mean)};
}

double BetaBinomialGroups::rate_quantile(GroupCount seen, double p) const {
  double low = 0;
  double high = 1;
  while (high - low > 1e-7) {
    const double middle = (low + high) / 2;
    const double below =
        mean_of([&](double a, double b) { return Beta{a + seen.good, b + seen.of - seen.good}.share_below(middle); });
    (below < p ? low : high) = middle;
  }
  return (low + high) / 2;
}

std::vector<double> BetaBinomialGroups::new_counts(int of) const {
  std::vector<double> chances(static_cast<std::size_t>(of) + 1);
  for (const Node& node : nodes_) {
    const double a = node.mu * node.size;
    const double b = node.size - a;
    double log = 0;  // of none good
    for (int i = 0; i < of; ++i) log += std::log((b + i) / (node.size + i));
    double chance = node.weight * std::exp(log);
    for (int good = 0; good <= of; ++good) {
      chances[static_cast<std::size_t>(good)] += chance;
      chance *= (of - good) * (a + good) / ((good + 1) * (b + of - good - 1));
    }
  }
  return chances;
}

}  // namespace strikebed::evidence

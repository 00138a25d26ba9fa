#include "season/unknowns.hpp"

#include <algorithm>
#include <cmath>

#include "base/random.hpp"
#include "season/seed_search.hpp"

namespace strikebed::season {
namespace {

constexpr int kValues = 5;

}  // namespace

std::vector<Unknown> cost_of_not_knowing(const Model& model, const std::vector<int>& sow_days,
                                         const std::vector<double>& shares, int seeds, const Workers& workers) {
  const Workers alone;
  const Futures futures = first_replicates(model.futures(), 2);
  const Model now_model(model.goal(), model.chain(), model.sums(), model.sessions(), futures, alone);
  std::vector<Offers> offers;
  for (const int day : sow_days) {
    offers.push_back(offers_of_sowing(model.chain(), futures, model.sums(), model.sessions(), day, alone));
  }
  const auto needed_by = [&](const Model& asked, bool same_timing) {
    std::vector<Sowing> sowings;
    for (std::size_t i = 0; i < sow_days.size(); ++i) {
      const int index = static_cast<int>(i);
      sowings.push_back(same_timing ? asked.sowing(offers[i], index) : asked.sowing(sow_days[i], index));
    }
    return seeds_for(asked, sowings, model.goal().assurance, shares, seeds, kMostSeeds);
  };
  const std::optional<int> now = needed_by(now_model, true);
  const auto& uncertain = model.chain().uncertain;
  std::vector<std::optional<int>> needed(uncertain.size() * kValues);
  workers.run(static_cast<int>(needed.size()), [&](int job) {
    const auto q = static_cast<std::size_t>(job / kValues);
    const double score = normal_quantile((job % kValues + 0.5) / kValues);
    const Model asked(model.goal(), model.chain(), model.sums(), model.sessions(),
                      with_known(futures, uncertain[q].dimension, score), alone);
    needed[static_cast<std::size_t>(job)] = needed_by(asked, !uncertain[q].moves_timing);
  });
  std::vector<Unknown> unknowns;
  for (std::size_t q = 0; q < uncertain.size(); ++q) {
    double sum = 0;
    int reached = 0;
    for (std::size_t v = 0; v < kValues; ++v) {
      if (const auto& number = needed[q * kValues + v]) {
        sum += *number;
        ++reached;
      }
    }
    Unknown unknown;
    unknown.name = uncertain[q].name;
    unknown.unit = uncertain[q].unit;
    unknown.test = uncertain[q].test;
    unknown.low = uncertain[q].low;
    unknown.typical = uncertain[q].typical;
    unknown.high = uncertain[q].high;
    unknown.unreachable_share = 1 - static_cast<double>(reached) / kValues;
    if (now && reached > 0) unknown.seeds_saved = static_cast<int>(std::lround(*now - sum / reached));
    unknowns.push_back(unknown);
  }
  std::ranges::stable_sort(unknowns, std::greater<>{}, &Unknown::seeds_saved);
  return unknowns;
}

}  // namespace strikebed::season

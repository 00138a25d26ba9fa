#include "season/unknowns.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <numeric>

#include "base/random.hpp"
#include "season/seed_search.hpp"

namespace strikebed::season {
namespace {

// A quantity is taken to be known at the middles of equal parts of its belief.
constexpr int kFirstLook = 5;
constexpr int kCloserLook = 15;
constexpr int kWorthACloserLook = 100;  // the hundredth part of the seeds

/// Seeds needed, over the values that a quantity may turn out to have; nothing: out of reach.
using Needed = std::vector<std::optional<int>>;

int reached(const Needed& needed) {
  return static_cast<int>(std::ranges::count_if(needed, [](const auto& seeds) { return seeds.has_value(); }));
}

double mean_needed(const Needed& needed) {
  double sum = 0;
  for (const auto& seeds : needed) sum += seeds.value_or(0);
  return sum / std::max(reached(needed), 1);
}

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
  // Asks for each of the quantities at each of the parts of its belief, several at a time.
  const auto ask = [&](const std::vector<std::size_t>& quantities, int parts) {
    std::vector<Needed> answers(quantities.size(), Needed(static_cast<std::size_t>(parts)));
    workers.run(static_cast<int>(quantities.size()) * parts, [&](int job) {
      const auto& quantity = uncertain[quantities[static_cast<std::size_t>(job / parts)]];
      const double score = normal_quantile((job % parts + 0.5) / parts);
      const Model asked(model.goal(), model.chain(), model.sums(), model.sessions(),
                        with_known(futures, quantity.dimension, score), alone);
      answers[static_cast<std::size_t>(job / parts)][static_cast<std::size_t>(job % parts)] =
          needed_by(asked, !quantity.moves_timing);
    });
    return answers;
  };
  std::vector<std::size_t> all(uncertain.size());
  std::iota(all.begin(), all.end(), std::size_t{0});
  std::vector<Needed> needed = ask(all, kFirstLook);
  std::vector<std::size_t> telling;
  std::ranges::copy_if(all, std::back_inserter(telling), [&](std::size_t q) {
    return now &&
           (reached(needed[q]) < kFirstLook || std::abs(*now - mean_needed(needed[q])) * kWorthACloserLook >= *now);
  });
  const std::vector<Needed> closer = ask(telling, kCloserLook);
  for (std::size_t i = 0; i < telling.size(); ++i) needed[telling[i]] = closer[i];
  std::vector<Unknown> unknowns;
  for (std::size_t q = 0; q < uncertain.size(); ++q) {
    Unknown unknown;
    unknown.quantity = uncertain[q].quantity;
    unknown.want = uncertain[q].want;
    unknown.tries = uncertain[q].tries;
    unknown.low = uncertain[q].low;
    unknown.typical = uncertain[q].typical;
    unknown.high = uncertain[q].high;
    unknown.unreachable_share = 1 - static_cast<double>(reached(needed[q])) / static_cast<double>(needed[q].size());
    if (now && reached(needed[q]) > 0)
      unknown.seeds_saved = static_cast<int>(std::lround(*now - mean_needed(needed[q])));
    unknowns.push_back(unknown);
  }
  std::ranges::stable_sort(unknowns, std::greater<>{}, &Unknown::seeds_saved);
  return unknowns;
}

}  // namespace strikebed::season

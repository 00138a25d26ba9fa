#include "season/unknowns.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>

#include "base/random.hpp"
#include "season/seed_search.hpp"

namespace strikebed::season {
namespace {

// A quantity is taken to be known at the middles of equal parts of its belief.
constexpr int kFirstLook = 5;
constexpr int kCloserLook = 15;
constexpr int kWorthACloserLook = 100;  // the hundredth part of the seeds
constexpr int kFewReplicates = 2;

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

/// The same question on few futures, again and again with something known.
class AskedAgain {
 public:
  AskedAgain(const Model& model, const AskedSowings& asked)
      : model_(model.setting(), model.futures().first(kFewReplicates), Workers{}),
        asked_(asked),
        sowings_(model_.sown_like(asked.sowings)),
        now_(needed(model_, sowings_)) {}
  [[nodiscard]] std::optional<int> now() const { return now_; }

  /// Whether it moves the number at all: the cold does not touch every plan.
  [[nodiscard]] bool matters(const UncertainQuantity& quantity) const {
    constexpr std::array kOfTheCold{ChainQuantity::winter, ChainQuantity::cold_seed_loss, ChainQuantity::idle_loss,
                                    ChainQuantity::seedling_frost, ChainQuantity::cutting_frost};
    if (std::ranges::find(kOfTheCold, quantity.draw.quantity) == kOfTheCold.end()) return true;
    return needed_with(quantity, kScore95) != now_ || needed_with(quantity, -kScore95) != now_;
  }
  /// With a quantity at the 95 % point of its belief.
  [[nodiscard]] std::optional<int> at_best(const UncertainQuantity& quantity) const {
    return needed_with(quantity, kScore95);
  }
  /// With a quantity known at the middles of so many equal parts of its belief.
  [[nodiscard]] Needed with_known(const UncertainQuantity& quantity, int parts, const Workers& workers) const {
    Needed answers(static_cast<std::size_t>(parts));
    workers.run(parts, [&](int part) {
      answers[static_cast<std::size_t>(part)] = needed_with(quantity, normal_quantile((part + 0.5) / parts));
    });
    return answers;
  }

 private:
  [[nodiscard]] std::optional<int> needed_with(const UncertainQuantity& quantity, double score) const {
    const Model model = model_.with_known(quantity.draw, score);
    std::vector<Sowing> sowings = sowings_;
    for (Sowing& sowing : sowings) {
      const bool others = moves_seedlings(quantity.draw.quantity);
      sowing.in_futures =
          (others ? model.sowing(sowing.day(), sowing.seed()) : model.sowing(sowing->offers)).in_futures;
    }
    return needed(model, sowings);
  }
  [[nodiscard]] std::optional<int> needed(const Model& model, std::span<const Sowing> sowings) const {
    return seeds_for(model, sowings, model.goal().assurance, asked_.shares, asked_.seeds, sensible_seeds(model.goal()));
  }

  Model model_;
  const AskedSowings& asked_;
  std::vector<Sowing> sowings_;
  std::optional<int> now_;
};

Unknown unknown_of(const UncertainQuantity& quantity, std::optional<int> now, const Needed& needed) {
  Unknown unknown;
  unknown.quantity = quantity.draw.quantity;
  unknown.want = quantity.want;
  unknown.lot = quantity.lot;
  unknown.tries = quantity.tries;
  unknown.low = quantity.low;
  unknown.typical = quantity.typical;
  unknown.high = quantity.high;
  unknown.unreachable_share = 1 - static_cast<double>(reached(needed)) / static_cast<double>(needed.size());
  if (now && reached(needed) > 0) unknown.seeds_saved = static_cast<int>(std::lround(*now - mean_needed(needed)));
  return unknown;
}

}  // namespace

Steps<double> cost_of_not_knowing(const Model& model, AskedSowings asked, Workers workers,
                                  std::vector<Unknown>& unknowns) {
  const AskedAgain again(model, asked);
  const std::vector<UncertainQuantity>& uncertain = model.chain().uncertain;
  std::vector<Unknown> found;
  for (const UncertainQuantity& quantity : uncertain) {
    if (!again.matters(quantity)) continue;
    Needed needed = again.with_known(quantity, kFirstLook, workers);
    co_yield static_cast<double>(found.size()) / static_cast<double>(uncertain.size());
    const auto now = again.now();
    const bool telling =
        now && (reached(needed) < kFirstLook || std::abs(*now - mean_needed(needed)) * kWorthACloserLook >= *now);
    if (telling) needed = again.with_known(quantity, kCloserLook, workers);
    found.push_back(unknown_of(quantity, now, needed));
    if (quantity.is_rate()) found.back().seeds_at_best = again.at_best(quantity);
    co_yield static_cast<double>(found.size()) / static_cast<double>(uncertain.size());
  }
  std::ranges::stable_sort(found, std::greater<>{}, &Unknown::seeds_saved);
  unknowns = std::move(found);
}

}  // namespace strikebed::season

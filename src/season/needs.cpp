#include "season/needs.hpp"

#include <algorithm>
#include <cmath>

namespace strikebed::season {

double seconds_per_cutting(const growth::Method& method) {
  return (method.cutting_seconds.typical() + method.soak_seconds.typical() + method.setting_seconds.typical()) /
         method.group.typical();
}

void fill_needs(const Goal& goal, Plan& plan) {
  constexpr double kSecondsPerHour = 3600;
  constexpr double kMlPerLitre = 1000;
  Needs& needs = plan.needs;
  const double seeds_per_gram = goal.seeds_per_gram_of_lot.value_or(goal.species.seeds_per_gram.typical());
  needs.seed_grams = plan.seeds / seeds_per_gram;
  for (std::size_t w = 0; w < goal.wants.size(); ++w) {
    const growth::Method& method = goal.wants[w].method;
    WantNeeds& want = needs.wants[w];
    want.base_form = goal.wants[w].base_form;
    want.containers = static_cast<int>(std::ceil(want.cuttings / method.cuttings_per_container.typical()));
    const double sand = want.cuttings * method.pocket_ml.typical() / kMlPerLitre;
    needs.containers += want.containers;
    needs.sand_litres += sand;
    needs.medium_litres += std::max(want.containers * method.container_litres.typical() - sand, 0.0);
    needs.bench_m2 += want.containers * method.container_bench_m2.typical();
    // Each session begins with a fresh filling.
    const auto sessions =
        std::ranges::count_if(plan.sessions, [&](const SessionPlan& one) { return one.by_want[w] >= 0.5; });
    needs.solution_ml +=
        std::max(std::ceil(want.cuttings / method.cuttings_per_fill.typical()), static_cast<double>(sessions)) *
        method.solution_ml_per_fill.typical();
    needs.hours += want.cuttings * seconds_per_cutting(method) / kSecondsPerHour;
  }
  for (SessionPlan& session : plan.sessions) {
    for (std::size_t w = 0; w < goal.wants.size(); ++w) {
      const growth::Method& method = goal.wants[w].method;
      session.hours += session.by_want[w] * seconds_per_cutting(method) / kSecondsPerHour;
    }
  }
  needs.labels = needs.containers + static_cast<int>(plan.sow_dates.size());
  const Prices& prices = goal.prices;
  double money = 0;
  bool priced = false;
  const auto pay = [&](const std::optional<double>& price, double amount) {
    if (!price) return;
    money += *price * amount;
    priced = true;
  };
  pay(prices.seed_per_gram, needs.seed_grams);
  pay(prices.container, needs.containers);
  pay(prices.medium_per_litre, needs.medium_litres);
  pay(prices.sand_per_litre, needs.sand_litres);
  pay(prices.solution_per_litre, needs.solution_ml / kMlPerLitre);
  pay(prices.hour, needs.hours);
  if (priced) needs.money = money;
}

}  // namespace strikebed::season

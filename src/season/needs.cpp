#include "season/needs.hpp"

#include <algorithm>
#include <cmath>
#include <tuple>

namespace strikebed::season {
namespace {

constexpr double kSecondsPerHour = 3600;
constexpr double kMlPerLitre = 1000;
constexpr double kMmPerM = 1000;

void add_material(const std::string& name, double litres, double dry_kg, bool in_pockets, Needs& needs) {
  if (litres <= 0) return;
  const auto same = [&](const MaterialNeed& one) { return one.name == name && one.in_pockets == in_pockets; };
  auto at = std::ranges::find_if(needs.materials, same);
  if (at == needs.materials.end()) at = needs.materials.insert(at, {name, 0, 0, in_pockets});
  at->litres += litres;
  at->dry_kg += dry_kg;
}

/// In the bed already. What the plan asks for counts as still to be got, on a day that is past too.
bool is_sown(const Goal& goal, const SowingPlan& sowing) { return sowing.own && sowing.on < goal.today; }

void add_seed(const Goal& goal, Plan& plan) {
  Needs& needs = plan.needs;
  for (const SowingPlan& sowing : plan.sowings) {
    if (is_sown(goal, sowing)) continue;
    const Lot& lot = lot_of(goal, sowing);
    auto at = std::ranges::find(needs.seed, lot.name, &SeedNeed::lot);
    if (at == needs.seed.end()) at = needs.seed.insert(at, {lot.name, 0, 0});
    const double grams = sowing.seeds / goal.seeds_per_gram(lot);
    at->seeds += sowing.seeds;
    at->grams += grams;
    needs.seed_grams += grams;
  }
}

/// Containers, what fills them and what stands in the pockets.
void add_containers(const Goal& goal, std::size_t w, Plan& plan) {
  const Want& want = goal.wants[w];
  const growth::Method& method = want.method;
  Needs& needs = plan.needs;
  WantNeeds& mine = needs.wants[w];
  mine.base_form = want.base_form;
  mine.containers = static_cast<int>(std::ceil(mine.cuttings / method.cuttings_per_container.typical()));
  needs.containers += mine.containers;
  const double width_m = method.container_top_mm.typical() / kMmPerM;
  needs.bench_m2 += mine.containers * width_m * width_m;  // rim to rim, round ones too
  mix::MediumRequest request = want.set_in;
  request.containers = std::max(mine.containers, 1);
  const auto medium = mix::make_medium(request);
  if (!medium || mine.containers == 0) return;  // nursery has refused what cannot be filled
  mine.container_litres = medium->container_ml / kMlPerLitre;
  mine.container_drained_kg = medium->drained_kg.value;
  needs.medium_litres += medium->medium_l + medium->spare_l;
  for (std::size_t i = 0; i < medium->buy.size(); ++i) {
    const mix::Bought& one = medium->buy[i];
    const double litres = one.loose_l.high / (1 - request.recipe[i].lost);  // before sieving
    add_material(one.name, litres, litres * request.recipe[i].material.bulk_density_kg_l.quantity.value, false, needs);
  }
  if (!medium->pocket) return;
  const mix::PocketAnswer& pocket = *medium->pocket;
  const double litres =
      pocket.volume_ml * pocket.per_container * request.containers * (1 + request.spare) / kMlPerLitre;
  needs.sand_litres += litres;
  add_material(pocket.sand, litres, litres * request.pockets->sand.bulk_density_kg_l.quantity.value, true, needs);
  if (pocket.staying == mix::Staying::stays) return;
  plan.remarks.push_back({.kind = RemarkKind::loose_pocket, .want = w});
}

/// Each session begins with a fresh filling; wants that are dipped alike share it.
void add_dips(const Goal& goal, const Plan& plan, Needs& needs) {
  const auto dip_of = [&](std::size_t w) {
    const growth::Method& method = goal.wants[w].method;
    return std::tuple{method.auxin_ppm.typical(), method.solution_ml_per_fill.typical(),
                      method.cuttings_per_fill.typical()};
  };
  std::vector<bool> done(goal.wants.size(), false);
  for (std::size_t first = 0; first < goal.wants.size(); ++first) {
    if (done[first]) continue;
    int cuttings = 0;
    std::vector<double> by_session(plan.sessions.size(), 0.0);
    for (std::size_t w = first; w < goal.wants.size(); ++w) {
      if (dip_of(w) != dip_of(first)) continue;
      done[w] = true;
      cuttings += needs.wants[w].cuttings;
      for (std::size_t s = 0; s < by_session.size(); ++s) by_session[s] += plan.sessions[s].by_want[w];
    }
    const auto [ppm, fill_ml, per_fill] = dip_of(first);
    const auto held = std::ranges::count_if(by_session, [](double struck) { return struck >= 0.5; });
    DipNeed dip{ppm, fill_ml, std::max(static_cast<int>(std::ceil(cuttings / per_fill)), static_cast<int>(held)), {}};
    if (const auto& request = goal.wants[first].dip) {
      if (const auto mixed = mix::mix_solution(*request)) {
        DipNeed::Stock stock{mixed->dose.value, 0,
                             request->stock.form == mix::Form::liquid ? StockUnit::ml : StockUnit::g};
        for (const mix::Way& way : mixed->ways) {
          if (way.out.instrument.kind == mix::Instrument::Kind::drops) stock.drops_per_fill = way.out.steps;
        }
        dip.stock = stock;
      }
    }
    needs.solution_ml += dip.fillings * dip.fill_ml;
    needs.dips.push_back(dip);
  }
}

}  // namespace

double seconds_per_cutting(const growth::Method& method) {
  return (method.cutting_seconds.typical() + method.soak_seconds.typical() + method.setting_seconds.typical()) /
         method.group.typical();
}

void fill_needs(const Goal& goal, Plan& plan) {
  Needs& needs = plan.needs;
  add_seed(goal, plan);
  for (std::size_t w = 0; w < goal.wants.size(); ++w) {
    add_containers(goal, w, plan);
    const double hours_each = seconds_per_cutting(goal.wants[w].method) / kSecondsPerHour;
    needs.hours += needs.wants[w].cuttings * hours_each;
    if (w < plan.shares.size()) needs.hours_typical += plan.struck.typical * plan.shares[w] * hours_each;
  }
  add_dips(goal, plan, needs);
  for (SessionPlan& session : plan.sessions) {
    for (std::size_t w = 0; w < goal.wants.size(); ++w) {
      const growth::Method& method = goal.wants[w].method;
      session.hours += session.by_want[w] * seconds_per_cutting(method) / kSecondsPerHour;
    }
  }
  const auto to_be_sown = [&](const SowingPlan& sowing) { return !is_sown(goal, sowing); };
  needs.labels = needs.containers + static_cast<int>(std::ranges::count_if(plan.sowings, to_be_sown));
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

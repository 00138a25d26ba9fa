// Published checks of the chain from seeds to plants, computed by the season engine itself.
#include "nursery/checks/computations.hpp"
#include "season/model.hpp"

namespace strikebed::nursery {
namespace {

constexpr int kDays = 330;
constexpr double kSeedbed_c = 22.5;
constexpr double kMedium_c = 24;

ProfileValue exactly(double value) {
  return {.quantity = {value, value, value}, .unit = "", .source = "", .trust = {}};
}

RateBelief known(double share) { return {.belief = Known{share}, .batch_spread = 0.0}; }

/// A species that is always in time: it germinates in days, stays in its window for most of a year and takes equally
/// well in all of it, so that nothing but the rates and the sessions decides.
growth::Species species_in_time() {
  const growth::Cardinal cardinal{.base_c = 5, .optimum_c = kMedium_c, .ceiling_c = 35};
  growth::Species species{};
  for (ProfileValue* factor : {&species.unchilled_time_factor, &species.unchilled_spread_factor, &species.edge_odds})
    *factor = exactly(1);
  for (ProfileValue* spread : {&species.germination_spread, &species.ripening_spread, &species.rooting_spread})
    *spread = exactly(0.1);
  species.chill_days = exactly(0);
  species.seeds_per_gram = exactly(75);
  species.germination_temperature = species.ripening_temperature = species.rooting_temperature = cardinal;
  species.germination_time = exactly(50);
  species.cover_time = exactly(20);
  species.loss_half_age_days = exactly(7);
  species.ripening_time = exactly(100);
  species.window_end_time = exactly(10'000);
  species.rooting_time = exactly(200);
  species.unrooted_life_days = exactly(200);
  species.weaning_days = exactly(14);
  species.shortest_day_h = species.standstill_day_h = exactly(0);
  species.cold_seed_loss = species.idle_loss = exactly(0);
  species.seedling_frost_c = species.cutting_frost_c = exactly(-60);
  return species;
}

season::Goal goal_in_time(int wanted) {
  season::Goal goal{};
  goal.species = species_in_time();
  goal.today = make_date(2027, 1, 1);
  goal.by = goal.today + Days(kDays - 1);
  goal.winter_starts = goal.today + Days(kDays - 100);
  goal.winter_ends = goal.today + Days(kDays - 20);
  goal.count_at = season::CountAt::established;
  goal.seedbed.fixed_c = kSeedbed_c;
  goal.bench.fixed_c = kMedium_c;
  goal.wants.resize(1);
  goal.wants[0].base_form = "radial";
  goal.wants[0].count = wanted;
  goal.sessions.weekdays = {false, false, false, false, false, true, false};
  goal.sessions.days_said = true;
  return goal;
}

/// The first rates of the chain as given, in the order of the chain; the others are certain.
void set_rates(season::Goal& goal, const std::vector<RateBelief>& beliefs) {
  for (std::size_t i = 0; i < growth::kRungs.size(); ++i)
    belief_of(goal, growth::kRungs[i].rung, 0) = i < beliefs.size() ? beliefs[i] : known(1);
}

/// Rates as exact shares, or as the tests whose Betas they are.
std::vector<RateBelief> rates_of(const CheckInputs& in) {
  std::vector<RateBelief> beliefs;
  if (in.has("share")) {
    for (const double share : in.numbers("share")) beliefs.push_back(known(share));
  } else {
    for (const auto& [good, of] : in.rows<2>({"good", "of"}))
      beliefs.push_back({.belief = Tested{.good = good, .of = of}, .batch_spread = 0.0});
  }
  return beliefs;
}

/// How sure each number of seeds is. With "session_holds" there is one session, and that is all it holds.
Computed season_assurance(const CheckInputs& in) {
  constexpr int kReplicates = 8;
  constexpr int kLog2Points = 11;
  constexpr int kSowDay = 0;
  constexpr int kOnlySession = 60;

  season::Goal goal = goal_in_time(in.whole("wanted"));
  const std::vector<RateBelief> rates = rates_of(in);
  if (rates.size() > growth::kRungs.size()) return in.give_up("the chain has seven rates");
  set_rates(goal, rates);
  if (in.has("session_holds")) {
    goal.sessions.cuttings_at_most = in.whole("session_holds");
    goal.sessions.dates = {goal.today + Days(kOnlySession)};
  }
  climate::WeatherSeasons weather;
  weather.first = goal.today;
  weather.days = kDays;
  weather.count = 1;
  weather.tmin_c.assign(kDays, static_cast<float>(kSeedbed_c));  // both positions are heated: the weather is not felt
  weather.tmax_c = weather.tmin_c;

  auto sums = std::make_shared<const season::ThermalSums>(season::thermal_sums(goal, weather, {}));
  const season::Model model(season::setting_of(goal, std::move(sums)),
                            season::Futures(weather.count, kReplicates, kLog2Points, 1), {});
  const std::vector<season::Sowing> sowings{model.sowing(kSowDay)};
  const std::vector<double> shares{1.0};
  Computed out;
  for (const double seeds : in.numbers("number"))
    out.add("assurance", model.assurance(sowings, static_cast<int>(seeds), shares, season::Precision::exact).chance);
  return out;
}

}  // namespace

Computations season_computations() { return {{"season_assurance", season_assurance}}; }

}  // namespace strikebed::nursery

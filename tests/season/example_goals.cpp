#include "example_goals.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "season/study.hpp"

namespace strikebed::season {
namespace {

constexpr int kLongSeason_d = 330;
constexpr double kOptimum_c = 24;

std::array<bool, 7> only(std::initializer_list<int> iso_weekdays) {
  std::array<bool, 7> days{};
  for (const int day : iso_weekdays) days[static_cast<std::size_t>(day - 1)] = true;
  return days;
}

}  // namespace

RateBelief known(double share, double batch_spread) { return {Known{share}, batch_spread}; }
RateBelief tested(double good, double of, double batch_spread) { return {Tested{good, of}, batch_spread}; }
RateBelief ranged(double low, double about, double high, double batch_spread) {
  return {Ranged{low, high, about}, batch_spread};
}

growth::PerRung<RateBelief> shared_rates(const std::array<RateBelief, 5>& beliefs) {
  growth::PerRung<RateBelief> rates;
  auto next = beliefs.begin();
  for (const growth::RungRow& row : growth::kRungs) {
    if (!row.is_of_method()) rates[row.rung] = *next++;
  }
  return rates;
}

ProfileValue exactly(double value) { return between(value, value, value); }
ProfileValue between(double low, double value, double high) {
  return {.quantity = {value, low, high}, .unit = "", .source = "invented", .trust = Trust::C};
}

growth::Species steady_pine() {
  growth::Species pine;
  pine.id = "pinus-inventa";
  pine.name = "invented pine";
  pine.seeds_per_gram = exactly(75);
  pine.chill_days = exactly(45);
  pine.unchilled_time_factor = exactly(1.5);
  pine.unchilled_spread_factor = exactly(1.4);
  pine.germination_temperature = {6, 23, 36};
  pine.germination_time = exactly(130);
  pine.germination_spread = exactly(0.28);
  pine.cover_time = exactly(60);
  pine.loss_half_age_days = exactly(14);
  pine.ripening_temperature = {5, 23, 36};
  pine.ripening_time = exactly(420);
  pine.ripening_spread = exactly(0.25);
  pine.window_end_time = exactly(1150);
  pine.edge_odds = exactly(0.6);
  pine.rooting_temperature = {8, kOptimum_c, 34};
  pine.rooting_time = exactly(350);
  pine.rooting_spread = exactly(0.3);
  pine.unrooted_life_days = exactly(120);
  pine.failure_half_life_days.quantity = {28, 14, 56};
  pine.weaning_days = exactly(20);
  pine.shortest_day_h = exactly(10.5);
  pine.standstill_day_h = exactly(9);
  pine.cold_seed_loss = exactly(0.02);
  pine.idle_loss = exactly(0.05);
  pine.seedling_frost_c = exactly(-8);
  pine.cutting_frost_c = exactly(-4);
  return pine;
}

growth::Species doubtful_pine() {
  growth::Species pine = steady_pine();
  pine.germination_time = between(90, 130, 200);
  pine.germination_spread = between(0.18, 0.28, 0.45);
  pine.cover_time = between(30, 60, 100);
  pine.ripening_time = between(280, 420, 650);
  pine.ripening_spread = between(0.15, 0.25, 0.4);
  pine.window_end_time = between(900, 1150, 1400);
  pine.edge_odds = between(0.4, 0.6, 0.9);
  pine.rooting_time = between(250, 350, 600);
  pine.rooting_spread = between(0.2, 0.3, 0.45);
  pine.weaning_days = between(14, 20, 25);
  pine.cold_seed_loss = between(0.005, 0.02, 0.05);
  pine.idle_loss = between(0.02, 0.05, 0.1);
  pine.seedling_frost_c = between(-11, -8, -6);
  pine.cutting_frost_c = between(-6, -4, -2.5);
  return pine;
}

growth::Method plain_method(const std::string& base_form) {
  growth::Method method;
  method.id = method.name = "invented " + base_form;
  method.base_form = base_form;
  method.group = exactly(4);
  method.cutting_seconds = exactly(60);
  method.soak_seconds = exactly(60);
  method.setting_seconds = exactly(120);
  method.cuttings_per_container = exactly(4);
  method.container_top_mm = exactly(90);
  method.auxin_ppm = exactly(650);
  method.solution_ml_per_fill = exactly(50);
  method.cuttings_per_fill = exactly(40);
  return method;
}

Goal goal_without_limits(int wanted) {
  Goal goal;
  goal.species = steady_pine();
  goal.species.edge_odds = exactly(1);
  goal.species.window_end_time = exactly(30'000);
  for (ProfileValue* spread :
       {&goal.species.germination_spread, &goal.species.ripening_spread, &goal.species.rooting_spread}) {
    *spread = exactly(0.1);
  }
  goal.today = make_date(2027, 1, 1);
  goal.by = goal.today + Days{kLongSeason_d - 1};
  goal.sessions.days_said = true;  // any day
  goal.winter_starts = goal.today + Days{kLongSeason_d - 90};
  goal.winter_ends = goal.by;
  goal.count_at = CountAt::established;
  goal.site = {45, 0, 0};
  goal.seedbed.fixed_c = 23;
  goal.seedbed_lit = true;
  goal.bench.fixed_c = kOptimum_c;
  goal.rates = shared_rates({known(1), known(1), known(1), known(1), known(1)});
  Want want;
  want.base_form = "radial";
  want.method = plain_method(want.base_form);
  want.count = wanted;
  want.take = want.grade = known(1);
  goal.wants = {want};
  return goal;
}

Goal weekend_goal(std::vector<int> wanted) {
  Goal goal;
  goal.species = steady_pine();
  goal.today = make_date(2027, 1, 15);
  goal.by = make_date(2027, 10, 1);
  goal.count_at = CountAt::weaned;
  goal.winter_starts = make_date(2027, 11, 1);
  goal.winter_ends = make_date(2028, 3, 15);
  goal.site = {47, 5, 100};
  goal.lot.chill_days = 45;
  goal.seedbed.at_least_c = 15;
  goal.rates = shared_rates({known(0.82), known(0.9), known(0.88), known(0.88), known(0.9)});
  for (std::size_t w = 0; w < wanted.size(); ++w) {
    Want want;
    want.base_form = w == 0 ? "radial" : "single-root";
    want.method = plain_method(want.base_form);
    want.count = wanted[w];
    want.take = known(0.65);
    want.grade = known(0.9);
    goal.wants.push_back(want);
  }
  goal.sessions.weekdays = only({6, 7});
  goal.sessions.days_said = true;
  return goal;
}

climate::WeatherSeasons even_weather(Date first, int days, double mean_c) {
  climate::WeatherSeasons weather;
  weather.first = first;
  weather.days = days;
  weather.count = 1;
  weather.tmin_c.assign(static_cast<std::size_t>(days), static_cast<float>(mean_c));
  weather.tmax_c = weather.tmin_c;
  return weather;
}

climate::WeatherSeasons mild_weather(const Goal& goal) {
  constexpr int kSeasons = 40;
  climate::MonthlyNormals normals;
  for (std::size_t month = 0; month < 12; ++month) {
    const double since_coldest = static_cast<double>(month) - (goal.site.latitude_deg < 0 ? 6 : 0);
    const double mean = 11 - 7.5 * std::cos(2 * std::numbers::pi * since_coldest / 12);
    normals.tmin_c[month] = mean - 4.5;
    normals.tmax_c[month] = mean + 4.5;
    normals.tmin_sd_c[month] = 3;
    normals.tmax_sd_c[month] = 3.5;
  }
  const WeatherSpan span = weather_span(goal);
  return *climate::weather_seasons(normals, span.first, span.days, kSeasons, 7);
}

std::vector<Example> engine_examples() {
  std::vector<Example> examples;
  const auto add = [&](std::string name, const Goal& goal, std::vector<Date> sow, int seeds,
                       std::vector<double> shares) {
    examples.push_back({std::move(name), goal, mild_weather(goal), std::move(sow), seeds, std::move(shares)});
  };
  {
    Goal goal = weekend_goal({18});
    add("SmallAndKnown", goal, {make_date(2027, 4, 1)}, 60, {1});
  }
  {
    // The example of the goal file: all uncertain, a cap that binds in many futures, two wants.
    Goal goal = weekend_goal({60, 8});
    goal.species = doubtful_pine();
    goal.seedbed.at_least_c = 18;
    goal.rates =
        shared_rates({tested(41, 50, 0.3), ranged(0.75, 0.9, 0.97, 0.4), known(0.88), known(0.88), known(0.9)});
    goal.wants[0].take = goal.wants[1].take = ranged(0.3, 0.65, 0.9, 0.5);
    goal.sessions.cuttings_at_most = 48;
    add("WeekendsForTwoWants", goal, {make_date(2027, 4, 3)}, 380, {0.86, 0.14});
  }
  {
    // Three sessions three weeks apart: most windows open and close between them.
    Goal goal = weekend_goal({40});
    goal.species.window_end_time = between(480, 520, 570);
    goal.species.ripening_time = between(380, 420, 470);
    goal.species.ripening_spread = exactly(0.15);
    goal.sessions.dates = {make_date(2027, 5, 29), make_date(2027, 6, 19), make_date(2027, 7, 10)};
    add("WindowsCloseBetweenSessions", goal, {make_date(2027, 4, 3)}, 300, {1});
  }
  {
    // Two thousand seeds and room for 45 a weekend day: the queue is long and windows close in it.
    Goal goal = weekend_goal({230});
    goal.species = doubtful_pine();
    goal.species.window_end_time = between(560, 650, 760);
    goal.rates[Rung::germination] = tested(80, 100, 0.3);
    goal.wants[0].take = tested(30, 45, 0.4);
    goal.sessions.cuttings_at_most = 45;
    add("ManySeedsLittleRoom", goal, {make_date(2027, 4, 10)}, 2000, {1});
  }
  {
    // Two wants with takes of their own, room for 30, short windows.
    Goal goal = weekend_goal({30, 20});
    goal.species.window_end_time = between(600, 700, 800);
    goal.species.ripening_time = between(350, 420, 500);
    goal.wants[0].take = tested(28, 40, 0.4);
    goal.wants[1].take = tested(20, 40, 0.6);
    goal.wants[1].grade = known(0.75);
    goal.wants[1].own_take = goal.wants[1].own_grade = true;
    goal.sessions.cuttings_at_most = 30;
    add("TwoTakesAndAShortWindow", goal, {make_date(2027, 4, 3)}, 260, {0.48, 0.52});
  }
  {
    // Through the first winter.
    Goal goal = weekend_goal({50, 15});
    goal.species = doubtful_pine();
    goal.by = make_date(2028, 4, 1);
    goal.count_at = CountAt::established;
    goal.rates[Rung::winter] = ranged(0.75, 0.9, 0.97, 0.5);
    goal.rates[Rung::standing] = ranged(0.75, 0.9, 0.97, 0.3);
    goal.wants[1].grade = tested(14, 20, 0.3);
    goal.wants[1].own_grade = true;
    goal.sessions.cuttings_at_most = 40;
    add("EstablishedForTwoWants", goal, {make_date(2027, 4, 5)}, 270, {0.74, 0.26});
  }
  {
    // Rooted is enough; Saturdays only, room for 24.
    Goal goal = weekend_goal({75});
    goal.count_at = CountAt::rooted;
    goal.by = make_date(2027, 8, 20);
    goal.rates[Rung::usable] = ranged(0.7, 0.85, 0.95, 0.4);
    goal.wants[0].take = known(0.7, 0.5);
    goal.sessions.weekdays = only({6});
    goal.sessions.cuttings_at_most = 24;
    add("RootedOnSaturdays", goal, {make_date(2027, 3, 27)}, 250, {1});
  }
  {
    Goal goal = weekend_goal({85});
    goal.species = doubtful_pine();
    goal.site = {-41, 173, 20};
    goal.today = make_date(2027, 7, 15);
    goal.by = make_date(2028, 4, 1);
    goal.rates[Rung::weaning] = ranged(0.7, 0.88, 0.96, 0.5);
    goal.sessions.cuttings_at_most = 36;
    add("South", goal, {make_date(2027, 10, 2)}, 300, {1});
  }
  {
    // A warm seedbed brings them all at once; one session a week must do.
    Goal goal = weekend_goal({110});
    goal.seedbed.at_least_c.reset();
    goal.seedbed.fixed_c = 21;
    goal.bench.at_least_c = 18;
    goal.rates[Rung::germination] = known(0.82, 0.5);
    goal.rates[Rung::standing] = known(0.9, 0.5);
    goal.wants[0].take = known(0.65, 0.6);
    goal.sessions.weekdays = only({7});
    goal.sessions.cuttings_at_most = 40;
    add("WarmSeedbed", goal, {make_date(2027, 4, 20)}, 420, {1});
  }
  {
    Goal goal = weekend_goal({45});
    goal.species = doubtful_pine();
    goal.controls = 0.1;
    goal.lifted = 0.08;
    goal.rates[Rung::usable] = tested(33, 40, 0.3);
    goal.wants[0].take = ranged(0.4, 0.6, 0.8, 0.4);
    goal.sessions.cuttings_at_most = 40;
    add("ControlsAndLifted", goal, {make_date(2027, 4, 10)}, 300, {1});
  }
  {
    Goal goal = weekend_goal({90});
    goal.species = doubtful_pine();
    goal.rates[Rung::germination] = tested(70, 100, 0.6);
    goal.rates[Rung::standing] = ranged(0.75, 0.9, 0.97, 0.6);
    goal.sessions.cuttings_at_most = 25;
    add("TwoSowings", goal, {make_date(2027, 3, 27), make_date(2027, 4, 24)}, 440, {1});
  }
  {
    // Hardly chilled, sown late: slow, scattered, and many root too late. Many seeds, two wants, no cap.
    Goal goal = weekend_goal({120, 60});
    goal.species = doubtful_pine();
    goal.lot.chill_days = 10;
    goal.bench.offset_c = 2;
    goal.sessions.not_on = {make_date(2027, 7, 10), make_date(2027, 7, 11), make_date(2027, 7, 17),
                            make_date(2027, 7, 18)};
    goal.wants[0].take = tested(25, 40, 0.4);
    goal.wants[1].take = tested(25, 40, 0.4);
    add("LateAndUnchilled", goal, {make_date(2027, 5, 15)}, 1200, {0.66, 0.34});
  }
  {
    // Sown in autumn in an unheated frame: some are struck before the winter and live through it, most stand in it.
    Goal goal = weekend_goal({16});
    goal.species = doubtful_pine();
    goal.today = make_date(2027, 7, 1);
    goal.by = make_date(2028, 8, 1);
    goal.seedbed.at_least_c.reset();
    goal.seedbed.offset_c = goal.bench.offset_c = 1;
    goal.rates[Rung::winter] = ranged(0.75, 0.9, 0.97, 0.5);
    goal.wants[0].take = ranged(0.4, 0.6, 0.8, 0.4);
    add("AutumnInAFrame", goal, {make_date(2027, 8, 20)}, 330, {1});
  }
  {
    // Seed lies cold for months, some in the bed already; soft cuttings wait out the winter on a frosty bench.
    Goal goal = weekend_goal({33, 11});
    goal.species = doubtful_pine();
    goal.species.unrooted_life_days = exactly(200);
    goal.species.cutting_frost_c = between(-5, -3, -2);
    goal.today = make_date(2027, 8, 1);
    goal.by = make_date(2028, 8, 1);
    goal.seedbed.at_least_c.reset();
    goal.seedbed.offset_c = 1;
    goal.bench.offset_c = 2;
    goal.sessions.cuttings_at_most = 35;
    goal.rates[Rung::winter] = known(0.85, 0.4);
    add("ColdBedAndFrostyBench", goal, {make_date(2027, 8, 14), make_date(2028, 1, 22)}, 520, {0.75, 0.25});
  }
  {
    // One lot sown twice, a hardly chilled one on the same day as it, and a third on top; little room.
    Goal goal = weekend_goal({88});
    goal.species = doubtful_pine();
    goal.lot = lot_named("third");
    goal.rates[Rung::germination] = tested(30, 50, 0.6);
    goal.rates[Rung::standing] = ranged(0.75, 0.9, 0.97, 0.6);
    const RateBelief good = tested(70, 100, 0.6);
    goal.sown = {{make_date(2027, 3, 27), 120, lot_named("first"), good},
                 {make_date(2027, 3, 27), 80, lot_named("second", 10), tested(20, 50, 0.6)},
                 {make_date(2027, 4, 10), 60, lot_named("first"), good}};
    goal.sessions.cuttings_at_most = 25;
    add("ThreeLots", goal, {make_date(2027, 4, 24)}, 200, {1});
  }
  {
    // Fresh seed on top of stored seed that was hardly chilled, two wants, room for all.
    Goal goal = weekend_goal({60, 20});
    goal.species = doubtful_pine();
    goal.lot = lot_named("fresh", 0);
    goal.lot.fresh = true;
    goal.rates[Rung::germination] = ranged(0.4, 0.7, 0.9, 0.8);
    goal.sown = {{make_date(2027, 3, 20), 150, lot_named("stored", 5), tested(15, 30, 0.8)}};
    goal.wants[1].take = tested(25, 40, 0.4);
    goal.wants[1].own_take = true;
    add("FreshBesideStored", goal, {make_date(2027, 4, 17)}, 200, {0.74, 0.26});
  }
  return examples;
}

Example engine_example(std::string_view name) {
  for (const Example& one : engine_examples()) {
    if (one.name == name) return one;
  }
  ADD_FAILURE() << "no example " << name;
  return {};
}

Lot lot_named(const std::string& name, int chill_days) {
  Lot lot;
  lot.name = name;
  lot.chill_days = chill_days;
  return lot;
}

Asked::Asked(Goal goal, const climate::WeatherSeasons& weather, int replicates, int log2_points, std::uint64_t seed,
             const Workers& workers)
    : model_(setting_of(goal, std::make_shared<const ThermalSums>(thermal_sums(goal, weather, workers))),
             Futures(weather.count, replicates, log2_points, seed), workers) {}

std::vector<Sowing> Asked::sowings(const std::vector<Date>& dates) const {
  std::vector<Sowing> made = model_.sown();
  for (const Date date : dates) made.push_back(model_.sowing(model_.day(date)));
  return made;
}

}  // namespace strikebed::season

#pragma once
// An invented plan, filled in by hand so that every part of it can be printed. Its numbers hang together but come from
// no calculation and no real season.
#include "season/goal.hpp"
#include "season/plan.hpp"

namespace strikebed::print {

inline ProfileValue value(double typical, const char* unit) {
  return {{typical, typical, typical}, unit, "invented", Trust::C};
}

inline growth::Method example_method(const char* id, const char* name, const char* base_form, double each) {
  growth::Method method;
  method.id = id;
  method.name = name;
  method.base_form = base_form;
  method.cuttings_per_container = value(each, "");
  return method;
}

inline season::Goal example_goal() {
  season::Goal goal;
  goal.species.id = "pinus-thunbergii";
  goal.species.name = "Japanese black pine";
  season::Want radial;
  radial.base_form = "radial";
  radial.count = 60;
  radial.method = example_method("square-cut", "square cut", "radial", 8);
  season::Want single;
  single.base_form = "single-root";
  single.count = 8;
  single.method = example_method("slanting-cut", "slanting cut", "single-root", 8);
  goal.wants = {radial, single};
  goal.today = make_date(2027, 1, 17);
  goal.by = make_date(2027, 10, 1);
  goal.assurance = 0.9;
  goal.site = {47.6, -122.3, 20};
  goal.chill_days = 45;
  goal.sessions.weekdays = {false, false, false, false, false, true, true};
  goal.sessions.cuttings_at_most = 48;
  goal.prices.container = 2.5;
  return goal;
}

inline season::Plan example_plan() {
  season::Plan plan;
  plan.met = true;
  plan.seeds = 412;
  plan.seeds_low = 398;
  plan.seeds_high = 428;
  plan.assurance = 0.9004;
  plan.assurance_error = 0.0031;
  plan.chill_start = make_date(2027, 2, 17);
  plan.sow_dates = {make_date(2027, 4, 3)};
  plan.sow_seeds = {412};
  plan.last_sowing = make_date(2027, 5, 15);
  plan.count_date = make_date(2027, 5, 8);
  plan.emerged = {265, 322, 361};
  plan.shares = {0.885, 0.115};
  plan.counted = {{52, 92, 131}, {6, 12, 19}};
  plan.sessions = {
      {make_date(2027, 5, 22), {0, 9, 30}, {8, 1}, 0.7},    {make_date(2027, 5, 23), {0, 12, 34}, {11, 1}, 0.9},
      {make_date(2027, 5, 29), {14, 41, 48}, {36, 5}, 2.8}, {make_date(2027, 5, 30), {9, 37, 48}, {33, 4}, 2.5},
      {make_date(2027, 6, 5), {18, 48, 48}, {42, 6}, 3.2},  {make_date(2027, 6, 6), {6, 33, 48}, {29, 4}, 2.2},
      {make_date(2027, 6, 12), {0, 18, 44}, {16, 2}, 1.2},  {make_date(2027, 6, 13), {0, 4, 21}, {4, 0}, 0.3},
      {make_date(2027, 6, 19), {0, 0, 0.2}, {0, 0}, 0}};
  for (int seeds = 100; seeds <= 1200; seeds += 50) {
    const double x = seeds / 412.0;
    plan.curve.push_back({seeds, 0.985 * x * x * x / (x * x * x + 0.094)});
  }
  for (int day = 0; day < 100; day += 5) {
    const Date sow = make_date(2027, 3, 4) + Days{day};
    season::SowingPoint point{sow, std::nullopt, 0.99};
    const int off = day - 30;
    if (sow <= *plan.last_sowing) {
      point.seeds = 412 + (off < 0 ? off * off / 6 : off * off / 2);
    } else {
      point.best_assurance = 0.9 - (day - 72) * 0.02;
    }
    plan.sweep.push_back(point);
  }
  using season::ChainQuantity;
  plan.unknowns = {{ChainQuantity::standing, {}, 14, 0, 0.75, 0.90, 0.97, 40},
                   {ChainQuantity::take, 0, 96, 0.07, 0.30, 0.65, 0.90, 24},
                   {ChainQuantity::germination, {}, 21, 0, 0.71, 0.82, 0.90, 100},
                   {ChainQuantity::ripening_time, {}, 9, 0, 320, 420, 550, 0},
                   {ChainQuantity::weaning, {}, 0, 0, 0.80, 0.88, 0.93, 60}};
  plan.needs.seed_grams = 5.49;
  plan.needs.wants = {{"radial", 236, 30, 3, 4.6}, {"single-root", 31, 4, 3, 4.6}};
  plan.needs.cuttings = 262;
  plan.needs.containers = 34;
  plan.needs.medium_litres = 102;
  plan.needs.sand_litres = 2.61;
  plan.needs.materials = {{"grit 3-4 mm", 105, 158, false}, {"coarse sand 0.5-1 mm", 2.61, 3.9, true}};
  plan.needs.solution_ml = 180;
  plan.needs.dips = {{650, 20, 9, season::DipNeed::Stock{1.3, 68, season::StockUnit::ml}}};
  plan.needs.labels = 68;
  plan.needs.bench_m2 = 1.53;
  plan.needs.hours = 17.8;
  plan.needs.money = 193.5;
  plan.calendar = {{{make_date(2027, 2, 17), make_date(2027, 2, 17), make_date(2027, 2, 17)},
                    "Put 412 seeds (5.5 g) to chill, moist, at 3-5 °C",
                    "chill"},
                   {{make_date(2027, 4, 3), make_date(2027, 4, 3), make_date(2027, 4, 3)},
                    "Sow 412 seeds, 5 mm deep, in the seedbed",
                    "sow"},
                   {{make_date(2027, 5, 8), make_date(2027, 5, 8), make_date(2027, 5, 8)},
                    "Count the seedlings that are up: 322 (265 to 361) are expected",
                    "count"},
                   {{make_date(2027, 5, 22), make_date(2027, 6, 5), make_date(2027, 6, 13)},
                    "Strike: red stems first, groups of four",
                    "session"},
                   {{make_date(2027, 6, 14), make_date(2027, 7, 6), make_date(2027, 8, 9)},
                    "First roots: begin to count what has rooted",
                    "rooted"},
                   {{make_date(2027, 7, 12), make_date(2027, 8, 3), make_date(2027, 9, 6)},
                    "Weaned: in open air and sun, begin to feed",
                    "weaned"},
                   {{make_date(2027, 10, 1), make_date(2027, 10, 1), make_date(2027, 10, 1)},
                    "The goal: 60 radial and 8 single-root",
                    "goal"}};
  plan.band_names = {"chilling", "emergence", "cutting window", "sessions", "rooting", "weaning"};
  plan.bands = {{make_date(2027, 2, 17), make_date(2027, 3, 10), make_date(2027, 4, 3)},
                {make_date(2027, 4, 17), make_date(2027, 4, 25), make_date(2027, 5, 6)},
                {make_date(2027, 5, 17), make_date(2027, 6, 2), make_date(2027, 6, 18)},
                {make_date(2027, 5, 22), make_date(2027, 6, 5), make_date(2027, 6, 13)},
                {make_date(2027, 6, 14), make_date(2027, 7, 6), make_date(2027, 8, 9)},
                {make_date(2027, 7, 12), make_date(2027, 8, 3), make_date(2027, 9, 6)}};
  plan.warnings = {"In one season of twelve the first session finds nothing ready."};
  plan.weather_origin = "Weather: 14 whole seasons of an invented record.";
  plan.futures = 6000;
  return plan;
}

inline std::vector<std::string> example_assumed() {
  return {"winter = 0.90: from the species profile (trust C)",
          "sessions: an hour holds 18 cuttings, from the method's own timings"};
}

/// The same goal, out of reach: no number of seeds is enough on any date.
inline season::Plan unmet_plan() {
  season::Plan plan = example_plan();
  plan.met = false;
  plan.seeds = 1400;
  plan.assurance = 0.7412;
  plan.last_sowing.reset();
  plan.seeds_low = plan.seeds_high = 0;
  for (auto& point : plan.sweep) {
    point.seeds.reset();
    point.best_assurance = 0.74;
  }
  plan.limits = {
      {season::LimitKind::room, "the sessions hold 96 cuttings before the window closes, and 140 are needed"},
      {season::LimitKind::date, "a third of the seedlings root too late to be weaned by 1 October"}};
  plan.nearest.assurance = 0.7412;
  plan.nearest.counts = std::vector<int>{41, 5};
  plan.nearest.by = make_date(2027, 11, 5);
  return plan;
}

/// A plan in which the engine has filled nothing at all.
inline season::Plan empty_plan() { return {}; }

}  // namespace strikebed::print

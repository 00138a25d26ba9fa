#pragma once
// An invented plan, filled in by hand so that every part of it can be printed. Its numbers hang together but come from
// no calculation and no real season.
#include "print/plan/plan_notes.hpp"
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
  goal.species.seeds_per_gram = value(75, "seeds/g");
  goal.species.sowing_depth_mm = {{6.5, 5, 8}, "mm", "made up", Trust::C};
  goal.species.cold_seed_loss = value(0.02, "share/week");
  goal.species.idle_loss = value(0.05, "share/week");
  goal.species.seedling_frost_c = value(-8, "°C");
  goal.species.cutting_frost_c = value(-4, "°C");
  goal.species.unrooted_life_days = value(90, "d");
  goal.lot.chill_days = 45;
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
  plan.sow_dates = {make_date(2027, 4, 3)};
  plan.sowings = {{.own = {},
                   .on = make_date(2027, 4, 3),
                   .seeds = 412,
                   .chill_start = make_date(2027, 2, 17),
                   .up = {},
                   .count_date = make_date(2027, 5, 8),
                   .emerged = {265, 322, 361}}};
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
  plan.struck = {150, 211.6, 261.4};
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
  plan.unknowns = {{ChainQuantity::standing, {}, {}, 14, 0, 0.75, 0.90, 0.97, 40},
                   {ChainQuantity::take, 0, {}, 96, 0.07, 0.30, 0.65, 0.90, 24},
                   {ChainQuantity::germination, {}, {}, 21, 0, 0.71, 0.82, 0.90, 100},
                   {ChainQuantity::ripening_time, {}, {}, 9, 0, 320, 420, 550, 0},
                   {ChainQuantity::weaning, {}, {}, 0, 0, 0.80, 0.88, 0.93, 60}};
  plan.needs.seed = {{"", 412, 5.49}};
  plan.needs.seed_grams = 5.49;
  plan.needs.wants = {{"radial", 231, 30, 3, 4.6}, {"single-root", 31, 4, 3, 4.6}};
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
  plan.needs.hours_typical = 14.3;
  plan.needs.money = 193.5;
  using season::CalendarKind;
  const auto on = [](int month, int day) { return make_date(2027, month, day); };
  const auto fixed = [&](int month, int day) {
    return season::DateSpread{on(month, day), on(month, day), on(month, day)};
  };
  const auto entry = [&](CalendarKind kind, const season::DateSpread& when, std::optional<std::size_t> sowing = {},
                         std::optional<int> seeds = {}) { plan.calendar.push_back({kind, when, sowing, seeds}); };
  entry(CalendarKind::chill, fixed(2, 17), 0);
  entry(CalendarKind::sow, fixed(4, 3), 0);
  entry(CalendarKind::emergence, {on(4, 17), on(4, 19), on(4, 23)});
  entry(CalendarKind::count, fixed(5, 8));
  entry(CalendarKind::last_sowing, fixed(5, 15), {}, 1180);
  entry(CalendarKind::ready, {on(5, 17), on(5, 20), on(5, 24)});
  entry(CalendarKind::first_sessions, {on(5, 22), on(5, 22), on(5, 29)});
  entry(CalendarKind::last_sessions, {on(6, 5), on(6, 12), on(6, 13)});
  entry(CalendarKind::rooted, {on(6, 14), on(7, 6), on(8, 9)});
  entry(CalendarKind::weaned, {on(7, 12), on(8, 3), on(9, 6)});
  entry(CalendarKind::goal, fixed(10, 1));
  using season::BandKind;
  plan.bands = {
      {BandKind::chilling, {on(2, 17), on(3, 10), on(4, 3)}}, {BandKind::emergence, {on(4, 17), on(4, 25), on(5, 6)}},
      {BandKind::window, {on(5, 17), on(6, 2), on(6, 18)}},   {BandKind::sessions, {on(5, 22), on(6, 5), on(6, 13)}},
      {BandKind::rooting, {on(6, 14), on(7, 6), on(8, 9)}},   {BandKind::weaning, {on(7, 12), on(8, 3), on(9, 6)}}};
  plan.remarks = {{.kind = season::RemarkKind::cold_seed, .share = 0.12}};
  plan.weather = {.way = climate::SeasonsOrigin::Way::as_recorded,
                  .record = "an invented record",
                  .held = 14,
                  .first_year = 2001,
                  .last_year = 2014};
  plan.futures = 6000;
  return plan;
}

inline PlanNotes example_notes() {
  return {{"winter = 0.90: from the species profile, a guess",
           "sessions: an hour holds 18 cuttings, from the method's own timings"},
          {"Two remarks on an invented record."}};
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
      {.kind = season::LimitKind::room, .lifted = season::Lifted{{}, 0.83, 0.7412}, .sessions = 9},
      {.kind = season::LimitKind::date, .lifted = season::Lifted{520, 0.9, 0.7412}, .date = make_date(2027, 11, 5)}};
  plan.nearest.assurance = 0.7412;
  plan.nearest.counts = std::vector<int>{41, 5};
  plan.nearest.by = make_date(2027, 11, 5);
  return plan;
}

/// A plan in which the engine has filled nothing at all.
inline season::Plan empty_plan() { return {}; }

}  // namespace strikebed::print

#include "print/plan/plan_parts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <iterator>

#include "base/text.hpp"
#include "base/whole_parts.hpp"
#include "climate/generator.hpp"
#include "print/number_words.hpp"
#include "print/plan/goal_words.hpp"
#include "print/text_table.hpp"
#include "season/seed_search.hpp"

namespace strikebed::print {

std::vector<season::SessionPlan> likely_sessions(const season::Plan& plan) {
  std::vector<season::SessionPlan> likely;
  for (const auto& session : plan.sessions) {
    if (session.cuttings.high >= 0.5) likely.push_back(session);
  }
  return likely;
}

BenchDays bench_days(const season::Plan& plan) {
  constexpr std::size_t kMostRows = 24;  // about a screen
  BenchDays days{likely_sessions(plan), {}};
  if (days.shown.size() <= kMostRows) return days;
  const auto spare =
      std::stable_partition(days.shown.begin(), days.shown.end(), std::mem_fn(&season::SessionPlan::is_usual));
  days.spare.assign(spare, days.shown.end());
  days.shown.erase(spare, days.shown.end());
  return days;
}

std::string spare_days_words(const BenchDays& days) {
  if (days.spare.empty()) return {};
  double most = 0;
  for (const auto& session : days.spare) most = std::max(most, session.cuttings.high);
  const std::size_t count = days.spare.size();
  return fmt::format(
      "On {}{} {}, {}{}, some may be ready in an early or late season, rarely more than {} a day.", count,
      days.shown.empty() ? "" : " more", count == 1 ? "day" : "days", count == 1 ? "" : "from ",
      count == 1 ? date_words(days.spare.front().date)
                 : fmt::format("{} to {}", date_words(days.spare.front().date), date_words(days.spare.back().date)),
      whole(most));
}

std::vector<BenchRow> bench_rows(const season::Goal& goal, const season::Plan& plan) {
  const std::size_t wants = goal.wants.size() > 1 ? goal.wants.size() : 0;
  const auto by_want = [&](double typical, const std::vector<double>& parts) {
    std::vector<std::string> shown;
    for (const int part : whole_parts(typical, parts)) shown.push_back(fmt::format("{}", part));
    shown.resize(wants);
    return shown;
  };
  std::vector<BenchRow> rows;
  for (const auto& session : bench_days(plan).shown) {
    const season::Spread& cuttings = session.cuttings;
    rows.push_back({session.date, whole(cuttings.low), whole(cuttings.typical), whole(cuttings.high),
                    by_want(cuttings.typical, session.by_want), hours_words(session.hours)});
  }
  if (rows.size() > 1 && plan.struck.high > 0) {
    rows.push_back({{},
                    whole(plan.struck.low),
                    whole(plan.struck.typical),
                    fmt::format("{}", plan.needs.cuttings),
                    by_want(plan.struck.typical, plan.shares),
                    hours_words(plan.needs.hours_typical)});
  }
  return rows;
}

std::string bench_note(const season::Goal& goal, const season::Plan& plan) {
  std::string note = "Cuttings struck: in nine seasons of ten between low and high.";
  if (goal.wants.size() > 1) note += " By kind and time: for the typical number.";
  if (goal.sessions.cuttings_at_most) note += fmt::format(" At most {} in a session.", *goal.sessions.cuttings_at_most);
  const auto rows = bench_rows(goal, plan);
  if (!rows.empty() && !is_set(rows.back().date)) {
    note += " The days do not add up to the line \"in all\": what comes early in one season comes late in another.";
  }
  return note;
}

std::optional<int> fewest_seeds(const season::Plan& plan) {
  if (plan.sow_dates.empty()) return std::nullopt;
  for (const auto& point : plan.sweep) {
    if (point.sow == plan.sow_dates.front()) return point.seeds;
  }
  return std::nullopt;
}

std::string sowing_remark(const season::Plan& plan, const season::SowingPoint& point) {
  const bool chosen = std::find(plan.sow_dates.begin(), plan.sow_dates.end(), point.sow) != plan.sow_dates.end();
  const bool last = plan.last_sowing == point.sow;
  if (chosen && last) return "chosen, and the last possible";
  return chosen ? "chosen" : last ? "last that can do it" : "";
}

bool out_of_reach(const season::Plan& plan) {
  return std::ranges::none_of(plan.sweep, [](const season::SowingPoint& point) { return point.seeds.has_value(); });
}

std::vector<season::SowingPoint> telling_sweep(const season::Plan& plan) {
  constexpr double kAChance = 0.005;
  const bool by_chance = out_of_reach(plan);
  const Days margin{by_chance ? 0 : 21};
  const auto tells = [&](const season::SowingPoint& point) {
    return by_chance ? point.best_assurance >= kAChance : point.seeds.has_value();
  };
  const auto first = std::find_if(plan.sweep.begin(), plan.sweep.end(), tells);
  if (first == plan.sweep.end()) return {};
  const auto last = std::find_if(plan.sweep.rbegin(), plan.sweep.rend(), tells);
  std::vector<season::SowingPoint> telling;
  std::copy_if(plan.sweep.begin(), plan.sweep.end(), std::back_inserter(telling),
               [&](const season::SowingPoint& point) {
                 return point.sow >= first->sow - margin && point.sow <= last->sow + margin;
               });
  return telling;
}

std::string sweep_sentence(const season::Goal& goal, const season::Plan& plan) {
  if (plan.sweep.empty()) return {};
  if (out_of_reach(plan) || !plan.last_sowing) {
    const auto best = std::ranges::max_element(plan.sweep, {}, &season::SowingPoint::best_assurance);
    return fmt::format(
        "No sowing date meets the goal, not even with {}; how sure those would make you is said here. {}: {} sure.",
        seeds_words(season::sensible_seeds(goal)),
        telling_sweep(plan).empty() ? "On every one" : fmt::format("Best on {}", date_words(best->sow)),
        percent_beside(best->best_assurance, goal.assurance));
  }
  std::string text =
      fmt::format("The last sowing that can still meet the goal, with three times the fewest seeds at most, is on {}.",
                  date_words(*plan.last_sowing));
  if (goal.sow_on || goal.seeds_in_hand) return text;
  if (plan.sow_dates.size() > 1) return text + " Chosen: sowings far enough apart that the sessions are not overrun.";
  return text + (plan.waits_for_warmth
                     ? " Chosen: a date that needs hardly more than the fewest seeds; sown sooner, they "
                       "would only lie in the cold."
                     : " Chosen: the earliest date that needs hardly more than the fewest seeds, which "
                       "leaves room to sow again.");
}

int sweep_ceiling(const season::Plan& plan) {
  int least = 0;
  int most = 0;
  for (const auto& point : plan.sweep) {
    if (!point.seeds) continue;
    least = least == 0 ? *point.seeds : std::min(least, *point.seeds);
    most = std::max(most, *point.seeds);
  }
  return std::min(most, 4 * least);
}

std::vector<Need> need_list(const season::Goal& goal, const season::Plan& plan) {
  const season::Needs& needs = plan.needs;
  std::vector<Need> list;
  const auto add = [&](std::string what, const std::string& amount, std::string note) {
    list.push_back({std::move(what), unbroken(amount), std::move(note)});
  };
  for (const season::SeedNeed& seed : needs.seed) {
    add(seed.lot.empty() ? "Seed" : "Seed, lot " + seed.lot, fmt::format("{} g", rounded_up(seed.grams)),
        seeds_words(seed.seeds));
  }
  for (std::size_t i = 0; i < needs.wants.size(); ++i) {
    const auto& want = needs.wants[i];
    std::string note = fmt::format("for up to {} cuttings", want.cuttings);
    if (i < goal.wants.size()) {
      note += fmt::format(", {} in each", whole(goal.wants[i].method.cuttings_per_container.typical()));
    }
    if (want.container_litres > 0) {
      note += fmt::format("; each takes {} L, {} kg watered", rounded(want.container_litres),
                          rounded(want.container_drained_kg));
    }
    add("Pots, " + want_name(goal, i), fmt::format("{}", want.containers), note);
  }
  if (needs.wants.size() > 1 || needs.wants.empty()) {
    add("Pots in all", fmt::format("{}", needs.containers), fmt::format("for up to {} cuttings", needs.cuttings));
  }
  for (const season::MaterialNeed& one : needs.materials) {
    std::string name = one.name;
    name.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(name.front())));
    add(std::move(name), fmt::format("{} L", rounded_up(one.litres)),
        fmt::format("{}, {} kg dry", one.in_pockets ? "for the pockets" : "for the medium", rounded(one.dry_kg)));
  }
  for (const season::DipNeed& dip : needs.dips) {
    add("Rooting solution", fmt::format("{} mL", rounded_up(dip.fillings * dip.fill_ml)),
        fmt::format("{} of {} mL, each made fresh at {} ppm auxin (as IBA)",
                    dip.fillings == 1 ? "one filling" : fmt::format("{} fillings", dip.fillings), rounded(dip.fill_ml),
                    rounded(dip.auxin_ppm)));
    if (!dip.stock) continue;
    const bool liquid = dip.stock->unit == season::StockUnit::ml;
    const double to_milli = liquid ? 1 : 1000;
    const char* unit = liquid ? "mL" : "mg";
    std::string each = fmt::format("{} {}", rounded(dip.stock->per_fill * to_milli), unit);
    if (dip.stock->drops_per_fill > 0) each += fmt::format(", about {} drops,", whole(dip.stock->drops_per_fill));
    add("Your stock", fmt::format("{} {}", rounded_up(dip.fillings * dip.stock->per_fill * to_milli), unit),
        fmt::format("{} in each filling, water up to {} mL", each, rounded(dip.fill_ml)));
  }
  add("Labels", fmt::format("{}", needs.labels), "");
  add("Bench", fmt::format("{} m²", rounded_up(needs.bench_m2)), "");
  add("Time at the bench", hours_words(needs.hours_typical),
      fmt::format("in a typical season; up to {} for {} cuttings", hours_words(needs.hours), needs.cuttings));
  if (needs.money && std::isfinite(*needs.money))
    add("Money", fmt::format("{:.2f}", *needs.money), "at the prices you gave");
  return list;
}

std::string origin_words(const climate::SeasonsOrigin& origin) {
  using Way = climate::SeasonsOrigin::Way;
  const std::string record(file_name(origin.record));
  std::string like;
  switch (origin.way) {
    case Way::as_recorded:
      return fmt::format("The weather of {} whole seasons as recorded in {}, starting in the years {} to {}.",
                         origin.held, record, origin.first_year, origin.last_year);
    case Way::like_typical_year:
      like = record + ", which is one typical year and no record of years";
      break;
    case Way::like_few_years:
      like = fmt::format("{}, which holds {} whole {} where {} are needed to use its seasons as they were", record,
                         origin.held, origin.held == 1 ? "year" : "years", climate::kYearsToResample);
      break;
    case Way::like_gaps:
      like = fmt::format(
          "{}, which holds {} {} of this stretch without a gap where {} are needed to use them as they were", record,
          origin.held, origin.held == 1 ? "season" : "seasons", climate::kFewestSeasons);
      break;
    case Way::like_normals:
      like = "twelve monthly normals (no record was given)";
      break;
    case Way::like_two_months:
      return fmt::format(
          "Weather made day by day to match the hottest and the coldest month (nothing else was given), the others on "
          "half a wave between them; seasons differ {} times as much as the day-to-day pattern alone would make them, "
          "and by {} °C more for what two months do not tell.",
          climate::kSeasonWidening, climate::kTwoMonthError_c);
  }
  return fmt::format(
      "Weather made day by day to match {}, with seasons made to differ {} times as much as the day-to-day pattern "
      "alone would make them.",
      like, climate::kSeasonWidening);
}

std::string weather_words(const season::Plan& plan) {
  if (plan.futures == 0) return {};
  constexpr double kTwoErrors = 2;
  std::string text = fmt::format(
      "{} Every number here is over {}{}futures: one draw each of the weather and of all that is not known.",
      origin_words(plan.weather), plan.futures, kNoBreak);
  if (plan.assurance_error > 0) {
    text += fmt::format(" So many tell how sure the plan is to within {} percentage points.",
                        rounded_up(kTwoErrors * 100 * plan.assurance_error));
  }
  return text;
}

}  // namespace strikebed::print

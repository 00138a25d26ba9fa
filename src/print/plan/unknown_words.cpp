#include "print/plan/unknown_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "print/number_words.hpp"
#include "print/plan/goal_words.hpp"
#include "print/rung_words.hpp"
#include "print/text_table.hpp"

namespace strikebed::print {
namespace {

using season::ChainQuantity;
using season::Unknown;

/// A quantity of the timing: its name, the unit its profile writes it in, and what would tell most of it.
struct TimingWords {
  ChainQuantity quantity;
  std::string_view name;
  std::string_view unit;
  std::string_view test;
};
constexpr std::array<TimingWords, 15> kTimings{{
    {ChainQuantity::germination_time, "germination time", "°C d",
     "sow 50 seeds three weeks early, log the seedbed's temperature, count every second day"},
    {ChainQuantity::germination_spread, "germination spread", "ln", "the same 50 seeds"},
    {ChainQuantity::cover_time, "time through the cover", "°C d", "the same 50 seeds, half of them dug up once"},
    {ChainQuantity::ripening_time, "ripening time", "°C d",
     "mark 20 seedlings on the day they emerge and note the day each is ready"},
    {ChainQuantity::ripening_spread, "ripening spread", "ln", "the same 20 marked seedlings"},
    {ChainQuantity::window_end, "end of the window", "°C d",
     "strike ten every week past the usual time and compare what roots"},
    {ChainQuantity::edge_odds, "take at the edges of the window", "ratio",
     "strike 20 early, 20 in the middle, 20 late, and compare"},
    {ChainQuantity::rooting_time, "rooting time", "°C d",
     "strike 20 early, log the medium's temperature, lift three a week"},
    {ChainQuantity::rooting_spread, "rooting spread", "ln", "the same 20 cuttings"},
    {ChainQuantity::weaning_days, "weaning time", "d", "note first roots and full sun for one tray"},
    {ChainQuantity::cold_seed_loss, "seed lost in a cold bed", "share/week",
     "leave 50 seeds a month in the cold bed, then germinate them in the warm beside 50 fresh ones"},
    {ChainQuantity::idle_loss, "lost while standing still", "share/week",
     "count a tray on the first and the last day of a cold spell"},
    {ChainQuantity::seedling_frost, "frost that seedlings bear", "°C",
     "stand ten spare seedlings out in two or three frosts, beside a thermometer"},
    {ChainQuantity::cutting_frost, "frost that unrooted cuttings bear", "°C",
     "stand ten spare cuttings out in two or three frosts, beside a thermometer"},
    {ChainQuantity::failure_half_life, "age by which half of the failures are dead", "d",
     "look 20 failed cuttings over once a week and note the dead"},
}};

constexpr std::size_t timing_index(ChainQuantity quantity) {
  return static_cast<std::size_t>(quantity) - growth::kRungs.size();
}

constexpr bool timings_are_in_place() {
  for (std::size_t i = 0; i < kTimings.size(); ++i) {
    if (timing_index(kTimings[i].quantity) != i) return false;
  }
  return timing_index(ChainQuantity::failure_half_life) + 1 == kTimings.size();
}
static_assert(timings_are_in_place());

const TimingWords& timing_words(ChainQuantity quantity) { return kTimings[timing_index(quantity)]; }

/// That would tell most of a rate.
std::string small_test(growth::Rung rung, int tries) {
  switch (rung) {
    case growth::Rung::germination:
      return fmt::format("a germination test: {} seeds of the lot on damp paper, counted for three weeks", tries);
    case growth::Rung::standing:
      return fmt::format("count the seedlings of {} emerged that still stand six weeks later, in last season's way",
                         tries);
    case growth::Rung::usable:
      return fmt::format("look over {} ready seedlings: how many would you strike?", tries);
    case growth::Rung::take:
      return fmt::format("a trial strike: {} cuttings over at least three sessions, lifted when due", tries);
    case growth::Rung::weaning:
      return fmt::format("count {} rooted cuttings through weaning", tries);
    case growth::Rung::winter:
      return fmt::format("count {} weaned trees through a winter", tries);
    case growth::Rung::grade:
      return fmt::format("turn out {} rooted cuttings and grade their feet", tries);
  }
  return "";
}

}  // namespace

std::string unknown_name(const season::Goal& goal, const Unknown& unknown) {
  const auto rung = season::rung_of(unknown.quantity);
  const std::string name(rung ? name_of(*rung) : timing_words(unknown.quantity).name);
  if (!unknown.lot.empty()) return fmt::format("{} (lot {})", name, unknown.lot);
  return unknown.want ? fmt::format("{} ({})", name, want_name(goal, *unknown.want)) : name;
}

std::string_view unit_of(ChainQuantity quantity) {
  return season::rung_of(quantity) ? "share" : timing_words(quantity).unit;
}

std::string small_test(const Unknown& unknown) {
  if (const auto rung = season::rung_of(unknown.quantity)) return small_test(*rung, unknown.tries);
  return std::string(timing_words(unknown.quantity).test);
}

std::string belief_words(const Unknown& unknown) {
  const std::string_view written = unit_of(unknown.quantity);
  if (const auto rung = season::rung_of(unknown.quantity)) {
    return fmt::format("{} {}", share_range_words(unknown.typical, unknown.low, unknown.high), rung_words(*rung));
  }
  if (written == "share/week") {
    return share_range_words(unknown.typical, unknown.low, unknown.high) + " a week";
  }
  const bool bare = written == "ratio" || written == "ln";  // nothing a grower would read after the number
  std::string unit = bare ? "" : written == "d" ? "days" : unbroken(std::string(written));
  if (!unit.empty()) unit.insert(0, kNoBreak);
  return fmt::format("{} ({} to {}){}", rounded(unknown.typical), rounded(unknown.low), rounded(unknown.high), unit);
}

std::string value_words(const season::Spread& value, std::string_view unit) {
  if (unit == "share") {
    return fmt::format("{:.0f} ({:.0f} to {:.0f}) %", 100 * value.typical, 100 * value.low, 100 * value.high);
  }
  return fmt::format("{} ({} to {}) {}", rounded(value.typical), rounded(value.low), rounded(value.high), unit);
}

std::string worth_words(const Unknown& unknown) {
  return unknown.seeds_saved > 0 ? seeds_words(unknown.seeds_saved) : "none";
}

std::vector<Unknown> unknowns_by_worth(const season::Plan& plan) {
  std::vector<Unknown> sorted = plan.unknowns;
  std::stable_sort(sorted.begin(), sorted.end(),
                   [](const auto& a, const auto& b) { return a.seeds_saved > b.seeds_saved; });
  return sorted;
}

bool worth_knowing(const season::Plan& plan, const Unknown& unknown) {
  constexpr double kWorthAsking = 0.005;
  const double sown = plan.stages.empty() ? plan.seeds : plan.stages.front().plants;
  return unknown.seeds_saved >= std::max(1.0, std::floor(sown / 100)) || unknown.unreachable_share > kWorthAsking;
}

std::vector<std::string> unknown_notes(const season::Goal& goal, const season::Plan& plan) {
  std::vector<std::string> notes;
  std::vector<std::string> rest;
  for (const auto& unknown : unknowns_by_worth(plan)) {
    const std::string name = unknown_name(goal, unknown);
    if (!worth_knowing(plan, unknown)) {
      rest.push_back(name);
      continue;
    }
    notes.push_back(fmt::format("{}: {}", name, small_test(unknown)));
    if (unknown.unreachable_share > 0) {
      notes.push_back(fmt::format("{}: in {} of what it may turn out to be, the goal is out of reach.", name,
                                  percent(unknown.unreachable_share)));
    }
  }
  if (!rest.empty()) notes.push_back(fmt::format("It hardly matters that these are not known: {}.", in_a_row(rest)));
  return notes;
}

}  // namespace strikebed::print

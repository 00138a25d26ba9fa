#include "print/plan/unknown_words.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "print/number_words.hpp"
#include "print/plan/goal_words.hpp"
#include "print/text_table.hpp"

namespace strikebed::print {
namespace {

using season::ChainQuantity;
using season::Unknown;

std::string_view name_of(ChainQuantity quantity) {
  switch (quantity) {
    case ChainQuantity::germination:
      return "germination";
    case ChainQuantity::standing:
      return "standing";
    case ChainQuantity::usable:
      return "usable";
    case ChainQuantity::take:
      return "take";
    case ChainQuantity::weaning:
      return "weaning";
    case ChainQuantity::winter:
      return "winter";
    case ChainQuantity::grade:
      return "grade";
    case ChainQuantity::germination_time:
      return "germination time";
    case ChainQuantity::germination_spread:
      return "germination spread";
    case ChainQuantity::cover_time:
      return "time through the cover";
    case ChainQuantity::ripening_time:
      return "ripening time";
    case ChainQuantity::ripening_spread:
      return "ripening spread";
    case ChainQuantity::window_end:
      return "end of the window";
    case ChainQuantity::edge_odds:
      return "take at the edges of the window";
    case ChainQuantity::rooting_time:
      return "rooting time";
    case ChainQuantity::rooting_spread:
      return "rooting spread";
    case ChainQuantity::weaning_days:
      return "weaning time";
  }
  return "";
}

}  // namespace

std::string unknown_name(const season::Goal& goal, const Unknown& unknown) {
  const std::string name(name_of(unknown.quantity));
  return unknown.want ? fmt::format("{} ({})", name, want_name(goal, *unknown.want)) : name;
}

std::string_view unit_of(ChainQuantity quantity) {
  switch (quantity) {
    case ChainQuantity::germination:
    case ChainQuantity::standing:
    case ChainQuantity::usable:
    case ChainQuantity::take:
    case ChainQuantity::weaning:
    case ChainQuantity::winter:
    case ChainQuantity::grade:
      return "share";
    case ChainQuantity::germination_time:
    case ChainQuantity::cover_time:
    case ChainQuantity::ripening_time:
    case ChainQuantity::window_end:
    case ChainQuantity::rooting_time:
      return "°C d";
    case ChainQuantity::germination_spread:
    case ChainQuantity::ripening_spread:
    case ChainQuantity::rooting_spread:
      return "ln";
    case ChainQuantity::edge_odds:
      return "ratio";
    case ChainQuantity::weaning_days:
      return "d";
  }
  return "";
}

std::string small_test(const Unknown& unknown) {
  switch (unknown.quantity) {
    case ChainQuantity::germination:
      return fmt::format("a germination test: {} seeds of the lot on damp paper, counted for three weeks",
                         unknown.tries);
    case ChainQuantity::standing:
      return fmt::format("count the seedlings of {} emerged that still stand six weeks later, in last season's way",
                         unknown.tries);
    case ChainQuantity::usable:
      return fmt::format("look over {} ready seedlings: how many would you strike?", unknown.tries);
    case ChainQuantity::take:
      return fmt::format("a trial strike: {} cuttings over at least three sessions, lifted when due", unknown.tries);
    case ChainQuantity::weaning:
      return fmt::format("count {} rooted cuttings through weaning", unknown.tries);
    case ChainQuantity::winter:
      return fmt::format("count {} weaned trees through a winter", unknown.tries);
    case ChainQuantity::grade:
      return fmt::format("turn out {} rooted cuttings and grade their feet", unknown.tries);
    case ChainQuantity::germination_time:
      return "sow 50 seeds three weeks early, log the seedbed's temperature, count every second day";
    case ChainQuantity::germination_spread:
      return "the same 50 seeds";
    case ChainQuantity::cover_time:
      return "the same 50 seeds, half of them dug up once";
    case ChainQuantity::ripening_time:
      return "mark 20 seedlings on the day they emerge and note the day each is ready";
    case ChainQuantity::ripening_spread:
      return "the same 20 marked seedlings";
    case ChainQuantity::window_end:
      return "strike ten every week past the usual time and compare what roots";
    case ChainQuantity::edge_odds:
      return "strike 20 early, 20 in the middle, 20 late, and compare";
    case ChainQuantity::rooting_time:
      return "strike 20 early, log the medium's temperature, lift three a week";
    case ChainQuantity::rooting_spread:
      return "the same 20 cuttings";
    case ChainQuantity::weaning_days:
      return "note first roots and full sun for one tray";
  }
  return "";
}

std::string belief_words(const Unknown& unknown) {
  const std::string_view written = unit_of(unknown.quantity);
  const bool share = written == "share";
  const bool bare = written == "ratio" || written == "ln";  // nothing a grower would read after the number
  const auto say = [&](double value) { return share ? whole(100 * value) : rounded(value); };
  std::string unit = share ? "%" : bare ? "" : written == "d" ? "days" : unbroken(std::string(written));
  if (!unit.empty()) unit.insert(0, kNoBreak);
  return fmt::format("{} ({} to {}){}", say(unknown.typical), say(unknown.low), say(unknown.high), unit);
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
  return unknown.seeds_saved >= std::max(1, plan.seeds / 100) || unknown.unreachable_share > kWorthAsking;
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
      notes.push_back(fmt::format("{}: in {} of what it may turn out to be, the goal is out of reach whatever you sow.",
                                  name, percent(unknown.unreachable_share)));
    }
  }
  if (!rest.empty()) notes.push_back(fmt::format("It hardly matters that these are not known: {}.", in_a_row(rest)));
  return notes;
}

}  // namespace strikebed::print

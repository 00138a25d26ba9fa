#include "print/plan/calendar_words.hpp"

#include <fmt/format.h>

#include <cmath>

#include "print/number_words.hpp"
#include "print/plan/lot_words.hpp"
#include "print/text_table.hpp"

namespace strikebed::print {
namespace {

using season::BandKind;
using season::CalendarKind;
using season::Goal;
using season::Plan;

/// ", 5-8 mm deep"; nothing where it is not known.
std::string depth_words(const Quantity& depth_mm) {
  if (!(depth_mm.high > 0)) return {};
  const std::string low = whole(depth_mm.low);
  const std::string high = whole(depth_mm.high);
  return fmt::format(", {}{}mm deep", low == high ? low : low + "-" + high, kNoBreak);
}

/// What it takes to sow again on the last day, and when that must be begun.
std::string sowing_again(const Goal& goal, const Plan& plan, const season::CalendarEntry& entry) {
  std::string text = "Last date on which sowing again can still meet the goal";
  if (entry.seeds) text += fmt::format(", with {}", seeds_words(*entry.seeds));
  if (goal.lot.chill_days == 0) return text;
  const Date chilled = entry.when.typical - Days{goal.lot.chill_days};
  text += fmt::format("; they must go into the cold by {}", date_words(chilled));
  if (chilled < plan.count_date) text += ", before these can be counted: keep some seed in the cold in case";
  return text;
}

std::string chill_words(const Goal& goal, const Plan& plan, const season::SowingPlan& sowing) {
  const season::Lot& lot = lot_of(goal, sowing);
  return fmt::format("Soak {} for a day, drain, and chill moist at 1-5 °C for {} days{}; look weekly for mould",
                     weighed(goal, lot, sowing.seeds), lot.chill_days,
                     plan.sowings.size() > 1 ? ", until they are sown on " + day_words(sowing.on) : "");
}

std::string sow_words(const Goal& goal, const season::SowingPlan& sowing) {
  return fmt::format("Sow {}{}, grit over them", weighed(goal, lot_of(goal, sowing), sowing.seeds),
                     depth_words(goal.species.sowing_depth_mm.quantity));
}

/// " of lot A sown on Sat 3 Apr", where there are several sowings.
std::string of_sowing(const Goal& goal, const Plan& plan, const season::CalendarEntry& entry) {
  if (!entry.sowing) return {};
  const season::SowingPlan& sowing = plan.sowings[*entry.sowing];
  return fmt::format("{} sown on {}", of_lot(lot_of(goal, sowing).name), day_words(sowing.on));
}

std::string count_words(const Goal& goal, const Plan& plan, const season::CalendarEntry& entry) {
  const season::Spread& alive = entry.sowing ? plan.sowings[*entry.sowing].emerged : plan.emerged;
  return fmt::format("Count the seedlings{}: about {} alive ({} to {})", of_sowing(goal, plan, entry),
                     whole(alive.typical), whole(alive.low), whole(alive.high));
}

}  // namespace

std::string_view calendar_word(CalendarKind kind) {
  switch (kind) {
    case CalendarKind::chill:
      return "chill";
    case CalendarKind::sow:
      return "sow";
    case CalendarKind::emergence:
      return "emergence";
    case CalendarKind::count:
      return "count";
    case CalendarKind::ready:
      return "ready";
    case CalendarKind::first_sessions:
    case CalendarKind::last_sessions:
      return "session";
    case CalendarKind::rooted:
      return "rooted";
    case CalendarKind::weaned:
      return "weaned";
    case CalendarKind::winter_begins:
    case CalendarKind::winter_ends:
      return "winter";
    case CalendarKind::last_sowing:
      return "deadline";
    case CalendarKind::goal:
      return "goal";
  }
  return "";
}

std::string calendar_words(const Goal& goal, const Plan& plan, const season::CalendarEntry& entry) {
  switch (entry.kind) {
    case CalendarKind::chill:
      return chill_words(goal, plan, plan.sowings[entry.sowing.value_or(0)]);
    case CalendarKind::sow:
      return sow_words(goal, plan.sowings[entry.sowing.value_or(0)]);
    case CalendarKind::emergence:
      return fmt::format("First seedlings{} up: bright light, drier surface, moving air", of_sowing(goal, plan, entry));
    case CalendarKind::count:
      return count_words(goal, plan, entry);
    case CalendarKind::ready:
      return "First seedlings ready to cut: pots, sand, blade and solution prepared by now";
    case CalendarKind::first_sessions:
      return "First sessions at the bench";
    case CalendarKind::last_sessions:
      return "Last sessions";
    case CalendarKind::rooted:
      return "Half of the cuttings rooted: begin weaning, first weak feed";
    case CalendarKind::weaned:
      return "Nearly all weaned: open air and sun";
    case CalendarKind::winter_begins:
      return "First winter begins: roots above -3 °C, not soggy";
    case CalendarKind::winter_ends:
      return "First winter is over";
    case CalendarKind::last_sowing:
      return sowing_again(goal, plan, entry);
    case CalendarKind::goal:
      return "Count the plants";
  }
  return "";
}

std::string_view band_name(BandKind kind) {
  switch (kind) {
    case BandKind::chilling:
      return "chilling";
    case BandKind::emergence:
      return "emergence";
    case BandKind::window:
      return "cutting window";
    case BandKind::sessions:
      return "sessions";
    case BandKind::rooting:
      return "rooting";
    case BandKind::weaning:
      return "weaning";
  }
  return "";
}

}  // namespace strikebed::print

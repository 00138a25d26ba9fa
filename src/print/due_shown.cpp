#include "print/due_shown.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "base/lines.hpp"
#include "print/json.hpp"
#include "print/number_words.hpp"
#include "print/text_table.hpp"

namespace strikebed::print {
namespace {

std::string seeds_of(const Due& due) {
  const std::string lot = due.name.empty() ? "" : fmt::format(" of lot {}", due.name);
  return due.number ? seeds_words(*due.number) + lot : "the seeds" + lot;
}
std::string cuttings_words(const season::Spread& cuttings) {
  return fmt::format("about {:.0f} cuttings ({:.0f} to {:.0f})", cuttings.typical, cuttings.low, cuttings.high);
}

std::string what_words(const Due& due) {
  const std::string last = due.since ? fmt::format(", last on {}", day_words(*due.since)) : "";
  switch (due.kind) {
    case DueKind::chill:
      return fmt::format("Put {} into the cold, moist, for the sowing on {}", seeds_of(due), day_words(*due.since));
    case DueKind::sow:
      return fmt::format("Sow {}", seeds_of(due));
    case DueKind::count_emerged:
      return fmt::format("Count how many are up, all of them{}", last);
    case DueKind::look_at_stems:
      return fmt::format("Look at the stems: how many green, turning, red, faded{}", last);
    case DueKind::make_ready:
      return fmt::format(
          "Make ready for tomorrow: {} pots filled and watered, {:.0f} ml of solution, clean blades, labels",
          *due.number, due.solution_ml);
    case DueKind::strike:
      return fmt::format("Strike {}", cuttings_words(due.cuttings));
    case DueKind::look_for_roots:
      return due.since ? fmt::format("Look for roots: how many have some, how many wait (struck on {})",
                                     day_words(*due.since))
                       : "Look for roots: how many have some, how many wait";
    case DueKind::wean:
      return "Wean those with roots: less mist, then air, then sun";
    case DueKind::new_solution:
      return fmt::format("Mix new solution: \"{}\" is past its day", due.name);
    case DueKind::shelter:
      return "Bring the plants under their winter shelter";
    case DueKind::count_plants:
      break;
  }
  return "Count the plants that live, and grade their feet";
}

std::string when_words(const Due& due) {
  return due.from == due.until ? day_words(due.from)
                               : fmt::format("{} to {}", day_words(due.from), day_words(due.until));
}

bool is_overdue(const DueShown& shown, const Due& due) { return due.until < shown.today; }
bool is_now(const DueShown& shown, const Due& due) { return due.from <= shown.today && !is_overdue(shown, due); }
bool is_soon(const DueShown& shown, const Due& due) {
  return due.from > shown.today && due.from <= shown.today + kDueAhead;
}

std::string block(const DueShown& shown, const char* head, bool (*belongs)(const DueShown&, const Due&),
                  std::size_t width) {
  std::vector<std::vector<std::string>> rows;
  for (const Due& due : shown.due) {
    if (belongs(shown, due)) rows.push_back({due.code, when_words(due), fmt::format("[ ] {}", what_words(due))});
  }
  if (rows.empty()) return "";
  return fmt::format("\n{}\n", head) + table({{"batch"}, {"when"}, {"what"}}, rows, width);
}

std::string_view name_of(DueKind kind) {
  switch (kind) {
    case DueKind::chill:
      return "chill";
    case DueKind::sow:
      return "sow";
    case DueKind::count_emerged:
      return "count_emerged";
    case DueKind::look_at_stems:
      return "look_at_stems";
    case DueKind::make_ready:
      return "make_ready";
    case DueKind::strike:
      return "strike";
    case DueKind::look_for_roots:
      return "look_for_roots";
    case DueKind::wean:
      return "wean";
    case DueKind::new_solution:
      return "new_solution";
    case DueKind::shelter:
      return "shelter";
    case DueKind::count_plants:
      break;
  }
  return "count_plants";
}

std::string state_of(const DueShown& shown, const Due& due) {
  if (is_overdue(shown, due)) return "overdue";
  if (is_now(shown, due)) return "now";
  return is_soon(shown, due) ? "soon" : "later";
}

}  // namespace

std::string due_text(const DueShown& shown, int width) {
  const std::size_t w = lines_of(width);
  std::string text =
      paragraph(fmt::format("{}, for {}: what falls due.", date_words(shown.today),
                            shown.goal_name.empty() ? std::string("the goal") : fmt::format("\"{}\"", shown.goal_name)),
                w);
  const std::string blocks = block(shown, "OVERDUE", is_overdue, w) + block(shown, "NOW", is_now, w) +
                             block(shown, "IN THE NEXT SEVEN DAYS", is_soon, w);
  text += blocks;
  if (blocks.empty()) {
    const auto next = std::ranges::find_if(shown.due, [&](const Due& due) { return due.from > shown.today; });
    text += "\n";
    text += paragraph(
        next == shown.due.end()
            ? "Nothing is due, and nothing is known to come."
            : fmt::format("Nothing is due this week. Next, {}{}: {}.", when_words(*next),
                          next->code.empty() ? std::string() : fmt::format(" ({})", next->code), what_words(*next)),
        w);
  }
  std::vector<std::string> notes = shown.remarks;
  if (!shown.has_plan) {
    notes.emplace_back("No plan of this goal is noted, so sowings to come are not known.");
  }
  if (shown.contradictions > 0) {
    notes.push_back(fmt::format(
        "{} in the daybook that cannot all be true: strikebed batches names {}.",
        shown.contradictions == 1 ? "There is one thing" : fmt::format("There are {} things", shown.contradictions),
        shown.contradictions == 1 ? "it" : "them"));
  }
  if (!notes.empty()) text += "\n";
  for (const std::string& one : notes) text += paragraph(one, w, "- ");
  return plain_spaces(text);
}

std::string due_json(const DueShown& shown) {
  return document({{"goal", shown.goal_name.empty() ? Json(nullptr) : Json(shown.goal_name)},
                   {"today", to_iso(shown.today)},
                   {"due", array(shown.due,
                                 [&](const Due& due) {
                                   const bool strikes = due.kind == DueKind::strike || due.kind == DueKind::make_ready;
                                   return Json{{"kind", name_of(due.kind)},
                                               {"state", state_of(shown, due)},
                                               {"what", plain_spaces(what_words(due))},
                                               {"from", to_iso(due.from)},
                                               {"until", to_iso(due.until)},
                                               {"batch", due.code.empty() ? Json(nullptr) : Json(due.code)},
                                               {"name", due.name.empty() ? Json(nullptr) : Json(due.name)},
                                               {"since", due.since ? Json(to_iso(*due.since)) : Json(nullptr)},
                                               {"number", or_null(due.number)},
                                               {"cuttings", strikes ? spread(due.cuttings) : Json(nullptr)}};
                                 })},
                   {"has_plan", shown.has_plan},
                   {"contradictions", shown.contradictions},
                   {"remarks", shown.remarks}});
}

}  // namespace strikebed::print

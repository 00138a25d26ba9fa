#include "print/plan/lot_words.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "print/number_words.hpp"
#include "print/plan/goal_words.hpp"
#include "print/text_table.hpp"

namespace strikebed::print {
namespace {

using season::Goal;
using season::Plan;
using season::SowingPlan;
using season::Stagger;

bool is_behind(const Goal& goal, const SowingPlan& sowing) { return sowing.on < goal.today; }

}  // namespace

std::string of_lot(std::string_view name) { return name.empty() ? "" : fmt::format(" of lot {}", name); }

std::string weighed(const Goal& goal, const season::Lot& lot, int seeds) {
  const double per_gram = goal.seeds_per_gram(lot);
  const std::string words = seeds_words(seeds) + of_lot(lot.name);
  if (!(per_gram > 0)) return words;
  return fmt::format("{} ({}{}g)", words, rounded_up(seeds / per_gram), kNoBreak);
}

std::string on_top(const Goal& goal) { return goal.sown.empty() ? "" : " on top"; }

std::string about_on_top(const Goal& goal, int seeds) {
  return seeds == 0 ? "no more seed" : about_seeds(seeds) + on_top(goal);
}

std::string_view chilled_words(const Goal& goal, const SowingPlan& sowing) {
  return sowing.chill_start < goal.today ? "in the cold since " : "put to chill on ";
}

std::vector<SowingPlan> planned_sowings(const Plan& plan) {
  std::vector<SowingPlan> planned = plan.sowings;
  std::erase_if(planned, [](const SowingPlan& sowing) { return sowing.own.has_value(); });
  return planned;
}

std::vector<SowingRow> sowing_rows(const Goal& goal, const Plan& plan) {
  if (plan.sowings.size() < 2 && goal.sown.empty()) return {};
  std::vector<SowingPlan> sowings = plan.sowings;
  std::ranges::stable_sort(sowings, {}, &SowingPlan::on);
  std::vector<SowingRow> rows;
  for (const SowingPlan& sowing : sowings) {
    const bool done = sowing.own && is_behind(goal, sowing);
    SowingRow row;
    row.lot = lot_of(goal, sowing).name;
    row.sown = date_words(sowing.on) + (done ? "" : sowing.own ? " (yours)" : goal.sown.empty() ? "" : " (on top)");
    row.seeds = whole(sowing.seeds);
    row.chilled = sowing.chill_start ? date_words(*sowing.chill_start) : "not at all";
    if (is_set(sowing.count_date)) {
      row.alive = fmt::format("{} ({} to {}) on {}", whole(sowing.emerged.typical), whole(sowing.emerged.low),
                              whole(sowing.emerged.high), date_words(sowing.count_date));
    }
    rows.push_back(std::move(row));
  }
  return rows;
}

std::string_view sowings_note() {
  return "Alive: seedlings on the day when nearly all that come up of this sowing are up; in nine seasons of ten "
         "between "
         "the numbers in brackets.";
}

std::string_view stagger_word(Stagger::Why why) {
  switch (why) {
    case Stagger::Why::day_said:
      return "day said";
    case Stagger::Why::room_for_all:
      return "room for all";
    case Stagger::Why::none_better:
      return "none better";
    case Stagger::Why::out_of_reach:
      return "out of reach";
    case Stagger::Why::saves_little:
      return "saves little";
  }
  return "";
}

std::string stagger_words(const Goal& goal, const Plan& plan, const FieldNames& names) {
  if (!plan.stagger || plan.sow_dates.empty()) return {};
  const Stagger& stagger = *plan.stagger;
  const std::size_t planned = plan.sow_dates.size();
  const std::string head =
      fmt::format("{} sowing{}{}, though {} may be: ", planned == 1 ? "One" : fmt::format("{}", planned),
                  planned == 1 ? "" : "s", on_top(goal), goal.sessions.sowings_at_most);
  const std::string rarely = stagger.rarely_full ? "the sessions are hardly ever full, and " : "";
  switch (stagger.why) {
    case Stagger::Why::day_said:
      return head + "the sowing day is yours.";
    case Stagger::Why::room_for_all:
      return head + fmt::format(
                        "each session has room for all that are ready, so that a second sowing would only come "
                        "later. Sowings are staggered where a session holds no more than you say{}.",
                        in_brackets(names, {"sessions.cuttings_at_most", "sessions.hours_at_most"}));
    case Stagger::Why::none_better:
      return head + rarely + "one more, a week to three weeks apart, needs no fewer seeds.";
    case Stagger::Why::out_of_reach:
      return head + rarely + "with one more, a week to three weeks apart, the goal stays out of reach.";
    case Stagger::Why::saves_little:
      return head + fmt::format(
                        "{}with one more it would take about {} instead of {}. One more is planned where it "
                        "saves 2 % or more.",
                        rarely, whole(stagger.seeds_with_more), seeds_words(stagger.seeds));
  }
  return {};
}

}  // namespace strikebed::print

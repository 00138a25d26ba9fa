#include "print/plan/limit_words.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "print/number_words.hpp"
#include "print/plan/bench_words.hpp"
#include "print/plan/goal_words.hpp"
#include "print/plan/lot_words.hpp"
#include "print/text_table.hpp"
#include "season/seed_search.hpp"

namespace strikebed::print {
namespace {

using season::Goal;
using season::Limit;
using season::LimitKind;
using season::Rewarmed;

/// What it brings to lift a limit.
std::string outcome(const Goal& goal, const season::Lifted& lifted) {
  if (lifted.seeds) return "the goal can be met with " + about_on_top(goal, *lifted.seeds);
  return fmt::format("it would be {} sure instead of {}", percent_beside(lifted.assurance, goal.assurance),
                     percent(lifted.assurance_now));
}

/// What is in the way, and after `if_lifted` what lifting it brings, where that helps.
std::string in_the_way(const Goal& goal, const Limit& limit, const std::string& what, const std::string& if_lifted) {
  return limit.lifted ? fmt::format("{}; {} {}", what, if_lifted, outcome(goal, *limit.lifted)) : what;
}

std::string not_then_either(const Limit& limit) {
  return fmt::format("by {} it cannot be met either", date_words(limit.date));
}

std::string room_words(const Goal& goal, const Limit& limit) {
  const int each = goal.sessions.cuttings_at_most.value_or(0);
  const long in_all = static_cast<long>(limit.sessions) * each;
  return in_the_way(goal, limit,
                    fmt::format("there is room for {} cuttings a session, {} in the {} sessions that could be held",
                                each, in_all, limit.sessions),
                    "with room for all");
}

std::string bench_days_words(const Limit& limit) {
  if (limit.date == Date{}) return "the days at the bench are few";
  return fmt::format("all days at the bench come before the first seedlings are ripe, about {}",
                     date_words(limit.date));
}

/// A field of the goal, and what it is to be set to.
struct Setting {
  std::string_view field;
  double value = 0;
};
std::string set_to(const FieldNames& names, std::string_view within, std::initializer_list<Setting> settings) {
  std::vector<std::string> words;
  for (const auto& [field, value] : settings) {
    if (const auto name = field_name(names, fmt::format("{}.{}", within, field))) {
      words.push_back(fmt::format("{}{}={}{}", *name, kNoBreak, kNoBreak, value));
    }
  }
  return words.empty() ? "" : fmt::format(" ({})", in_a_row(words));
}

std::string heated_words(const Rewarmed& change, const FieldNames& names, std::string_view position,
                         const shelter::Position& now) {
  return fmt::format("heated to {}{}°C{}", change.heated_c, kNoBreak,
                     set_to(names, position, {{now.fixed_c ? "fixed" : "at_least", change.heated_c}}));
}

std::string cooled_words(const Rewarmed& change, const FieldNames& names, std::string_view position,
                         const shelter::Position& now) {
  if (now.fixed_c) {
    const double kept_c = *now.fixed_c - change.cooler_c;
    return fmt::format("kept at {}{}°C{}", kept_c, kNoBreak, set_to(names, position, {{"fixed", kept_c}}));
  }
  const Setting offset{"offset", now.offset_c - change.cooler_c};
  if (change.heated_c == 0 || !now.at_least_c) {
    return fmt::format("shaded and aired to be {}{}°C cooler{}", change.cooler_c, kNoBreak,
                       set_to(names, position, {offset}));
  }
  return fmt::format("heated to {}{}°C only, and shaded and aired to be {}{}°C cooler{}", change.heated_c, kNoBreak,
                     change.cooler_c, kNoBreak, set_to(names, position, {{"at_least", change.heated_c}, offset}));
}

std::string warmth_words(const Goal& goal, const Limit& limit, const FieldNames& names) {
  const bool is_cold = limit.kind == LimitKind::cold;
  const std::string_view too = is_cold ? "cold" : "hot";
  const auto changed = is_cold ? heated_words : cooled_words;
  if (limit.seedbed && limit.bench) {
    return in_the_way(
        goal, limit, fmt::format("the seedbed and the bench are {}", too),
        fmt::format("the seedbed {} and the bench {},", changed(*limit.seedbed, names, "seedbed", goal.seedbed),
                    changed(*limit.bench, names, "bench", goal.bench)));
  }
  if (limit.seedbed) {
    return in_the_way(goal, limit, fmt::format("the seedbed is {}", too),
                      changed(*limit.seedbed, names, "seedbed", goal.seedbed));
  }
  return in_the_way(goal, limit, fmt::format("the bench is {}", too),
                    changed(limit.bench.value_or(Rewarmed{}), names, "bench", goal.bench));
}

std::string chilling_words(const Goal& goal, const Limit& limit, const FieldNames& names) {
  const std::string field = set_to(names, "lot", {{"chill_days", static_cast<double>(limit.chill_days)}});
  const std::string chilled = limit.chill_days > 0 ? fmt::format("chilled for {} days only", limit.chill_days)
                                                   : std::string("sown without chilling");
  return in_the_way(goal, limit, fmt::format("chilling for {} days puts the sowing off", goal.lot.chill_days),
                    fmt::format("{}{}, slower and less evenly up,", chilled, field));
}

std::string rate_words(const Limit& limit) {
  return fmt::format("too few of the {} are {} ({})", row_of(limit.rung).of, row_of(limit.rung).become,
                     name_of(limit.rung));
}

std::string winter_words(const Goal& goal, const Limit& limit) {
  const std::string why =
      fmt::format("a plant is established once its first winter is over, on {}", date_words(goal.winter_ends));
  return limit.lifted ? in_the_way(goal, limit, why, "by " + date_words(limit.date))
                      : fmt::format("{}; {}", why, not_then_either(limit));
}

}  // namespace

std::string_view limit_word(LimitKind kind) {
  switch (kind) {
    case LimitKind::room:
      return "room";
    case LimitKind::bench_days:
      return "window";
    case LimitKind::cold:
    case LimitKind::hot:
      return "warmth";
    case LimitKind::chilling:
      return "chilling";
    case LimitKind::sowing_day:
    case LimitKind::date:
    case LimitKind::first_winter:
    case LimitKind::no_sowing_day:
    case LimitKind::no_session:
      return "date";
    case LimitKind::rate:
    case LimitKind::rates:
      return "rate";
  }
  return "";
}

std::string limit_words(const Goal& goal, const Limit& limit, const FieldNames& names) {
  switch (limit.kind) {
    case LimitKind::room:
      return room_words(goal, limit);
    case LimitKind::bench_days:
      return in_the_way(goal, limit, bench_days_words(limit), "with a session every day");
    case LimitKind::sowing_day:
      return in_the_way(goal, limit, "the sowing day is yours", "on the best day");
    case LimitKind::cold:
    case LimitKind::hot:
      return warmth_words(goal, limit, names);
    case LimitKind::chilling:
      return chilling_words(goal, limit, names);
    case LimitKind::date:
      return limit.lifted ? in_the_way(goal, limit, "the date comes too soon", "by " + date_words(limit.date))
                          : not_then_either(limit);
    case LimitKind::first_winter:
      return winter_words(goal, limit);
    case LimitKind::no_sowing_day:
      return fmt::format(
          "no day is left to sow: seed could go into the seedbed from {} (chilling allowed for), but "
          "the plants are wanted by {}",
          date_words(limit.date), date_words(goal.by));
    case LimitKind::no_session:
      return fmt::format(
          "no session day before {} lets a cutting root in time: the medium is too cold or too hot for it until then",
          date_words(goal.by));
    case LimitKind::rate:
      return in_the_way(goal, limit, rate_words(limit), fmt::format("if it were {}", percent(limit.share)));
    case LimitKind::rates:
      return fmt::format(
          "in some of the futures the rates are so poor that not even {} give enough; learn them by a small trial, or "
          "ask for less sureness",
          seeds_words(season::sensible_seeds(goal)));
  }
  return "";
}

std::vector<std::string> limit_sentences(const Goal& goal, const season::Plan& plan, const FieldNames& names) {
  std::vector<std::string> sentences;
  for (const Limit& limit : plan.limits) {
    sentences.push_back(fmt::format("{}: {}", limit_word(limit.kind), limit_words(goal, limit, names)));
  }
  return sentences;
}

std::string limits_note(const season::Plan& plan) {
  const bool any = std::ranges::any_of(plan.limits, [](const Limit& limit) { return limit.lifted.has_value(); });
  if (!any || plan.rhythms.empty()) return {};
  return fmt::format("Each is said for striking {}, as here; planned anew, more seldom may do with a few seeds more.",
                     rhythm_words(plan.habit.rhythm));
}

std::string_view limits_title(const Goal& goal, const season::Plan& plan) {
  if (!plan.met && !goal.seeds_in_hand) return "What stands in the way";
  return plan.half || goal.seeds_in_hand ? "What limits this plan" : "What would save seed";
}

}  // namespace strikebed::print

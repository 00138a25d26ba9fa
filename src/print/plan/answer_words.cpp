#include "print/plan/answer_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "print/number_words.hpp"
#include "print/plan/goal_words.hpp"
#include "print/plan/lot_words.hpp"
#include "print/plan/plan_parts.hpp"
#include "print/text_table.hpp"
#include "season/seed_search.hpp"

namespace strikebed::print {

namespace {

constexpr double kWorthSaying = 0.01;  // an assurance below is no nearest goal

class SentenceBuilder {
 public:
  SentenceBuilder& say(std::string text) {
    sentence_.push_back({std::move(text), false});
    return *this;
  }
  SentenceBuilder& stress(std::string text) {
    sentence_.push_back({std::move(text), true});
    return *this;
  }
  [[nodiscard]] Sentence done() { return std::move(sentence_); }

 private:
  Sentence sentence_;
};

std::string by_words(const season::Goal& goal) { return state_words(goal.count_at) + " by "; }

bool is_sown(const season::Goal& goal, const season::Plan& plan) {
  return !plan.sow_dates.empty() && plan.sow_dates.front() < goal.today;
}

/// When, and in the cold since when; that in brackets among several.
void say_when(SentenceBuilder& line, const season::Goal& goal, const season::SowingPlan& sowing, bool several) {
  line.stress(date_words(sowing.on));
  if (!sowing.chill_start || sowing.on < goal.today) return;
  line.say(several ? " (" : ", ").say(std::string(chilled_words(goal, sowing))).stress(date_words(*sowing.chill_start));
  if (several) line.say(")");
}

/// What the plan asks for.
void say_sowing(SentenceBuilder& line, const season::Goal& goal, const season::Plan& plan) {
  const double per_gram = goal.seeds_per_gram(goal.lot);
  line.stress(seeds_words(plan.seeds)).say(of_lot(goal.lot.name));
  if (per_gram > 0) line.say(fmt::format(" ({}{}g)", rounded_up(plan.seeds / per_gram), kNoBreak));
  const std::vector<season::SowingPlan> planned = planned_sowings(plan);
  if (planned.size() == 1) {
    say_when(line.say(is_sown(goal, plan) ? " sown on " : " on "), goal, planned.front(), false);
  } else if (planned.size() > 1) {
    line.say(fmt::format(" in {} sowings: ", planned.size()));
    for (std::size_t i = 0; i < planned.size(); ++i) {
      if (i > 0) line.say(i + 1 == planned.size() ? " and " : ", ");
      say_when(line.say(whole(planned[i].seeds)).say(" on "), goal, planned[i], true);
    }
  }
}

/// "300 seeds of lot A on Mon 1 Mar 2027 and ...".
void say_own(SentenceBuilder& line, const season::Goal& goal, const std::vector<season::SowingPlan>& sowings) {
  for (std::size_t i = 0; i < sowings.size(); ++i) {
    if (i > 0) line.say(i + 1 == sowings.size() ? " and " : ", ");
    line.say(seeds_words(sowings[i].seeds) + of_lot(lot_of(goal, sowings[i]).name) + " on ");
    say_when(line, goal, sowings[i], true);
  }
}

/// What the grower has sown, and is going to sow whatever the plan says.
std::vector<Sentence> own_sowings(const season::Goal& goal, const season::Plan& plan) {
  std::vector<season::SowingPlan> behind;
  std::vector<season::SowingPlan> ahead;
  for (const season::SowingPlan& sowing : plan.sowings) {
    if (sowing.own) (sowing.on < goal.today ? behind : ahead).push_back(sowing);
  }
  std::vector<Sentence> sentences;
  const auto tell = [&](const char* head, std::vector<season::SowingPlan>& sowings) {
    if (sowings.empty()) return;
    std::ranges::stable_sort(sowings, {}, &season::SowingPlan::on);
    SentenceBuilder line;
    say_own(line.say(head), goal, sowings);
    sentences.push_back(line.say(".").done());
  };
  tell("You have sown ", behind);
  tell("You mean to sow ", ahead);
  return sentences;
}

void say_wanted(SentenceBuilder& line, const season::Goal& goal) {
  line.say("at least ").stress(wanted_words(goal)).say(" ").say(by_words(goal)).stress(date_words(goal.by));
}

/// What the limited number of futures leaves open, where it is a whole percent or more; weather_words say the rest.
std::string give_or_take(const season::Plan& plan) {
  constexpr double kWorthTelling = 0.005;
  if (std::isfinite(plan.assurance_error) && plan.assurance_error < kWorthTelling) return {};
  return fmt::format(" (give or take {}, as far as this was calculated)", percent(plan.assurance_error));
}

void say_sure(SentenceBuilder& line, const season::Goal& goal, const season::Plan& plan) {
  line.stress(unbroken(percent_beside(plan.assurance, goal.assurance) + " sure")).say(give_or_take(plan) + " of ");
  say_wanted(line, goal);
  line.say(".");
}

/// The days on which something is struck in a typical season; those of an early or late one are said apart.
Sentence bench_sentence(const season::Plan& plan) {
  const auto likely = likely_sessions(plan);
  auto usual = likely;
  std::erase_if(usual, [](const season::SessionPlan& session) { return !session.is_usual(); });
  if (usual.empty()) usual = likely;
  SentenceBuilder line;
  line.say("Keep ");
  if (usual.size() == 1) {
    line.stress(date_words(usual.front().date)).say(" free for striking");
  } else {
    line.stress(fmt::format("{}{}days", usual.size(), kNoBreak))
        .say(" free for striking, from ")
        .stress(date_words(usual.front().date))
        .say(" to ")
        .stress(date_words(usual.back().date));
  }
  if (likely.size() > usual.size()) {
    line.say(fmt::format(" ({}{}more in an early or late season)", likely.size() - usual.size(), kNoBreak));
  }
  if (plan.needs.cuttings > 0) {
    line.say(fmt::format(", and be ready for up to {}{}cuttings in all", plan.needs.cuttings, kNoBreak));
  }
  return line.say(".").done();
}

/// How sure the seeds in hand make, and how that compares with what was asked.
std::vector<Sentence> answer_for_seeds_in_hand(const season::Goal& goal, const season::Plan& plan) {
  SentenceBuilder line;
  line.say(goal.sown.empty() ? "With " : "With these and ");
  say_sowing(line, goal, plan);
  line.say(plan.sow_dates.empty() ? " you can be " : ", you can be ");
  say_sure(line, goal, plan);
  const auto fewest = fewest_seeds(plan);
  SentenceBuilder beside;
  const std::string asked = percent(goal.assurance);
  if (plan.assurance >= goal.assurance) {
    beside.say(fmt::format("That is as sure as you asked to be ({})", asked));
    if (fewest && *fewest < plan.seeds) beside.say(fmt::format("; {} would do", seeds_words(*fewest)));
  } else {
    beside.say(fmt::format("That is less than the {} you asked for", asked));
    if (fewest) {
      beside.say(is_sown(goal, plan) ? ": that would have taken " : ": for that, sow ").stress(seeds_words(*fewest));
    } else if (!plan.sow_dates.empty() && !plan.sweep.empty()) {
      beside.say(fmt::format(", and not even {} sown then would reach it",
                             seeds_words(season::sensible_seeds(goal)) + on_top(goal)));
    }
  }
  return {line.done(), beside.say(".").done()};
}

std::vector<Sentence> answer_met(const season::Goal& goal, const season::Plan& plan) {
  SentenceBuilder line;
  SentenceBuilder sure;
  if (plan.seeds == 0) {
    line.stress("Nothing need be sown on top").say(": with these you are ");
    say_sure(line, goal, plan);
    return {line.done()};
  }
  const bool sown = is_sown(goal, plan);
  line.say(goal.sown.empty() ? (sown ? "Enough are " : "Sow ") : (sown ? "On top, enough are " : "On top, sow "));
  say_sowing(line, goal, plan);
  sure.say("You are then ");
  say_sure(sure, goal, plan);
  std::vector<Sentence> sentences{line.say(".").done(), sure.done()};
  if (plan.seeds_low < plan.seeds_high) {
    sentences.push_back({{fmt::format("Between {} and {}{}seeds{} the calculation cannot tell apart.", plan.seeds_low,
                                      plan.seeds_high, kNoBreak, on_top(goal)),
                          false}});
  }
  if (plan.half) {
    SentenceBuilder half;
    half.stress("Seed is not what is short")
        .say(fmt::format(": half as many{}, {}{}, already make you {} sure.", goal.sown.empty() ? "" : " in all",
                         seeds_words(plan.half->seeds), on_top(goal),
                         percent_beside(plan.half->assurance, goal.assurance)));
    if (!plan.limits.empty()) half.say(" See below what limits this plan.");
    sentences.push_back(half.done());
  }
  return sentences;
}

std::vector<Sentence> answer_unmet(const season::Goal& goal, const season::Plan& plan) {
  SentenceBuilder line;
  line.stress("This goal cannot be met as it stands")
      .say(fmt::format(": not even {} make you {}{}sure of ", seeds_words(season::sensible_seeds(goal)) + on_top(goal),
                       percent(goal.assurance), kNoBreak));
  say_wanted(line, goal);
  std::vector<Sentence> sentences{line.say(".").done()};
  if (plan.sowings.empty()) return sentences;
  SentenceBuilder best;
  if (plan.seeds == 0) {
    best.say("More seed would hardly help: with what you sow yourself you are ")
        .stress(unbroken(percent_beside(plan.assurance, goal.assurance) + " sure"))
        .say(give_or_take(plan) + ".");
    sentences.push_back(best.done());
    return sentences;
  }
  best.say("The plan below makes the most of it as it stands: ")
      .say(goal.sown.empty() ? "" : "on top, ")
      .say(is_sown(goal, plan) ? "with " : "sow ");
  say_sowing(best, goal, plan);
  best.say("; that makes you ")
      .stress(unbroken(percent_beside(plan.assurance, goal.assurance) + " sure"))
      .say(give_or_take(plan) + ".");
  sentences.push_back(best.done());
  return sentences;
}

}  // namespace

std::string plain(const std::vector<Sentence>& sentences) {
  std::string text;
  for (const Sentence& sentence : sentences) {
    if (!text.empty()) text += ' ';
    for (const Words& words : sentence) text += words.text;
  }
  return text;
}

std::vector<Sentence> answer(const season::Goal& goal, const season::Plan& plan) {
  std::vector<Sentence> sentences = goal.seeds_in_hand ? answer_for_seeds_in_hand(goal, plan)
                                    : plan.met         ? answer_met(goal, plan)
                                                       : answer_unmet(goal, plan);
  const std::vector<Sentence> own = own_sowings(goal, plan);
  sentences.insert(sentences.begin(), own.begin(), own.end());
  if (!likely_sessions(plan).empty()) sentences.push_back(bench_sentence(plan));
  return sentences;
}

std::vector<std::string> nearest_words(const season::Goal& goal, const season::Plan& plan) {
  std::vector<std::string> sentences;
  const season::Nearest& nearest = plan.nearest;
  if (nearest.counts && !nearest.counts->empty()) {
    const std::string seeds = nearest.seeds ? ", from " + about_on_top(goal, *nearest.seeds) : "";
    sentences.push_back(fmt::format("Fewer: {}, {}{}, {} sure{}.", counts_words(goal, *nearest.counts), by_words(goal),
                                    date_words(goal.by), percent(goal.assurance), seeds));
  }
  if (nearest.by) {
    const std::string seeds = nearest.by_seeds ? ", from " + about_on_top(goal, *nearest.by_seeds) : "";
    sentences.push_back(fmt::format("Later: {}, {}{}, {} sure{}.", wanted_words(goal), by_words(goal),
                                    date_words(*nearest.by), percent(goal.assurance), seeds));
  }
  if (nearest.assurance && *nearest.assurance >= kWorthSaying) {
    sentences.push_back(fmt::format("Less sure: {}, {}{}, {} sure, from {}.", wanted_words(goal), by_words(goal),
                                    date_words(goal.by), percent_beside(*nearest.assurance, goal.assurance),
                                    seeds_words(season::sensible_seeds(goal)) + on_top(goal)));
  }
  return sentences;
}

}  // namespace strikebed::print

#include "season/make_plan.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "season/choose_days.hpp"
#include "season/cold_toll.hpp"
#include "season/limits.hpp"
#include "season/nearest_goal.hpp"
#include "season/needs.hpp"
#include "season/seed_search.hpp"
#include "season/timetable.hpp"
#include "season/unknowns.hpp"

namespace strikebed::season {
namespace {

constexpr double kLongDay_h = 10;  // at the bench
constexpr double kHardWon = 0.05;  // more sureness for twice the seeds
constexpr double kHardly = 0.04;   // less sureness for far fewer seeds

/// The share of the work at which a part begins.
constexpr double kDatesBegin = 0.1;
constexpr double kNumberBegins = 0.6;
constexpr double kNearestBegins = 0.65;
constexpr double kSessionsBegin = 0.7;
constexpr double kUnknownsBegin = 0.75;

/// For a goal out of reach: the fewest seeds, by halving, that make it hardly less sure than as many as are sensible.
int seeds_that_help(Study& study, std::span<const double> shares, double best) {
  int seeds = sensible_seeds(study.goal());
  const double enough = std::max(best - kHardly, kWorthSowing);
  while (seeds > 1 && study.how_sure(seeds / 2, shares, Look::whole).chance >= enough) seeds /= 2;
  return seeds;
}

/// The answer itself: seeds on the study's sowing days and how sure they are, seen one way.
class Answering {
 public:
  Answering(Study& study, Plan& plan, Look look) : study_(study), plan_(plan), look_(look) {}

  /// False: no number of seeds is enough, and the grower has none in hand.
  bool find_number() {
    answer_ = study_.seeds_needed(look_);
    days_ = study_.sow_days();
    habit_ = study_.habit();
    plan_.shares = answer_.shares;
    plan_.seeds = study_.goal().seeds_in_hand.value_or(answer_.seeds.value_or(0));
    return study_.goal().seeds_in_hand || answer_.seeds;
  }
  [[nodiscard]] const SeedAnswer& answer() const { return answer_; }
  /// The number was found for the days and the habit that the study has now.
  [[nodiscard]] bool is_found() const { return days_ == study_.sow_days() && habit_ == study_.habit(); }

  /// How sure the plan's number is, and when it is sown.
  void tell_number() {
    const Assurance sure =
        study_.how_sure(plan_.seeds, plan_.shares, look_, look_ == Look::whole ? Precision::exact : Precision::quick);
    plan_.assurance = sure.chance;
    plan_.assurance_error = sure.error;
    plan_.met = sure.chance >= study_.goal().assurance;
    plan_.seeds_low = plan_.seeds_high = plan_.seeds;
    describe_sowings();
  }

  /// That, and all that depends on it and on the sowing days alone.
  void describe_number() {
    const Goal& goal = study_.goal();
    tell_number();
    describe_range();
    plan_.half.reset();
    if (plan_.met && !goal.seeds_in_hand) {
      const CurvePoint half{plan_.seeds / 2, chance(plan_.seeds / 2)};
      if (half.assurance > goal.assurance - kHardWon) plan_.half = half;
    }
    describe_curve();
  }

 private:
  [[nodiscard]] double chance(int seeds) { return study_.how_sure(seeds, plan_.shares, look_).chance; }

  /// The numbers that the error of the assurance leaves open.
  void describe_range() {
    const Goal& goal = study_.goal();
    if (!answer_.seeds || goal.seeds_in_hand || !(plan_.assurance_error > 0)) return;
    constexpr double kTolerance = 0.001;
    const double error = kScore95 * plan_.assurance_error;
    const auto at = [&](double level) {
      return smallest_seeds([&](int seeds) { return chance(seeds); }, std::clamp(level, 1e-4, 1 - 1e-9), plan_.seeds,
                            kMostSeeds, kTolerance)
          .value_or(kMostSeeds);
    };
    plan_.seeds_low = std::min(at(goal.assurance - error), plan_.seeds);
    plan_.seeds_high = std::max(at(goal.assurance + error), plan_.seeds);
  }

  void describe_sowings() {
    plan_.sow_dates.clear();
    plan_.sow_seeds.clear();
    for (const int day : study_.sow_days()) plan_.sow_dates.push_back(study_.sums().first + Days{day});
    const std::vector<Sowing> sowings = study_.sowings(look_);
    const std::vector<int> split = split_seeds(plan_.seeds, sowings);
    for (std::size_t i = 0; i < sowings.size(); ++i) {
      if (!sowings[i].sown) plan_.sow_seeds.push_back(split[i]);
    }
    plan_.chill_start = plan_.sow_dates.front() - Days{study_.goal().chill_days};
  }

  void describe_curve() {
    plan_.curve.clear();
    for (const double factor : {0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1.0, 1.15, 1.3, 1.5, 1.75, 2.0, 2.5, 3.0}) {
      const int n = std::max(static_cast<int>(std::lround(plan_.seeds * factor)), 1);
      if (!plan_.curve.empty() && plan_.curve.back().seeds == n) continue;
      plan_.curve.push_back({n, chance(n)});
    }
  }

  Study& study_;
  Plan& plan_;
  Look look_;
  SeedAnswer answer_;
  std::vector<int> days_;  ///< that it is the answer for; none: there is none yet
  BenchHabit habit_;
};

/// The sowing days of before are still days on which this goal can be sown.
bool can_sow_as_before(const Study& study, SowingRange range) {
  const auto& days = study.sow_days();
  return !days.empty() && static_cast<int>(days.size()) <= study.goal().sessions.sowings_at_most &&
         std::ranges::all_of(days, [&](int day) { return day >= range.first && day <= range.last; });
}

/// The strike rule in few words: where it changes by less, it is said once.
std::vector<StrikeStep> strike_steps(const Study& study, const std::vector<SessionPlan>& sessions) {
  constexpr double kSame = 0.15;
  const Model& model = study.outlook(Look::whole).model();
  std::vector<StrikeStep> steps;
  for (const SessionPlan& session : sessions) {
    const auto s =
        std::ranges::lower_bound(model.sessions().day, model.day(session.date)) - model.sessions().day.begin();
    const auto place = static_cast<double>(model.sessions().strike_from[static_cast<std::size_t>(s)]);
    if (steps.empty() || std::abs(place - steps.back().place) > kSame) steps.push_back({session.date, place});
  }
  return steps;
}

/// What the plan counts on where it leads through the cold.
void remark_on_cold(const Study& study, std::span<const Sowing> sowings, Plan& plan) {
  constexpr double kWorthSaying = 0.02;
  const ColdToll toll = cold_toll(study.outlook(Look::whole).model(), sowings, plan.seeds, plan.shares);
  const auto say = [&](RemarkKind kind, double share) {
    if (share >= kWorthSaying) plan.remarks.push_back({.kind = kind, .share = share});
  };
  say(RemarkKind::cold_seed, toll.seeds);
  say(RemarkKind::cold_seedlings, toll.seedlings);
  say(RemarkKind::cold_cuttings, toll.cuttings);
}

void remark_on_long_days(Plan& plan) {
  const auto longest = std::ranges::max_element(plan.sessions, {}, &SessionPlan::hours);
  if (longest == plan.sessions.end() || longest->hours <= kLongDay_h) return;
  plan.remarks.push_back({.kind = RemarkKind::long_day,
                          .date = longest->date,
                          .cuttings = longest->cuttings.typical,
                          .hours = longest->hours});
}

/// What the sweep found roughly gives way to the answer, which stands there even where the sweep had not looked.
void put_answer_into_sweep(const SeedAnswer& answer, Plan& plan) {
  if (plan.sow_dates.size() != 1) return;
  const SowingPoint own{plan.sow_dates.front(), answer.seeds, answer.best_chance};
  const auto at = std::ranges::lower_bound(plan.sweep, own.sow, {}, &SowingPoint::sow);
  if (at != plan.sweep.end() && at->sow == own.sow) {
    *at = own;
  } else {
    plan.sweep.insert(at, own);
  }
}

/// No day to sow or no session of use.
void explain_empty_season(const Study& study, SowingRange range, bool any_session, Plan& plan) {
  leave_unsown(study.goal(), plan);
  if (range.first > range.last) {
    plan.limits.push_back({.kind = LimitKind::no_sowing_day, .date = study.sums().first + Days{range.first}});
  }
  if (!any_session) plan.limits.push_back({.kind = LimitKind::no_session});
}

/// What stands in the way of a goal out of reach, and the nearest that is not.
Steps<double> explain(Study& study, std::optional<int> own_day, double best_chance, Plan& plan) {
  const Model& rough = study.outlook(Look::rough).model();
  for (Steps<double> steps = name_limits(rough, study.weather(), own_day, study.workers(), plan); steps.next();) {
    co_yield steps.said() / 2;
  }
  for (Steps<double> steps = find_nearest_goal(rough, own_day, best_chance, study.workers(), plan); steps.next();) {
    co_yield (1 + steps.said()) / 2;
  }
  if (!plan.limits.empty()) co_return;
  plan.limits.push_back(study.goal().sessions.cuttings_at_most
                            ? Limit{.kind = LimitKind::room, .sessions = rough.sessions().count()}
                            : Limit{.kind = LimitKind::rates});
}

/// On the sowing days of before: quickly, then exactly.
Steps<PlanStep> answer_as_before(Study& study, Answering& answering, Plan& plan) {
  co_yield {0, PlanPart::quick_look};
  Answering quick(study, plan, Look::rough);
  if (!quick.find_number()) co_return;
  quick.tell_number();
  plan.stage = PlanStage::quick;
  co_yield {kDatesBegin / 2, PlanPart::seed_number};
  if (!answering.find_number()) co_return;
  answering.tell_number();
  plan.stage = PlanStage::number;
}

/// The rhythms were asked roughly, before the day was chosen: now the one that is held is known, and the others beside
/// it.
void put_answer_into_rhythms(const SeedAnswer& answer, Plan& plan) {
  const auto chosen = std::ranges::find(plan.rhythms, plan.habit.rhythm, &RhythmPoint::rhythm);
  if (chosen == plan.rhythms.end()) return;
  if (answer.seeds && chosen->seeds) {
    const double by = static_cast<double>(*answer.seeds) / *chosen->seeds;
    for (RhythmPoint& point : plan.rhythms) {
      if (point.seeds) point.seeds = std::max(static_cast<int>(std::lround(*point.seeds * by)), 1);
    }
  }
  chosen->seeds = answer.seeds;
  chosen->best_assurance = answer.best_chance;
}

/// Nothing can be sown, or no session held.
Steps<PlanStep> answer_for_empty_season(Study& study, SowingRange range, bool any_session, Plan& plan) {
  explain_empty_season(study, range, any_session, plan);
  for (Steps<double> steps = explain(study, {}, 0, plan); steps.next();)
    co_yield {steps.said(), PlanPart::nearest_goal};
}

/// When to sow and to strike, and how many seeds it takes then. `sweep` is filled.
Steps<PlanStep> choose_and_answer(Study& study, SowingRange range, Answering& answering, SowingSweep& sweep,
                                  Plan& plan) {
  co_yield {kDatesBegin, PlanPart::sowing_dates};
  for (Steps<double> steps = choose_days(study, range, sweep, plan.rhythms); steps.next();) {
    co_yield {kDatesBegin + (kNumberBegins - kDatesBegin) * steps.said(), PlanPart::sowing_dates};
  }
  plan.habit = study.habit();
  co_yield {kNumberBegins, PlanPart::seed_number};
  if (!answering.is_found()) answering.find_number();
  put_answer_into_rhythms(answering.answer(), plan);
  plan.sweep = sweep.points;
  plan.waits_for_warmth = sweep.waits_for_warmth;
  if (sweep.last_day) plan.last_sowing = study.sums().first + Days{*sweep.last_day};
}

/// A goal out of reach: why, and so many seeds as help.
Steps<PlanStep> explain_unmet(Study& study, double best_chance, Plan& plan) {
  for (Steps<double> steps = explain(study, study.sow_days().front(), best_chance, plan); steps.next();) {
    co_yield {kNearestBegins + (kSessionsBegin - kNearestBegins) * steps.said(), PlanPart::nearest_goal};
  }
  if (study.goal().seeds_in_hand) co_return;
  if (best_chance < kWorthSowing) {
    leave_unsown(study.goal(), plan);
  } else {
    plan.seeds = seeds_that_help(study, plan.shares, best_chance);
  }
}

/// What follows from a number of seeds and its days.
void describe_season(Study& study, Plan& plan) {
  fill_timetable(study.outlook(Look::whole).model(), study.sowings(Look::whole), plan);
  for (RhythmPoint& point : plan.rhythms) {
    if (point.rhythm != plan.habit.rhythm) continue;
    const auto usual = std::ranges::count_if(plan.sessions, &SessionPlan::is_usual);
    point.days = usual > 0 ? static_cast<int>(usual) : static_cast<int>(plan.sessions.size());
  }
  plan.strike = strike_steps(study, plan.sessions);
  fill_needs(study.goal(), plan);
  remark_on_cold(study, study.sowings(Look::whole), plan);
  remark_on_long_days(plan);
}

/// What would save seed, or sureness where seeds are in hand, and what not knowing costs.
Steps<PlanStep> describe_value(Study& study, const SeedAnswer& answer, Plan& plan) {
  const Model& rough = study.outlook(Look::rough).model();
  if (!answer.seeds) co_return;
  if (!study.goal().seeds_in_hand) {
    for (Steps<double> steps = name_limits(rough, study.weather(), study.sow_days().front(), study.workers(), plan);
         steps.next();) {
      co_yield {kSessionsBegin + (kUnknownsBegin - kSessionsBegin) * steps.said(), PlanPart::limits};
    }
  }
  const AskedSowings asked{study.sowings(Look::rough), plan.shares, plan.seeds};
  for (Steps<double> steps = cost_of_not_knowing(rough, asked, study.workers(), plan.unknowns); steps.next();) {
    co_yield {kUnknownsBegin + (1 - kUnknownsBegin) * steps.said(), PlanPart::unknowns};
  }
}

}  // namespace

Steps<PlanStep> plan_in_steps(Study& study, Plan& plan) {
  const Goal& goal = study.goal();
  const SowingRange range = sowing_range(goal, study.sums());
  plan = Plan{};
  plan.weather = study.weather().origin;
  plan.futures = study.futures().count();
  const bool any_session =
      study.outlook(Look::rough).model().sessions().count() > 0 || session_days(goal, study.sums()).count() > 0;
  if (range.first > range.last || !any_session) {
    co_yield answer_for_empty_season(study, range, any_session, plan);
    plan.stage = PlanStage::whole;
    co_return;
  }
  Answering answering(study, plan, Look::whole);
  if (can_sow_as_before(study, range)) co_yield answer_as_before(study, answering, plan);
  SowingSweep sweep;
  co_yield choose_and_answer(study, range, answering, sweep, plan);
  const SeedAnswer& answer = answering.answer();
  if (!answer.seeds) co_yield explain_unmet(study, answer.best_chance, plan);
  if (plan.seeds > 0) {
    answering.describe_number();
    if (plan.met && !goal.seeds_in_hand) {
      const Date chosen = study.sums().first + Days{study.sow_days().back()};
      plan.last_sowing = std::max(plan.last_sowing.value_or(chosen), chosen);
    }
    plan.stage = PlanStage::dates;
    co_yield {kSessionsBegin, PlanPart::sessions};
    describe_season(study, plan);
    co_yield describe_value(study, answer, plan);
    put_answer_into_sweep(answer, plan);
  }
  plan.stage = PlanStage::whole;
}

Plan make_plan(const Goal& goal, const climate::WeatherSeasons& weather, const PlanOptions& options) {
  const auto say = [&](PlanStep step) {
    if (options.progress) options.progress(step);
  };
  say({0, PlanPart::warmth});
  Study study(goal, weather, {.seed = options.seed, .workers = options.workers});
  Plan plan;
  for (Steps<PlanStep> steps = plan_in_steps(study, plan); steps.next();) say(steps.said());
  say({1, PlanPart::done});
  return plan;
}

}  // namespace strikebed::season

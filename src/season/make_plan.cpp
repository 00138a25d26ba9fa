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

constexpr double kErrorScore = 1.796;  // 95 % point of Student's t: the error itself is known from 12 replicates only
static_assert(kReplicates == 12);
constexpr double kLongDay_h = 10;  // at the bench
constexpr double kHardWon = 0.05;  // more sureness for twice the seeds
constexpr double kHardly = 0.04;   // less sureness for far fewer seeds

/// The share of the work at which a part begins.
constexpr double kDatesBegin = 0.1;
constexpr double kNumberBegins = 0.6;
constexpr double kNearestBegins = 0.65;
constexpr double kSessionsBegin = 0.7;
constexpr double kUnknownsBegin = 0.75;

/// The day that the plan sows on first; nothing where it is too late to sow on top of the goal's own sowings.
std::optional<int> first_sow_day(const Study& study) {
  return study.sow_days().empty() ? std::nullopt : std::optional(study.sow_days().front());
}

/// Nothing need be sown on top of them.
bool own_are_enough(const Goal& goal, const SeedAnswer& answer) { return answer.seeds == 0 && !goal.seeds_in_hand; }

/// For a goal out of reach: the fewest seeds, by halving, that make it hardly less sure than as many as are sensible.
int seeds_that_help(Study& study, std::span<const double> shares, double best) {
  int seeds = sensible_seeds(study.goal());
  const double enough = study.goal().sown.empty() ? std::max(best - kHardly, kWorthSowing) : best - kHardly;
  const int fewest = study.goal().sown.empty() ? 1 : 0;
  while (seeds > fewest && study.how_sure(seeds / 2, shares, Look::whole).chance >= enough) seeds /= 2;
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
    tell_number();
    describe_range();
    describe_half();
    describe_curve();
  }

 private:
  [[nodiscard]] double chance(int seeds) { return study_.how_sure(seeds, plan_.shares, look_).chance; }

  /// The numbers that the error of the assurance leaves open.
  void describe_range() {
    const Goal& goal = study_.goal();
    if (!answer_.seeds || *answer_.seeds == 0 || goal.seeds_in_hand || !(plan_.assurance_error > 0)) return;
    constexpr double kTolerance = 0.001;
    const double error = kErrorScore * plan_.assurance_error;
    const auto at = [&](double level) {
      return smallest_seeds([&](int seeds) { return chance(seeds); }, std::clamp(level, 1e-4, 1 - 1e-9), plan_.seeds,
                            kMostSeeds, kTolerance)
          .value_or(kMostSeeds);
    };
    plan_.seeds_low = std::min(at(goal.assurance - error), plan_.seeds);
    plan_.seeds_high = std::max(at(goal.assurance + error), plan_.seeds);
  }

  void describe_sowings() { fill_sowings(study_.outlook(look_).model(), study_.sowings(look_), plan_); }

  /// Half of all that is sown: what of it would still come on top.
  void describe_half() {
    const Goal& goal = study_.goal();
    plan_.half.reset();
    const int half = (plan_.seeds - goal.own_seeds()) / 2;
    if (!plan_.met || goal.seeds_in_hand || half < 0 || plan_.seeds == 0) return;
    const CurvePoint point{half, chance(half)};
    if (point.assurance > goal.assurance - kHardWon) plan_.half = point;
  }

  void describe_curve() {
    plan_.curve.clear();
    if (plan_.seeds == 0) return describe_curve_on_top();
    for (const double factor : {0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1.0, 1.15, 1.3, 1.5, 1.75, 2.0, 2.5, 3.0}) {
      const int n = std::max(static_cast<int>(std::lround(plan_.seeds * factor)), 1);
      if (!plan_.curve.empty() && plan_.curve.back().seeds == n) continue;
      plan_.curve.push_back({n, chance(n)});
    }
  }

  /// Nothing need come on top of the goal's own sowings: what would be surer.
  void describe_curve_on_top() {
    if (study_.sow_days().empty()) return;
    plan_.curve.push_back({0, plan_.assurance});
    for (const double part : {0.05, 0.1, 0.2, 0.3, 0.5}) {
      const int n = std::max(static_cast<int>(std::lround(part * study_.goal().own_seeds())), 1);
      if (n > plan_.curve.back().seeds) plan_.curve.push_back({n, chance(n)});
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
         std::ranges::all_of(days, [&](int day) { return range.holds(day); });
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
  if (range.is_empty()) {
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
  // A bench that is said to be too cold or too hot says why no session can be held.
  const auto of_bench = [](const Limit& limit) {
    return (limit.kind == LimitKind::cold || limit.kind == LimitKind::hot) && limit.bench;
  };
  if (std::ranges::any_of(plan.limits, of_bench)) {
    std::erase_if(plan.limits, [](const Limit& limit) { return limit.kind == LimitKind::no_session; });
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
  if (answer.seeds.value_or(0) > 0 && chosen->seeds.value_or(0) > 0) {
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
  if (range.is_empty()) {
    study.sow_on({});  // it is too late for more than the goal's own sowings
  } else {
    for (Steps<double> steps = choose_days(study, range, sweep, plan.rhythms); steps.next();) {
      co_yield {kDatesBegin + (kNumberBegins - kDatesBegin) * steps.said(), PlanPart::sowing_dates};
    }
  }
  plan.habit = study.habit();
  co_yield {kNumberBegins, PlanPart::seed_number};
  if (!answering.is_found()) answering.find_number();
  put_answer_into_rhythms(answering.answer(), plan);
  if (own_are_enough(study.goal(), answering.answer())) co_return;
  plan.sweep = sweep.points;
  plan.stagger = sweep.stagger;
  plan.waits_for_warmth = sweep.waits_for_warmth;
  if (sweep.last_day) plan.last_sowing = study.sums().first + Days{*sweep.last_day};
}

/// A goal out of reach: why, and so many seeds as help.
Steps<PlanStep> explain_unmet(Study& study, double best_chance, Plan& plan) {
  for (Steps<double> steps = explain(study, first_sow_day(study), best_chance, plan); steps.next();) {
    co_yield {kNearestBegins + (kSessionsBegin - kNearestBegins) * steps.said(), PlanPart::nearest_goal};
  }
  if (study.goal().seeds_in_hand) co_return;
  if (best_chance < kWorthSowing && study.goal().sown.empty()) {
    leave_unsown(study.goal(), plan);
  } else {
    plan.seeds = seeds_that_help(study, plan.shares, best_chance);
  }
}

/// Whether more sowings could do anything about the queue: there may be none.
void remark_on_full_sessions(const Goal& goal, Plan& plan) {
  if (!plan.stagger || !goal.sessions.cuttings_at_most) return;
  const double full = *goal.sessions.cuttings_at_most - 0.5;
  plan.stagger->rarely_full =
      std::ranges::none_of(plan.sessions, [full](const SessionPlan& session) { return session.cuttings.high >= full; });
}

/// What follows from a number of seeds and its days.
void describe_season(Study& study, Plan& plan) {
  fill_timetable(study.outlook(Look::whole).model(), study.sowings(Look::whole), plan);
  for (RhythmPoint& point : plan.rhythms) {
    if (point.rhythm != plan.habit.rhythm) continue;
    const auto usual = std::ranges::count_if(plan.sessions, &SessionPlan::is_usual);
    point.days = usual > 0 ? static_cast<int>(usual) : static_cast<int>(plan.sessions.size());
  }
  remark_on_full_sessions(study.goal(), plan);
  plan.strike = strike_steps(study, plan.sessions);
  fill_needs(study.goal(), plan);
  remark_on_cold(study, study.sowings(Look::whole), plan);
  remark_on_long_days(plan);
}

/// What would save seed, or sureness where seeds are in hand, and what not knowing costs.
Steps<PlanStep> describe_value(Study& study, const SeedAnswer& answer, Plan& plan) {
  const Model& rough = study.outlook(Look::rough).model();
  if (!answer.seeds || own_are_enough(study.goal(), answer)) co_return;
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
  if ((range.is_empty() && goal.sown.empty()) || !any_session) {
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
  if (plan.seeds > 0 || !goal.sown.empty()) {
    answering.describe_number();
    if (plan.met && plan.seeds > 0 && !goal.seeds_in_hand) {
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

#include "season/study.hpp"

#include <algorithm>
#include <utility>

#include "season/in_pots.hpp"
#include "season/limits.hpp"
#include "season/own_seedlings.hpp"

namespace strikebed::season {
namespace {

constexpr int kRoughReplicates = 3;                        // are enough to compare dates
constexpr BenchHabit kFirstHabit{.rhythm = Rhythm::week};  // until one is chosen
constexpr Days kSlack{90};                                 // a `by` so much later does without more weather, where
                                                           // no winter need be over

/// To ask what a later date would do; what becomes of a season that is under way is asked for its own date alone.
Date weather_until(const Goal& goal, const Observed* seen) {
  constexpr Days kMargin{5};
  return (seen ? goal.by : last_later_date(goal)) + kMargin;
}

Date first_date(const Goal& goal) {
  Date first = std::min(goal.today, goal.sow_on.value_or(goal.today));
  for (const Sown& sown : goal.sown) first = std::min(first, sown.on);
  return first;
}

std::shared_ptr<const ThermalSums> shared_sums(const Goal& goal, const climate::WeatherSeasons& weather,
                                               const Workers& workers) {
  return std::make_shared<const ThermalSums>(thermal_sums(goal, weather, workers));
}

LearntFutures learn(const Setting& setting, const Observed* seen, Futures prior, const Workers& workers) {
  if (seen) return learnt_futures(setting, *seen, prior, workers);
  return {std::move(prior), {}};
}

}  // namespace

WeatherSpan weather_span(const Goal& goal, const Observed* seen) {
  Date first = first_date(goal);
  if (seen) {
    for (const SeenStrike& strike : seen->strikes) first = std::min(first, strike.on);
  }
  return {first, static_cast<int>((weather_until(goal, seen) - first).count())};
}

Study::Study(Goal goal, climate::WeatherSeasons weather, const StudyOptions& options)
    : workers_(options.workers),
      weather_(std::move(weather)),
      sums_(shared_sums(goal, weather_, workers_)),
      seen_(options.seen),
      learnt_(learn(setting_of(goal, sums_, kFirstHabit), seen_.get(),
                    Futures(weather_.count, kReplicates, kLog2Points, options.seed), workers_)),
      whole_(setting_for(goal, kFirstHabit), learnt_.futures, workers_),
      rough_(whole_.model().setting(), learnt_.futures.first(kRoughReplicates), Workers{}) {}

Setting Study::setting_for(Goal goal, const BenchHabit& habit, const Setting* before) const {
  Setting setting = setting_of(std::move(goal), sums_, habit);
  if (!seen_) return setting;
  setting.own = own_seedlings(setting.goal, *sums_, *seen_);
  setting.in_pots =
      before && leaves_what_is_in_pots(*before, setting)
          ? before->in_pots
          : std::make_shared<const InPots>(plants_in_pots(setting, *seen_, learnt_.strikes, learnt_.futures, workers_));
  return setting;
}

bool Study::weather_reaches(const Goal& goal) const {
  const Days slack = goal.reaches(Rung::winter) || seen_ ? Days{0} : kSlack;
  return first_date(goal) >= weather_.first &&
         weather_until(goal, seen_.get()) - slack <= weather_.first + Days{weather_.days};
}

void Study::change(Goal goal) {
  if (!same_warmth(goal, this->goal())) sums_ = shared_sums(goal, weather_, workers_);
  const Setting setting = setting_for(std::move(goal), habit(), &whole_.model().setting());
  rough_.change(setting);
  whole_.change(setting);
}

void Study::change(Goal goal, climate::WeatherSeasons weather) {
  const std::vector<int> before = std::exchange(sow_days_, {});
  const Days moved = sums_->first - weather.first;
  const std::uint64_t seed = futures().seed();
  *this = Study(std::move(goal), std::move(weather), {.seed = seed, .workers = workers_, .seen = seen_});
  for (const int day : before) sow_days_.push_back(day + static_cast<int>(moved.count()));
}

void Study::change(const Futures& futures) {
  rough_.change(futures.first(kRoughReplicates));
  whole_.change(futures);
}

void Study::sow_on(std::vector<int> days) { sow_days_ = std::move(days); }

void Study::hold_sessions_in(Outlook& outlook, const BenchHabit& habit) {
  if (!goal().sessions.days_said && habit.rhythm != outlook.model().setting().habit.rhythm) {
    Setting setting = outlook.model().setting();
    setting.habit = habit;
    setting.sessions = session_days(setting.goal, *setting.sums, habit);
    outlook.change(std::move(setting));
  }
  outlook.be_patient(habit.patience);
}

void Study::try_sessions(const BenchHabit& habit) { hold_sessions_in(rough_, habit); }

void Study::hold_sessions(const BenchHabit& habit) {
  hold_sessions_in(rough_, habit);
  hold_sessions_in(whole_, habit);
}

std::vector<Sowing> Study::sowings(Look look) {
  std::vector<Sowing> sowings = outlook(look).sowings(sow_days_);
  for (const Sowing& sowing : sowings) outlook(look).keep(sowing);
  return sowings;
}

SeedAnswer Study::seeds_needed(Look look) {
  const Model& model = outlook(look).model();
  return seeds_for(model, sowings(look), model.goal().assurance, sensible_seeds(model.goal()),
                   look == Look::rough ? Precision::quick : Precision::exact);
}

Assurance Study::how_sure(int seeds, std::span<const double> shares, Look look, Precision precision) {
  return outlook(look).model().assurance(sowings(look), seeds, shares, precision);
}

Steps<double> Study::sweep(SowingSweep& sweep, int comb) { return sweep_sowings(rough_, comb, workers_, sweep); }

int Study::surest_day(int seeds) {
  return surest_day_for(rough_, sowing_range(goal(), *sums_), kComb, seeds, workers_);
}

}  // namespace strikebed::season

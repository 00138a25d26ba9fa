#include "season/still_possible.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "season/foreseen.hpp"
#include "season/seed_search.hpp"

namespace strikebed::season {
namespace {

constexpr double kHelps = 0.005;  // less is not worth a step
constexpr int kComb = 12;         // sowing dates tried before the finer look

/// Of what is struck when there is room for all, what there is no room for now.
std::vector<CuttingsMore> no_room_for(const std::vector<SessionForecast>& now,
                                      const std::vector<SessionForecast>& then) {
  std::vector<CuttingsMore> more;
  for (const SessionForecast& session : then) {
    const auto same = std::ranges::find(now, session.date, &SessionForecast::date);
    const double before = same == now.end() ? 0 : same->struck.typical;
    const auto number = static_cast<int>(std::lround(session.struck.typical - before));
    if (number > 0) more.push_back({session.date, number});
  }
  return more;
}

/// Tries steps in few futures, against nothing done in the same.
class Trying {
 public:
  Trying(Study& study, const Forecast& forecast)
      : study_(study),
        forecast_(forecast),
        model_(study.outlook(Look::rough).model()),
        now_(model_, study.outlook(Look::rough).sowings({}), 0) {}

  void have_room() {
    Setting setting = model_.setting();
    if (!setting.goal.sessions.cuttings_at_most) return;
    setting.goal.sessions.cuttings_at_most.reset();
    const Model roomy = model_.asked_for(std::move(setting));
    const Foreseen then(roomy, now_.sowings(), 0);
    add({.kind = StepKind::strike_more, .cuttings = no_room_for(now_.sessions(), then.sessions())}, then);
  }
  void hold_sessions_daily() {
    Setting setting = model_.setting();
    if (!setting.goal.sessions.days_said) return;
    setting.goal.sessions.weekdays.fill(true);
    setting.goal.sessions.dates.reset();
    setting.sessions = session_days(setting.goal, *setting.sums, setting.habit);
    const Model daily(std::move(setting), model_.futures(), study_.workers());
    add({.kind = StepKind::more_sessions}, Foreseen(daily, daily.sown(), 0));
  }
  void sow_more() {
    const Goal& goal = study_.goal();
    if (sowing_range(goal, study_.sums()).is_empty()) return;
    SowingSweep sweep;
    for (auto days = study_.sweep(sweep, kComb); days.next();) {
    }
    const int day = sweep.best_day.value_or(sweep.surest_day);
    PossibleStep step{.kind = StepKind::sow, .date = model_.date(day)};
    if (goal.lot.chill_days > 0) step.chill_from = step.date - Days{goal.lot.chill_days};
    study_.sow_on({day});
    if (sweep.best_day) {
      step.seeds = study_.seeds_needed(Look::rough).seeds.value_or(sensible_seeds(goal));
      if (sweep.last_day) made.last_sowing = model_.date(*sweep.last_day);
    } else {
      step.seeds = std::max(goal.own_seeds(), 1);  // as many again
    }
    add(step, Foreseen(model_, study_.sowings(Look::rough), step.seeds));
    study_.sow_on({});
  }

  StillPossible made;

 private:
  void add(PossibleStep step, const Foreseen& then) {
    step.assurance = std::clamp(forecast_.assurance + then.sure().chance - now_.sure().chance, 0.0, 1.0);
    step.more_plants = then.plants() - now_.plants();
    if (step.assurance > forecast_.assurance + kHelps) made.steps.push_back(std::move(step));
  }

  Study& study_;
  const Forecast& forecast_;
  const Model& model_;
  Foreseen now_;
};

}  // namespace

StillPossible still_possible(Study& study, const Forecast& forecast) {
  if (forecast.met) return {};
  Trying steps(study, forecast);
  steps.have_room();
  steps.hold_sessions_daily();
  steps.sow_more();
  return std::move(steps.made);
}

}  // namespace strikebed::season

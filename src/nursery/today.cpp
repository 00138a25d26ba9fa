#include "nursery/today.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "nursery/daybook/season_so_far.hpp"
#include "season/forecast.hpp"
#include "season/milestones.hpp"

namespace strikebed::nursery {
namespace {

using daybook::Batch;
using daybook::Entry;
using daybook::EntryId;
using print::Due;
using print::DueKind;

// How often to look, and how long something may wait: common practice, no source.
constexpr Days kWeek{7};
constexpr Days kSlack{3};
constexpr Days kBetweenRootLooks{14};
constexpr Days kSowingApart{21};  ///< a sowing so far from the planned day may still be it
constexpr Days kAfterWinter{30};

/// The daybook at the end of a day.
daybook::State state_on(Date day, daybook::Fold& fold) {
  daybook::Moment last{};
  for (const EntryId& id : fold.ids()) {
    const daybook::Moment& happened = fold.find(id)->happened;
    if (local_day(happened) <= day && happened.ms > last.ms) last = happened;
  }
  return fold.as_of(last);
}

class Gathering {
 public:
  Gathering(SeasonSoFar& so_far, daybook::Fold& fold)
      : so_far_(so_far),
        goal_(so_far.goal()),
        today_(so_far.goal().today),
        fold_(fold),
        state_(state_on(today_, fold)) {
    add_planned();
    if (so_far.study) {
      add_trays();
      add_sessions();
      add_strikes();
    }
    add_solutions();
    add_winter_and_count();
    std::ranges::stable_sort(due, {}, [](const Due& one) { return std::tuple(one.from, one.kind, one.code); });
  }

  std::vector<Due> due;
  bool has_plan = false;

 private:
  [[nodiscard]] const Batch* batch_of(const std::vector<EntryId>& batches, std::size_t i) const {
    const auto at = i < batches.size() ? state_.batches.find(batches[i]) : state_.batches.end();
    return at == state_.batches.end() ? nullptr : &at->second;
  }
  /// The last day on which an entry of a batch says something, until today.
  template <class Says>
  [[nodiscard]] std::optional<Date> last_day(const Batch& batch, const Says& says) const {
    std::optional<Date> last;
    for (const EntryId& id : batch.entries) {
      const Entry* entry = fold_.find(id);
      if (!entry || local_day(entry->happened) > today_ || !says(entry->body)) continue;
      last = std::max(last.value_or(Date::min()), local_day(entry->happened));
    }
    return last;
  }
  [[nodiscard]] static auto counted(bool (*says)(const daybook::Counted&)) {
    return [says](const daybook::Body& body) {
      const auto* count = std::get_if<daybook::Counted>(&body);
      return count && says(*count);
    };
  }
  template <class Kind>
  [[nodiscard]] static bool is_a(const daybook::Body& body) {
    return std::holds_alternative<Kind>(body);
  }

  /// The last plan that was noted for the goal.
  [[nodiscard]] const daybook::PlanChosen* plan() const {
    if (!so_far_.goal_so_far.id) return nullptr;
    const auto record = state_.goals.find(*so_far_.goal_so_far.id);
    if (record == state_.goals.end() || record->second.plans.empty()) return nullptr;
    const Entry* entry = fold_.find(record->second.plans.back());
    return entry ? std::get_if<daybook::PlanChosen>(&entry->body) : nullptr;
  }
  /// Batches of seed of the season that are in the cold and not sown.
  [[nodiscard]] std::vector<const Batch*> in_the_cold() const {
    std::vector<const Batch*> batches;
    for (const auto& [id, batch] : state_.batches) {
      if (batch.holds != daybook::Holds::seeds || local_day(batch.began) < so_far_.goal_so_far.season.from) continue;
      if (last_day(batch, is_a<daybook::Chilled>) && !last_day(batch, is_a<daybook::Sown>)) batches.push_back(&batch);
    }
    return batches;
  }
  void add_planned() {
    const daybook::PlanChosen* chosen = plan();
    has_plan = chosen != nullptr;
    if (!chosen) return;
    std::vector<Date> noted = sown_days();
    std::vector<const Batch*> cold = in_the_cold();
    for (const daybook::SowingPlanned& planned : chosen->sowings) {
      const auto done = std::ranges::find_if(
          noted, [&](Date sown) { return sown > planned.on - kSowingApart && sown < planned.on + kSowingApart; });
      if (done != noted.end()) {
        noted.erase(done);
        continue;
      }
      const Due sow{.kind = DueKind::sow,
                    .from = planned.on,
                    .until = planned.on + kWeek,
                    .name = goal_.lot.name,
                    .since = {},
                    .number = planned.seeds};
      // Those in the cold are for it, until they are enough.
      daybook::Plants chilled = 0;
      while (!cold.empty() && chilled < planned.seeds) {
        due.push_back(sow);
        due.back().code = cold.front()->code;
        due.back().number = static_cast<int>(cold.front()->left.value_or(planned.seeds));
        chilled += *due.back().number;
        cold.erase(cold.begin());
      }
      if (chilled > 0) continue;
      due.push_back(sow);
      if (goal_.lot.chill_days == 0) continue;
      const Date begins = planned.on - Days{goal_.lot.chill_days};
      due.push_back({.kind = DueKind::chill,
                     .from = begins - kSlack,
                     .until = begins + kSlack,
                     .name = goal_.lot.name,
                     .since = planned.on,
                     .number = planned.seeds});
    }
  }
  /// Of the season's sowings, until today.
  [[nodiscard]] std::vector<Date> sown_days() const {
    std::vector<Date> days;
    for (const season::Sown& sown : so_far_.seen.sown) days.push_back(sown.on);
    for (const auto& [id, batch] : state_.batches) {
      if (batch.holds == daybook::Holds::seeds && last_day(batch, is_a<daybook::Sown>) == today_)
        days.push_back(today_);
    }
    return days;
  }

  void add_trays() {
    const std::vector<season::SowingMilestones> days = season::milestones_of_sowings(*so_far_.study);
    for (std::size_t i = 0; i < days.size(); ++i) {
      const Batch* batch = batch_of(so_far_.seen.sown_as, i);
      if (!batch || batch->left == 0) continue;
      add_count_of_emerged(*batch, days[i]);
      add_look_at_stems(*batch, days[i]);
    }
  }
  void add_count_of_emerged(const Batch& batch, const season::SowingMilestones& days) {
    const auto last = last_day(batch, counted([](const daybook::Counted& one) { return one.emerged.has_value(); }));
    const Date from = last ? *last + kWeek : days.first_up.typical;
    if (last && *last >= days.all_up.typical) return;
    due.push_back({.kind = DueKind::count_emerged,
                   .from = from,
                   .until = last ? from + kSlack : std::max(days.all_up.typical, from + kSlack),
                   .code = batch.code,
                   .since = last});
  }
  void add_look_at_stems(const Batch& batch, const season::SowingMilestones& days) {
    const auto last = last_day(batch, counted([](const daybook::Counted& one) { return one.red || one.turning; }));
    if (last && std::ranges::none_of(sessions(), [&](const season::SessionForecast& one) { return one.date > *last; }))
      return;
    const Date from = last ? *last + kWeek : days.ready.typical - kSlack;
    due.push_back({.kind = DueKind::look_at_stems,
                   .from = from,
                   .until = from + (last ? kSlack : kWeek),
                   .code = batch.code,
                   .since = last});
  }

  /// Sessions to come at which there is something to strike.
  [[nodiscard]] const std::vector<season::SessionForecast>& sessions() {
    if (!sessions_) {
      sessions_ = season::forecast_of(*so_far_.study).sessions;
      std::erase_if(*sessions_, [](const season::SessionForecast& one) { return one.struck.typical < 0.5; });
    }
    return *sessions_;
  }
  void add_sessions() {
    const growth::Method& method = goal_.wants.front().method;
    for (const season::SessionForecast& session : sessions()) {
      if (is_struck_on(session.date)) continue;
      Due strike{.kind = DueKind::strike,
                 .from = session.date,
                 .until = session.date,
                 .since = {},
                 .cuttings = session.struck};
      Due ready = strike;
      ready.kind = DueKind::make_ready;
      ready.from = ready.until = session.date - Days{1};
      ready.number = static_cast<int>(std::ceil(session.struck.high / method.cuttings_per_container.typical()));
      ready.solution_ml =
          std::ceil(session.struck.high / method.cuttings_per_fill.typical()) * method.solution_ml_per_fill.typical();
      if (ready.until >= today_) due.push_back(std::move(ready));
      due.push_back(std::move(strike));
    }
  }
  [[nodiscard]] bool is_struck_on(Date day) const {
    return std::ranges::any_of(state_.batches, [&](const auto& one) {
      return one.second.holds == daybook::Holds::cuttings && last_day(one.second, is_a<daybook::Struck>) == day;
    });
  }

  void add_strikes() {
    const std::vector<season::StrikeMilestones> days =
        season::milestones_of_strikes(*so_far_.study, so_far_.seen.observed);
    for (std::size_t j = 0; j < days.size(); ++j) {
      const Batch* batch = batch_of(so_far_.seen.struck_into, j);
      if (!batch || batch->left == 0) continue;
      add_look_for_roots(*batch, so_far_.seen.observed.strikes[j], days[j]);
      const bool has_roots = batch->rooting && batch->rooting->rooted > 0;
      if (has_roots && !last_day(*batch, is_a<daybook::WeaningStep>)) {
        due.push_back({.kind = DueKind::wean,
                       .from = std::min(days[j].most_rooted.typical, days[j].weaned.typical),
                       .until = days[j].weaned.typical,
                       .code = batch->code,
                       .since = {}});
      }
    }
  }
  void add_look_for_roots(const Batch& batch, const season::SeenStrike& strike, const season::StrikeMilestones& days) {
    const auto last = last_day(batch, counted([](const daybook::Counted& one) { return one.rooted.has_value(); }));
    const bool none_waits = batch.rooting && batch.rooting->undecided == 0;
    if (last && none_waits) return;
    const Date from = last ? *last + kBetweenRootLooks : days.first_rooted.typical;
    due.push_back({.kind = DueKind::look_for_roots,
                   .from = from,
                   .until = last ? from + kWeek : std::max(days.most_rooted.typical, from + kWeek),
                   .code = batch.code,
                   .since = strike.on});
  }

  void add_solutions() {
    const bool is_needed = std::ranges::any_of(
        due, [&](const Due& one) { return one.kind == DueKind::strike && one.from <= today_ + print::kDueAhead; });
    for (const auto& [id, stock] : state_.stocks) {
      if (!is_needed || stock.kind != daybook::StockKind::mixture || !stock.use_by) continue;
      if (*stock.use_by > today_ + print::kDueAhead || stock.volume_ml.left.value_or(1) <= 0) continue;
      due.push_back({.kind = DueKind::new_solution,
                     .from = *stock.use_by,
                     .until = std::max(*stock.use_by, today_),
                     .name = stock.name,
                     .since = {}});
    }
  }

  void add_winter_and_count() {
    bool any_left = false;
    for (const EntryId& id : so_far_.seen.struck_into) {
      const Batch& batch = state_.batches.at(id);
      if (batch.left == 0) continue;
      any_left = true;
      const auto counted_alive =
          last_day(batch, counted([](const daybook::Counted& one) { return one.alive && !one.sample; }));
      const auto add = [&](Date from, Days lasts) {
        if (counted_alive && *counted_alive >= from - kWeek) return;
        due.push_back(
            {.kind = DueKind::count_plants, .from = from, .until = from + lasts, .code = batch.code, .since = {}});
      };
      add(goal_.by, kWeek);
      if (goal_.winter_ends > goal_.by) add(goal_.winter_ends, kAfterWinter);
    }
    if (any_left && goal_.winter_starts >= today_) {
      due.push_back({.kind = DueKind::shelter,
                     .from = goal_.winter_starts - 2 * kWeek,
                     .until = goal_.winter_starts,
                     .since = {}});
    }
  }

  SeasonSoFar& so_far_;
  const season::Goal& goal_;
  Date today_;
  daybook::Fold& fold_;
  daybook::State state_;
  std::optional<std::vector<season::SessionForecast>> sessions_;
};

}  // namespace

Result<TodayAnswer> today(const DaybookRequest& request, daybook::Fold& fold, const Library& library) {
  auto so_far = season_so_far(request, fold, library);
  if (!so_far.ok()) return so_far.error();
  Gathering gathering(*so_far, fold);
  TodayAnswer answer;
  answer.due = std::move(gathering.due);
  answer.has_plan = gathering.has_plan;
  answer.contradictions = static_cast<int>(daybook::contradictions_of(fold.state()).size());
  answer.remarks = std::move(so_far->goal_so_far.remarks);
  answer.remarks.insert(answer.remarks.end(), so_far->seen.remarks.begin(), so_far->seen.remarks.end());
  answer.goal_name = std::move(so_far->goal_so_far.name);
  answer.goal = std::move(so_far->goal_so_far.goal);
  return answer;
}

namespace {
print::DueShown shown(const TodayAnswer& answer) {
  return {.goal = answer.goal,
          .goal_name = answer.goal_name,
          .today = answer.goal.today,
          .due = answer.due,
          .has_plan = answer.has_plan,
          .contradictions = answer.contradictions,
          .remarks = answer.remarks};
}
}  // namespace

std::string words_of(const TodayAnswer& answer, int width) { return print::due_text(shown(answer), width); }
std::string json_of(const TodayAnswer& answer) { return print::due_json(shown(answer)); }

}  // namespace strikebed::nursery

#include "nursery/daybook/observed.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <optional>
#include <set>
#include <utility>

namespace strikebed::nursery {
namespace {

using namespace daybook;
using season::SeenCount;
using season::SeenSowing;
using season::SeenStrike;
using season::TrayLook;

/// Its own entries and those that mention it, in order, that stand and happened before a day.
std::vector<const Entry*> entries_of(const Batch& batch, Date before, Fold& fold) {
  std::vector<const Entry*> entries;
  for (const EntryId& id : batch.entries) {
    const Entry* entry = fold.find(id);
    if (entry && local_day(entry->happened) < before) entries.push_back(entry);
  }
  return entries;
}

int clipped(Plants number) { return static_cast<int>(std::clamp<Plants>(number, 0, 1'000'000)); }

/// The day on which a batch of seeds was sown; nothing: it was not.
std::optional<Date> sown_on(const Batch& batch, Date before, Fold& fold) {
  std::optional<Date> day;
  for (const Entry* entry : entries_of(batch, before, fold)) {
    if (std::holds_alternative<daybook::Sown>(entry->body) && entry->batch == batch.id)
      day = local_day(entry->happened);
  }
  return day;
}

/// One sowing with the batches that were split off from it.
class SowingReader {
 public:
  SowingReader(const Batch& batch, int seeds, Date today, Fold& fold) : seeds_(seeds), today_(today), fold_(fold) {
    family_.insert(batch.id);
    for (const EntryId& id : descendants(fold.state(), {batch.id})) {
      const auto of = fold.state().batches.find(id);
      if (of != fold.state().batches.end() && of->second.from.size() == 1 &&
          (of->second.holds == Holds::seedlings || of->second.holds == Holds::seeds)) {
        family_.insert(id);
      }
    }
  }
  [[nodiscard]] const std::set<EntryId>& family() const { return family_; }
  [[nodiscard]] const std::set<EntryId>& entries() const { return entries_; }

  SeenSowing read() {
    std::map<EntryId, const Entry*> all;
    for (const EntryId& id : family_) {
      for (const Entry* entry : entries_of(fold_.state().batches.at(id), today_, fold_)) all.emplace(entry->id, entry);
    }
    std::vector<const Entry*> in_order;
    for (const auto& [id, entry] : all) {
      in_order.push_back(entry);
      entries_.insert(id);
    }
    std::ranges::stable_sort(in_order, {}, [](const Entry* entry) { return entry->happened.ms; });
    std::map<Date, Day> days;
    for (const Entry* entry : in_order) {
      if (entry->batch && family_.contains(*entry->batch)) take_in(*entry, days[local_day(entry->happened)]);
    }
    for (auto& [on, day] : days) add_look(on, day);
    return std::move(seen_);
  }

 private:
  struct Day {
    std::optional<Counted> emerged, signs, alive;
    int taken = 0;
    int lost = 0;
  };
  static void take_in(const Entry& entry, Day& day) {
    if (const auto* counted = std::get_if<Counted>(&entry.body)) {
      if (counted->emerged) day.emerged = *counted;
      if (counted->green || counted->turning || counted->red || counted->faded) day.signs = *counted;
      if (counted->alive && !counted->sample) day.alive = *counted;
    } else if (const auto* lost = std::get_if<Lost>(&entry.body)) {
      if (lost->cause != LossCause::never_came_up) day.lost += lost->number;
    } else if (const auto* struck = std::get_if<Struck>(&entry.body)) {
      day.taken += struck->struck + struck->rejected + struck->broken;
    } else if (const auto* handed = std::get_if<HandedOver>(&entry.body)) {
      day.taken += handed->number;
    }
  }
  void add_look(Date on, const Day& day) {
    if (day.emerged) {
      const int of = day.emerged->of.value_or(seeds_);
      seen_.emerged.push_back({on, *day.emerged->emerged, day.emerged->sample ? std::min(of, seeds_) : seeds_});
      if (!day.emerged->sample) up_ = std::max(up_, *day.emerged->emerged);
    }
    lost_ += day.lost;
    evidence::SignCounts signs{};
    int read = 0;
    bool whole = false;
    if (day.signs) {
      signs = {day.signs->green.value_or(0), day.signs->turning.value_or(0), day.signs->red.value_or(0),
               day.signs->faded.value_or(0)};
      for (const int one : signs) read += one;
      whole = !day.signs->sample && family_.size() == 1;
    }
    std::optional<int> standing;
    if (whole) standing = read;
    if (day.alive && family_.size() == 1) standing = *day.alive->alive;
    if (!standing && day.taken == 0 && read == 0) return;
    // What was seen to stand, with what is gone, was up; whoever stood by the book and is not there was lost.
    if (standing) {
      lost_ = std::max(lost_, up_ - gone_ - *standing);
      up_ = std::max(up_, *standing + gone_ + lost_);
    }
    const int there = std::max({standing.value_or(up_ - gone_ - lost_), read, day.taken});
    if (TrayLook* counted = counted_before_session(on, read)) {
      counted->on = on;
      counted->taken = day.taken;
      counted->lost += lost_;
      counted->standing = std::max(counted->standing - lost_, day.taken);
    } else {
      seen_.tray.push_back({on, signs, there, day.taken, lost_});
    }
    gone_ += day.taken + lost_;
    up_ = std::max(up_, gone_);
    lost_ = 0;
  }

  /// The signs that were counted in the days before a session are those that were cut by; none where it has its own.
  TrayLook* counted_before_session(Date on, int read) {
    constexpr Days kLongest{3};
    if (read > 0 || seen_.tray.empty()) return nullptr;
    TrayLook& last = seen_.tray.back();
    const bool counted = last.signs != evidence::SignCounts{};
    return counted && last.taken == 0 && on - last.on <= kLongest ? &last : nullptr;
  }

  int seeds_;
  Date today_;
  Fold& fold_;
  std::set<EntryId> family_;
  SeenSowing seen_;
  std::set<EntryId> entries_;
  int up_ = 0;
  int gone_ = 0;
  int lost_ = 0;  ///< since the last look
};

bool in_the_open(const WeaningStep& step) {
  return step.step == Weaning::open_air || step.step == Weaning::full_sun || step.step == Weaning::finished;
}

/// One batch of cuttings.
SeenStrike read_strike(const Batch& batch, Date on, const season::Goal& goal, Date today, Fold& fold) {
  SeenStrike seen;
  seen.on = on;
  Plants struck = 0;
  Plants left = 0;
  bool is_in_the_open = false;
  int lost_since = 0;
  Date last_loss = on;
  int rooted = 0;
  for (const Entry* entry : entries_of(batch, today, fold)) {
    const Date day = local_day(entry->happened);
    if (const auto* group = std::get_if<Struck>(&entry->body); group && group->into == batch.id) {
      struck += group->struck;
      left += group->struck;
    }
    if (entry->batch != batch.id) continue;
    if (const auto* controls = std::get_if<ControlSetAside>(&entry->body)) {
      struck -= controls->number;
      left -= controls->number;
    } else if (const auto* step = std::get_if<WeaningStep>(&entry->body)) {
      is_in_the_open = is_in_the_open || in_the_open(*step);
    } else if (const auto* lost = std::get_if<Lost>(&entry->body)) {
      lost_since += lost->number;
      left -= lost->number;
      last_loss = day;
    } else if (const auto* handed = std::get_if<HandedOver>(&entry->body)) {
      seen.gone += handed->number;
      left -= handed->number;
    } else if (const auto* counted = std::get_if<Counted>(&entry->body)) {
      if (counted->rooted) {
        const int of =
            counted->of.value_or(*counted->rooted + counted->undecided.value_or(clipped(left) - *counted->rooted));
        if (counted->destructive) {
          seen.lifted.push_back({day, *counted->rooted, of});
          left -= of;
        } else {
          // All that live were looked at: whoever stood by the book and is not there was lost.
          const int missing = counted->sample ? 0 : std::max(clipped(left) - of, 0);
          seen.lost.push_back({day, std::exchange(lost_since, 0) + missing});
          if (!counted->sample) left = of;
          seen.rooted.push_back({day, *counted->rooted, of});
          rooted = *counted->rooted;
        }
      }
      if (counted->alive && !counted->sample) {
        left = *counted->alive;
        if (day >= goal.winter_ends && seen.weaned) {
          seen.wintered = SeenCount{day, *counted->alive, std::max(seen.weaned->good, *counted->alive)};
        } else if (is_in_the_open && rooted > 0) {
          seen.weaned = SeenCount{day, std::min(*counted->alive, rooted), rooted};
          lost_since = 0;
        }
      }
    } else if (const auto* graded = std::get_if<Graded>(&entry->body)) {
      SeenCount sum = seen.graded.value_or(SeenCount{day, 0, 0});
      seen.graded = SeenCount{day, sum.good + graded->fit, sum.of + graded->of};
    }
  }
  seen.struck = clipped(struck);
  // Lost since the last look for roots: of those that had none, as far as there are any.
  const int waiting = std::max(seen.struck - seen.number_lost() - rooted, 0);
  if (lost_since > 0 && waiting > 0) seen.lost.push_back({last_loss, std::min(lost_since, waiting)});
  seen.gone += std::max(lost_since - waiting, 0);
  return seen;
}

/// As it was noted last of a batch; empty: it was not.
std::string method_of(const Batch& batch, const std::vector<const Entry*>& entries) {
  std::string method;
  for (const Entry* entry : entries) {
    const auto* group = std::get_if<Struck>(&entry->body);
    if (group && group->into == batch.id && !group->method.empty()) method = group->method;
  }
  return method;
}

/// What is known of the seed of a batch.
season::Sown sown_of(const Batch& batch, Date on, int seeds, const season::Goal& goal, Date before, Fold& fold) {
  season::Sown sown{on, seeds, goal.lot, goal.rates[season::Rung::germination]};
  const State& state = fold.state();
  if (const auto lot = batch.lot ? state.stocks.find(*batch.lot) : state.stocks.end();
      lot != state.stocks.end() && lot->second.name != goal.lot.name) {
    sown.lot.name = lot->second.name;
    int good = 0;
    int of = 0;
    for (const SeedTest& test : lot->second.tests) {
      good += test.good;
      of += test.of;
    }
    if (of > 0) sown.germination.belief = Tested{static_cast<double>(good), static_cast<double>(of)};
  }
  std::optional<Date> cold;
  for (const Entry* entry : entries_of(batch, before, fold)) {
    if (std::holds_alternative<Chilled>(entry->body)) cold = local_day(entry->happened);
  }
  sown.lot.chill_days = cold && *cold < on ? static_cast<int>((on - *cold).count()) : 0;
  return sown;
}

/// Which of the wants a method is of; a method that was not noted is that of the first.
std::optional<std::size_t> want_of(const season::Goal& goal, const std::string& method) {
  if (method.empty()) return 0;
  for (std::size_t w = 0; w < goal.wants.size(); ++w) {
    if (goal.wants[w].method.id == method) return w;
  }
  return std::nullopt;
}

class SeasonReader {
 public:
  SeasonReader(const season::Goal& goal, SeasonDays days, Fold& fold)
      : goal_(goal), days_(days), fold_(fold), state_(fold.state()) {
    read_sowings();
    read_strikes();
    read_sessions();
    remark(unknown_number_, "sowing", "sowings", "of which nobody said how many seeds: left out");
    remark(pooled_, "batch of cuttings", "batches of cuttings",
           "pooled or split off later, or from elsewhere: what was noted since then is not read");
    remark(other_method_, "batch of cuttings", "batches of cuttings",
           "by a method that the goal does not want: left out");
  }

  SeasonSeen seen;

 private:
  [[nodiscard]] bool is_of_season(Date on) const { return on >= days_.from && on < days_.until; }

  void read_sowings() {
    struct Found {
      const Batch* batch;
      Date on;
      int seeds;
    };
    std::vector<Found> found;
    for (const auto& [id, batch] : state_.batches) {
      if (batch.holds != Holds::seeds) continue;
      const auto on = sown_on(batch, goal_.today, fold_);
      if (!on || !is_of_season(*on)) continue;
      const int seeds = clipped(batch.begun_with.value_or(0));
      if (seeds > 0) found.push_back({&batch, *on, seeds});
      if (seeds == 0) ++unknown_number_;
    }
    std::ranges::stable_sort(found, {}, &Found::on);
    for (const auto& [batch, on, seeds] : found) {
      SowingReader reader(*batch, seeds, goal_.today, fold_);
      seen.observed.sowings.push_back(reader.read());
      for (const EntryId& id : reader.family()) sowing_of_[id] = seen.sown.size();
      seen.entries.insert(reader.entries().begin(), reader.entries().end());
      seen.sown.push_back(sown_of(*batch, on, seeds, goal_, goal_.today, fold_));
      seen.sown_as.push_back(batch->id);
    }
  }

  void read_strikes() {
    std::vector<std::pair<SeenStrike, EntryId>> strikes;
    for (const auto& [id, batch] : state_.batches) {
      if (batch.holds != Holds::cuttings) continue;
      if (auto strike = strike_of(batch)) strikes.emplace_back(std::move(*strike), id);
    }
    std::ranges::stable_sort(strikes, {}, [](const auto& one) { return one.first.on; });
    for (auto& [strike, id] : strikes) {
      seen.observed.strikes.push_back(std::move(strike));
      seen.struck_into.push_back(id);
    }
  }
  std::optional<SeenStrike> strike_of(const Batch& batch) {
    const std::vector<const Entry*> entries = entries_of(batch, goal_.today, fold_);
    std::optional<Date> on;
    std::optional<std::size_t> sowing;
    for (const Entry* entry : entries) {
      const auto* group = std::get_if<Struck>(&entry->body);
      if (!group || group->into != batch.id) continue;
      if (!on) on = local_day(entry->happened);
      if (const auto of = entry->batch ? sowing_of_.find(*entry->batch) : sowing_of_.end(); of != sowing_of_.end())
        sowing = of->second;
    }
    const Date began = local_day(batch.began);
    if (!on && is_of_season(began) && began < goal_.today && batch.left.value_or(0) > 0) ++pooled_;
    if (!on || !is_of_season(*on)) return std::nullopt;
    const auto want = want_of(goal_, method_of(batch, entries));
    if (!want) {
      ++other_method_;
      return std::nullopt;
    }
    SeenStrike strike = read_strike(batch, *on, goal_, goal_.today, fold_);
    strike.sowing = sowing;
    strike.want = *want;
    for (const Entry* entry : entries) seen.entries.insert(entry->id);
    return strike;
  }

  void read_sessions() {
    std::map<Date, SeenCount> sessions;
    std::set<EntryId> counted;
    for (const auto& [id, sowing] : sowing_of_) {
      for (const Entry* entry : entries_of(state_.batches.at(id), goal_.today, fold_)) {
        const auto* group = std::get_if<Struck>(&entry->body);
        if (!group || !counted.insert(entry->id).second) continue;
        const Date on = local_day(entry->happened);
        SeenCount& session = sessions.try_emplace(on, SeenCount{on, 0, 0}).first->second;
        session.good += group->struck;
        session.of += group->struck + group->rejected + group->broken;
      }
    }
    for (const auto& [on, session] : sessions) seen.observed.sessions.push_back(session);
  }

  void remark(int number, const char* one, const char* many, const char* what) {
    if (number == 0) return;
    seen.remarks.push_back(fmt::format("{} {}, {}.", number, number == 1 ? one : many, what));
  }

  const season::Goal& goal_;
  SeasonDays days_;
  Fold& fold_;
  const State& state_;
  std::map<EntryId, std::size_t> sowing_of_;
  int unknown_number_ = 0;
  int pooled_ = 0;
  int other_method_ = 0;
};

}  // namespace

SeasonSeen season_seen(const season::Goal& goal, SeasonDays days, Fold& fold) {
  return std::move(SeasonReader(goal, days, fold).seen);
}

}  // namespace strikebed::nursery

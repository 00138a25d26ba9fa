#include "daybook/fold.hpp"

#include <algorithm>
#include <utility>

#include "daybook/batch_code.hpp"
#include "daybook/entry_json.hpp"

namespace strikebed::daybook {
namespace {

/// What an entry begins.
enum class Begins { nothing, batch, lot, bottle, goal };

Begins begins(const Entry& entry) {
  if (std::holds_alternative<BatchStarted>(entry.body)) return Begins::batch;
  if (std::holds_alternative<LotReceived>(entry.body)) return Begins::lot;
  if (std::holds_alternative<StockReceived>(entry.body) || std::holds_alternative<Mixed>(entry.body)) {
    return Begins::bottle;
  }
  return std::holds_alternative<GoalSet>(entry.body) ? Begins::goal : Begins::nothing;
}

bool fits(Refers as, Begins what) {
  switch (as) {
    case Refers::any:
      return true;
    case Refers::batch:
      return what == Begins::batch;
    case Refers::lot:
      return what == Begins::lot;
    case Refers::bottle:
      return what == Begins::bottle;
    case Refers::stock:
      return what == Begins::lot || what == Begins::bottle;
    case Refers::goal:
      return what == Begins::goal;
  }
  return false;
}

GoalRecord fold_goal(const EntryId& id, Timeline timeline) {
  GoalRecord record;
  record.id = id;
  std::int64_t set_ms = 0;
  each_entry(timeline, [&](const Entry& entry) {
    if (entry.id != id) return;
    record.name = std::get<GoalSet>(entry.body).name;
    set_ms = entry.happened.ms;
  });
  each_entry(timeline, [&](const Entry& entry) {
    if (entry.happened.ms < set_ms) {
      record.contradictions.push_back({ContradictionKind::before_it_began, id, {entry.id}});
    }
    if (std::holds_alternative<PlanChosen>(entry.body)) record.plans.push_back(entry.id);
    if (std::holds_alternative<ForecastGiven>(entry.body)) record.forecasts.push_back(entry.id);
  });
  return record;
}

/// One contradiction of a kind with all the entries that `is_wrong` says, where there are any.
template <class IsWrong>
void add_wrong(ContradictionKind kind, const EntryId& about, Timeline timeline, const IsWrong& is_wrong,
               std::vector<Contradiction>& all) {
  Contradiction wrong{kind, about, {}};
  for (const Mention& mention : timeline) {
    if (is_wrong(mention) && (wrong.entries.empty() || wrong.entries.back() != mention.entry->id)) {
      wrong.entries.push_back(mention.entry->id);
    }
  }
  if (!wrong.entries.empty()) all.push_back(std::move(wrong));
}

template <class Map>
void put(Map& map, const EntryId& id, typename Map::mapped_type value) {
  map.insert_or_assign(id, std::move(value));
}

bool same_links(const std::vector<Link>& a, const std::vector<Link>& b) {
  return std::ranges::equal(a, b, {}, &Link::batch, &Link::batch);
}

std::vector<EntryId> all_batches(const State& state) {
  std::vector<EntryId> ids;
  for (const auto& [id, batch] : state.batches) ids.push_back(id);
  return ids;
}

}  // namespace

const Entry* Fold::find(const EntryId& id) const {
  const auto found = entries_.find(id);
  return found == entries_.end() ? nullptr : &found->second;
}

std::vector<EntryId> Fold::ids() const {
  std::vector<EntryId> all;
  all.reserve(entries_.size());
  for (const auto& [id, entry] : entries_) all.push_back(id);
  std::ranges::sort(all);
  return all;
}

bool Fold::add(Entry entry) {
  const auto found = entries_.find(entry.id);
  if (found != entries_.end()) {
    take_other(found->second, std::move(entry));
    return false;
  }
  const EntryId id = entry.id;
  take_in(entries_.try_emplace(id, std::move(entry)).first->second);
  return true;
}

void Fold::add(std::vector<Entry> entries) {
  entries_.reserve(entries_.size() + entries.size());
  for (Entry& entry : entries) add(std::move(entry));
}

/// A second entry under one id stands in the place of the first where it comes before it as text, so that all who have
/// both agree.
void Fold::take_other(Entry& here, Entry other) {
  if (here == other) return;
  const std::string json = entry_json(here);
  const std::string other_json = entry_json(other);
  std::set<std::string>& variants = variants_[here.id];
  variants.insert(json);
  variants.insert(other_json);
  if (other_json > json) return;
  here = std::move(other);
  start_anew();
}

void Fold::start_anew() {
  subjects_.clear();
  stale_.clear();
  withdrawals_ = {};
  doubles_ = {};
  state_ = {};
  counters_.clear();
  for (const auto& [id, entry] : entries_) take_in(entry);
}

void Fold::take_in(const Entry& entry) {
  ++work_;
  const auto touch = [&](const EntryId& id, Refers as) {
    Subject& subject = subjects_[id];
    subject.in_order &= subject.mentions.empty() || is_before(*subject.mentions.back().entry, entry);
    subject.mentions.push_back({&entry, as});
    mark(id);
  };
  each_reference(entry, touch);
  if (begins(entry) != Begins::nothing) {
    touch(entry.id, Refers::any);
  } else if (subjects_.contains(entry.id)) {
    mark(entry.id);
  }
  if (const auto* withdrawn = std::get_if<Withdrawn>(&entry.body)) withdrawals_.add(entry.id, withdrawn->target);
  if (const auto* start = std::get_if<BatchStarted>(&entry.body)) {
    if (const auto code = read_batch_code(start->code)) {
      const auto counter = counters_.try_emplace(code->device_mark, code->counter).first;
      counter->second = std::max(counter->second, code->counter);
    }
  }
  doubles_.add(entry);
}

void Fold::mark(const EntryId& subject) {
  const auto found = subjects_.find(subject);
  if (found == subjects_.end() || std::exchange(found->second.is_stale, true)) return;
  stale_.push_back(subject);
}

void Fold::settle() {
  for (const EntryId& id : withdrawals_.settle()) {
    // What stands or falls is mentioned by what made it so; what it mentions itself is yet to be marked. It may not
    // have come yet.
    if (const Entry* entry = find(id)) each_reference(*entry, [&](const EntryId& one, Refers) { mark(one); });
  }
  std::vector<EntryId> relinked;
  for (const EntryId& id : std::exchange(stale_, {})) {
    Subject& subject = subjects_.at(id);
    subject.is_stale = false;
    const auto before = state_.batches.find(id);
    const std::vector<Link> links = before == state_.batches.end() ? std::vector<Link>{} : before->second.from;
    refold(id, subject, std::nullopt, state_);
    const auto after = state_.batches.find(id);
    if (!same_links(links, after == state_.batches.end() ? std::vector<Link>{} : after->second.from)) {
      relinked.push_back(id);
    }
  }
  if (!relinked.empty()) renew_rings(relinked);
}

std::vector<Mention> Fold::standing(Subject& subject, std::optional<std::int64_t> until) {
  if (!std::exchange(subject.in_order, true)) {
    std::ranges::stable_sort(subject.mentions,
                             [](const Mention& a, const Mention& b) { return is_before(*a.entry, *b.entry); });
  }
  std::vector<Mention> mentions;
  mentions.reserve(subject.mentions.size());
  for (const Mention& mention : subject.mentions) {
    const bool is_later = until && mention.entry->happened.ms > *until;
    if (!is_later && withdrawals_.stands(mention.entry->id)) mentions.push_back(mention);
  }
  work_ += subject.mentions.size();
  return mentions;
}

void Fold::refold(const EntryId& id, Subject& subject, std::optional<std::int64_t> until, State& into) {
  const std::vector<Mention> mentions = standing(subject, until);
  const Entry* own = find(id);
  const bool is_there = own && withdrawals_.stands(id);
  const Begins what = is_there ? begins(*own) : Begins::nothing;
  const bool is_later = is_there && until && own->happened.ms > *until;
  std::vector<Contradiction> wrong;
  if (is_later) {
    const auto is_early = [](const Mention&) { return true; };
    add_wrong(ContradictionKind::before_it_began, id, mentions, is_early, wrong);
  } else {
    add_wrong(
        is_there ? ContradictionKind::wrong_kind : ContradictionKind::not_there, id, mentions,
        [&](const Mention& one) { return one.as == Refers::any ? !own : !fits(one.as, what); }, wrong);
  }
  into.batches.erase(id);
  into.stocks.erase(id);
  into.goals.erase(id);
  into.elsewhere.erase(id);
  const auto with_wrong = [&](auto folded) {
    folded.contradictions.insert(folded.contradictions.end(), wrong.begin(), wrong.end());
    return folded;
  };
  if (what == Begins::nothing || is_later) {
    if (!wrong.empty()) put(into.elsewhere, id, std::move(wrong));
  } else if (what == Begins::batch) {
    put(into.batches, id, with_wrong(fold_batch(id, mentions)));
  } else if (what == Begins::goal) {
    put(into.goals, id, with_wrong(fold_goal(id, mentions)));
  } else {
    put(into.stocks, id, with_wrong(fold_stock(id, mentions)));
  }
}

/// A ring that is new or gone lies all among what comes from the batches that have other parents now.
void Fold::renew_rings(const std::vector<EntryId>& relinked) {
  const std::vector<EntryId> descended = descendants(state_, relinked);
  std::set<EntryId> below(descended.begin(), descended.end());
  below.insert(relinked.begin(), relinked.end());
  work_ += below.size();
  std::erase_if(state_.rings, [&](const std::vector<EntryId>& ring) {
    return std::ranges::any_of(ring, [&](const EntryId& id) { return below.contains(id); });
  });
  std::erase_if(below, [&](const EntryId& id) { return !state_.batches.contains(id); });
  const auto found = rings_among(state_, {below.begin(), below.end()});
  state_.rings.insert(state_.rings.end(), found.begin(), found.end());
  std::ranges::sort(state_.rings);
}

bool Fold::stands(const EntryId& id) {
  settle();
  return entries_.contains(id) && withdrawals_.stands(id);
}

const State& Fold::state() {
  settle();
  return state_;
}

State Fold::as_of(const Moment& moment) {
  settle();
  State then;
  for (auto& [id, subject] : subjects_) refold(id, subject, moment.ms, then);
  then.rings = rings_among(then, all_batches(then));
  return then;
}

std::vector<PossibleDouble> Fold::possible_doubles() {
  settle();
  return doubles_.find([&](const Entry& entry) { return withdrawals_.stands(entry.id); });
}

std::vector<Contradiction> Fold::contradictions() {
  std::vector<Contradiction> all = contradictions_of(state());
  for (const auto& ring : withdrawals_.rings()) {
    all.push_back({ContradictionKind::withdrawal_ring, ring.front(), ring});
  }
  for (const auto& [id, variants] : variants_) {
    all.push_back({ContradictionKind::same_id, id, {id}, static_cast<double>(variants.size())});
  }
  std::ranges::sort(all);
  return all;
}

std::vector<EntryId> Fold::unread() const {
  std::vector<EntryId> all;
  for (const auto& [id, entry] : entries_) {
    if (std::holds_alternative<Unread>(entry.body)) all.push_back(id);
  }
  std::ranges::sort(all);
  return all;
}

std::optional<std::int64_t> Fold::last_counter(int device_mark) const {
  const auto found = counters_.find(device_mark);
  return found == counters_.end() ? std::nullopt : std::optional(found->second);
}

}  // namespace strikebed::daybook

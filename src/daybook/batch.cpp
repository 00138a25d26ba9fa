#include "daybook/batch.hpp"

#include <algorithm>

namespace strikebed::daybook {
namespace {

/// Takes the entries in, one after the other.
class BatchFold {
 public:
  explicit BatchFold(const EntryId& id) { batch.id = id; }

  void begin(const Entry& entry, const BatchStarted& start) {
    batch.code = start.code;
    batch.label = start.label;
    batch.species = start.species;
    batch.holds = start.holds;
    batch.began = entry.happened;
    batch.lot = start.lot;
    batch.begun_with = start.number;
    if (!start.from.empty()) batch.begun_with = 0;
    for (const FromBatch& one : start.from) {
      batch.from.push_back({one.batch, one.number, entry.id});
      *batch.begun_with += one.number;
    }
    batch.left = batch.begun_with;
  }

  void take_in(const Entry& entry) {
    batch.entries.push_back(entry.id);
    if (entry.happened.ms < batch.began.ms) wrong(ContradictionKind::before_it_began, entry);
    std::visit([&](const auto& body) { apply(entry, body); }, entry.body);
  }

  Batch batch;

 private:
  void wrong(ContradictionKind kind, const Entry& entry, std::optional<Plants> found = {},
             std::optional<Plants> expected = {}) {
    batch.contradictions.push_back({kind, batch.id, {entry.id}, found, expected});
  }
  [[nodiscard]] bool is_of_it(const Entry& entry) const { return entry.batch == batch.id; }

  void take_out(const Entry& entry, Plants number) {
    if (!batch.left) return;
    if (number > std::max<Plants>(*batch.left, 0)) {
      wrong(ContradictionKind::more_taken_than_there, entry, number, std::max<Plants>(*batch.left, 0));
    }
    *batch.left -= number;
  }
  void lose(LossCause cause, int number) { batch.losses[static_cast<std::size_t>(cause)] += number; }
  void set_level(Plants level) {
    if (batch.left) batch.unaccounted += *batch.left - level;
    batch.left = level;
  }
  /// Whether a count shows more than there can be.
  void check_above(const Entry& entry, std::optional<Plants> counted, std::optional<Plants> there) {
    if (counted && there && *counted > std::max<Plants>(*there, 0)) {
      wrong(ContradictionKind::count_above_what_exists, entry, counted, std::max<Plants>(*there, 0));
    }
  }

  void apply(const Entry& entry, const BatchStarted& start) {
    for (const FromBatch& one : start.from) {
      if (one.batch != batch.id) continue;
      batch.into.push_back({entry.id, one.number, entry.id});
      batch.moved_on += one.number;
      take_out(entry, one.number);
    }
  }

  void apply(const Entry& entry, const Sown& sown) {
    if (!is_of_it(entry)) return;
    if (!sown.bench.empty()) batch.bench = sown.bench;
    if (!sown.number) return;
    check_above(entry, sown.number, batch.left);
    set_level(*sown.number);
  }

  void apply(const Entry& entry, const Counted& counted) {
    if (!is_of_it(entry)) return;
    Look look{entry.id, entry.happened, counted, batch.left, {}};
    const std::optional<int> level = level_of(counted);
    const std::optional<Plants> ever =
        batch.begun_with ? std::optional(*batch.begun_with + batch.brought) : std::nullopt;
    check_above(entry, counted.emerged, ever);
    if (!counted.destructive) {  // else it is held against what is there when they are taken out
      check_above(entry, std::max<std::optional<Plants>>(counted.of, level), is_of_sown(counted) ? ever : batch.left);
    }
    if (counted.destructive) {
      batch.used_up += *counted.of;
      take_out(entry, *counted.of);
    } else if (!counted.sample) {
      if (level) set_level(*level);
      if (counted.rooted) batch.rooting = rooting_of(entry, counted);
    }
    look.after = batch.left;
    batch.looks.push_back(look);
  }
  /// Of all that were sown, those that died since among them.
  static bool is_of_sown(const Counted& counted) {
    const bool others = counted.alive || counted.green || counted.turning || counted.red || counted.faded ||
                        counted.rooted || counted.undecided;
    return counted.emerged && !others;
  }
  [[nodiscard]] Rooting rooting_of(const Entry& entry, const Counted& counted) const {
    Rooting rooting{entry.id, *counted.rooted, counted.undecided ? counted.undecided : counted.green};
    if (!rooting.undecided && batch.left) rooting.undecided = std::max<Plants>(*batch.left - *counted.rooted, 0);
    return rooting;
  }

  void apply(const Entry& entry, const Lost& lost) {
    if (!is_of_it(entry)) return;
    lose(lost.cause, lost.number);
    take_out(entry, lost.number);
  }

  void apply(const Entry& entry, const Struck& group) {
    if (is_of_it(entry)) {
      batch.into.push_back({group.into, group.struck, entry.id});
      batch.moved_on += group.struck;
      lose(LossCause::passed_over, group.rejected);
      lose(LossCause::handling, group.broken);
      check_above(entry, group.offered, batch.left);
      take_out(entry, group.struck + group.rejected + group.broken);
    }
    if (group.into == batch.id) {
      if (entry.batch) batch.from.push_back({*entry.batch, group.struck, entry.id});
      batch.brought += group.struck;
      if (batch.left) *batch.left += group.struck;
    }
  }

  void apply(const Entry& entry, const ControlSetAside& control) {
    if (!is_of_it(entry)) return;
    check_above(entry, control.number, batch.left);
    batch.controls += control.number;
  }

  void apply(const Entry& entry, const HandedOver& handed) {
    if (!is_of_it(entry)) return;
    (handed.how == HandedHow::sold ? batch.sold : batch.given) += handed.number;
    take_out(entry, handed.number);
  }

  void apply(const Entry& entry, const Moved& moved) {
    if (is_of_it(entry)) batch.bench = moved.bench;
  }

  void apply(const Entry& entry, const Graded& graded) {
    if (!is_of_it(entry)) return;
    check_above(entry, graded.of, batch.left);
    Grading& grading = batch.gradings[static_cast<std::size_t>(graded.base_form)];
    grading.fit += graded.fit;
    grading.of += graded.of;
  }

  void apply(const Entry& entry, const Recut& recut) {
    if (is_of_it(entry)) check_above(entry, recut.number, batch.left);
  }
  void apply(const Entry& entry, const Potted& potted) {
    if (is_of_it(entry)) check_above(entry, potted.number, batch.left);
  }

  // These leave no mark but in the history.
  void apply(const Entry&, const GoalSet&) {}
  void apply(const Entry&, const PlanChosen&) {}
  void apply(const Entry&, const ForecastGiven&) {}
  void apply(const Entry&, const LotReceived&) {}
  void apply(const Entry&, const LotTested&) {}
  void apply(const Entry&, const StockReceived&) {}
  void apply(const Entry&, const Mixed&) {}
  void apply(const Entry&, const StockCounted&) {}
  void apply(const Entry&, const Chilled&) {}
  void apply(const Entry&, const Fed&) {}
  void apply(const Entry&, const MistingChanged&) {}
  void apply(const Entry&, const WeaningStep&) {}
  void apply(const Entry&, const Measured&) {}
  void apply(const Entry&, const PhotoAttached&) {}
  void apply(const Entry&, const Remark&) {}
  void apply(const Entry&, const Withdrawn&) {}
  void apply(const Entry&, const Unread&) {}
};

}  // namespace

std::optional<int> level_of(const Counted& counted) {
  if (counted.sample || counted.destructive) return std::nullopt;
  if (counted.alive) return counted.alive;
  if (counted.green && counted.turning && counted.red && counted.faded) {
    return *counted.green + *counted.turning + *counted.red + *counted.faded;
  }
  const std::optional<int>& undecided = counted.undecided ? counted.undecided : counted.green;
  if (counted.rooted && undecided) return *counted.rooted + *undecided;
  return std::nullopt;
}

Batch fold_batch(const EntryId& id, Timeline timeline) {
  BatchFold fold(id);
  each_entry(timeline, [&](const Entry& entry) {
    if (entry.id == id) fold.begin(entry, std::get<BatchStarted>(entry.body));
  });
  each_entry(timeline, [&](const Entry& entry) { fold.take_in(entry); });
  return std::move(fold.batch);
}

}  // namespace strikebed::daybook

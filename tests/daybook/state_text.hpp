#pragma once
// All that a fold knows, as text: two folds know the same where their texts are the same byte for byte.
#include <fmt/format.h>

#include <optional>
#include <string>
#include <vector>

#include "daybook/entry_json.hpp"
#include "daybook/fold.hpp"

namespace strikebed::daybook {

class StateText {
 public:
  std::string text;

  void line(std::string_view name, const auto& value) {
    text += fmt::format("  {}: ", name);
    add(value);
    text += '\n';
  }
  void of(const Batch& batch) {
    text += fmt::format("batch {} {} {}\n", to_text(batch.id), batch.code,
                        names_of(batch.holds)[static_cast<std::size_t>(batch.holds)]);
    line("label", batch.label);
    line("species", batch.species);
    line("began", batch.began);
    line("lot", batch.lot);
    line("from", batch.from);
    line("into", batch.into);
    line("begun_with", batch.begun_with);
    line("left", batch.left);
    line("brought moved_on given sold used_up unaccounted controls",
         std::vector<Plants>{batch.brought, batch.moved_on, batch.given, batch.sold, batch.used_up, batch.unaccounted,
                             batch.controls});
    line("losses", std::vector<Plants>(batch.losses.begin(), batch.losses.end()));
    line("looks", batch.looks);
    line("rooting", batch.rooting);
    for (const Grading& grading : batch.gradings) line("grading", std::vector<Plants>{grading.fit, grading.of});
    line("bench", batch.bench);
    line("entries", batch.entries);
  }
  void of(const Stock& stock) {
    text += fmt::format("stock {} {} {}\n", to_text(stock.id), static_cast<int>(stock.kind), stock.name);
    line("came", stock.came);
    line("seeds", stock.seeds);
    line("volume_ml", stock.volume_ml);
    line("mass_g", stock.mass_g);
    line("use_by", stock.use_by);
    line("tests", stock.tests);
    line("entries", stock.entries);
  }
  void of(const GoalRecord& goal) {
    text += fmt::format("goal {} {}\n", to_text(goal.id), goal.name);
    line("plans", goal.plans);
    line("forecasts", goal.forecasts);
  }
  void of(const State& state) {
    for (const auto& [id, batch] : state.batches) of(batch);
    for (const auto& [id, stock] : state.stocks) of(stock);
    for (const auto& [id, goal] : state.goals) of(goal);
    for (const auto& [bench, batches] : benches(state)) line(bench, batches);
    for (const auto& [id, batch] : state.batches) {
      line("ancestors", ancestors(state, id));
      line("descendants", descendants(state, {id}));
      line("lots", lots_of(state, id));
    }
  }
  void add(Plants value) { text += fmt::format("{} ", value); }
  void add(int value) { text += fmt::format("{} ", value); }
  void add(double value) { text += fmt::format("{} ", value); }
  void add(const std::string& value) { text += value + " "; }
  void add(const EntryId& id) { text += to_text(id) + " "; }
  void add(const Moment& moment) { text += to_iso(moment) + " "; }
  void add(Date day) { text += strikebed::to_iso(day) + " "; }
  void add(const Link& link) {
    text += fmt::format("{}x{}({}) ", to_text(link.batch), link.number, to_text(link.entry));
  }
  void add(const Look& look) {
    add(look.entry);
    add(look.when);
    text += body_json(look.counted) + " ";
    add(look.before);
    add(look.after);
  }
  void add(const Rooting& rooting) {
    add(rooting.entry);
    add(rooting.rooted);
    add(rooting.undecided);
  }
  void add(const Level& level) {
    add(level.received);
    add(level.taken);
    add(level.left);
  }
  void add(const SeedTest& test) { text += fmt::format("{} {}/{} ", to_text(test.entry), test.good, test.of); }
  void add(const Contradiction& one) {
    add(static_cast<int>(one.kind));
    add(one.about);
    add(one.entries);
    add(one.found);
    add(one.expected);
  }
  template <class T>
  void add(const std::optional<T>& maybe) {
    maybe ? add(*maybe) : static_cast<void>(text += "- ");
  }
  template <class T>
  void add(const std::vector<T>& all) {
    text += "[ ";
    for (const T& one : all) add(one);
    text += "] ";
  }
};

inline std::string state_text(const State& state) {
  StateText print;
  print.of(state);
  for (const Contradiction& one : contradictions_of(state)) print.line("contradiction", one);
  return print.text;
}

inline std::string state_text(Fold& fold) {
  StateText print;
  print.of(fold.state());
  for (const Contradiction& one : fold.contradictions()) print.line("contradiction", one);
  for (const PossibleDouble& one : fold.possible_doubles()) print.line("possible double", one.entries);
  print.line("unread", fold.unread());
  print.line("all", fold.ids());
  return print.text;
}

}  // namespace strikebed::daybook

#include "print/daybook/batch_text.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cstdint>
#include <limits>
#include <tuple>
#include <utility>
#include <vector>

#include "base/lines.hpp"
#include "print/daybook/contradiction_words.hpp"
#include "print/daybook/entry_words.hpp"
#include "print/daybook/field_words.hpp"
#include "print/number_words.hpp"
#include "print/text_table.hpp"

namespace strikebed::print {
namespace {

using namespace daybook;

using Rows = std::vector<std::vector<std::string>>;

std::string section(std::string_view title, const std::string& text) {
  return text.empty() ? "" : fmt::format("\n{}\n\n{}", title, text);
}

std::string how_many(const std::optional<Plants>& number) { return number ? fmt::format("{}", *number) : "?"; }

/// "seeds of ridge 2026, north tray"
std::string what_words(const Batch& batch, const State& state) {
  std::string words(names_of(batch.holds)[static_cast<std::size_t>(batch.holds)]);
  if (batch.lot) {
    words += " of " + name_of(*batch.lot, state);
  } else if (!batch.species.empty()) {
    words += " of " + batch.species;
  } else if (!batch.from.empty() && batch.label.empty()) {  // whoever wrote a label knows it by that
    std::vector<std::string> codes;
    for (const auto& [other, number] : by_batch(batch.from, state)) codes.push_back(name_of(other, state));
    words += fmt::format(" from {}", fmt::join(codes, ", "));
  }
  return batch.label.empty() ? words : words + ", " + batch.label;
}

/// So many were there at first, or were struck into it.
std::optional<Plants> in_all(const Batch& batch) {
  if (batch.brought > 0) return batch.begun_with.value_or(0) + batch.brought;
  return batch.begun_with;
}

std::string counted_words(const Look& look) {
  std::vector<std::string> words;
  Counted::fields(look.counted, [&]<class T>(const Field& field, const T& value) {
    if constexpr (std::is_same_v<T, bool>) {
      if (value) words.push_back(spoken_field(field.name));
    } else if (value && field.name == "of" && !words.empty()) {
      words.back() += fmt::format(" of {}", *value);
    } else if (value) {
      words.push_back(fmt::format("{} {}", spoken_field(field.name), *value));
    }
  });
  return fmt::format("{}", fmt::join(words, ", "));
}

/// With the entries that it comes from, the oldest first.
std::string doubtful(Fold& fold, const std::optional<EntryId>& about, std::size_t width) {
  const State& state = fold.state();
  std::vector<std::pair<std::int64_t, std::vector<std::string>>> dated;
  const auto add = [&](const std::string& what, const std::vector<EntryId>& entries) {
    std::vector<std::string> named;
    std::int64_t first_ms = std::numeric_limits<std::int64_t>::max();
    for (const EntryId& id : entries) {
      const Entry* entry = fold.find(id);
      if (entry) first_ms = std::min(first_ms, entry->happened.ms);
      named.push_back(entry ? fmt::format("{} ({}, {})", short_id(id), moment_words(entry->happened), entry->device)
                            : short_id(id));
    }
    dated.emplace_back(first_ms, std::vector{what, fmt::format("{}", fmt::join(named, "; "))});
  };
  for (const Contradiction& one : fold.contradictions()) {
    if (!about || one.about == *about) add(contradiction_words(one, state), one.entries);
  }
  for (const PossibleDouble& one : fold.possible_doubles()) {
    if (!about || one.batch == about) add(double_words(one, state), one.entries);
  }
  std::ranges::stable_sort(dated, {}, [](const auto& one) { return one.first; });
  std::string text;
  for (const auto& [ms, row] : dated) {
    text += paragraph(fmt::format("{}{} {}", row.front(), row.front().ends_with('?') ? "" : ":", row.back()), width,
                      "  - ");
  }
  return text;
}

void add_lineage(const State& state, const EntryId& id, bool up, std::size_t width, std::vector<EntryId>& path,
                 std::string& text) {
  const auto found = state.batches.find(id);
  if (found == state.batches.end()) return;
  const Batch& batch = found->second;
  for (const auto& [next, number] : by_batch(up ? batch.from : batch.into, state)) {
    if (std::ranges::find(path, next) != path.end()) continue;  // a ring, which is named elsewhere
    const auto other = state.batches.find(next);
    text += paragraph(
        fmt::format("{}{}", other == state.batches.end() ? name_of(next, state) : batch_line(other->second, state),
                    number > 0 ? fmt::format(" ({} of them)", number) : ""),
        width, fmt::format("{:{}}{} ", "", 2 * path.size(), up ? "from" : "into"));
    path.push_back(next);
    add_lineage(state, next, up, width, path, text);
    path.pop_back();
  }
}

std::string lineage(const State& state, const EntryId& id, std::size_t width) {
  std::string text;
  for (const bool up : {true, false}) {
    std::vector<EntryId> path{id};
    add_lineage(state, id, up, width, path, text);
  }
  return text;
}

/// What was counted, and what was left as far as was known, with a bar of it.
std::string counts(const Batch& batch, std::size_t width) {
  constexpr std::size_t kBar = 16;
  const auto whole = in_all(batch);
  Rows rows;
  for (const Look& look : batch.looks) {
    const bool shown = whole && *whole > 0 && look.after;
    rows.push_back({moment_words(look.when), how_many(look.after),
                    shown ? bar(static_cast<double>(*look.after) / static_cast<double>(*whole), kBar) : "",
                    counted_words(look)});
  }
  return table({{"When"}, {"Left", true}, {""}, {"Counted"}}, rows, width);
}

std::string losses(const Batch& batch, std::size_t width) {
  Rows rows;
  const auto add = [&](std::string_view what, Plants number) {
    if (number != 0) rows.push_back({std::string(what), fmt::format("{}", number)});
  };
  for (std::size_t i = 0; i < batch.losses.size(); ++i) add(spoken_choice(kLossCauseNames[i]), batch.losses[i]);
  add("fewer at counts than the daybook said", batch.unaccounted);
  add("used up to look at", batch.used_up);
  return table({{"Lost"}, {"Number", true}}, rows, width);
}

std::string last_count(const Batch& batch) {
  if (batch.looks.empty()) return "";
  const Look& last = batch.looks.back();
  return fmt::format("{}: {}", short_date(local_day(last.when)), counted_words(last));
}

std::string history(Fold& fold, const Batch& batch, std::size_t width) {
  Rows rows;
  for (const EntryId& id : batch.entries) {
    const Entry* entry = fold.find(id);
    rows.push_back({moment_words(entry->happened), short_id(id), entry_words(*entry, fold.state())});
  }
  return table({{"When"}, {"Entry"}, {"What"}}, rows, width);
}

/// Each amount of which something is left: "240 ml", "2.5 L".
std::vector<std::string> amounts_left(const Stock& stock) {
  constexpr double kLarge = 1000;
  std::vector<std::string> left;
  const auto add = [&](const Level& level, std::string_view unit, std::string_view large_unit) {
    const double amount = level.left.value_or(0);
    if (amount == 0) return;
    const bool large = !large_unit.empty() && amount >= kLarge;
    left.push_back(fmt::format("{} {}", rounded(large ? amount / kLarge : amount), large ? large_unit : unit));
  };
  add(stock.seeds, "seeds", "");
  add(stock.volume_ml, "ml", "L");
  add(stock.mass_g, "g", "kg");
  return left;
}

std::string stocks(const State& state, std::size_t width) {
  Rows rows;
  int empty = 0;
  for (const auto& [id, stock] : state.stocks) {
    const std::vector<std::string> left = amounts_left(stock);
    if (left.empty() && (stock.seeds.left || stock.volume_ml.left || stock.mass_g.left)) {
      ++empty;
      continue;
    }
    std::vector<std::string> tests;
    for (const SeedTest& test : stock.tests) tests.push_back(fmt::format("{} of {} good", test.good, test.of));
    if (stock.use_by) tests.push_back("use by " + short_date(*stock.use_by));
    rows.push_back({stock.name, short_date(local_day(stock.came)), fmt::format("{}", fmt::join(left, ", ")),
                    fmt::format("{}", fmt::join(tests, ", "))});
  }
  std::ranges::sort(rows);
  std::string text = table({{"Lot or bottle"}, {"Came"}, {"Left"}, {""}}, rows, width);
  if (empty > 0) text += fmt::format("{}  {} {} empty.\n", text.empty() ? "" : "\n", empty, empty == 1 ? "is" : "are");
  return text;
}

}  // namespace

std::string batch_line(const Batch& batch, const State& state) {
  std::string line = fmt::format("{}: {}", batch.code, what_words(batch, state));
  const auto whole = in_all(batch);
  if (batch.left) line += fmt::format(", {}{} left", *batch.left, whole ? fmt::format(" of {}", *whole) : "");
  if (batch.left == 0) return line;  // it stands nowhere
  if (batch.rooting) {
    const auto look = std::ranges::find(batch.looks, batch.rooting->entry, &Look::entry);
    line += fmt::format(", {} rooted{}", batch.rooting->rooted,
                        look == batch.looks.end() ? "" : fmt::format(" on {}", short_date(local_day(look->when))));
  }
  return batch.bench.empty() ? line : line + ", on " + batch.bench;
}

std::string batches_text(Fold& fold, std::size_t width) {
  const State& state = fold.state();
  std::vector<const Batch*> shown;
  for (const auto& [id, batch] : state.batches) {
    if (!batch.left || *batch.left != 0) shown.push_back(&batch);
  }
  std::ranges::sort(shown, {}, [](const Batch* batch) { return std::tie(batch->began.ms, batch->id); });
  Rows rows;
  for (const Batch* batch : shown) {
    rows.push_back({batch->code, what_words(*batch, state), short_date(local_day(batch->began)), how_many(batch->left),
                    how_many(in_all(*batch)), last_count(*batch), batch->bench});
  }
  const std::size_t empty = state.batches.size() - shown.size();
  std::string text =
      table({{"Batch"}, {"What"}, {"Began"}, {"Left", true}, {"of", true}, {"Last count"}, {"Bench"}}, rows, width);
  if (text.empty()) text = "No batch stands anywhere yet.\n";
  if (empty > 0) text += fmt::format("\n  And {} of which nothing is left: strikebed batches CODE.\n", empty);
  return text + section("Lots and bottles", stocks(state, width)) +
         section("What cannot all be true, or may be there twice", doubtful(fold, {}, width));
}

std::string batch_text(Fold& fold, const EntryId& id, std::size_t width) {
  const State& state = fold.state();
  const Batch& batch = state.batches.at(id);
  return paragraph(batch_line(batch, state), width) + section("Comes from, went into", lineage(state, id, width)) +
         section("Counts", counts(batch, width)) + section("Losses", losses(batch, width)) +
         section("What happened", history(fold, batch, width)) +
         section("What cannot all be true, or may be there twice", doubtful(fold, id, width));
}

}  // namespace strikebed::print

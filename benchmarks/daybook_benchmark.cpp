// How long a daybook takes: docs/benchmarks.md says what each of these is. One core.
//   STRIKEBED_POSTGRES  a connection string of a PostgreSQL database that may be written to; without it, SQLite alone
#include <benchmark/benchmark.h>
#include <unistd.h>

#include <cstdlib>
#include <filesystem>
#include <optional>
#include <string>
#include <utility>

#include "daybook/fold.hpp"
#include "example_daybook.hpp"
#include "host/store/daybook_store.hpp"
#include "usual.hpp"

namespace strikebed::benchmarks {
namespace {

using daybook::Entry;
using daybook::Fold;
using host::Access;
using host::DaybookStore;

const std::vector<Entry>& fifteen_seasons() {
  static const std::vector<Entry> entries = example_daybook(kFifteenSeasons);
  return entries;
}

/// A daybook with all of them; empty where there is no such database.
std::string filled(bool postgres) {
  const char* address = std::getenv("STRIKEBED_POSTGRES");
  if (postgres && !address) return "";
  static const std::string file =
      (std::filesystem::temp_directory_path() / ("strikebed-benchmark-" + std::to_string(::getpid()))).string();
  const std::string where = postgres ? std::string(address) : file;
  static bool made[2] = {false, false};
  if (!std::exchange(made[postgres ? 1 : 0], true)) {
    if (!DaybookStore::open(where, Access::create)->add(fifteen_seasons()).ok()) std::abort();
  }
  return where;
}

Fold folded(DaybookStore& store) {
  Fold fold;
  if (store.each_entry([&](Entry entry) { fold.add(std::move(entry)); })) std::abort();
  benchmark::DoNotOptimize(fold.state());
  return fold;
}

void open_and_fold(benchmark::State& state, bool postgres) {
  const std::string where = filled(postgres);
  if (where.empty()) return state.SkipWithError("no PostgreSQL");
  for (auto _ : state) {
    auto store = DaybookStore::open(where, Access::read);
    const Fold fold = folded(*store);
    benchmark::DoNotOptimize(fold.size());
  }
  state.counters["entries"] = static_cast<double>(fifteen_seasons().size());
}
BENCHMARK_CAPTURE(open_and_fold, sqlite, false)->Apply(usual)->Iterations(1)->UseRealTime();
BENCHMARK_CAPTURE(open_and_fold, postgresql, true)->Apply(usual)->Iterations(1)->UseRealTime();

void open_daybook(benchmark::State& state, bool postgres) {
  const std::string where = filled(postgres);
  if (where.empty()) return state.SkipWithError("no PostgreSQL");
  for (auto _ : state) benchmark::DoNotOptimize(DaybookStore::open(where, Access::read).ok());
}
BENCHMARK_CAPTURE(open_daybook, sqlite, false)->Apply(usual)->Iterations(1)->UseRealTime();
BENCHMARK_CAPTURE(open_daybook, postgresql, true)->Apply(usual)->Iterations(1)->UseRealTime();

/// So many thousand entries that are in memory.
void fold_entries(benchmark::State& state) {
  const auto& all = fifteen_seasons();
  const std::vector<Entry> some(all.begin(),
                                all.begin() + std::min<std::ptrdiff_t>(state.range(0) * 1000, std::ssize(all)));
  for (auto _ : state) {
    state.PauseTiming();
    std::vector<Entry> entries = some;
    std::optional<Fold> fold(std::in_place);
    state.ResumeTiming();
    fold->add(std::move(entries));
    benchmark::DoNotOptimize(fold->state());
    state.PauseTiming();
    fold.reset();
    state.ResumeTiming();
  }
}
BENCHMARK(fold_entries)->Apply(usual)->Arg(10)->Arg(100);

/// One note into a daybook that is open and folded: what it comes to is asked before and after. Without the disk.
void fold_one_more(benchmark::State& state) {
  Fold fold;
  fold.add(fifteen_seasons());
  benchmark::DoNotOptimize(fold.state());
  std::uint64_t number = 1'000'000'000;
  for (auto _ : state) {
    state.PauseTiming();
    Entry note = fifteen_seasons()[fifteen_seasons().size() / 2];
    note.id = {++number, number};
    state.ResumeTiming();
    fold.add(std::move(note));
    benchmark::DoNotOptimize(fold.state());
  }
}
BENCHMARK(fold_one_more)->Apply(usual);

/// One note onto the disk.
void add_note(benchmark::State& state, bool postgres) {
  const std::string where = filled(postgres);
  if (where.empty()) return state.SkipWithError("no PostgreSQL");
  auto store = DaybookStore::open(where, Access::write);
  static std::uint64_t number = 2'000'000'000 + static_cast<std::uint64_t>(::getpid()) * 1'000'000;
  for (auto _ : state) {
    state.PauseTiming();
    Entry note = fifteen_seasons().back();
    note.id = {++number, number};
    state.ResumeTiming();
    if (!store->add({note}).ok()) std::abort();
  }
}
BENCHMARK_CAPTURE(add_note, sqlite, false)->Apply(usual)->Iterations(20)->UseRealTime();
BENCHMARK_CAPTURE(add_note, postgresql, true)->Apply(usual)->Iterations(20)->UseRealTime();

}  // namespace
}  // namespace strikebed::benchmarks

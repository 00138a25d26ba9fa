// How long the season engine takes: docs/benchmarks.md says what each of these is. One core unless said.
#include <benchmark/benchmark.h>

#include <algorithm>
#include <chrono>
#include <string>

#include "example_season.hpp"
#include "host/worker_threads.hpp"
#include "print/progress_words.hpp"
#include "season/lognormal_kernel.hpp"
#include "season/make_plan.hpp"
#include "season/seed_search.hpp"
#include "usual.hpp"

namespace strikebed::benchmarks {
namespace {

using season::Model;
using season::Precision;
using season::Sowing;

constexpr double kAll[] = {1.0};  // one want: all seedlings are for it

/// Model and sowing of the example, with or without a cap on sessions.
struct Ready {
  season::Setting setting;
  Model model;
  std::vector<Sowing> sowings;
  explicit Ready(bool cap)
      : setting(cap ? example_season().setting
                    : season::setting_of(without_cap(example_season().goal), example_season().setting.sums,
                                         example_season().setting.habit)),
        model(setting, example_season().futures, Workers{}),
        sowings{model.sowing(example_season().sow_day)} {}
};

const Ready& ready(bool cap) {
  static const Ready with(true);
  static const Ready without(false);
  return cap ? with : without;
}

// ---- the inner loop

void bare_shares(benchmark::State& state) {
  const auto n = static_cast<std::size_t>(state.range(0));
  std::vector<float> warmth(n);
  std::vector<float> shares(n);
  for (std::size_t i = 0; i < n; ++i) warmth[i] = 600.0F * (static_cast<float>(i) + 0.5F) / static_cast<float>(n);
  for (auto _ : state) {
    season::lognormal_shares(warmth, 5.5F, 0.25F, shares);
    benchmark::DoNotOptimize(shares.data());
    benchmark::ClobberMemory();
  }
  state.counters["ns_a_share"] = benchmark::Counter(
      static_cast<double>(n) * 1e-9, benchmark::Counter::kIsIterationInvariantRate | benchmark::Counter::kInvert);
}
BENCHMARK(bare_shares)->Apply(usual)->Arg(16384)->Arg(1300)->Arg(16)->Arg(8);

// ---- the futures of a season

void weather_futures(benchmark::State& state) {
  const climate::WeatherRecord record = example_record();
  for (auto _ : state) benchmark::DoNotOptimize(example_weather(record, example_season().goal));
}
BENCHMARK(weather_futures)->Apply(usual);

void thermal_sums(benchmark::State& state) {
  const ExampleSeason& e = example_season();
  for (auto _ : state) benchmark::DoNotOptimize(season::thermal_sums(e.goal, e.weather, Workers{}));
}
BENCHMARK(thermal_sums)->Apply(usual);

void chain(benchmark::State& state) {
  for (auto _ : state) benchmark::DoNotOptimize(season::Chain(example_season().goal));
}
BENCHMARK(chain)->Apply(usual);

void futures(benchmark::State& state) {
  const ExampleSeason& e = example_season();
  for (auto _ : state) {
    benchmark::DoNotOptimize(season::Futures(e.weather.count, kReplicates, kLog2Points, 1));
  }
}
BENCHMARK(futures)->Apply(usual);

void thermal_shares(benchmark::State& state) {
  const ExampleSeason& e = example_season();
  for (auto _ : state) {
    benchmark::DoNotOptimize(
        season::offers_of_sowing(e.timings, e.futures, e.sums(), e.setting.sessions, e.sow_day, Workers{}));
  }
}
BENCHMARK(thermal_shares)->Apply(usual);

// ---- a plan on them

void rates(benchmark::State& state) {
  const ExampleSeason& e = example_season();
  for (auto _ : state) {
    const Model model(e.setting, e.futures, Workers{});
    benchmark::DoNotOptimize(&model);
  }
}
BENCHMARK(rates)->Apply(usual);

void sowing(benchmark::State& state) {
  const Ready& r = ready(true);
  for (auto _ : state) benchmark::DoNotOptimize(r.model.sowing(r.sowings[0]->offers));
}
BENCHMARK(sowing)->Apply(usual);

void assurance(benchmark::State& state, bool cap) {
  const Ready& r = ready(cap);
  const auto seeds = static_cast<int>(state.range(0));
  for (auto _ : state) benchmark::DoNotOptimize(r.model.assurance(r.sowings, seeds, kAll));
}
BENCHMARK_CAPTURE(assurance, no_cap, false)->Apply(usual)->Arg(600)->Arg(1000)->Arg(1'000'000);
BENCHMARK_CAPTURE(assurance, cap, true)->Apply(usual)->Arg(600)->Arg(1000)->Arg(1'000'000);

/// One plan on thermal shares that are there: rates of all futures, what becomes of the offered, how sure 600 seeds
/// are.
void plan_on_shares(benchmark::State& state, bool cap) {
  const Ready& r = ready(cap);
  for (auto _ : state) {
    const Model model(r.setting, example_season().futures, Workers{});
    const std::vector<Sowing> sowings{model.sowing(r.sowings[0]->offers)};
    benchmark::DoNotOptimize(model.assurance(sowings, 600, kAll));
  }
}
BENCHMARK_CAPTURE(plan_on_shares, no_cap, false)->Apply(usual);
BENCHMARK_CAPTURE(plan_on_shares, cap, true)->Apply(usual);

/// What the numpy and R peers do: from beliefs and warmth to how sure 1,000 seeds are.
void season_as_peers(benchmark::State& state) {
  const ExampleSeason& e = example_season();
  for (auto _ : state) {
    const Model model(season::setting_of(e.goal, e.setting.sums, e.setting.habit),
                      season::Futures(e.weather.count, kReplicates, kLog2Points, 1), Workers{});
    const std::vector<Sowing> sowings{model.sowing(e.sow_day)};
    benchmark::DoNotOptimize(model.assurance(sowings, 1000, kAll));
  }
}
BENCHMARK(season_as_peers)->Apply(usual);

// ---- whole answers

void smallest_number(benchmark::State& state, Precision precision) {
  const Ready& r = ready(true);
  for (auto _ : state) {
    benchmark::DoNotOptimize(
        season::seeds_for(r.model, r.sowings, r.model.goal().assurance, season::kMostSeeds, precision));
  }
}
BENCHMARK_CAPTURE(smallest_number, exact, Precision::exact)->Apply(usual);
BENCHMARK_CAPTURE(smallest_number, quick, Precision::quick)->Apply(usual);

/// A whole plan on weather futures that are there, and from its own progress reports which part took how long.
void whole_answer(benchmark::State& state) {
  using Clock = std::chrono::steady_clock;
  const ExampleSeason& e = example_season();
  std::vector<std::pair<std::string, double>> parts;
  std::string part;
  Clock::time_point began;
  season::PlanOptions options;
  options.workers = host::worker_threads(static_cast<int>(state.range(0)));
  options.progress = [&](season::PlanStep step) {
    const std::string what = print::progress_words(step.part);
    const Clock::time_point now = Clock::now();
    if (!part.empty()) {
      const auto at = std::ranges::find(parts, part, &std::pair<std::string, double>::first);
      const double ms = std::chrono::duration<double, std::milli>(now - began).count();
      if (at == parts.end()) {
        parts.emplace_back(part, ms);
      } else {
        at->second += ms;
      }
    }
    began = now;
    part = what;
  };
  for (auto _ : state) {
    part.clear();
    benchmark::DoNotOptimize(season::make_plan(e.goal, e.weather, options));
  }
  for (const auto& [name, ms] : parts) {
    state.counters[name] = benchmark::Counter(ms, benchmark::Counter::kAvgIterations);
  }
}
BENCHMARK(whole_answer)->Apply(usual)->UseRealTime()->Iterations(1)->Arg(1)->Arg(2);

// ---- a study that is warm, after one change of its goal

/// Back and forth between the goal and the changed one; what is asked after each change.
template <class Change, class Ask>
void after(benchmark::State& state, const Change& change, const Ask& ask) {
  const ExampleSeason& e = example_season();
  season::Study study(e.goal, e.weather,
                      {.seed = 1, .workers = host::worker_threads(static_cast<int>(state.range(0)))});
  study.sow_on({e.sow_day});
  season::Goal changed = e.goal;
  change(changed);
  ask(study);
  bool there = false;
  for (auto _ : state) {
    there = !there;
    study.change(there ? changed : e.goal);
    ask(study);
  }
}

void quick(season::Study& study) { benchmark::DoNotOptimize(study.seeds_needed(season::Look::rough)); }
void exact(season::Study& study) { benchmark::DoNotOptimize(study.seeds_needed(season::Look::whole)); }
void swept(season::Study& study) {
  season::SowingSweep sweep;
  for (auto steps = study.sweep(sweep); steps.next();) {
  }
  benchmark::DoNotOptimize(sweep);
}

void count(season::Goal& goal) { goal.wants[0].count += 6; }
void assurance_asked(season::Goal& goal) { goal.assurance = 0.85; }
void rate(season::Goal& goal) { goal.rates[season::Rung::usable] = {Tested{40, 50}, 0.3}; }
void by(season::Goal& goal) { goal.by -= Days{7}; }
void room(season::Goal& goal) { goal.sessions.cuttings_at_most = 40; }
void weekday(season::Goal& goal) { goal.sessions.weekdays[2] = true; }

#define STRIKEBED_AFTER(change)                                                                         \
  BENCHMARK_CAPTURE(after, change##_quick, change, quick)->Apply(usual)->UseRealTime()->Arg(1);         \
  BENCHMARK_CAPTURE(after, change##_exact, change, exact)->Apply(usual)->UseRealTime()->Arg(1)->Arg(2); \
  BENCHMARK_CAPTURE(after, change##_sweep, change, swept)->Apply(usual)->UseRealTime()->Iterations(1)->Arg(1)->Arg(2)
STRIKEBED_AFTER(count);
STRIKEBED_AFTER(assurance_asked);
STRIKEBED_AFTER(rate);
STRIKEBED_AFTER(by);
STRIKEBED_AFTER(room);
STRIKEBED_AFTER(weekday);

}  // namespace
}  // namespace strikebed::benchmarks

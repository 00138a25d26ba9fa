#pragma once
// How every benchmark reports.
#include <benchmark/benchmark.h>

#include <algorithm>
#include <vector>

namespace strikebed::benchmarks {

/// In milliseconds. Beside the median of the repetitions the fastest: on a machine that others use too, it says more
/// about the program.
inline void usual(benchmark::internal::Benchmark* b) {
  b->Unit(benchmark::kMillisecond)->ComputeStatistics("fastest", [](const std::vector<double>& all) {
    return *std::ranges::min_element(all);
  });
}

}  // namespace strikebed::benchmarks

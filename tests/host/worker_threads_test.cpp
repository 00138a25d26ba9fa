// Covers  lent threads: every job runs once, however many hands; what a job throws reaches the caller.
#include "host/worker_threads.hpp"

#include <gtest/gtest.h>

#include <atomic>
#include <set>
#include <stdexcept>
#include <thread>
#include <vector>

namespace strikebed::host {
namespace {

TEST(WorkerThreads, RunEveryJobOnceWhateverTheirNumber) {
  for (const int threads : {-1, 1, 2, 7}) {
    for (const int jobs : {0, 1, 5, 1000}) {
      std::vector<std::atomic<int>> times(static_cast<std::size_t>(jobs));
      worker_threads(threads).run(jobs, [&](int i) { ++times[static_cast<std::size_t>(i)]; });
      for (const auto& time : times) EXPECT_EQ(time, 1);
    }
  }
  EXPECT_EQ(worker_threads(-1).hands, 1);
}

TEST(WorkerThreads, WorkAtTheSameTime) {
  // Each job waits for the other: with one hand this would never end.
  std::atomic<int> here{0};
  worker_threads(2).run(2, [&](int) {
    ++here;
    while (here < 2) std::this_thread::yield();
  });
  EXPECT_EQ(here, 2);
}

TEST(WorkerThreads, HandOnWhatAJobThrows) {
  const auto workers = worker_threads(3);
  EXPECT_THROW(workers.run(100,
                           [](int i) {
                             if (i == 40) throw std::runtime_error("job 40");
                           }),
               std::runtime_error);
}

}  // namespace
}  // namespace strikebed::host

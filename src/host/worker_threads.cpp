#include "host/worker_threads.hpp"

#include <algorithm>
#include <atomic>
#include <exception>
#include <mutex>
#include <thread>
#include <vector>

namespace strikebed::host {
namespace {

void run_jobs(int threads, int jobs, const std::function<void(int)>& job) {
  std::atomic<int> next{0};
  std::exception_ptr thrown;
  std::mutex guards_thrown;
  const auto work = [&] {
    try {
      for (int i = next++; i < jobs; i = next++) job(i);
    } catch (...) {
      next = jobs;  // the others finish the job in hand and stop
      const std::lock_guard lock(guards_thrown);
      thrown = std::current_exception();
    }
  };
  {
    std::vector<std::jthread> others;
    for (int i = 1; i < std::min(threads, jobs); ++i) others.emplace_back(work);
    work();
  }
  if (thrown) std::rethrow_exception(thrown);
}

}  // namespace

Workers worker_threads(int threads) {
  const int hands = std::max(threads, 1);
  return {hands, [hands](int jobs, const std::function<void(int)>& job) { run_jobs(hands, jobs, job); }};
}

int threads_of_machine() { return std::max(static_cast<int>(std::thread::hardware_concurrency()), 1); }

}  // namespace strikebed::host

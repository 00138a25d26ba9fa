#pragma once
// A handed-in pool: the floors below host own no threads, they are lent some.
#include <functional>

namespace strikebed {

/// Runs `job(0) ... job(jobs - 1)`, in any order and on any thread, and returns when all are done. Jobs write to places
/// of their own, so that the result does not depend on how many hands there are.
struct Workers {
  int hands = 1;
  std::function<void(int jobs, const std::function<void(int)>& job)> run = [](int jobs,
                                                                              const std::function<void(int)>& job) {
    for (int i = 0; i < jobs; ++i) job(i);
  };
};

}  // namespace strikebed

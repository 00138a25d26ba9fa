#pragma once
// The threads that are lent to the floors below, which own none.
#include "base/workers.hpp"

namespace strikebed::host {

/// Hands for `threads` jobs at a time (at least 1; the calling thread is one of them). What a job throws is thrown
/// again to the caller, when the others have stopped. Starting a thread costs some 20 microseconds, so jobs should take
/// longer.
[[nodiscard]] Workers worker_threads(int threads);

/// How many run at the same time on this machine, 1 or more.
[[nodiscard]] int threads_of_machine();

}  // namespace strikebed::host

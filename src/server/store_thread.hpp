#pragma once
// A thread of its own for the daybook's store, which is used by one at a time and may have to wait for a disk.
#include <chrono>
#include <condition_variable>
#include <cstddef>
#include <deque>
#include <functional>
#include <mutex>
#include <optional>
#include <thread>

#include "base/result.hpp"
#include "host/store/daybook_store.hpp"

namespace strikebed::server {

class StoreThread {
 public:
  /// Works on the store; returns whether something may have been added.
  using Job = std::function<bool(host::DaybookStore& store)>;
  /// Takes the number of entries in the daybook, on the thread of the store.
  using Grew = std::function<void(std::size_t entries)>;
  using Tell = std::function<void(const Error& error)>;

  /// Says at once how many entries there are; then, after each job that may have added some and every `look_every`
  /// (for what other programs write), when there are more. What goes wrong with looking is told, once in a row.
  StoreThread(host::DaybookStore store, std::chrono::milliseconds look_every, Grew grew, Tell tell);
  StoreThread(const StoreThread&) = delete;
  StoreThread& operator=(const StoreThread&) = delete;
  /// Ends the job in hand; those that wait are never done.
  ~StoreThread();

  /// Jobs are done one after the other, in the order in which they came.
  void ask(Job job);

 private:
  void work(const std::stop_token& stopped);
  void look();

  host::DaybookStore store_;
  std::chrono::milliseconds look_every_;
  Grew grew_;
  Tell tell_;
  std::optional<std::size_t> known_;  ///< entries, as said last
  bool told_ = false;

  std::mutex guards_jobs_;
  std::condition_variable_any more_;
  std::deque<Job> jobs_;
  std::jthread thread_;  // the last: it uses all of the others
};

}  // namespace strikebed::server

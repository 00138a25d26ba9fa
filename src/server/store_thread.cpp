#include "server/store_thread.hpp"

#include <utility>

namespace strikebed::server {

StoreThread::StoreThread(host::DaybookStore store, std::chrono::milliseconds look_every, Grew grew, Tell tell)
    : store_(std::move(store)),
      look_every_(look_every),
      grew_(std::move(grew)),
      tell_(std::move(tell)),
      thread_([this](const std::stop_token& stopped) { work(stopped); }) {}

StoreThread::~StoreThread() = default;

void StoreThread::ask(Job job) {
  {
    const std::lock_guard lock(guards_jobs_);
    jobs_.push_back(std::move(job));
  }
  more_.notify_one();
}

void StoreThread::work(const std::stop_token& stopped) {
  look();
  auto next_look = std::chrono::steady_clock::now() + look_every_;
  while (!stopped.stop_requested()) {
    Job job;
    {
      std::unique_lock lock(guards_jobs_);
      more_.wait_until(lock, stopped, next_look, [&] { return !jobs_.empty(); });
      if (stopped.stop_requested()) return;
      if (!jobs_.empty()) {
        job = std::move(jobs_.front());
        jobs_.pop_front();
      }
    }
    const bool may_have_grown = job && job(store_);
    if (!may_have_grown && std::chrono::steady_clock::now() < next_look) continue;
    look();
    next_look = std::chrono::steady_clock::now() + look_every_;
  }
}

void StoreThread::look() {
  const auto entries = store_.number_of_entries();
  if (!entries) {
    if (!std::exchange(told_, true)) tell_(entries.error());
    return;
  }
  told_ = false;
  if (known_ == *entries) return;
  known_ = *entries;
  grew_(*entries);
}

}  // namespace strikebed::server

#pragma once
// Long work as a row of steps: whoever asked for it takes one after the other, shows how far it is, and may stop
// between any two by taking no more.
#include <coroutine>
#include <cstdlib>
#include <memory>
#include <utility>

namespace strikebed {

/// A coroutine that says with co_yield how far it is; given other steps, it takes those in its own place. What it
/// refers to must outlive it.
template <class Said>
class Steps {
 public:
  struct promise_type {
    Said said{};
    std::unique_ptr<Steps> inner;
    Steps get_return_object() { return Steps(std::coroutine_handle<promise_type>::from_promise(*this)); }
    std::suspend_always initial_suspend() noexcept { return {}; }
    std::suspend_always final_suspend() noexcept { return {}; }
    std::suspend_always yield_value(Said now) noexcept {
      said = std::move(now);
      return {};
    }
    std::suspend_always yield_value(Steps steps) {
      inner = std::make_unique<Steps>(std::move(steps));
      return {};
    }
    void return_void() noexcept {}
    void unhandled_exception() noexcept { std::abort(); }  // errors are values here
  };

  Steps(Steps&& other) noexcept : work_(std::exchange(other.work_, nullptr)) {}
  Steps& operator=(Steps&& other) noexcept {
    std::swap(work_, other.work_);
    return *this;
  }
  Steps(const Steps&) = delete;
  Steps& operator=(const Steps&) = delete;
  ~Steps() {
    if (work_) work_.destroy();
  }

  /// Takes the next step; false when the work is done.
  bool next() {
    if (!work_) return false;
    promise_type& promise = work_.promise();
    while (!work_.done()) {
      if (promise.inner && promise.inner->next()) {
        promise.said = promise.inner->said();
        return true;
      }
      promise.inner.reset();
      work_.resume();
      if (!promise.inner) break;
    }
    return !work_.done();
  }
  /// What the last step said.
  [[nodiscard]] const Said& said() const { return work_.promise().said; }

 private:
  explicit Steps(std::coroutine_handle<promise_type> work) : work_(work) {}
  std::coroutine_handle<promise_type> work_;
};

}  // namespace strikebed

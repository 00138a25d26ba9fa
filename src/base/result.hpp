#pragma once
// Errors as values. A function that may fail returns Result<T>; nothing up to src/nursery throws.
#include <cstdlib>
#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

namespace strikebed {

/// What was wrong with an input, where, and what would have been right. Every part may be left empty but `problem`.
struct Error {
  std::string problem = {};  ///< one plain sentence without the place: "the session cap is 0"
  /// What is allowed: "a whole number of 1 or more". Refers to other fields as <dose> (base/field_names.hpp).
  std::string allowed = {};
  /// Of the request: "dose"; where a file is named, a dotted key or a column of it: "sessions.cuttings_at_most".
  std::string field = {};
  std::string file = {};           ///< as the user named it
  int line = 0;                    ///< from 1; 0: no line
  int column = 0;                  ///< from 1, characters in the line; 0: no column
  std::vector<Error> others = {};  ///< what else was wrong, so that all can be mended at once

  /// `file:line:column: field: problem; allowed: ...`, leaving out what is empty, and without the others.
  [[nodiscard]] std::string message() const;
  /// This one and the others, each in one line.
  [[nodiscard]] std::vector<std::string> messages() const;
  /// One more, with its others; nothing new when its message is there already.
  void add(const Error& other);
};

/// A value or an Error. `value()` on an error is a programming mistake and aborts.
template <class T>
class [[nodiscard]] Result {
 public:
  Result(T value) : held_(std::in_place_index<0>, std::move(value)) {}
  Result(Error error) : held_(std::in_place_index<1>, std::move(error)) {}

  [[nodiscard]] bool ok() const { return held_.index() == 0; }
  explicit operator bool() const { return ok(); }
  [[nodiscard]] const T& value() const& { return *checked(); }
  [[nodiscard]] T& value() & { return *checked(); }
  [[nodiscard]] T&& value() && { return std::move(*checked()); }
  [[nodiscard]] const Error& error() const {
    const Error* held = std::get_if<1>(&held_);
    if (!held) std::abort();
    return *held;
  }
  const T& operator*() const& { return value(); }
  T& operator*() & { return value(); }
  const T* operator->() const { return checked(); }
  T* operator->() { return checked(); }

 private:
  const T* checked() const {
    const T* held = std::get_if<0>(&held_);
    if (!held) std::abort();
    return held;
  }
  T* checked() { return const_cast<T*>(std::as_const(*this).checked()); }
  std::variant<T, Error> held_;
};

}  // namespace strikebed

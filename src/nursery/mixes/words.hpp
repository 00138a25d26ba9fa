#pragma once
// Reading single words of a mix: whole numbers, per cent, lengths, what to show. Each error names the field.
#include <optional>
#include <string>
#include <utility>

#include "base/result.hpp"
#include "mix/amounts.hpp"
#include "print/measures.hpp"

namespace strikebed::nursery {

/// A list of readings, of which the first error counts: a reader of many words is then a plain list.
class Readings {
 public:
  template <class T, class Place>
  void take(Result<T> result, Place& place) {
    if (result) {
      place = std::move(*result);
    } else if (!error_) {
      error_ = result.error();
    }
  }
  /// What was left out, the empty text, is not read.
  template <class Read, class Place>
  void take_given(const std::string& text, const Read& read, Place& place) {
    if (!text.empty()) take(read(text), place);
  }
  [[nodiscard]] const std::optional<Error>& error() const { return error_; }

 private:
  std::optional<Error> error_;
};

/// Errors: no whole number from `low` to `high`.
[[nodiscard]] Result<int> read_whole(const std::string& text, int low, int high, const std::string& field);
/// A plain number, a per cent sign behind it allowed. Errors: none from `low` to `high`.
[[nodiscard]] Result<double> read_number(const std::string& text, double low, double high, const std::string& field);
/// "us", "imperial" or empty.
[[nodiscard]] Result<print::Beside> read_beside(const std::string& text, const std::string& field);

struct LengthPair {
  double first_cm = 0;
  double second_cm = 0;
};
/// "8-9 cm" with '-', "1.5 x 3 cm" with 'x'; one length alone stands for both where `alone` allows it.
/// The unit stands at the end and holds for both.
[[nodiscard]] Result<LengthPair> read_lengths(const std::string& text, char between, bool alone,
                                              const std::string& field);

}  // namespace strikebed::nursery

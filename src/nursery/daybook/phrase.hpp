#pragma once
// Typed words on their way into an entry. The fields of a kind stand once, in daybook/bodies.hpp; whatever a person may
// type for a kind follows from them:
//
//   a field by its name, then its value           emerged 41    soak 60 s    bench "long table"
//   a number alone, for the kind's main number     2 (lost)
//   a number before the name of its field          400 seeds
//   a word of a choice, a yes by its name          dried    sample
//   what must be there, in its order               a lot by its name, a bottle
//   one of a list by its name, then its fields     from K427T 20
//   a day, a time                                  yesterday    on Saturday    on 2027-04-18 at 9:30
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/date.hpp"
#include "base/result.hpp"
#include "daybook/entry.hpp"
#include "nursery/daybook/names.hpp"

namespace strikebed::nursery {

/// A day as it is said: "today", "yesterday", "Saturday" (the last one, or today), "2027-04-18".
[[nodiscard]] std::optional<Date> read_day(std::string_view typed, Date today);
/// Minutes after midnight: "9:30", "14:05".
[[nodiscard]] std::optional<int> read_time(std::string_view typed);

struct Phrase {
  std::span<const std::string> words;
  std::size_t next = 0;
  std::optional<Date> on = {};
  std::optional<int> at_minute = {};

  [[nodiscard]] bool is_over(std::size_t ahead = 0) const { return next + ahead >= words.size(); }
  /// The word to come, or one after it; empty when there is none.
  [[nodiscard]] std::string_view peek(std::size_t ahead = 0) const {
    return is_over(ahead) ? std::string_view() : std::string_view(words[next + ahead]);
  }
  /// All that is left.
  [[nodiscard]] std::string rest();
};

/// Reads what is left of a phrase into a body.
///   main   the field that a number alone is for; may be empty
/// Errors: a word that fits nowhere; a value that is none, or out of its range; a name that the daybook does not know.
/// What must be there and is not is left to error_of.
[[nodiscard]] std::optional<Error> read_words(Phrase& phrase, std::string_view main, Date today, const Names& names,
                                              daybook::Body& body);

}  // namespace strikebed::nursery

#pragma once
// How a body tells of its fields. Each body lists them once, in `fields`, for whoever comes to see them: the reader and
// the writer of JSON, the columns of CSV, the search for doubles, the grammar of docs/daybook-format.md.
#include <string_view>

namespace strikebed::daybook {

/// What an id in a body names.
enum class Refers {
  any,     ///< an entry of any kind, withdrawn or not
  batch,   ///< batch_started
  lot,     ///< lot_received
  bottle,  ///< stock_received or mixed
  stock,   ///< any of the last two
  goal,    ///< goal_set
};

/// A field, and what is allowed in it. Its C++ type says the rest: a std::optional, a false, an empty text and an empty
/// list are left out of the JSON.
struct Field {
  std::string_view name;  ///< with its unit, where it has one
  double low = 0;         ///< of a number; bytes of a text (1: it must be given); items of a list
  double high = 0;
  Refers refers = Refers::any;
  bool is_note = false;  ///< free words, in which two people's entries about one thing may differ
};

inline constexpr double kMostPlants = 1'000'000;  ///< seeds, seedlings, cuttings in one entry
inline constexpr double kLongestName = 100;       ///< bytes
inline constexpr double kLongestNote = 4'000;

/// A number of seeds or plants; 0 where none is an answer.
constexpr Field number_of(std::string_view name, double low = 0) { return {name, low, kMostPlants}; }
constexpr Field between(std::string_view name, double low, double high) { return {name, low, high}; }
constexpr Field named(std::string_view name) { return {name, 1, kLongestName}; }
constexpr Field maybe_named(std::string_view name) { return {name, 0, kLongestName}; }
constexpr Field note(std::string_view name) { return {name, 0, kLongestNote, Refers::any, true}; }
constexpr Field reference(std::string_view name, Refers refers) { return {name, 0, 0, refers}; }
constexpr Field list(std::string_view name, double low, double high) { return {name, low, high}; }
/// Of a kind that has nothing to be allowed: one of some words, a day, a moment, yes.
constexpr Field plain(std::string_view name) { return {name}; }

}  // namespace strikebed::daybook

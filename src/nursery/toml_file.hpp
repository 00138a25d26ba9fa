#pragma once
// A TOML text read strictly: every getter says what it allows, every key that nobody asked for is an error. The only
// place that knows the TOML library.
//
// Getters never fail on their own: they return nothing and note the error with file, line and key, so that a reader is
// a plain list of getters with one finish() at its end, which then knows all that is wrong.
#include <cstddef>
#include <initializer_list>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/date.hpp"
#include "base/result.hpp"

namespace strikebed::nursery {

inline constexpr std::size_t kLargestTomlFile = 1'000'000;  ///< bytes
inline constexpr std::size_t kMostMistakesSaid = 20;        ///< of one file

/// A day as written: 2027-10-01, or "10-01", which comes every year.
struct WrittenDay {
  std::optional<int> year;
  int month = 1;  ///< 1-12
  int day = 1;    ///< 1-31

  [[nodiscard]] Date in_year(int other_year) const;  ///< the month and day in that year
  [[nodiscard]] Date on_or_after(Date from) const;   ///< the day itself, or the next such month and day
};

/// The numbers a key may hold, and how to say so.
struct NumberRange {
  double low = 0;
  double high = 0;
  bool low_excluded = false;
  bool high_excluded = false;
  std::string of_what{};  ///< in brackets after the range: "°C", "degrees, south negative"; may be empty

  [[nodiscard]] bool holds(double number) const;
  [[nodiscard]] std::string in_words() const;  ///< "a number from -90 to 90 (degrees, south negative)"
};

/// One table of a TOML file. Cheap to copy; keeps its file alive.
class TomlTable {
 public:
  [[nodiscard]] bool has(std::string_view key) const;  ///< and the key counts as known
  [[nodiscard]] bool has_any(std::initializer_list<std::string_view> keys) const;
  [[nodiscard]] bool has_all(std::initializer_list<std::string_view> keys) const;
  [[nodiscard]] bool is_table(std::string_view key) const;  ///< and the key counts as known
  [[nodiscard]] bool is_text(std::string_view key) const;   ///< and the key counts as known

  /// Notes an error when the key is not there; `allowed` says what to write. True when it is.
  bool needs(std::string_view key, std::string_view allowed) const;

  // Each returns nothing when the key is not there, and nothing with an error noted when it holds something else.
  [[nodiscard]] std::optional<std::string> text(std::string_view key, std::string_view allowed = "a text") const;
  [[nodiscard]] std::optional<std::string> one_of(std::string_view key, std::span<const std::string_view> words) const;
  [[nodiscard]] std::optional<double> number(std::string_view key, const NumberRange& range) const;
  [[nodiscard]] std::optional<int> whole(std::string_view key, int low, int high) const;
  [[nodiscard]] std::optional<bool> yes_no(std::string_view key) const;
  [[nodiscard]] std::optional<WrittenDay> day(std::string_view key) const;
  [[nodiscard]] std::optional<WrittenDay> month_day(std::string_view key) const;  ///< "10-01" only
  [[nodiscard]] std::optional<std::vector<double>> numbers(std::string_view key, std::size_t how_many,
                                                           const NumberRange& range) const;
  [[nodiscard]] std::optional<std::vector<std::string>> texts(std::string_view key) const;  ///< one or more
  [[nodiscard]] std::optional<std::vector<WrittenDay>> days(std::string_view key) const;    ///< any number
  [[nodiscard]] std::optional<TomlTable> table(std::string_view key) const;
  [[nodiscard]] std::vector<TomlTable> tables(std::string_view key) const;  ///< [[key]], empty when not there

  /// No error is noted at these keys or below them: what is checked between several values needs all of them.
  [[nodiscard]] bool sound(std::initializer_list<std::string_view> keys) const;
  /// Notes an error at a key (at the table itself when the key is empty).
  void fail(std::string_view key, std::string problem, std::string allowed = "") const;
  /// An error at a key without its words: for what can only be found out later.
  [[nodiscard]] Error place_of(std::string_view key) const;
  [[nodiscard]] std::string found(std::string_view key) const;  ///< what the key holds, for messages: "95", "\"abc\""

 private:
  friend class TomlFile;
  struct Held;
  TomlTable(std::shared_ptr<Held> held, const void* node, std::string path);
  std::shared_ptr<Held> held_;
  const void* node_;
  std::string path_;
};

/// A TOML file being read.
class TomlFile {
 public:
  /// `name` is the file as the user named it.
  /// Errors: more than kLargestTomlFile bytes, zero bytes, not UTF-8, not TOML 1.0, nested deeper than 16 values or 100
  /// dots in a line, empty.
  [[nodiscard]] static Result<TomlFile> parse(std::string_view text, std::string name);

  [[nodiscard]] TomlTable root() const;

  /// What was wrong, if anything: first a key that no getter asked for in a table that was read (with the nearest that
  /// was), else the first error noted; the others behind it in the order of their lines, kMostMistakesSaid in all.
  [[nodiscard]] std::optional<Error> finish() const;

 private:
  explicit TomlFile(std::shared_ptr<TomlTable::Held> held);
  std::shared_ptr<TomlTable::Held> held_;
};

/// A text as TOML writes it, in quotes.
[[nodiscard]] std::string toml_text(std::string_view text);

/// `a, b or c`, each in quotes.
[[nodiscard]] std::string listed(std::span<const std::string_view> words);

}  // namespace strikebed::nursery

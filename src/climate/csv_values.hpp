#pragma once
// One measured column of a CSV file: its cells as SI values, and whether the whole column makes sense.
#include <optional>
#include <string>
#include <string_view>

#include "base/result.hpp"
#include "climate/columns.hpp"
#include "climate/notices.hpp"

namespace strikebed::climate {

/// A cell and where it stands.
struct PlacedCell {
  std::string_view text;
  int line;
  const char* line_start;
};

class CsvColumn {
 public:
  /// `name` as in the header, for messages. `unit` of its numbers.
  CsvColumn(Role role, std::string name, const KnownUnit& unit);

  [[nodiscard]] Role role() const { return role_; }
  [[nodiscard]] const KnownUnit& unit() const { return unit_; }

  /// A cell as SI; NaN when it is missing or cannot be, with a notice.
  [[nodiscard]] double read(const PlacedCell& cell, bool decimal_comma, NoticeBook& notices);

  /// After the last cell: a temperature that looks like another unit, or one whose column is no column of numbers.
  [[nodiscard]] std::optional<Error> wrong(const std::string& file) const;

 private:
  [[nodiscard]] double read_word(const PlacedCell& cell, NoticeBook& notices);
  [[nodiscard]] double missing(const PlacedCell& cell, NoticeBook& notices) const;
  [[nodiscard]] std::optional<Error> wrong_unit() const;
  [[nodiscard]] std::optional<Error> wrong_column() const;

  Role role_;
  std::string name_;
  const KnownUnit& unit_;
  Bounds bounds_;
  // what was met on the way
  long numbers_ = 0;
  long too_hot_ = 0;
  double hottest_ = 0;
  int hot_line_ = 0;
  int hot_column_ = 0;
  long words_ = 0;
  Error first_word_;
};

}  // namespace strikebed::climate

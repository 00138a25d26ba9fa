#pragma once
// Cells of a delimited text, read in one pass without copying: separators, quotes, line ends, line numbers.
#include <optional>
#include <string>
#include <string_view>

namespace strikebed::climate {

/// One cell, without its quotes and outer blanks.
struct Cell {
  std::string_view text;
  bool ends_line = false;  ///< the last of its line
  bool unclosed = false;   ///< began with a quotation mark that never came again
};

/// Walks over a text cell by cell (RFC 4180, and blanks about cells, LF, CRLF or CR at line ends, any separator).
class CellReader {
 public:
  CellReader(std::string_view text, char separator, int first_line = 1)
      : at_(text.data()), end_(at_ + text.size()), line_start_(at_), separator_(separator), line_(first_line) {}

  [[nodiscard]] bool at_end() const { return at_ == end_; }
  [[nodiscard]] int line() const { return line_; }  ///< of the cell to come
  [[nodiscard]] const char* line_start() const { return line_start_; }
  [[nodiscard]] const char* position() const { return at_; }

  /// The next cell. Only when not at_end(), or right after a cell that did not end its line. Afterwards line() and
  /// line_start() are still those of the cell unless it ended the line: then call next_line().
  Cell next() {
    while (at_ != end_ && is_blank(*at_)) ++at_;
    Cell cell;
    if (at_ != end_ && *at_ == '"') {
      cell = quoted();
    } else {
      const char* first = at_;
      while (at_ != end_ && *at_ != separator_ && *at_ != '\n' && *at_ != '\r') ++at_;
      const char* last = at_;
      while (last != first && is_blank(last[-1])) --last;
      cell.text = {first, static_cast<std::size_t>(last - first)};
    }
    if (at_ != end_ && *at_ == separator_) {
      ++at_;
    } else {
      cell.ends_line = true;
    }
    return cell;
  }

  /// Steps over the line end after the last cell of a line.
  void next_line() {
    if (at_ == end_) return;
    const char first = *at_++;
    if (first == '\r' && at_ != end_ && *at_ == '\n') ++at_;
    ++line_;
    line_start_ = at_;
  }

 private:
  [[nodiscard]] bool is_blank(char c) const { return c == ' ' || (c == '\t' && separator_ != '\t'); }

  Cell quoted() {
    Cell cell;
    const char* first = ++at_;
    while (at_ != end_) {
      if (*at_ == '"') {
        if (at_ + 1 == end_ || at_[1] != '"') break;
        ++at_;
      } else if (*at_ == '\n') {
        ++line_;
        line_start_ = at_ + 1;
      }
      ++at_;
    }
    cell.unclosed = at_ == end_;
    const char* last = at_;
    while (first != last && (*first == ' ' || *first == '\t')) ++first;
    while (last != first && (last[-1] == ' ' || last[-1] == '\t')) --last;
    cell.text = {first, static_cast<std::size_t>(last - first)};
    while (at_ != end_ && *at_ != separator_ && *at_ != '\n' && *at_ != '\r') ++at_;
    return cell;
  }

  const char* at_;
  const char* end_;
  const char* line_start_;
  char separator_;
  int line_;
};

/// Characters (UTF-8) from `line_start` to `at`, plus one: the column of a message.
[[nodiscard]] int column_at(const char* line_start, const char* at);

/// A text in quotation marks for a message: at most 40 characters, without control characters or broken UTF-8.
[[nodiscard]] std::string shown(std::string_view text);

/// The number that makes up the whole cell ("12.8", "+3", "-1e2"; "12,8" when `decimal_comma`); nothing otherwise, and
/// for infinities.
[[nodiscard]] std::optional<double> read_number(std::string_view cell, bool decimal_comma);

/// The whole number of at most 9 digits that makes up the whole cell; nothing otherwise.
[[nodiscard]] std::optional<int> read_whole(std::string_view cell);

/// What may stand between cells.
inline constexpr std::string_view kSeparators = "\t;,";
inline constexpr int kHeaderWithin = 30;  ///< lines; stations write some lines about themselves first

/// The first line of a text, which then begins after its end (LF, CRLF or CR).
[[nodiscard]] std::string_view take_line(std::string_view& text);

/// Why a text cannot be a table at all (empty, zero bytes, a zipped spreadsheet, UTF-16, no line of several cells where
/// the header should be, a first line of more than a megabyte); empty when it may be one. The beginning of a text that
/// is longer than that line will do.
struct NotATable {
  std::string problem;
  std::string allowed;
  int line = 0;
};
[[nodiscard]] std::optional<NotATable> why_not_a_table(std::string_view text);

/// The text without a UTF-8 byte order mark.
[[nodiscard]] std::string_view without_byte_order_mark(std::string_view text);

}  // namespace strikebed::climate

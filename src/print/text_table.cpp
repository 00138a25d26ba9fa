#include "print/text_table.hpp"

#include <algorithm>
#include <cmath>

namespace strikebed::print {
namespace {

std::string repeated(std::string_view what, std::size_t times) {
  std::string text;
  for (std::size_t i = 0; i < times; ++i) text += what;
  return text;
}

std::string padded(const std::string& text, std::size_t width, bool right) {
  const std::size_t now = width_of(text);
  const std::string gap(now < width ? width - now : 0, ' ');
  return right ? gap + text : text + gap;
}

/// What stands in brackets is not broken: "24.5 kg (22.7 to 25.9)" goes into two lines, not three.
std::string brackets_whole(std::string text) {
  bool inside = false;
  std::string whole;
  for (const char c : text) {
    if (c == '(' || c == ')') inside = c == '(';
    if (inside && c == ' ') {
      whole += kNoBreak;
    } else {
      whole += c;
    }
  }
  return whole;
}

std::size_t longest_word(std::string_view text) {
  std::size_t longest = 0;
  for (const auto& word : wrapped(text, 1)) longest = std::max(longest, width_of(word));
  return longest;
}

void append_line(std::string& out, std::string line) {
  line.erase(line.find_last_not_of(' ') + 1);
  out += line + '\n';
}

/// Cells of a table that are worth a line of their own: no empty ones, and no bars.
bool says_something(std::string_view cell) { return !cell.empty() && !cell.starts_with("█") && !cell.starts_with("▌"); }

/// A table set into so many characters.
class TextTable {
 public:
  using Row = std::vector<std::string>;

  TextTable(const std::vector<Column>& columns, const std::vector<Row>& rows, std::size_t width)
      : columns_(columns), rows_(rows), width_(width), last_(columns.size() - 1) {
    std::vector<std::size_t> cells(columns.size(), 0);
    for (const Row& row : rows) {
      for (std::size_t c = 0; c < row.size() && c <= last_; ++c) cells[c] = std::max(cells[c], width_of(row[c]));
    }
    for (std::size_t c = 0; c <= last_; ++c) widths_.push_back(std::max(cells[c], width_of(columns[c].head)));
    if (over() > 0) {
      for (std::size_t c = 0; c <= last_; ++c) widths_[c] = std::max(cells[c], longest_word(columns[c].head));
    }
    if (over() > 0 && last_ > 0) {
      widths_[0] = std::max(std::min(widths_[0], kNarrowest), widths_[0] > over() ? widths_[0] - over() : 0);
    }
    narrow_the_middle();
    fits_ = over() == 0;
    const std::size_t left = before_last();
    widths_[last_] = std::min(widths_[last_], width > left + kNarrowest ? width - left : kNarrowest);
    for (std::size_t c = 0; c <= last_; ++c) fits_ = fits_ && least_width(c, false) <= widths_[c];
  }

  [[nodiscard]] bool fits() const { return fits_; }

  [[nodiscard]] std::string side_by_side() const {
    std::string out;
    Row heads;
    std::string rule = "  ";
    for (std::size_t c = 0; c <= last_; ++c) {
      heads.push_back(columns_[c].head);
      rule += repeated("─", widths_[c]) + (c < last_ ? "  " : "");
    }
    append_row(out, heads, true);
    append_line(out, rule);
    for (const Row& row : rows_) append_row(out, row, false);
    return out;
  }

  /// For a narrow screen: each row a paragraph of its cells with their heads, a long last one below them. Bars are left
  /// out.
  [[nodiscard]] std::string one_below_the_other() const {
    constexpr std::size_t kLong = 24;
    std::string out;
    for (const Row& row : rows_) {
      if (std::ranges::count_if(row, says_something) == 1) {  // a heading between the rows
        out += paragraph(*std::ranges::find_if(row, says_something), width_, "  ");
        continue;
      }
      const bool long_last = row.size() > last_ && !columns_[last_].right && width_of(row[last_]) > kLong;
      std::string cells;
      for (std::size_t c = 0; c < row.size() && c < (long_last ? last_ : last_ + 1); ++c) {
        if (says_something(row[c])) cells += (cells.empty() ? "" : "; ") + with_head(c, row[c]);
      }
      out += plain_spaces(paragraph(cells, width_, "  - "));
      if (long_last) out += paragraph(row[last_], width_, "    ");
    }
    return out;
  }

 private:
  static constexpr std::size_t kNarrowest = 12;

  /// What stands left of the last column.
  [[nodiscard]] std::size_t before_last() const {
    std::size_t sum = 2;
    for (std::size_t c = 0; c < last_; ++c) sum += widths_[c] + 2;
    return sum;
  }

  /// By how much the table is too wide even with a narrow last column.
  [[nodiscard]] std::size_t over() const {
    const std::size_t least = before_last() + std::min(widths_[last_], kNarrowest);
    return least > width_ ? least - width_ : 0;
  }

  /// Of a column, its head included; whole: what stands in brackets counts as one word.
  [[nodiscard]] std::size_t least_width(std::size_t c, bool whole) const {
    std::size_t longest = longest_word(columns_[c].head);
    for (const Row& row : rows_) {
      if (c < row.size()) longest = std::max(longest, longest_word(whole ? brackets_whole(row[c]) : row[c]));
    }
    return longest;
  }

  /// The columns between the first and the last, the widest first, as far as their cells can be broken: inside brackets
  /// only at last.
  void narrow_the_middle() {
    for (const bool whole : {true, false}) {
      while (over() > 0) {
        std::size_t widest = 0;
        for (std::size_t c = 1; c < last_; ++c) {
          if (widths_[c] > least_width(c, whole) && (widest == 0 || widths_[c] > widths_[widest])) widest = c;
        }
        if (widest == 0) break;
        --widths_[widest];
      }
    }
  }

  [[nodiscard]] std::vector<std::string> lines_of_cell(const std::string& text, std::size_t c, bool wrap_all) const {
    const bool wrap = wrap_all || c == last_ || width_of(text) > widths_[c];
    const std::string whole = wrap_all || c == 0 || c == last_ ? text : brackets_whole(text);
    std::vector<std::string> lines =
        wrap ? wrapped(longest_word(whole) <= widths_[c] ? whole : text, widths_[c]) : std::vector{text};
    if (whole != text) std::ranges::transform(lines, lines.begin(), plain_spaces);
    return lines;
  }

  void append_row(std::string& out, const Row& texts, bool wrap_all) const {
    std::vector<std::vector<std::string>> lines;
    std::size_t height = 1;
    for (std::size_t c = 0; c <= last_; ++c) {
      lines.push_back(lines_of_cell(c < texts.size() ? texts[c] : std::string(), c, wrap_all));
      height = std::max(height, lines.back().size());
    }
    for (std::size_t i = 0; i < height; ++i) {
      std::string line = "  ";
      for (std::size_t c = 0; c <= last_; ++c) {
        line += padded(i < lines[c].size() ? lines[c][i] : std::string(), widths_[c], columns_[c].right) + "  ";
      }
      append_line(out, line);
    }
  }

  /// "Low: 3", not broken where it is short.
  [[nodiscard]] std::string with_head(std::size_t c, const std::string& cell) const {
    const std::string both = columns_[c].head.empty() ? cell : columns_[c].head + ": " + cell;
    return width_of(both) <= width_ / 2 ? unbroken(both) : both;
  }

  const std::vector<Column>& columns_;
  const std::vector<Row>& rows_;
  std::size_t width_;
  std::size_t last_;
  std::vector<std::size_t> widths_;
  bool fits_ = false;
};

}  // namespace

std::string replaced(std::string text, std::string_view from, std::string_view to) {
  for (std::size_t at = text.find(from); at != std::string::npos; at = text.find(from, at + to.size())) {
    text.replace(at, from.size(), to);
  }
  return text;
}

std::string unbroken(std::string text) { return replaced(std::move(text), " ", kNoBreak); }
std::string plain_spaces(std::string text) { return replaced(std::move(text), kNoBreak, " "); }

std::string table(const std::vector<Column>& columns, const std::vector<std::vector<std::string>>& rows,
                  std::size_t width) {
  if (rows.empty() || columns.empty()) return {};
  const TextTable set(columns, rows, width);
  return set.fits() ? set.side_by_side() : set.one_below_the_other();
}

std::string bar(double share, std::size_t cells) {
  if (!(share > 0)) return {};
  const auto halves = static_cast<std::size_t>(std::lround(std::min(share, 1.0) * 2 * static_cast<double>(cells)));
  return repeated("█", halves / 2) + (halves % 2 == 1 ? "▌" : "");
}

}  // namespace strikebed::print

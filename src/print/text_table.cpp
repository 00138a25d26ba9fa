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
  constexpr std::size_t kNarrowest = 12;
  const std::size_t last = columns.size() - 1;
  std::vector<std::size_t> cells(columns.size(), 0);
  for (const auto& row : rows) {
    for (std::size_t c = 0; c < row.size() && c <= last; ++c) cells[c] = std::max(cells[c], width_of(row[c]));
  }
  std::vector<std::size_t> widths;
  const auto before_last = [&] {
    std::size_t sum = 2;
    for (std::size_t c = 0; c < last; ++c) sum += widths[c] + 2;
    return sum;
  };
  const auto too_wide = [&] { return before_last() + std::min(widths[last], kNarrowest) > width; };
  for (std::size_t c = 0; c <= last; ++c) widths.push_back(std::max(cells[c], width_of(columns[c].head)));
  if (too_wide()) {
    for (std::size_t c = 0; c <= last; ++c) widths[c] = std::max(cells[c], longest_word(columns[c].head));
  }
  const auto narrowest = [&](std::size_t c, bool whole) {
    std::size_t narrow = longest_word(columns[c].head);
    for (const auto& row : rows) {
      if (c < row.size()) narrow = std::max(narrow, longest_word(whole ? brackets_whole(row[c]) : row[c]));
    }
    return narrow;
  };
  if (too_wide() && last > 0) {
    const std::size_t over = before_last() + std::min(widths[last], kNarrowest) - width;
    widths[0] = std::max(std::min(widths[0], kNarrowest), widths[0] > over ? widths[0] - over : 0);
  }
  // Then the columns between, the widest first, as far as their cells can be broken: inside brackets only at last.
  for (const bool whole : {true, false}) {
    while (too_wide()) {
      std::size_t widest = 0;
      for (std::size_t c = 1; c < last; ++c) {
        if (widths[c] > narrowest(c, whole) && (widest == 0 || widths[c] > widths[widest])) widest = c;
      }
      if (widest == 0) break;
      --widths[widest];
    }
  }
  const std::size_t left = before_last();
  widths[last] = std::min(widths[last], width > left + kNarrowest ? width - left : kNarrowest);

  std::string out;
  const auto append_row = [&](const std::vector<std::string>& texts, bool wrap_all) {
    std::vector<std::vector<std::string>> lines;
    std::size_t height = 1;
    for (std::size_t c = 0; c <= last; ++c) {
      const std::string text = c < texts.size() ? texts[c] : std::string();
      const bool wrap = wrap_all || c == last || width_of(text) > widths[c];
      const std::string whole = wrap_all || c == 0 || c == last ? text : brackets_whole(text);
      lines.push_back(wrap ? wrapped(longest_word(whole) <= widths[c] ? whole : text, widths[c])
                           : std::vector<std::string>{text});
      if (whole != text) std::ranges::transform(lines.back(), lines.back().begin(), plain_spaces);
      height = std::max(height, lines.back().size());
    }
    for (std::size_t i = 0; i < height; ++i) {
      std::string line = "  ";
      for (std::size_t c = 0; c <= last; ++c) {
        line += padded(i < lines[c].size() ? lines[c][i] : std::string(), widths[c], columns[c].right) + "  ";
      }
      append_line(out, line);
    }
  };
  std::vector<std::string> heads;
  std::string rule = "  ";
  for (std::size_t c = 0; c <= last; ++c) {
    heads.push_back(columns[c].head);
    rule += repeated("─", widths[c]) + (c < last ? "  " : "");
  }
  append_row(heads, true);
  append_line(out, rule);
  for (const auto& row : rows) append_row(row, false);
  return out;
}

std::string bar(double share, std::size_t cells) {
  if (!(share > 0)) return {};
  const auto halves = static_cast<std::size_t>(std::lround(std::min(share, 1.0) * 2 * static_cast<double>(cells)));
  return repeated("█", halves / 2) + (halves % 2 == 1 ? "▌" : "");
}

}  // namespace strikebed::print

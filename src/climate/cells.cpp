#include "climate/cells.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstring>

#include "base/number.hpp"
#include "base/shown_text.hpp"

namespace strikebed::climate {
namespace {

constexpr std::size_t kShownCharacters = 40;
constexpr std::size_t kLongestFirstLine = std::size_t{1} << 20;  // bytes

bool has_several_cells(std::string_view text) {
  for (int line = 1; line <= kHeaderWithin && !text.empty(); ++line) {
    if (take_line(text).find_first_of(kSeparators) != std::string_view::npos) return true;
  }
  return false;
}

}  // namespace

int column_at(const char* line_start, const char* at) {
  const auto is_first_byte = [](char c) { return (static_cast<unsigned char>(c) & 0xC0) != 0x80; };
  return static_cast<int>(std::count_if(line_start, at, is_first_byte)) + 1;
}

std::string shown(std::string_view text) { return quoted(text, kShownCharacters); }

std::optional<double> read_number(std::string_view cell, bool decimal_comma) {
  std::array<char, 32> with_point;
  if (decimal_comma && cell.size() <= with_point.size()) {
    if (const std::size_t comma = cell.find(','); comma != std::string_view::npos) {
      std::copy(cell.begin(), cell.end(), with_point.begin());
      with_point[comma] = '.';
      cell = {with_point.data(), cell.size()};
    }
  }
  if (cell.size() > 1 && cell[0] == '+' && cell[1] != '-') cell.remove_prefix(1);
  return parse_number(cell);
}

std::optional<int> read_whole(std::string_view cell) {
  if (cell.empty() || cell.size() > 9) return std::nullopt;
  int number = 0;
  for (const char c : cell) {
    if (c < '0' || c > '9') return std::nullopt;
    number = number * 10 + (c - '0');
  }
  return number;
}

std::string_view take_line(std::string_view& text) {
  const std::size_t end = std::min(text.find_first_of("\r\n"), text.size());
  const std::string_view line = text.substr(0, end);
  text.remove_prefix(end);
  if (!text.empty()) text.remove_prefix(text.starts_with("\r\n") ? 2 : 1);
  return line;
}

std::optional<NotATable> why_not_a_table(std::string_view text) {
  const std::string allowed = "a text file with a header line, separated by commas, semicolons or tabs";
  if (text.find_first_not_of(" \t\r\n") == std::string_view::npos) return NotATable{"the file is empty", allowed, 0};
  if (text.substr(0, 4) == "PK\x03\x04") {
    return NotATable{"this is a zipped file or a spreadsheet", "save the sheet as CSV (UTF-8) first", 0};
  }
  if (text.substr(0, 2) == "\x1F\x8B") return NotATable{"this is a compressed file", "unpack it first", 0};
  if (text.substr(0, 2) == "\xFF\xFE" || text.substr(0, 2) == "\xFE\xFF") {
    return NotATable{"this text is in UTF-16", "save it as CSV (UTF-8)", 0};
  }
  if (const void* zero = std::memchr(text.data(), 0, text.size())) {
    const auto line = std::count(text.data(), static_cast<const char*>(zero), '\n') + 1;
    return NotATable{"this is not a text file (there is a zero byte in it)", allowed, static_cast<int>(line)};
  }
  if (text.size() >= kLongestFirstLine && text.find_first_of("\r\n") >= kLongestFirstLine) {
    return NotATable{"the first line does not end within a megabyte", allowed, 1};
  }
  if (!has_several_cells(text)) {
    return NotATable{fmt::format("none of the first {} lines has several cells", kHeaderWithin), allowed, 1};
  }
  return std::nullopt;
}

std::string_view without_byte_order_mark(std::string_view text) {
  if (text.substr(0, 3) == "\xEF\xBB\xBF") text.remove_prefix(3);
  return text;
}

}  // namespace strikebed::climate

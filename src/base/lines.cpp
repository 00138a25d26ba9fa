#include "base/lines.hpp"

#include <algorithm>

namespace strikebed {

std::size_t lines_of(int width) {
  constexpr int kNarrowest = 40;
  return static_cast<std::size_t>(std::max(width, kNarrowest));
}

std::size_t width_of(std::string_view text) {
  return static_cast<std::size_t>(
      std::count_if(text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
}

std::vector<std::string> wrapped(std::string_view text, std::size_t width) {
  std::vector<std::string> lines;
  std::string line;
  std::size_t at = 0;
  while (at < text.size()) {
    const std::size_t end = std::min(text.find_first_of(" \n", at), text.size());
    const std::string_view word = text.substr(at, end - at);
    if (!word.empty()) {
      if (!line.empty() && width_of(line) + 1 + width_of(word) > width) {
        lines.push_back(line);
        line.clear();
      }
      if (!line.empty()) line += ' ';
      line += word;
    }
    at = end + 1;
  }
  if (!line.empty()) lines.push_back(line);
  return lines;
}

std::string paragraph(std::string_view text, std::size_t width, std::string_view first) {
  const std::size_t indent = width_of(first);
  const std::vector<std::string> lines = wrapped(text, width > indent ? width - indent : 1);
  std::string out;
  for (std::size_t i = 0; i < lines.size(); ++i)
    out += (i == 0 ? std::string(first) : std::string(indent, ' ')) + lines[i] + '\n';
  return out;
}

}  // namespace strikebed

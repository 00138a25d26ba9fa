#include "base/text.hpp"

#include <algorithm>

namespace strikebed {
namespace {

constexpr std::string_view kBlanks = " \t\n\v\f\r";
constexpr std::string_view kNoBreakSpace = "\u00a0";

}  // namespace

std::string_view trimmed(std::string_view text) {
  while (true) {
    const std::size_t before = text.size();
    text.remove_prefix(std::min(text.find_first_not_of(kBlanks), text.size()));
    text = text.substr(0, text.find_last_not_of(kBlanks) + 1);
    if (text.starts_with(kNoBreakSpace)) text.remove_prefix(kNoBreakSpace.size());
    if (text.ends_with(kNoBreakSpace)) text.remove_suffix(kNoBreakSpace.size());
    if (text.size() == before) return text;
  }
}

std::string_view file_name(std::string_view path) {
  const std::size_t cut = path.find_last_of("/\\");
  return cut == std::string_view::npos || cut + 1 == path.size() ? path : path.substr(cut + 1);
}

std::string lower(std::string_view text) {
  std::string result(text);
  std::transform(result.begin(), result.end(), result.begin(),
                 [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; });
  return result;
}

}  // namespace strikebed

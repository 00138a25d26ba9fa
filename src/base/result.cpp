#include "base/result.hpp"

#include <fmt/format.h>

namespace strikebed {

std::string Error::message() const {
  std::string text;
  if (!file.empty()) text += file + ":";
  if (line > 0) text += fmt::format("{}:", line);
  if (column > 0) text += fmt::format("{}:", column);
  if (!text.empty()) text += " ";
  if (!field.empty()) text += field + ": ";
  text += problem;
  if (!allowed.empty()) text += "; allowed: " + allowed;
  return text;
}

}  // namespace strikebed

#include "base/result.hpp"

#include <fmt/format.h>

#include <algorithm>

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

std::vector<std::string> Error::messages() const {
  std::vector<std::string> lines = {message()};
  for (const Error& other : others) lines.push_back(other.message());
  return lines;
}

void Error::add(const Error& other) {
  const std::vector<std::string> known = messages();
  if (std::find(known.begin(), known.end(), other.message()) == known.end()) {
    others.push_back(other);
    others.back().others.clear();
  }
  for (const Error& further : other.others) add(further);
}

}  // namespace strikebed

#include "base/field_names.hpp"

#include <algorithm>
#include <vector>

namespace strikebed {
namespace {

constexpr std::string_view kOr = "; or ";

bool is_field(std::string_view text) {
  const auto fits = [](char c) { return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '_' || c == '.'; };
  return !text.empty() && text.front() >= 'a' && text.front() <= 'z' && std::all_of(text.begin(), text.end(), fits);
}

struct NamedText {
  std::string text;
  bool all_known = true;  ///< the skin has a name for every field in it
};

NamedText with_names(std::string_view text, const FieldNames& names) {
  NamedText result;
  while (true) {
    const std::size_t open = text.find('<');
    const std::size_t close = open == std::string_view::npos ? open : text.find('>', open);
    if (close == std::string_view::npos) {
      result.text += text;
      return result;
    }
    const std::string_view field = text.substr(open + 1, close - open - 1);
    if (!is_field(field)) {
      result.text += text.substr(0, open + 1);
      text.remove_prefix(open + 1);
      continue;
    }
    const auto name = names ? field_name(names, field) : std::nullopt;
    result.all_known = result.all_known && name;
    result.text += text.substr(0, open);
    result.text += name.value_or(plain_field_name(field));
    text.remove_prefix(close + 1);
  }
}

std::string named_alternatives(std::string_view allowed, const FieldNames& names) {
  std::string kept;
  std::optional<std::string> first;
  while (true) {
    const std::size_t end = allowed.find(kOr);
    const NamedText one = with_names(allowed.substr(0, end), names);
    if (!first) first = one.text;
    if (one.all_known) kept += (kept.empty() ? "" : std::string(kOr)) + one.text;
    if (end == std::string_view::npos) return kept.empty() ? *first : kept;
    allowed.remove_prefix(end + kOr.size());
  }
}

}  // namespace

std::string plain_field_name(std::string_view field) {
  std::string name(field);
  std::replace_if(name.begin(), name.end(), [](char c) { return c == '_' || c == '.'; }, ' ');
  return name;
}

std::optional<std::string> field_name(const FieldNames& names, std::string_view field) {
  if (!names) return plain_field_name(field);
  std::string name = names(field);
  return name.empty() ? std::nullopt : std::optional(std::move(name));
}

Error named(Error error, const FieldNames& names) {
  error.allowed = named_alternatives(error.allowed, names);
  if (error.file.empty() && names) error.field = field_name(names, error.field).value_or(error.field);
  for (Error& other : error.others) other = named(std::move(other), names);
  return error;
}

}  // namespace strikebed

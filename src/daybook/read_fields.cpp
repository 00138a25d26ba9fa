#include "daybook/read_fields.hpp"

#include <algorithm>

#include "base/shown_text.hpp"
#include "daybook/entry_json.hpp"
#include "daybook/write_fields.hpp"

namespace strikebed::daybook {
namespace {

std::optional<std::string_view> as_text(const Json& json) {
  return json.is_string() ? std::optional<std::string_view>(json.get_ref<const std::string&>()) : std::nullopt;
}

template <class Value>
bool put(const std::optional<Value>& value, Value& into) {
  if (value) into = *value;
  return value.has_value();
}

}  // namespace

std::string shown(const Json& value) {
  if (value.is_object()) return "an object";
  if (value.is_array()) return fmt::format("a list of {}", value.size());
  if (value.is_string()) return quoted(value.get_ref<const std::string&>(), kLongestShown);
  if (value.is_number_float()) return shortest(value.get<double>());
  return value.dump();
}

std::string in_range(std::string_view what, const Field& field) {
  return fmt::format("{} from {} to {}", what, shortest(field.low), shortest(field.high));
}

Result<Json> parse_object(std::string_view text) {
  if (text.size() > kLargestEntry) {
    return Error{.problem = fmt::format("the entry is {} bytes long", text.size()),
                 .allowed = fmt::format("{} bytes", kLargestEntry)};
  }
  // The parser would skip the mark of UTF-8 and stop at a zero byte.
  const bool plain = !text.starts_with("\xef\xbb\xbf") && text.find('\0') == std::string_view::npos;
  Json json = plain ? Json::parse(text, nullptr, false) : Json(Json::value_t::discarded);
  if (json.is_object()) return json;
  return Error{.problem = json.is_discarded() ? "the entry is not JSON" : "the entry is not a JSON object",
               .allowed = "one object in one line"};
}

std::string Reading::key(std::string_view name) const {
  if (within.empty() || name.empty()) return within + std::string(name);
  return fmt::format("{}.{}", within, name);
}

void Reading::fail(std::string_view name, std::string problem, std::string allowed) {
  const Error error{.problem = std::move(problem), .allowed = std::move(allowed), .field = key(name)};
  wrong ? wrong->add(error) : static_cast<void>(wrong = error);
}

void Reading::refuse_unknown() {
  for (const auto& [name, value] : json.items()) {
    if (std::ranges::find(known, name) != known.end()) continue;
    fail(shortened(safe_text(name), kLongestShown), "there is no such field" + did_you_mean(name, known),
         fmt::format("{}", fmt::join(known, ", ")));
  }
}

bool take(const Json& json, const Field& field, int& into) {
  double number = 0;
  if (!take(json, field, number) || number != std::floor(number)) return false;
  into = static_cast<int>(number);
  return true;
}

bool take(const Json& json, const Field& field, double& into) {
  if (!json.is_number()) return false;
  const double number = json.get<double>();
  if (!(number >= field.low && number <= field.high)) return false;
  into = number;
  return true;
}

bool take(const Json& json, const Field& field, std::string& into) {
  const auto text = as_text(json);
  if (!text || static_cast<double>(text->size()) < field.low || static_cast<double>(text->size()) > field.high)
    return false;
  into = *text;
  return true;
}

bool take(const Json& json, const Field&, bool& into) {
  if (!json.is_boolean()) return false;
  into = json.get<bool>();
  return true;
}

bool take(const Json& json, const Field&, EntryId& into) {
  const auto text = as_text(json);
  return text && put(parse_entry_id(*text), into);
}

bool take(const Json& json, const Field&, Moment& into) {
  const auto text = as_text(json);
  return text && put(parse_iso_moment(*text), into);
}

bool take(const Json& json, const Field&, Date& into) {
  const auto text = as_text(json);
  return text && put(parse_iso_date(*text), into);
}

std::string allowed(const Field& field, const int&) { return in_range("a whole number", field); }
std::string allowed(const Field& field, const double&) { return in_range("a number", field); }
std::string allowed(const Field& field, const std::string&) { return in_range("a text, in bytes", field); }
std::string allowed(const Field&, const bool&) { return "true or false"; }
std::string allowed(const Field&, const EntryId&) { return "an id: 32 digits of base 16, small letters"; }
std::string allowed(const Field&, const Moment&) { return "a moment such as \"2027-04-18T09:30:00.000+02:00\""; }
std::string allowed(const Field&, const Date&) { return "a day such as \"2027-04-18\""; }

}  // namespace strikebed::daybook

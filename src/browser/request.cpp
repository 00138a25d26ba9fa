#include "browser/request.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <utility>

#include "base/nearest.hpp"

namespace strikebed::browser {
namespace {

using Json = nlohmann::ordered_json;
using nursery::Text;

constexpr std::string_view kAllowedText = "a text";
constexpr std::string_view kAllowedTexts = "a list of texts";
constexpr std::string_view kAllowedFile =
    R"(an object of two texts, "file" (its name) and "text", or a kept file's name)";
constexpr std::string_view kAllowedDay = "a day such as \"2027-03-01\"";

std::optional<std::string> as_text(const Json& json) {
  return json.is_string() ? std::optional(json.get_ref<const std::string&>()) : std::nullopt;
}

std::optional<Text> as_file(const Json& json, const TextsByName& kept) {
  if (const auto name = as_text(json)) {
    const auto found = kept.find(*name);
    return found == kept.end() ? std::nullopt : std::optional(Text{*name, found->second});
  }
  if (!json.is_object() || json.size() != 2 || !json.contains("file") || !json.contains("text")) return std::nullopt;
  auto file = as_text(json["file"]);
  auto text = as_text(json["text"]);
  if (!file || !text) return std::nullopt;
  return Text{std::move(*file), std::move(*text)};
}

std::optional<double> as_number(const Json& json, double low, double high) {
  if (!json.is_number()) return std::nullopt;
  const double number = json.get<double>();
  return number >= low && number <= high ? std::optional(number) : std::nullopt;
}

/// Takes a value in; says what is allowed instead where it is no such thing, and nothing where all is well.
struct Take {
  const Json& json;
  const Field& field;
  const TextsByName& kept;

  [[nodiscard]] std::string range(std::string_view of) const {
    return fmt::format("{} from {} to {}", of, field.low, field.high);
  }
  template <class Value>
  static std::string put(std::optional<Value> value, Value& into, std::string_view allowed) {
    if (!value) return std::string(allowed);
    into = std::move(*value);
    return {};
  }

  std::string operator()(std::string* into) const { return put(as_text(json), *into, kAllowedText); }
  std::string operator()(Text* into) const { return put(as_file(json, kept), *into, kAllowedFile); }
  std::string operator()(std::optional<Text>* into) const { return (*this)(&into->emplace()); }
  std::string operator()(bool* into) const {
    return put(json.is_boolean() ? std::optional(json.get<bool>()) : std::nullopt, *into, "true or false");
  }
  std::string operator()(Date* into) const {
    const auto text = as_text(json);
    return put(text ? parse_iso_date(*text) : std::nullopt, *into, kAllowedDay);
  }
  std::string operator()(std::optional<int>* into) const {
    const auto number = as_number(json, field.low, field.high);
    if (!number || *number != std::floor(*number)) return range("a whole number");
    *into = static_cast<int>(*number);
    return {};
  }
  std::string operator()(std::uint64_t* into) const {
    const auto number = as_number(json, field.low, field.high);
    if (!number || !json.is_number_unsigned()) return range("a whole number");
    *into = json.get<std::uint64_t>();
    return {};
  }
  std::string operator()(std::optional<double>* into) const {
    return put(as_number(json, field.low, field.high), into->emplace(), range("a number"));
  }
  std::string operator()(std::vector<double>* into) const {
    return list(into, range("a list of numbers"),
                [&](const Json& one) { return as_number(one, field.low, field.high); });
  }
  std::string operator()(std::vector<std::string>* into) const { return list(into, kAllowedTexts, as_text); }
  std::string operator()(TextsByName* into) const {
    constexpr std::string_view kAllowed = "an object of texts";
    if (!json.is_object()) return std::string(kAllowed);
    for (const auto& [name, value] : json.items()) {
      if (!value.is_string() && !value.is_null()) return std::string(kAllowed);
    }
    for (const auto& [name, value] : json.items()) {
      if (value.is_null()) {
        into->erase(name);
      } else {
        into->insert_or_assign(name, *as_text(value));
      }
    }
    return {};
  }

  template <class Value, class Read>
  std::string list(std::vector<Value>* into, std::string_view allowed, const Read& read) const {
    if (!json.is_array()) return std::string(allowed);
    std::vector<Value> values;
    for (const Json& one : json) {
      auto value = read(one);
      if (!value) return std::string(allowed);
      values.push_back(std::move(*value));
    }
    *into = std::move(values);
    return {};
  }
};

/// Short, for messages.
std::string shown(const Json& json) {
  constexpr std::size_t kLongest = 60;
  if (json.is_object()) return "an object";
  if (json.is_array()) return fmt::format("a list of {}", json.size());
  if (json.is_string() && json.get_ref<const std::string&>().size() > kLongest) return "a long text";
  return json.dump(-1, ' ', false, Json::error_handler_t::replace);
}

bool must_be_given(const Field& field) {
  return std::holds_alternative<Date*>(field.into) || std::holds_alternative<Text*>(field.into);
}

Error not_known(const std::string& key, const Fields& fields) {
  std::vector<std::string_view> known;
  for (const Field& field : fields) known.push_back(field.name);
  return {.problem = "there is no such field" + did_you_mean(key, known),
          .allowed = fmt::format("{}", fmt::join(known, ", ")),
          .field = key};
}

}  // namespace

Fields fields_of(const nursery::WordFields& words) {
  Fields fields;
  for (const auto& [name, into] : words) {
    fields.push_back({std::string(name), std::visit([](auto* target) { return FieldTarget(target); }, into)});
  }
  return fields;
}

Request::Request(std::shared_ptr<const Json> json) : json_(std::move(json)) {}

Result<Request> Request::parse(std::string_view text) {
  if (text.size() > kLargestRequest) {
    return Error{.problem = fmt::format("the request is {} MB long", text.size() >> 20),
                 .allowed = fmt::format("{} MB", kLargestRequest >> 20)};
  }
  // The parser would skip the mark of UTF-8 and stop at a zero byte; JavaScript takes neither for JSON.
  const bool plain = !text.starts_with("\xef\xbb\xbf") && text.find('\0') == std::string_view::npos;
  Json json = plain ? Json::parse(text, nullptr, false) : Json(Json::value_t::discarded);
  if (!json.is_object()) {
    return Error{.problem = json.is_discarded() ? "the request is not JSON" : "the request is not a JSON object",
                 .allowed = "one object, its keys the fields of the request"};
  }
  return Request(std::make_shared<const Json>(std::move(json)));
}

std::optional<Error> Request::read(Fields fields, const TextsByName& kept) {
  std::string as;
  fields.push_back({"as", &as});
  fields.push_back({"names", &names_});
  std::optional<Error> wrong;
  const auto note = [&](const Error& error) { wrong ? wrong->add(error) : static_cast<void>(wrong = error); };
  for (const auto& [key, value] : json_->items()) {
    const auto field = std::find_if(fields.begin(), fields.end(), [&](const Field& one) { return one.name == key; });
    if (field == fields.end()) {
      note(not_known(key, fields));
    } else if (!value.is_null()) {
      const std::string allowed = std::visit(Take{value, *field, kept}, field->into);
      if (!allowed.empty()) note({.problem = "found " + shown(value), .allowed = allowed, .field = key});
    }
  }
  for (const Field& field : fields) {
    if (!must_be_given(field) || (json_->contains(field.name) && !(*json_)[field.name].is_null())) continue;
    const bool day = std::holds_alternative<Date*>(field.into);
    note({.problem = "is missing", .allowed = std::string(day ? kAllowedDay : kAllowedFile), .field = field.name});
  }
  as_ = as == "words" ? As::words : as == "page" ? As::page : As::json;
  if (!as.empty() && as != "json" && as_ == As::json) {
    note({.problem = fmt::format("found \"{}\"", as), .allowed = R"("json", "words" or "page")", .field = "as"});
  }
  return wrong;
}

bool Request::asks_the_same(const Request& other) const {
  const auto question = [](Json json) {
    for (const char* form : {"as", "names"}) json.erase(form);
    return json;
  };
  return question(*json_) == question(*other.json_);
}

FieldNames Request::names() const {
  if (names_.empty()) return {};
  return [names = names_](std::string_view field) {
    const auto found = names.find(field);
    return found == names.end() ? std::string() : found->second;
  };
}

}  // namespace strikebed::browser

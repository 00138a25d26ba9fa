#pragma once
// Fields from a JSON object, each by its C++ type. For entry_json.cpp and entry_csv.cpp.
#include <fmt/format.h>

#include <cmath>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <type_traits>
#include <utility>
#include <vector>

#include "base/nearest.hpp"
#include "base/result.hpp"
#include "daybook/entry.hpp"

namespace strikebed::daybook {

using Json = nlohmann::ordered_json;

inline constexpr std::size_t kLongestShown = 60;

[[nodiscard]] std::string shown(const Json& value);              ///< short, for messages
[[nodiscard]] Result<Json> parse_object(std::string_view text);  ///< errors: not JSON, not an object, too large
[[nodiscard]] std::string in_range(std::string_view what, const Field& field);  ///< "a whole number from 0 to 10"

/// Calls with each kind of body that this version reads: visit.operator()<B>().
template <class Visit>
void each_kind(const Visit& visit) {
  [&]<std::size_t... kIndex>(std::index_sequence<kIndex...>) {
    const auto one = [&]<class B>() {
      if constexpr (ReadBody<B>) visit.template operator()<B>();
    };
    (one.template operator()<std::variant_alternative_t<kIndex, Body>>(), ...);
  }(std::make_index_sequence<std::variant_size_v<Body>>{});
}

/// An object on its way into a struct.
struct Reading {
  const Json& json;
  std::string within;  ///< the dotted key of the object; empty: the whole
  std::vector<std::string_view> known = {};
  std::optional<Error> wrong = {};

  [[nodiscard]] std::string key(std::string_view name) const;
  void fail(std::string_view name, std::string problem, std::string allowed);
  void missing(std::string_view name, std::string allowed) { fail(name, "is missing", std::move(allowed)); }
  void refuse_unknown();  ///< keys that are not in `known`
};

template <class T>
void read_object(const Json& json, const std::string& within, T& into, std::optional<Error>& wrong);

/// Takes one value in; false where it is not allowed.
[[nodiscard]] bool take(const Json& json, const Field& field, int& into);
[[nodiscard]] bool take(const Json& json, const Field& field, double& into);
[[nodiscard]] bool take(const Json& json, const Field& field, std::string& into);
[[nodiscard]] bool take(const Json& json, const Field& field, bool& into);
[[nodiscard]] bool take(const Json& json, const Field& field, EntryId& into);
[[nodiscard]] bool take(const Json& json, const Field& field, Moment& into);
[[nodiscard]] bool take(const Json& json, const Field& field, Date& into);
template <class Word>
  requires std::is_enum_v<Word>
[[nodiscard]] bool take(const Json& json, const Field&, Word& into) {
  if (!json.is_string()) return false;
  const auto& names = names_of(Word{});
  for (std::size_t i = 0; i < names.size(); ++i) {
    if (names[i] != json.get_ref<const std::string&>()) continue;
    into = static_cast<Word>(i);
    return true;
  }
  return false;
}

/// What would have been taken.
[[nodiscard]] std::string allowed(const Field& field, const int&);
[[nodiscard]] std::string allowed(const Field& field, const double&);
[[nodiscard]] std::string allowed(const Field& field, const std::string&);
[[nodiscard]] std::string allowed(const Field& field, const bool&);
[[nodiscard]] std::string allowed(const Field& field, const EntryId&);
[[nodiscard]] std::string allowed(const Field& field, const Moment&);
[[nodiscard]] std::string allowed(const Field& field, const Date&);
template <class Word>
  requires std::is_enum_v<Word>
[[nodiscard]] std::string allowed(const Field&, const Word&) {
  return fmt::format("{}", fmt::join(names_of(Word{}), ", "));
}

/// Whether nothing stands for such a value in the JSON.
template <class T>
[[nodiscard]] constexpr bool may_be_left_out(const Field& field) {
  if constexpr (std::same_as<T, std::string> || kIsList<T>) return field.low == 0;
  return std::same_as<T, bool>;
}

/// Visits the fields of a struct.
struct ReadFields {
  Reading& reading;

  template <class T>
  void operator()(const Field& field, std::optional<T>& into) const {
    reading.known.push_back(field.name);
    const auto found = reading.json.find(field.name);
    if (found != reading.json.end()) value(*found, field, into.emplace());
  }
  template <class T>
  void operator()(const Field& field, T& into) const {
    reading.known.push_back(field.name);
    const auto found = reading.json.find(field.name);
    if (found != reading.json.end()) {
      value(*found, field, into);
    } else if (!may_be_left_out<T>(field)) {
      reading.missing(field.name, allowed_of(field, into));
    }
  }

 private:
  template <class T>
  void value(const Json& json, const Field& field, T& into) const {
    if (!take(json, field, into)) reading.fail(field.name, "found " + shown(json), allowed(field, into));
  }
  template <class T>
  void value(const Json& json, const Field& field, std::vector<T>& into) const {
    if (!json.is_array() || static_cast<double>(json.size()) < field.low ||
        static_cast<double>(json.size()) > field.high) {
      reading.fail(field.name, "found " + shown(json), allowed_of(field, into));
      return;
    }
    for (std::size_t i = 0; i < json.size(); ++i) {
      read_object(json[i], fmt::format("{}[{}]", reading.key(field.name), i), into.emplace_back(), reading.wrong);
    }
  }
  template <class T>
  static std::string allowed_of(const Field& field, const T& into) {
    if constexpr (kIsList<T>) {
      return in_range("a list of objects, their number", field);
    } else {
      return allowed(field, into);
    }
  }
};

template <class T>
void read_object(const Json& json, const std::string& within, T& into, std::optional<Error>& wrong) {
  Reading reading{json, within};
  if (!json.is_object()) {
    reading.fail("", "found " + shown(json), "an object");
  } else {
    T::fields(into, ReadFields{reading});
    reading.refuse_unknown();
    if constexpr (requires { into.disagreement(); }) {
      if (!reading.wrong) {
        if (auto error = into.disagreement()) reading.fail(error->field, error->problem, error->allowed);
      }
    }
  }
  if (reading.wrong) wrong ? wrong->add(*reading.wrong) : static_cast<void>(wrong = reading.wrong);
}

}  // namespace strikebed::daybook

#pragma once
// What the JSON documents have in common.
#include <nlohmann/json.hpp>
#include <optional>
#include <string>

namespace strikebed::print {

using Json = nlohmann::ordered_json;

/// To six significant figures, more than any of these numbers is good for, and without the noise that is left of a
/// difference that is nothing; null where it is not finite, or there is none.
[[nodiscard]] Json number(double value);
[[nodiscard]] Json number(const std::optional<double>& value);

/// Null where there is none. For whole numbers; others go through number().
template <class T>
[[nodiscard]] Json or_null(const std::optional<T>& value) {
  return value ? Json(*value) : Json(nullptr);
}
/// Of something with a low, a typical and a high point.
[[nodiscard]] Json spread(const auto& points) {
  return {{"low", number(points.low)}, {"typical", number(points.typical)}, {"high", number(points.high)}};
}
/// One array from a list, each item through `item`.
[[nodiscard]] Json array(const auto& list, const auto& item) {
  Json all = Json::array();
  for (const auto& one : list) all.push_back(item(one));
  return all;
}

/// The document as text that ends in a line end. A path or a name from a file need not be UTF-8, JSON must be: broken
/// bytes become the replacement character. What a terminal might obey is written as an escape (base/shown_text.hpp).
[[nodiscard]] std::string document(const Json& json);

}  // namespace strikebed::print

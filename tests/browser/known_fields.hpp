#pragma once
#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>
#include <string>
#include <string_view>

#include "browser/engine.hpp"

namespace strikebed::browser {

/// The fields of a use case, as its complaint about one that is none lists them.
inline std::set<std::string> known_fields(Engine& engine, std::string_view use_case) {
  std::set<std::string> fields;
  engine.begin(use_case, R"({"no such field": 1})");
  const auto document = nlohmann::ordered_json::parse(engine.document(), nullptr, false);
  if (!document.is_object() || !document.contains("error")) return fields;
  const std::string known = document["error"]["allowed"];
  for (std::size_t at = 0; at < known.size();) {
    const std::size_t comma = std::min(known.find(", ", at), known.size());
    fields.insert(known.substr(at, comma - at));
    at = comma + 2;
  }
  return fields;
}

}  // namespace strikebed::browser

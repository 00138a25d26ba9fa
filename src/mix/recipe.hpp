#pragma once
// A recipe by parts as a grower writes it: "2 grit 3-4 mm, 1 fired-clay 2-4 mm".
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "mix/filter_rule.hpp"

namespace strikebed::mix {

inline constexpr std::size_t kMostParts = 20;

struct NamedPart {
  double parts = 0;
  std::string material;              ///< a material's name or file, not yet looked up
  std::optional<GrainRange> grains;  ///< where written
};

/// "0.3 mm", "3-4mm", "1/8-1/4 in". Errors: no size, an unknown unit, a range that is reversed or out of bounds.
[[nodiscard]] Result<GrainRange> parse_grains(std::string_view text, std::string_view field);

/// Parts between commas (or plus signs): a number of parts, a material, and the size of its grains where it matters.
/// Errors: empty, a part without a number or a name, a negative number, all parts 0, more than kMostParts, bad grains.
[[nodiscard]] Result<std::vector<NamedPart>> parse_recipe(std::string_view text, std::string_view field);

}  // namespace strikebed::mix

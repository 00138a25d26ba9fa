#pragma once
// A recipe by parts as a grower writes it: "2 grit 3-4 mm less 15 %, 1 fired-clay 2-4 mm".
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "mix/filter_rule.hpp"

namespace strikebed::mix {

inline constexpr std::size_t kMostParts = 20;
inline constexpr double kMostLost = 0.9;  ///< more is another material

struct NamedPart {
  double parts = 0;
  std::string material;              ///< a material's name or file, not yet looked up
  std::optional<GrainRange> grains;  ///< where written
  double lost = 0;                   ///< share of the volume that sieving takes off what was bought; 0 to kMostLost
};

/// "0.3 mm", "3-4mm", "1/8-1/4 in". Errors: no size, an unknown unit, a range that is reversed or out of bounds.
[[nodiscard]] Result<GrainRange> parse_grains(std::string_view text, std::string_view field);

/// Parts between commas (or plus signs, or "and"): a number of parts, a material, the size of its grains where it
/// matters, before or behind its name, and "less 15 %" where sieving takes so much of the bought volume. "2 parts 3-4
/// mm grit and 1 part 2-4 mm fired clay" is "2 grit 3-4 mm, 1 fired clay 2-4 mm". Errors: empty, a part without a
/// number or a name, a negative number, all parts 0, more than kMostParts, bad grains, a loss that is no share from 0
/// to kMostLost.
[[nodiscard]] Result<std::vector<NamedPart>> parse_recipe(std::string_view text, std::string_view field);

}  // namespace strikebed::mix

#pragma once
// What a grower calls the fields of the daybook: said, and typed. A name is that of the format, without the unit at its
// end and with a blank for each line under it: "stem length" for "stem_length_mm"; a few are shorter.
#include <span>
#include <string>
#include <string_view>

#include "daybook/entry.hpp"

namespace strikebed::print {

/// Another unit in which a number may be given: one of it is `factor` of the format's own, from `zero` on.
struct OtherUnit {
  std::string_view name;
  double factor;
  double zero = 0;
};
/// The unit that stands at the end of a field's name.
struct FieldUnit {
  std::string_view ending;  ///< "_ml"
  std::string_view name;    ///< "ml"; empty: one has no name
  std::span<const OtherUnit> others;
};
/// Null: it is a number of things.
[[nodiscard]] const FieldUnit* unit_of(std::string_view field);

/// "stem", "air", "waiting"; one word, so that it can be typed.
[[nodiscard]] std::string spoken_field(std::string_view field);
/// One of a list: "session" of "sessions".
[[nodiscard]] std::string spoken_item(std::string_view list);
/// "control set aside", "goal set".
[[nodiscard]] std::string spoken_kind(std::string_view kind);
/// Of an enumeration: "never came up", "single-root".
[[nodiscard]] std::string spoken_choice(std::string_view choice);

}  // namespace strikebed::print

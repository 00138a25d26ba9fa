#include "print/daybook/field_words.hpp"

#include <algorithm>
#include <array>
#include <utility>

#include "print/text_table.hpp"

namespace strikebed::print {
namespace {

constexpr std::array kVolumes{OtherUnit{"mL", 1}, OtherUnit{"l", 1000}, OtherUnit{"L", 1000}, OtherUnit{"litre", 1000},
                              OtherUnit{"litres", 1000}};
constexpr std::array kMasses{OtherUnit{"mg", 1e-3}, OtherUnit{"kg", 1000}, OtherUnit{"oz", 28.349523125},
                             OtherUnit{"lb", 453.59237}};
constexpr std::array kLengths{OtherUnit{"cm", 10}, OtherUnit{"in", 25.4}};
constexpr std::array kTemperatures{OtherUnit{"C", 1}, OtherUnit{"F", 1 / 1.8, 32}, OtherUnit{"°F", 1 / 1.8, 32}};
constexpr std::array kTimes_s{OtherUnit{"sec", 1}, OtherUnit{"min", 60}, OtherUnit{"h", 3600}};
constexpr std::array kTimes_min{OtherUnit{"h", 60}, OtherUnit{"hours", 60}};
constexpr std::array kShares{OtherUnit{"percent", 1}};
constexpr std::array kConductivities{OtherUnit{"mS", 1}};

// The longer ones first: "_ms_cm" is no "_cm".
constexpr std::array kUnits{FieldUnit{"_umol_m2_s", "µmol/m²/s", {}},
                            FieldUnit{"_ms_cm", "mS/cm", kConductivities},
                            FieldUnit{"_bytes", "bytes", {}},
                            FieldUnit{"_ml", "ml", kVolumes},
                            FieldUnit{"_mm", "mm", kLengths},
                            FieldUnit{"_min", "min", kTimes_min},
                            FieldUnit{"_ppm", "ppm", {}},
                            FieldUnit{"_pct", "%", kShares},
                            FieldUnit{"_deg", "°", {}},
                            FieldUnit{"_g", "g", kMasses},
                            FieldUnit{"_c", "°C", kTemperatures},
                            FieldUnit{"_s", "s", kTimes_s}};

// Said shorter at the bench than written in the format.
constexpr std::array<std::pair<std::string_view, std::string_view>, 12> kShorter{{{"air_temperature_c", "air"},
                                                                                  {"medium_temperature_c", "medium"},
                                                                                  {"temperature_c", "temperature"},
                                                                                  {"stem_length_mm", "stem"},
                                                                                  {"left_waiting", "waiting"},
                                                                                  {"largest_gap_deg", "gap"},
                                                                                  {"light_umol_m2_s", "light"},
                                                                                  {"goal_toml", "file"},
                                                                                  {"media_type", "type"},
                                                                                  {"use_by", "use-by"},
                                                                                  {"base_form", "form"},
                                                                                  {"count_on", "counted-on"}}};

}  // namespace

const FieldUnit* unit_of(std::string_view field) {
  const auto found = std::ranges::find_if(kUnits, [&](const FieldUnit& unit) { return field.ends_with(unit.ending); });
  return found == kUnits.end() ? nullptr : &*found;
}

std::string spoken_field(std::string_view field) {
  for (const auto& [name, shorter] : kShorter) {
    if (name == field) return std::string(shorter);
  }
  if (const FieldUnit* unit = unit_of(field)) field.remove_suffix(unit->ending.size());
  return replaced(std::string(field), "_", "-");
}

std::string spoken_item(std::string_view list) {
  if (list.ends_with('s')) list.remove_suffix(1);
  return spoken_field(list);
}

std::string spoken_kind(std::string_view kind) { return replaced(std::string(kind), "_", " "); }

std::string spoken_choice(std::string_view choice) { return replaced(std::string(choice), "_", " "); }

}  // namespace strikebed::print

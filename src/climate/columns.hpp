#pragma once
// What the columns of a weather file may be called and in which units they may be written: one table, which
// docs/weather-files.md repeats (a test compares the two).
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"

namespace strikebed::climate {

/// What a column holds. From tmin on: a measured value.
enum class Role {
  date,
  time,
  year,
  month,
  day,
  day_of_year,
  tmin,
  tmax,
  temperature,
  rain,
  humidity,
  humidity_min,
  humidity_max,
  dew_point,
  wind,
  radiation
};
inline constexpr int kRoles = 16;

enum class UnitFamily { none, temperature, depth, share, speed, radiation };

/// A role: its word in a choice of column, WORD=NAME:UNIT, what it is called in messages, and the names it is known by.
/// Names are compared without regard to case, spaces, underscores, hyphens and dots.
struct KnownRole {
  Role role;
  std::string_view word;
  std::string_view meaning;
  UnitFamily family;
  std::string_view names;  ///< separated by ", "
};

/// A unit: SI value = (written - subtract) * factor, in °C, mm, %, m/s and MJ/m2.
struct KnownUnit {
  UnitFamily family;
  std::string_view name;       ///< as shown in messages and documents
  std::string_view spellings;  ///< separated by ", "; compared like names, and without / ^ and degree signs
  double subtract;
  double factor;
  bool per_day;  ///< a rate (W/m2 and the like, turned into an amount a day), not the amount of the row
  bool tenths;   ///< written in tenths: -99 is a real value there, not a missing marker
};

[[nodiscard]] std::span<const KnownRole> known_roles();  ///< in the order of Role
[[nodiscard]] std::span<const KnownUnit> known_units();  ///< the first of each family is taken when none is written
[[nodiscard]] const KnownRole& about(Role role);
/// Nothing can be done without these; the other measures may be missing.
[[nodiscard]] bool is_air_temperature(Role role);
[[nodiscard]] const KnownUnit* unit_named(UnitFamily family, std::string_view spelling);  ///< null: not known
[[nodiscard]] const KnownUnit& usual_unit(UnitFamily family);
[[nodiscard]] double written_in(const KnownUnit& unit, double si);  ///< the number that stands in the file
[[nodiscard]] std::string unit_list(UnitFamily family);             ///< "°C, degF, K" for messages

/// Texts and numbers that stand for "no value". The positive numbers count except for radiation, where they may be
/// real; -99 and -99.9 count except in a unit of tenths.
[[nodiscard]] std::span<const std::string_view> missing_words();
[[nodiscard]] std::span<const double> missing_numbers();
[[nodiscard]] bool is_missing_word(std::string_view cell);
[[nodiscard]] bool is_missing_number(double written, Role role, const KnownUnit& unit);

/// The values of a row that can be real: °C -90...60, % 0...100, mm 0...2000, m/s 0...120, MJ/m2 0...50 (0...130 a
/// day as an hourly rate: 1500 W/m2). Somewhat wider than the world's extremes (-89.2 and 56.7 °C, 1825 mm a day, 113
/// m/s; WMO archive of weather extremes, from memory).
struct Bounds {
  double low;
  double high;
};
[[nodiscard]] Bounds possible(Role role, bool per_day);

/// A header cell that was understood.
struct HeaderCell {
  Role role;
  const KnownUnit* unit = nullptr;  ///< null: none written
  std::optional<double> height_m;   ///< "wind_10m": 10
  std::string_view strange_unit;    ///< in brackets, but not known
};

/// "tmax (degF)", "TMAX_F", "temp_max", "wind [km/h]", "wind_speed_10m": nothing when the name is not in the table.
/// A cell of more than 200 bytes is not looked at.
[[nodiscard]] std::optional<HeaderCell> read_header_cell(std::string_view cell);

/// Of a cell whose role the user has said, whatever it is called: the unit and the height in its name. A unit of one
/// letter is only read behind a name that is in the table: "probe F" may be the sixth probe.
[[nodiscard]] HeaderCell read_chosen_cell(Role role, std::string_view cell);

/// A column named by the user.
struct ColumnChoice {
  Role role;
  std::string column;               ///< its name in the header
  const KnownUnit* unit = nullptr;  ///< null: as the header says
};

/// "tmax=HIGH:F" or "tmax=HIGH". Errors: an unknown role (with the nearest known), no name, an unknown unit.
[[nodiscard]] Result<ColumnChoice> parse_column_choice(std::string_view text);

/// Lower case letters, digits and % only: how names and units are compared.
[[nodiscard]] std::string squeezed(std::string_view text);

}  // namespace strikebed::climate

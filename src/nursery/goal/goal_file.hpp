#pragma once
// A goal file and everything it leaves out, resolved. docs/goal-file.md describes the keys.
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/date.hpp"
#include "base/result.hpp"
#include "climate/record.hpp"
#include "nursery/profiles/profile_file.hpp"
#include "nursery/read_weather.hpp"
#include "season/goal.hpp"

namespace strikebed::nursery {

/// What is said over the goal file.
struct GoalOverrides {
  /// A record instead of the goal's own: what the goal says of its weather is checked and not used; it may say nothing.
  const Text* other_weather = nullptr;
  std::optional<int> seeds_in_hand;  ///< 1 or more
};

/// A goal, where its weather comes from (a record or normals, exactly one, unless there is other weather), and what was
/// filled in.
struct GoalFile {
  season::Goal goal;
  std::string path;
  std::optional<std::string> weather_path;  ///< as written
  WeatherRequest weather;  ///< how that file is written, [weather]; its source where it had to be read already
  /// Where the goal says something that only the weather can prove wrong, by field: "weather" (its file),
  /// "latitude_deg", and the fields of the request, as "columns.tmax". An error without words; not there: it does not
  /// say.
  std::map<std::string, Error, std::less<>> places;
  std::optional<climate::MonthlyNormals> normals;
  std::string time_zone;  ///< "America/Los_Angeles" (time-zone database) or "UTC-08:00" (fixed)
  std::vector<std::string> remarks;
  std::vector<std::string> assumed;  ///< one plain sentence per thing left out and where its value came from
};

/// Reads a goal with the library handed in. `name` is the path of the goal file as the user named it. Rates are taken
/// from the want, else [rates], else the grower's own profile, else the method, else the species.
///   today  dates before it are refused; a month and day means the next one
/// Errors: anything missing, unknown, out of range or contradictory, with file, line and key; all of them at once.
[[nodiscard]] Result<GoalFile> parse_goal(std::string_view text, const std::string& name, Date today,
                                          const Library& library, const GoalOverrides& overrides = {});

}  // namespace strikebed::nursery

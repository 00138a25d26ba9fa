#pragma once
// The weather that a goal is planned on: the record or the normals that it names.
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "climate/seasons.hpp"
#include "nursery/goal/goal_file.hpp"
#include "nursery/library.hpp"
#include "nursery/read_weather.hpp"

namespace strikebed::nursery {

/// Read once and kept while the goal names the same.
class GoalWeather {
 public:
  /// The weather of a goal. `other`: a record instead of the goal's own.
  /// Errors: those of the record, with line and field; weather of another half of the world.
  [[nodiscard]] static Result<GoalWeather> of(const GoalFile& file, const std::optional<Text>& other,
                                              const Library& library);

  /// Possible seasons for a stretch; what the record holds of the days before `today` is in all of them.
  /// Errors: a record or normals that no season can be made of.
  [[nodiscard]] Result<climate::WeatherSeasons> seasons(Date first, int days, Date today, int count,
                                                        std::uint64_t random_seed) const;
  /// Of the days before today that a season begins with, so many are as recorded.
  [[nodiscard]] std::size_t days_known(Date first, Date today) const;
  /// What was repaired in the record, in a few lines, and whether it is of elsewhere.
  [[nodiscard]] const std::vector<std::string>& remarks() const { return remarks_; }
  [[nodiscard]] bool same_source(const GoalWeather& other) const;

 private:
  std::optional<WeatherRequest> read_;  ///< what the record was read from
  std::optional<climate::WeatherRecord> record_;
  std::optional<climate::MonthlyNormals> normals_;
  std::string goal_file_;
  std::vector<std::string> remarks_;
};

}  // namespace strikebed::nursery

#pragma once
// Futures of weather: runs of daily minimum and maximum temperature that start on a given date.
#include <cstdint>
#include <string>
#include <vector>

#include "base/date.hpp"
#include "base/result.hpp"
#include "climate/known_days.hpp"
#include "climate/record.hpp"

namespace strikebed::climate {

/// How seasons of weather came about.
struct SeasonsOrigin {
  enum class Way {
    as_recorded,        ///< whole seasons of a record
    like_typical_year,  ///< generated: the record is one typical year and no record of years
    like_few_years,     ///< generated: the record holds only `held` whole years
    like_gaps,          ///< generated: the record holds only `held` of these seasons without a gap
    like_normals,       ///< generated from twelve monthly normals
    like_two_months,    ///< generated from the hottest and the coldest month alone
  };
  Way way = Way::like_normals;
  std::string record = {};            ///< its name; none for normals
  int held = 0;                       ///< whole seasons or years in the record
  int first_year = 0, last_year = 0;  ///< in which the seasons as recorded start
  bool operator==(const SeasonsOrigin&) const = default;
};

/// `count` possible seasons of `days` days from `first`; season s, day d at [s * days + d].
struct WeatherSeasons {
  Date first;
  int days = 0;
  int count = 0;
  int known = 0;  ///< of the days, the first so many are the same in all of them
  SeasonsOrigin origin;
  std::vector<float> tmin_c;
  std::vector<float> tmax_c;
};

inline constexpr int kYearsToResample = 10;  ///< on shorter records the generator is used,
inline constexpr int kFewestSeasons = 8;     ///< and where fewer seasons than this are whole

/// Positions in record.days at which a stretch of `days` days from the month and day of `first` begins that lies whole
/// in the record, every day with temperature; one a year at most. None in a typical year.
[[nodiscard]] std::vector<std::size_t> whole_seasons(const WeatherRecord& record, Date first, int days);

/// Whole years from the first day of a record; 0 for a typical year.
[[nodiscard]] int whole_years(const WeatherRecord& record);

/// Whether so many whole seasons of a record may stand for its climate as they are.
[[nodiscard]] bool can_be_resampled(const WeatherRecord& record, std::size_t seasons);

/// The days of a record from `first` to the day before `until`, as far as they stand there without a gap; none of a
/// typical year.
[[nodiscard]] KnownDays known_days(const WeatherRecord& record, Date first, Date until);

/// Whole growing seasons cut from a record of ten years or more; otherwise `count` seasons from the daily generator
/// fitted to the record (see generator.hpp). A season starts on the month and day of `first` and stays in one piece, so
/// that southern and overwintering seasons are whole; a record of ten years holds nine or eight seasons that run over
/// the turn of the year; those that touch a long gap are left out, and when fewer than eight are left the generator is
/// used.
///   first, days  the stretch wanted; 1 <= days <= 1100
///   count        seasons to generate when resampling is not possible, >= 1
///   seed         of the random numbers
///   known        the days from `first` on that lie behind, fewer than days: all seasons have them; a season as
///   recorded
///                is spliced there, a generated one goes on from the last of them
/// Errors: a record without enough usable days to fit (fewer than 20 in a calendar month).
[[nodiscard]] Result<WeatherSeasons> weather_seasons(const WeatherRecord& record, Date first, int days, int count,
                                                     std::uint64_t seed, const KnownDays& known = {});

/// The same from twelve monthly normals.
[[nodiscard]] Result<WeatherSeasons> weather_seasons(const MonthlyNormals& normals, Date first, int days, int count,
                                                     std::uint64_t seed);

}  // namespace strikebed::climate

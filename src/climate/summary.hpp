#pragma once
// A weather record at a glance: months, degree-days, frosts, and what is measured, estimated or missing.
#include <array>
#include <chrono>
#include <optional>
#include <string>
#include <vector>

#include "climate/missing.hpp"
#include "climate/record.hpp"

namespace strikebed::climate {

/// Where the weather was taken, as far as it is known. Ranges as in Site.
struct Place {
  double latitude_deg = 0;
  std::optional<double> longitude_deg = {};
  std::optional<double> elevation_m = {};

  /// The longitude 0 and the sea level where nothing is known.
  [[nodiscard]] Site site() const { return {latitude_deg, longitude_deg.value_or(0), elevation_m.value_or(0)}; }
};

/// An amount that adds up over a month: of a mean month where at least a month of days was measured, else the plain sum
/// of the days that were, which nobody should take for a month.
struct MonthTotal {
  double amount;
  int days;          ///< measured, over all years
  bool whole_month;  ///< scaled to one
};

/// One calendar month over all years of the record. Nothing where no day tells it; what needs the latitude is also
/// missing without a site.
struct MonthSummary {
  int days = 0;                  ///< with both temperatures
  std::optional<double> tmin_c;  ///< mean
  std::optional<double> tmax_c;
  std::optional<double> tmin_sd_c;  ///< of single days about the month's mean
  std::optional<double> tmax_sd_c;
  std::optional<MonthTotal> frost_days;   ///< tmin at or below 0 °C
  std::optional<MonthTotal> rain_mm;      ///< of the days with rain reported
  std::optional<double> day_length_h;     ///< mean of the month
  std::optional<double> radiation_mj_m2;  ///< a day, measured or estimated
  std::optional<double> evaporation_mm;   ///< reference evapotranspiration, a day

  [[nodiscard]] bool measured() const { return tmin_c || tmax_c || rain_mm || radiation_mj_m2; }
};

/// Degree-days above one base: by the single sine, and by hours of the sine-exponential course (needs the latitude).
struct DegreeDays {
  double single_sine;
  std::optional<double> hours;
};

struct YearDegreeDays {
  int year;
  int days;                         ///< of the year, with temperature
  int days_of_year;                 ///< 365 or 366; a year with fewer `days` is not whole and its totals are too low
  std::vector<DegreeDays> by_base;  ///< in the order of WeatherSummary::bases_c
};

/// Frost (tmin at or below 0 °C) on both sides of one summer: the last before and the first after it. In the north a
/// season is a calendar year, in the south it runs from 1 July to 30 June.
struct FrostSeason {
  int starts_in;              ///< year in which it begins
  bool spring_known = false;  ///< no minimum is missing in the half-year before midsummer
  bool autumn_known = false;
  std::optional<Date> last_spring_frost;  ///< nothing while known: none came
  std::optional<Date> first_autumn_frost;
};

/// How a date falls over the seasons: of those with a frost.
struct DateRange {
  int seasons = 0;        ///< known half-years
  int without_frost = 0;  ///< of these, without any
  std::optional<std::chrono::month_day> earliest, median, latest;
};

/// Days on which a quantity was measured, stood in for (filled or estimated), or neither.
struct Coverage {
  int measured = 0;
  int estimated = 0;
  int missing = 0;
};

struct WeatherSummary {
  std::string name;
  RecordKind kind = RecordKind::years;
  std::optional<Place> place;
  Date first;
  Date last;
  int days = 0;
  int hourly_rows = 0;
  std::optional<Date> coldest, hottest;  ///< days of the lowest minimum and the highest maximum
  double lowest_tmin_c = 0;
  double highest_tmax_c = 0;
  std::array<MonthSummary, 12> months;  ///< January first
  std::vector<double> bases_c;
  std::vector<YearDegreeDays> years;
  std::vector<FrostSeason> frosts;
  DateRange last_spring_frost;
  DateRange first_autumn_frost;
  Coverage temperature, rain, humidity, wind, radiation;
  int whole_seasons = 0;          ///< of 365 days, from 1 January in the north, 1 July in the south
  bool can_be_resampled = false;  ///< enough of them to use seasons as they were (seasons.hpp)
  std::vector<Notice> notices;
};

/// Everything above from a checked record.
///   place     nothing: that of the record; without either, what needs the latitude is left out, frosts are as in the
///             north
///   bases_c   of the degree-days
///   setting   for radiation estimated from temperature
[[nodiscard]] WeatherSummary summarise(const WeatherRecord& record, std::optional<Place> place,
                                       const std::vector<double>& bases_c, Setting setting = Setting::inland);

}  // namespace strikebed::climate

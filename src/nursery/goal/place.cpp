// The place: where it is, its weather or its normals, its time zone and its winter.
#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "climate/generator.hpp"
#include "nursery/goal/reading.hpp"
#include "nursery/time_zone.hpp"

namespace strikebed::nursery {
namespace {

void assume_usual_sds(Reading& reading, const TomlTable& normals) {
  const bool of_tmin = !normals.has("tmin_sd");
  const bool of_tmax = !normals.has("tmax_sd");
  if (!of_tmin && !of_tmax) return;
  reading.assume(
      fmt::format("How much single days differ from the month's mean ({} left out): as at two places with records, "
                  "more in colder months, trust C.",
                  of_tmin && of_tmax ? "tmin_sd and tmax_sd are"
                  : of_tmin          ? "tmin_sd is"
                                     : "tmax_sd is"));
}

std::optional<climate::MonthlyNormals> read_normals(Reading& reading, const TomlTable& place) {
  const auto table = place.table("normals");
  if (!table) return std::nullopt;
  const NumberRange temperature{.low = -60, .high = 50, .of_what = "°C; 68 °F is 20 °C"};
  const NumberRange deviation{.low = 0, .high = 20, .low_excluded = true, .of_what = "°C"};
  const NumberRange rain{.low = 0, .high = 5000, .of_what = "mm"};
  climate::MonthlyNormals normals;
  const auto read = [&](std::string_view key, const NumberRange& range, std::array<double, 12>& months) {
    if (const auto numbers = table->numbers(key, months.size(), range)) {
      std::copy(numbers->begin(), numbers->end(), months.begin());
    }
  };
  for (const std::string_view key : {"tmin", "tmax"}) {
    table->needs(key, fmt::format("a list of 12 numbers, January first, each {}", temperature.in_words()));
  }
  read("tmin", temperature, normals.tmin_c);
  read("tmax", temperature, normals.tmax_c);
  normals = climate::with_usual_sds(normals);
  read("tmin_sd", deviation, normals.tmin_sd_c);
  read("tmax_sd", deviation, normals.tmax_sd_c);
  if (table->numbers("rain", normals.tmin_c.size(), rain)) {
    reading.assume("The rain in [place.normals] is read and not used: a plan needs the temperatures alone.");
  }
  for (std::size_t month = 0; table->sound({"tmin", "tmax"}) && month < normals.tmin_c.size(); ++month) {
    if (normals.tmin_c[month] <= normals.tmax_c[month]) continue;
    table->fail("tmin",
                fmt::format("found {} for {}, above its tmax {}", normals.tmin_c[month],
                            month_name(static_cast<int>(month) + 1), normals.tmax_c[month]),
                "tmin at most tmax in every month");
    break;
  }
  assume_usual_sds(reading, *table);
  return normals;
}

/// The first winter that a plant weaned by `by` has to live through: the last one that is over by then and still ahead
/// of today, else the next one (then the plan says that it comes too late).
void resolve_winter(season::Goal& goal, const WrittenDay& starts, const WrittenDay& ends) {
  const auto end_of = [&](Date start) { return ends.on_or_after(start + Days{1}); };
  Date start = starts.on_or_after(goal.today + Days{1});
  for (Date next = starts.on_or_after(start + Days{1}); end_of(next) <= goal.by;
       next = starts.on_or_after(next + Days{1})) {
    start = next;
  }
  goal.winter_starts = start;
  goal.winter_ends = end_of(start);
}

void read_winter(Reading& reading, const std::optional<TomlTable>& place) {
  season::Goal& goal = reading.goal();
  const bool north = goal.site.latitude_deg >= 0;
  WrittenDay starts{std::nullopt, north ? 11 : 5, 1};
  WrittenDay ends{std::nullopt, north ? 4 : 10, 1};
  bool said = false;
  if (place) {
    said = place->has_all({"winter_starts", "winter_ends"});
    starts = place->month_day("winter_starts").value_or(starts);
    ends = place->month_day("winter_ends").value_or(ends);
    if (starts.month == ends.month && starts.day == ends.day) {
      place->fail("winter_ends", "found the day on which winter starts", "another day");
    }
  }
  resolve_winter(goal, starts, ends);
  if (!said && goal.reaches(growth::Rung::winter)) {
    reading.assume(fmt::format("Winter from {} to {}: usual in the {} half of the world.", to_words(goal.winter_starts),
                               to_words(goal.winter_ends), north ? "northern" : "southern"));
  }
}

void read_time_zone(Reading& reading, const TomlTable& place) {
  reading.file.time_zone = zone_of_longitude(reading.goal().site.longitude_deg);
  if (!place.has("time_zone")) {
    reading.assume(fmt::format("Time zone {}: by the longitude, without summer time.", reading.file.time_zone));
  } else if (const auto written = place.text("time_zone", kTimeZoneAllowed)) {
    const auto zone = parse_time_zone(*written, reading.library.time_zones);
    if (zone) {
      reading.file.time_zone = *zone;
    } else {
      place.fail("time_zone", zone.error().problem, zone.error().allowed);
    }
  }
}

void read_weather(Reading& reading, const TomlTable& place, const GoalOverrides& overrides) {
  const bool weather_written = place.has("weather");
  const bool normals_written = place.has("normals");
  const auto weather = place.text("weather", "the name of a weather file, such as \"weather.csv\"");
  auto normals = read_normals(reading, place);
  if (weather_written && normals_written) {
    place.fail("weather", "found beside normals", "a weather file or [place.normals], one of the two");
  }
  if (overrides.other_weather) return;
  if (weather) {
    reading.file.weather_path = weather;
    reading.file.weather_place = place.place_of("weather");
  } else {
    reading.file.normals = normals;
    if (!weather_written && !normals_written) {
      place.fail("weather", "is missing", "the name of a weather file, or a table [place.normals]");
    }
  }
}

}  // namespace

void read_place(Reading& reading, const GoalOverrides& overrides) {
  season::Goal& goal = reading.goal();
  reading.root.needs("place", "a table [place] with latitude, longitude and weather");
  const auto place = reading.root.table("place");
  if (place) {
    const NumberRange latitude{.low = -90, .high = 90, .of_what = "degrees, south negative"};
    const NumberRange longitude{.low = -180, .high = 180, .of_what = "degrees, west negative"};
    const NumberRange elevation{.low = -450, .high = 9000, .of_what = "m"};
    place->needs("latitude", latitude.in_words());
    place->needs("longitude", longitude.in_words());
    goal.site.latitude_deg = place->number("latitude", latitude).value_or(0);
    goal.site.longitude_deg = place->number("longitude", longitude).value_or(0);
    goal.site.elevation_m = place->number("elevation_m", elevation).value_or(0);
    if (!place->has("elevation_m")) reading.assume("At sea level: elevation_m is left out.");
    read_time_zone(reading, *place);
    read_weather(reading, *place, overrides);
  }
  read_winter(reading, place);
}

}  // namespace strikebed::nursery

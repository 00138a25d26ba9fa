// The place: where it is, its weather or its normals, its time zone and its winter.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>
#include <map>
#include <utility>

#include "climate/columns.hpp"
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
                  "more in colder months; a guess.",
                  of_tmin && of_tmax ? "tmin_sd and tmax_sd are"
                  : of_tmin          ? "tmin_sd is"
                                     : "tmax_sd is"));
}

const NumberRange kNormalTemperature{.low = -60, .high = 50, .of_what = "°C; 68 °F is 20 °C"};

/// The means of one month; its name, where it is written, else the usual one of this half of the world.
std::optional<climate::MonthMeans> read_month(const TomlTable& normals, std::string_view key, int usual) {
  normals.needs(key, "the means of that month, such as { tmin = 2, tmax = 8 }");
  const auto table = normals.table(key);
  if (!table) return std::nullopt;
  std::array<std::string_view, 12> names;
  for (std::size_t m = 0; m < names.size(); ++m) names[m] = month_name(static_cast<int>(m) + 1);
  const auto named = table->one_of("month", names);
  for (const std::string_view part : {"tmin", "tmax"}) table->needs(part, kNormalTemperature.in_words());
  const auto tmin = table->number("tmin", kNormalTemperature);
  const auto tmax = table->number("tmax", kNormalTemperature);
  if (!tmin || !tmax || (table->has("month") && !named)) return std::nullopt;
  if (*tmin > *tmax) {
    table->fail("tmin", fmt::format("found {}, above its tmax {}", *tmin, *tmax), "tmin at most tmax");
    return std::nullopt;
  }
  const std::string name = named.value_or(std::string(month_name(usual)));
  return climate::MonthMeans{static_cast<std::size_t>(std::ranges::find(names, name) - names.begin()), *tmin, *tmax};
}

/// Normals of the hottest and the coldest month alone. The latitude has been read.
void read_two_months(Reading& reading, const TomlTable& place) {
  if (!place.is_table("normals")) return;
  const TomlTable table = *place.table("normals");
  if (!table.has_any({"hottest", "coldest"})) return;
  const bool north = reading.goal().site.latitude_deg >= 0;
  const auto hottest = read_month(table, "hottest", north ? 7 : 1);
  const auto coldest = read_month(table, "coldest", north ? 1 : 7);
  for (const std::string_view key : {"tmin", "tmax", "tmin_sd", "tmax_sd", "rain"}) {
    if (table.has(key)) table.fail(key, "found beside hottest or coldest", "twelve months, or these two");
  }
  if (!hottest || !coldest) return;
  if (hottest->month == coldest->month || hottest->tmin_c + hottest->tmax_c <= coldest->tmin_c + coldest->tmax_c) {
    table.fail("hottest", "is no other month than the coldest, or no warmer one", "the month with the higher means");
    return;
  }
  if (reading.file.normals) reading.file.normals = climate::two_month_normals(*hottest, *coldest);
  reading.assume(fmt::format(
      "Weather by the hottest and the coldest month alone ({} and {}): the others lie on half a wave between them, "
      "which misses the mean of a season by {} °C or so (a guess). Twelve months or a record would make this plan "
      "surer.",
      month_name(static_cast<int>(hottest->month) + 1), month_name(static_cast<int>(coldest->month) + 1),
      climate::kTwoMonthError_c));
}

std::optional<climate::MonthlyNormals> read_normals(Reading& reading, const TomlTable& place) {
  const auto table = place.table("normals");
  if (!table) return std::nullopt;
  if (table->has_any({"hottest", "coldest"})) return climate::MonthlyNormals{};  // read_two_months
  const NumberRange& temperature = kNormalTemperature;
  const NumberRange deviation{.low = 0, .high = 20, .low_excluded = true, .of_what = "°C"};
  const NumberRange rain{.low = 0, .high = 5000, .of_what = "mm"};
  climate::MonthlyNormals normals;
  const auto read = [&](std::string_view key, const NumberRange& range, std::array<double, 12>& months) {
    if (const auto numbers = table->numbers(key, months.size(), range)) {
      std::copy(numbers->begin(), numbers->end(), months.begin());
    }
  };
  for (const std::string_view key : {"tmin", "tmax"}) {
    table->needs(key, fmt::format("a list of 12 numbers, January first, each {}; or hottest and coldest alone",
                                  temperature.in_words()));
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
  if (!said && goal.may_meet_winter()) {
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

/// [weather]: how the goal's own CSV file is written.
void read_weather_form(Reading& reading, bool of_file, const GoalOverrides& overrides) {
  const auto table = reading.root.table("weather");
  if (!table) return;
  WeatherRequest form;
  std::map<std::string, Error, std::less<>> places;
  if (const auto columns = table->table("columns")) {
    for (const climate::KnownRole& role : climate::known_roles()) {
      const auto column = columns->text(role.word, R"(the column's name, such as "HIGH", or with a unit "HIGH:F")");
      if (!column) continue;
      form.columns.push_back(fmt::format("{}={}", role.word, *column));
      places.emplace(fmt::format("columns.{}", role.word), columns->place_of(role.word));
      if (const auto wrong = wrong_column_choice(form.columns.back()))
        columns->fail(role.word, wrong->problem, wrong->allowed);
    }
  }
  form.date_order = table->one_of("date_order", kDateOrders).value_or("");
  form.wind_height_m = table->number("wind_height_m", {.low = 0.5, .high = 200, .of_what = "m"});
  if (overrides.other_weather) return;
  if (!of_file) {
    reading.root.fail("weather", "says how a weather file is written, and [place] names none",
                      R"([place] with weather = "weather.csv")");
  }
  form.source = std::move(reading.file.weather.source);
  reading.file.weather = std::move(form);
  reading.file.places.merge(places);
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
    reading.file.places.emplace("weather", place.place_of("weather"));
  } else {
    reading.file.normals = normals;
    if (!weather_written && !normals_written) {
      place.fail("weather", "is missing", "the name of a weather file, or a table [place.normals]");
    }
  }
}

/// Where the weather was taken, as its file says; nothing where it does not, or cannot be read (that is said later).
std::optional<climate::Site> site_of_weather(Reading& reading, const GoalOverrides& overrides) {
  if (overrides.other_weather) return nursery::site_of_weather(*overrides.other_weather);
  if (!reading.file.weather_path) return std::nullopt;
  Result<Text> text = reading.library.own(*reading.file.weather_path);
  if (!text) return std::nullopt;
  reading.file.weather.source = std::move(*text);
  return nursery::site_of_weather(reading.file.weather.source);
}

void read_site(Reading& reading, const TomlTable& place, const GoalOverrides& overrides) {
  const NumberRange latitude{.low = -90, .high = 90, .of_what = "degrees, south negative"};
  const NumberRange longitude{.low = -180, .high = 180, .of_what = "degrees, west negative"};
  const NumberRange elevation{.low = -450, .high = 9000, .of_what = "m"};
  std::optional<climate::Site> of_weather;
  if (!place.has_all({"latitude", "longitude", "elevation_m"})) of_weather = site_of_weather(reading, overrides);
  std::vector<std::string> taken;
  const auto read = [&](std::string_view key, const NumberRange& range, double climate::Site::* part,
                        std::string_view words) {
    if (!place.has(key) && of_weather) {
      reading.goal().site.*part = *of_weather.*part;
      taken.push_back(fmt::format(fmt::runtime(words), *of_weather.*part));
    } else {
      reading.goal().site.*part = place.number(key, range).value_or(0);
    }
  };
  for (const auto& [key, range] : {std::pair{"latitude", latitude}, std::pair{"longitude", longitude}}) {
    if (!of_weather) place.needs(key, range.in_words() + "; or a weather file that says where it was taken (EPW)");
  }
  read("latitude", latitude, &climate::Site::latitude_deg, "latitude {:.2f}");
  read("longitude", longitude, &climate::Site::longitude_deg, "longitude {:.2f}");
  read("elevation_m", elevation, &climate::Site::elevation_m, "elevation {:.0f} m");
  if (!taken.empty()) {
    reading.assume(
        fmt::format("Where the goal says nothing, the place of the weather file: {}.", fmt::join(taken, ", ")));
  } else if (!place.has("elevation_m")) {
    reading.assume("At sea level: elevation_m is left out.");
  }
  if (place.has("latitude")) reading.file.places.emplace("latitude_deg", place.place_of("latitude"));
}

}  // namespace

void read_place(Reading& reading, const GoalOverrides& overrides) {
  reading.root.needs("place", "a table [place] with latitude, longitude and weather");
  const auto place = reading.root.table("place");
  if (place) {
    read_weather(reading, *place, overrides);
    read_site(reading, *place, overrides);
    read_two_months(reading, *place);
    read_time_zone(reading, *place);
  }
  read_weather_form(reading, reading.file.weather_path.has_value(), overrides);
  read_winter(reading, place);
}

}  // namespace strikebed::nursery

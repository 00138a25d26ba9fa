#pragma once
// The demo's recorded weather (Seattle 2012-2015), for tests of what is computed from a record.
#include <gtest/gtest.h>

#include <cstdlib>
#include <fstream>
#include <sstream>
#include <string>

#include "climate/record.hpp"

namespace strikebed::climate {

/// A day with temperatures, degC, and rain, mm, where known.
inline Day day_with(Date date, double tmin_c, double tmax_c, std::optional<double> rain_mm = std::nullopt) {
  Day day{};
  day.date = date;
  day.tmin_c = tmin_c;
  day.tmax_c = tmax_c;
  day.rain_mm = rain_mm;
  return day;
}

/// Plain parsing of date,precipitation,temp_max,temp_min,...: independent of the reader under test elsewhere.
inline const WeatherRecord& seattle() {
  static const WeatherRecord record = [] {
    WeatherRecord read;
    read.name = "seattle-2012-2015.csv";
    std::ifstream file(SOURCE_DIR "/demo/weather/seattle-2012-2015.csv");
    std::string line;
    std::getline(file, line);
    while (std::getline(file, line)) {
      std::istringstream fields(line);
      std::string date, rain, tmax, tmin;
      std::getline(fields, date, ',');
      std::getline(fields, rain, ',');
      std::getline(fields, tmax, ',');
      std::getline(fields, tmin, ',');
      const auto day = parse_iso_date(date);
      if (!day) continue;
      read.days.push_back(day_with(*day, std::strtod(tmin.c_str(), nullptr), std::strtod(tmax.c_str(), nullptr),
                                   std::strtod(rain.c_str(), nullptr)));
    }
    EXPECT_EQ(read.days.size(), 1461U);
    return read;
  }();
  return record;
}

}  // namespace strikebed::climate

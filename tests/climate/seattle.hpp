#pragma once
// The demo's recorded weather (Seattle 2012-2015), for tests of what is computed from a record.
#include <gtest/gtest.h>

#include <utility>

#include "climate/csv_reader.hpp"
#include "climate/record.hpp"
#include "tests/file_text.hpp"

namespace strikebed::climate {

/// A day with temperatures, °C, and rain, mm, where known.
inline Day day_with(Date date, double tmin_c, double tmax_c, std::optional<double> rain_mm = std::nullopt) {
  Day day{};
  day.date = date;
  day.tmin_c = tmin_c;
  day.tmax_c = tmax_c;
  day.rain_mm = rain_mm;
  return day;
}

inline const WeatherRecord& seattle() {
  static const WeatherRecord record = [] {
    auto read = read_weather_csv(file_text(SOURCE_DIR "/demo/weather/seattle-2012-2015.csv"), "seattle-2012-2015.csv");
    EXPECT_TRUE(read.ok());
    return read.ok() ? std::move(read).value() : WeatherRecord{};
  }();
  return record;
}

}  // namespace strikebed::climate

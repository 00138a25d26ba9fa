// Covers  offsets in every form, names of the database that is handed in, and what neither is.
// Ref     docs/goal-file.md.
#include "nursery/time_zone.hpp"

#include <gtest/gtest.h>

namespace strikebed::nursery {
namespace {

const std::vector<std::string> kNames{"America/Los_Angeles", "Europe/Berlin", "UTC"};

std::string zone(const std::string& written, const std::vector<std::string>& names = kNames) {
  const auto read = parse_time_zone(written, names);
  return read ? *read : read.error().message();
}

TEST(TimeZone, OffsetsAreReadInEveryForm) {
  for (const char* written : {"+1", "+01", "+100", "+0100", "+1:00", "+01:00", "UTC+1", "utc +1", "GMT+01:00", "Gmt+1"})
    EXPECT_EQ(zone(written), "UTC+01:00") << written;
  EXPECT_EQ(zone("-03:30"), "UTC-03:30");
  EXPECT_EQ(zone("+130"), "UTC+01:30");
  EXPECT_EQ(zone("-12"), "UTC-12:00");
  EXPECT_EQ(zone("+14:00"), "UTC+14:00");
  EXPECT_EQ(zone("Z"), "UTC+00:00");
}

TEST(TimeZone, OffsetsBeyondTheWorldAreRefused) {
  for (const char* written : {"+14:01", "-12:01", "+99"})
    EXPECT_NE(zone(written).find("allowed: an offset from -12:00 to +14:00"), std::string::npos) << written;
}

TEST(TimeZone, WhatIsNoOffsetIsLookedForAmongTheNames) {
  EXPECT_EQ(zone("Europe/Berlin"), "Europe/Berlin");
  EXPECT_EQ(zone("UTC"), "UTC");
  EXPECT_EQ(zone("Europe/Belin"),
            "found \"Europe/Belin\" (did you mean \"Europe/Berlin\"?); allowed: " + std::string(kTimeZoneAllowed));
  for (const char* written : {"", "+", "UTC+", "+01:60", "+01:0", "+1:", "+1.5", "+00001", "1", "z", "--1", "+ 1"})
    EXPECT_EQ(zone(written).find(std::string("found \"") + written + "\""), 0U) << written;
}

TEST(TimeZone, WithoutTheDatabaseOnlyOffsetsAreKnown) {
  EXPECT_EQ(zone("+01:00", {}), "UTC+01:00");
  EXPECT_EQ(zone("Europe/Berlin", {}),
            "found \"Europe/Berlin\", and the names of the time-zone database (package tzdata) are not here; allowed: "
            "an offset from UTC, such as \"+01:00\"");
}

TEST(TimeZone, OfALongitudeIsTheNearestWholeHour) {
  EXPECT_EQ(zone_of_longitude(-122.3), "UTC-08:00");
  EXPECT_EQ(zone_of_longitude(0), "UTC+00:00");
  EXPECT_EQ(zone_of_longitude(180), "UTC+12:00");
}

}  // namespace
}  // namespace strikebed::nursery

// Moments as text: one form, exact both ways, and nothing that no calendar or clock shows.
#include "daybook/moment.hpp"

#include <gtest/gtest.h>

#include <string>
#include <string_view>

namespace strikebed::daybook {
namespace {

TEST(Moment, GoesRoundExactly) {
  for (const std::string text :
       {"2027-04-18T09:30:00.000+02:00", "2027-04-18T00:00:00.001-09:30", "1969-12-31T23:59:59.999+00:00",
        "0001-01-01T00:00:00.000+18:00", "9999-12-31T23:59:59.999-18:00", "2028-02-29T12:00:00.500+05:45"}) {
    const auto moment = parse_iso_moment(text);
    ASSERT_TRUE(moment) << text;
    EXPECT_EQ(to_iso(*moment), text);
  }
}

TEST(Moment, IsAnInstantAndAnOffset) {
  const Moment moment = parse_iso_moment("2027-04-18T01:30:00.250+02:00").value();
  EXPECT_EQ(moment.offset_min, 120);
  EXPECT_EQ(moment.ms, parse_iso_moment("2027-04-17T23:30:00.250+00:00")->ms);
  EXPECT_EQ(moment.ms - parse_iso_moment("2027-04-18T01:30:00.250-03:30")->ms, -(5 * 60 + 30) * 60'000);
  EXPECT_EQ(parse_iso_moment("1970-01-01T00:00:00.000+00:00")->ms, 0);
  EXPECT_EQ(local_day(moment), make_date(2027, 4, 18));
}

TEST(Moment, HasOneFormOnly) {
  for (const std::string_view text :
       {"", "2027-04-18", "2027-04-18T09:30:00+02:00", "2027-04-18T09:30:00.000Z", "2027-04-18t09:30:00.000+02:00",
        "2027-04-18 09:30:00.000+02:00", "2027-04-18T09:30:00.000+0200", "2027-04-18T09:30:00.000-00:00",
        "2027-02-29T09:30:00.000+02:00", "2027-04-18T24:00:00.000+02:00", "2027-04-18T09:60:00.000+02:00",
        "2027-04-18T09:30:60.000+02:00", "2027-04-18T09:30:00.000+18:01", "2027-04-18T09:30:00.000+02:60",
        "0000-04-18T09:30:00.000+02:00", "2027-04-18T09:30:00,000+02:00", "2027-04-18T09:30:00.000+02:00 "}) {
    EXPECT_FALSE(parse_iso_moment(text)) << text;
  }
}

}  // namespace
}  // namespace strikebed::daybook

// Pots as frustums: volume is the integral of the area, bad dimensions are refused. Published numbers stand in
// tests/reference/containers.json.
#include "mix/container.hpp"

#include <gtest/gtest.h>

namespace strikebed::mix {
namespace {

// Covers: the closed form against a sum of a thousand slices. Tolerance: midpoint rule, error ~ (1/1000)^2.
TEST(Container, VolumeIsTheSumOfItsSlices) {
  for (const CrossSection section : {CrossSection::round, CrossSection::square}) {
    const Container pot{section, 7.5, 9.2, 8.4, 7.1};
    constexpr int kSlices = 1000;
    double sum = 0;
    for (int i = 0; i < kSlices; ++i) sum += area_at(pot, (i + 0.5) * pot.fill_cm / kSlices) * pot.fill_cm / kSlices;
    EXPECT_NEAR(filled_volume(pot), sum, 1e-4);
  }
}

// Covers: a taper that is cut at any height is two tapers.
TEST(Container, PartsAddUpToTheWhole) {
  const Container whole{CrossSection::round, 8, 10, 10, 10};
  const Container lower{CrossSection::round, 8, 9, 5, 5};
  const Container upper{CrossSection::round, 9, 10, 5, 5};
  EXPECT_NEAR(filled_volume(whole), filled_volume(lower) + filled_volume(upper), 1e-9);
}

std::string complaint(const Container& container) {
  const auto result = checked(container);
  return result ? "" : result.error().message();
}

TEST(Container, RefusesWhatIsNoPot) {
  EXPECT_EQ(complaint({CrossSection::round, 8, 9, 9, 8}), "");
  EXPECT_EQ(complaint({CrossSection::round, 0, 9, 9, 8}),
            "container.base_cm: found 0 cm; allowed: above 0, at most 200 cm, inside the container");
  EXPECT_EQ(complaint({CrossSection::round, 8, 201, 9, 8}),
            "container.top_cm: found 201 cm; allowed: above 0, at most 200 cm, inside the container");
  EXPECT_EQ(complaint({CrossSection::round, 8, 9, 61, 8}),
            "container.height_cm: a container 61 cm tall is outside what the model of drained pots covers; allowed: "
            "above 0, at most 60 cm, inside the container");
  EXPECT_EQ(complaint({CrossSection::round, 8, 9, 9, 9.5}),
            "container.fill_cm: found 9.5 cm in a container 9 cm tall; allowed: above 0, at most the height of the "
            "container");
}

}  // namespace
}  // namespace strikebed::mix

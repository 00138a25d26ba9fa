// A feed in words: what is remarked on and assumed, by the names of the reader's controls.
#include "print/feed_text.hpp"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "print/text_table.hpp"

namespace strikebed::print {
namespace {

mix::FeedRequest asked(std::initializer_list<const char*> fertilisers, const char* target) {
  mix::FeedRequest request;
  for (const char* label : fertilisers) request.fertilisers.push_back({mix::parse_label(label, "").value(), {}});
  request.target = mix::parse_target(target, "").value();
  request.schedule.phases = {{.name = "growth", .n_low = 50, .n_high = 200, .ec_high = 1.8}};
  return request;
}

std::string option_of(std::string_view field) { return "--" + std::string(field); }

/// On one line.
std::string text_of(const mix::FeedRequest& request, const FieldNames& names = option_of) {
  return replaced(feed_text(mix::make_feed(request).value(), names, Beside::nothing), "\n  ", " ");
}

bool says(const std::string& text, std::string_view part) { return text.find(part) != std::string::npos; }

TEST(FeedText, SaysWhatToMind) {
  mix::FeedRequest coarse = asked({"20-10-20"}, "100 N");
  coarse.volume_l = 9;
  coarse.scale_g = 5;
  EXPECT_TRUE(
      says(text_of(coarse),
           "Please note: 111 ppm N instead of 100: the scale is too coarse; take a finer one or a bigger can."));
  mix::FeedRequest blend = asked({"20-10-20", "0-0-50"}, "100 N, 84 K");
  blend.volume_l = 9;
  EXPECT_TRUE(
      says(text_of(blend),
           "Please note: 0.021 g of 0-0-50 is less than half a step of the scale (0.1 g): left out, the rest is within "
           "10 % of the target."))
      << text_of(blend);
  mix::FeedRequest none = asked({"20-10-20"}, "100 N");
  none.target.reset();
  none.phase = {.name = "rooting"};
  EXPECT_TRUE(says(text_of(none), "Please note: nothing is fed in this phase."));
  mix::FeedRequest stock = asked({"20-10-20"}, "100 N");
  stock.injector = mix::Ratio{false, 1000};
  EXPECT_TRUE(says(text_of(stock), "500 g of 20-10-20 in a litre of stock may not all dissolve"));
}

TEST(FeedText, SaysWhereItIsTooStrongOrTooSalty) {
  mix::FeedRequest request = asked({"15-5-15"}, "300 N");
  EXPECT_TRUE(
      says(text_of(request),
           "Please note: 300 ppm N is more than any phase of young pines is fed (200 ppm), and its salt is not known: "
           "give --conductivity or measure it."))
      << text_of(request);
  request.fertilisers[0].conductivity = mix::parse_conductivity("1.48 at 200", "").value();
  EXPECT_TRUE(says(text_of(request), "is fed (200 ppm)."));
  EXPECT_TRUE(says(text_of(request), "EC 2.22 dS/m is more than any phase of young pines bears (1.8 dS/m)."));
  request.phase = request.schedule.phases[0];
  EXPECT_TRUE(says(text_of(request), "300 ppm N is above the 50 to 200 ppm of the phase growth."));
  EXPECT_TRUE(says(text_of(request), "EC 2.22 dS/m is above the 1.8 dS/m of the phase growth."));
}

TEST(FeedText, NamesTheControlsOfTheReader) {
  mix::FeedRequest request = asked({"20-10-20"}, "100 N");
  request.assumed = {mix::FeedAssumption::one_litre, mix::FeedAssumption::usual_scale};
  EXPECT_TRUE(says(text_of(request), "EC not known: give the label's, as --conductivity \"1.48 at 200\""));
  EXPECT_TRUE(says(text_of(request), "Assumed: 1 L (--volume)."));
  EXPECT_TRUE(says(text_of(request), "Assumed: a scale that shows 0.1 g (--scale)."));
  const auto none = [](std::string_view) { return std::string(); };
  EXPECT_TRUE(says(text_of(request, none), "EC not known: measure it."));
  EXPECT_TRUE(says(text_of(request, none), "Assumed: 1 L."));
  const auto json = nlohmann::json::parse(feed_json(mix::make_feed(request).value()));
  EXPECT_EQ(json["assumed"][0], "1 L (volume)");
}

}  // namespace
}  // namespace strikebed::print

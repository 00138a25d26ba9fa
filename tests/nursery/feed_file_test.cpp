// Phases of feeding: the shipped ones are complete and rise, own ones go before them, and every mistake has its
// message.
#include "nursery/profiles/feed_file.hpp"

#include <gtest/gtest.h>

#include "tests/nursery/shipped.hpp"

namespace strikebed::nursery {
namespace {

const std::string& shipped_text() { return shipped_library().feed.at("season").text; }

mix::FeedSchedule shipped() { return read_feed_schedule(shipped_text(), "season.toml").value(); }

mix::Phase phase(const mix::FeedSchedule& schedule, const char* name) {
  return mix::find_phase(schedule, name, "").value();
}

TEST(FeedFile, ShippedPhasesFeedNothingBeforeRootsAndRise) {
  const mix::FeedSchedule schedule = shipped();
  ASSERT_EQ(schedule.phases.size(), 5U);
  EXPECT_EQ(phase(schedule, "reserves").ppm[0], 0);
  EXPECT_EQ(phase(schedule, "rooting").ppm[0], 0);
  EXPECT_LT(phase(schedule, "establishment").ppm[0], phase(schedule, "growth").ppm[0]);
  EXPECT_GT(schedule.flush_ds_m, 0);
  for (const mix::Phase& one : schedule.phases) {
    EXPECT_FALSE(one.source.empty());
    EXPECT_FALSE(one.stage.empty());
    EXPECT_LE(one.ec_high, schedule.flush_ds_m);
  }
}

TEST(FeedFile, OwnPhasesGoBeforeTheShippedOnes) {
  const auto own = read_own_feed_schedule(
      "[[phase]]\nname = \"growth\"\nn_ppm = { value = 80, low = 60, high = 100 }\n"
      "[[phase]]\nname = \"autumn\"\nbegins = \"when nights cool\"\nn_ppm = { value = 20, low = 0, high = 30 }\n"
      "p_ppm = 30\nk_ppm = 90\nec_ds_m = { low = 0.4, high = 0.8 }\nleachate_ds_m = 1.5\nsource = \"mine\"\n"
      "trust = \"A\"\n",
      "mine.toml", shipped());
  ASSERT_TRUE(own.ok()) << own.error().message();
  ASSERT_EQ(own->phases.size(), 6U);
  EXPECT_EQ(phase(*own, "growth").ppm[0], 80);
  EXPECT_EQ(phase(*own, "growth").ppm[2], phase(shipped(), "growth").ppm[2]);  // left out
  EXPECT_EQ(phase(*own, "growth").source, "your own, mine.toml");
  EXPECT_EQ(phase(*own, "autumn").leachate_limit, 1.5);
  EXPECT_EQ(phase(*own, "autumn").trust, Trust::A);
  EXPECT_EQ(phase(*own, "hardening").source, phase(shipped(), "hardening").source);
  EXPECT_EQ(own->flush_source, shipped().flush_source);
  const auto bare = read_own_feed_schedule("[[phase]]\nname = \"growth\"\nn_ppm = 80\n", "mine.toml", shipped());
  EXPECT_EQ(phase(*bare, "growth").n_high, 80);
  EXPECT_EQ(read_own_feed_schedule("flush_ds_m = 3\n", "mine.toml", shipped())->flush_ds_m, 3);
}

std::string own_message(const char* text) {
  const auto own = read_own_feed_schedule(text, "mine.toml", shipped());
  return own ? "" : own.error().message();
}

TEST(FeedFile, SaysWhatIsWrong) {
  EXPECT_EQ(
      own_message("[[phase]]\nname = \"growth\"\nn_ppm = { value = 80, low = 90, high = 100 }\n"),
      "mine.toml:3: phase[1].n_ppm: found low 90, value 80, high 100; allowed: low at most value, value at most high");
  EXPECT_EQ(own_message("[[phase]]\nname = \"growth\"\nn_ppm = \"80\"\n"),
            "mine.toml:3: phase[1].n_ppm: found \"80\" (did you mean 80?); allowed: a number from 0 to 1000 (ppm)");
  EXPECT_EQ(own_message("[[phase]]\nname = \"growth\"\np_ppm = -1\n"),
            "mine.toml:3: phase[1].p_ppm: found -1; allowed: a number from 0 to 1000 (ppm)");
  EXPECT_EQ(own_message("[[phase]]\nname = \"growth\"\nec_ds_m = { low = 2, high = 1 }\n"),
            "mine.toml:3: phase[1].ec_ds_m: found low 2, high 1; allowed: low at most high");
  EXPECT_EQ(own_message("[[phase]]\nname = \"growht\"\nk_ppm = 100\n"),
            "mine.toml:2: phase[1].name: there is no phase \"growht\" (did you mean \"growth\"?); allowed: "
            "\"reserves\", \"rooting\", \"establishment\", \"growth\" or \"hardening\", or a new one with begins, "
            "n_ppm, p_ppm, k_ppm, ec_ds_m and leachate_ds_m");
  EXPECT_EQ(own_message("[[phase]]\nk_ppm = 100\n"),
            "mine.toml:1: phase[1].name: is missing; allowed: a word of its own, such as \"growth\"");
  EXPECT_EQ(own_message("[[phase]]\nname = \"growth\"\nppm_n = 100\n"),
            "mine.toml:3: phase[1].ppm_n: unknown key; allowed: \"begins\", \"ec_ds_m\", \"k_ppm\", \"leachate_ds_m\", "
            "\"n_ppm\", \"name\", \"p_ppm\", \"source\" or \"trust\"");
  EXPECT_EQ(own_message("[[phase]]\nname = \"growth\"\n[[phase]]\nname = \"growth\"\n"),
            "mine.toml:4: phase[2].name: \"growth\" stands there twice; allowed: a name of its own");
  const auto none = read_feed_schedule("flush_ds_m = 2.5\nsource = \"a\"\ntrust = \"B\"\n", "season.toml");
  EXPECT_EQ(none ? "" : none.error().message(), "season.toml: there is no phase; allowed: one [[phase]] or more");
}

}  // namespace
}  // namespace strikebed::nursery

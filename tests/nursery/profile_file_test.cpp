// Covers  the shipped profiles (every value with unit, source, trust and a range that holds it), reading them strictly,
//         and the grower's own values laid over them.
// Ref     the numbers checked by name are those of profiles/, whose sources stand beside them.
// Tol     none: the numbers are those written.
#include "nursery/profiles/profile_file.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "tests/nursery/shipped.hpp"

namespace strikebed::nursery {
namespace {

using growth::Method;
using growth::RateValue;
using growth::Rung;
using growth::Species;

const Library& shipped() { return shipped_library(); }

Species species_of(std::string_view id) {
  const Text& text = shipped().species.find(id)->second;
  auto species = read_species(text.text, text.file);
  if (!species) ADD_FAILURE() << species.error().message();
  return *species;
}

Method method_of(std::string_view id) {
  const Text& text = shipped().methods.find(id)->second;
  auto method = read_method(text.text, text.file, shipped());
  if (!method) ADD_FAILURE() << method.error().message();
  return *method;
}

void expect_complete(const ProfileValue& value, const std::string& where) {
  EXPECT_LE(value.quantity.low, value.quantity.value) << where;
  EXPECT_LE(value.quantity.value, value.quantity.high) << where;
  EXPECT_FALSE(value.unit.empty()) << where;
  EXPECT_GE(value.source.size(), 10U) << where;
}

void expect_complete(const RateValue& rate, const std::string& where) {
  const auto* range = std::get_if<Ranged>(&rate.belief.belief);
  ASSERT_TRUE(range) << where;
  ASSERT_TRUE(range->about) << where;
  EXPECT_GT(range->low, 0) << where;
  EXPECT_LT(range->low, *range->about) << where;
  EXPECT_LT(*range->about, range->high) << where;
  EXPECT_LT(range->high, 1) << where;
  ASSERT_TRUE(rate.belief.batch_spread) << where;
  EXPECT_GT(*rate.belief.batch_spread, 0) << where;
  EXPECT_NE(rate.source.find("batches too"), std::string::npos) << where << ": says how batches were taken apart";
}

TEST(Profiles, TheFiveSpeciesAndTwoMethodsAreThere) {
  for (const char* id :
       {"pinus-densiflora", "pinus-mugo", "pinus-parviflora", "pinus-sylvestris", "pinus-thunbergii"}) {
    ASSERT_TRUE(shipped().species.contains(id)) << id;
  }
  for (const char* id : {"slanting-cut", "square-cut"}) ASSERT_TRUE(shipped().methods.contains(id)) << id;
}

TEST(Profiles, EverySpeciesSaysEverything) {
  for (const auto& [id, text] : shipped().species) {
    const Species s = species_of(id);
    EXPECT_EQ(s.id, id);
    EXPECT_FALSE(s.name.empty());
    for (const ProfileValue* value : {&s.seeds_per_gram,
                                      &s.chill_days,
                                      &s.unchilled_time_factor,
                                      &s.unchilled_spread_factor,
                                      &s.germination_time,
                                      &s.germination_spread,
                                      &s.cover_time,
                                      &s.loss_half_age_days,
                                      &s.ripening_time,
                                      &s.ripening_spread,
                                      &s.window_end_time,
                                      &s.edge_odds,
                                      &s.rooting_time,
                                      &s.rooting_spread,
                                      &s.unrooted_life_days,
                                      &s.failure_half_life_days,
                                      &s.weaning_days,
                                      &s.shortest_day_h,
                                      &s.standstill_day_h,
                                      &s.cold_seed_loss,
                                      &s.idle_loss,
                                      &s.seedling_frost_c,
                                      &s.cutting_frost_c}) {
      expect_complete(*value, id + ": " + value->source);
    }
    for (const growth::RungRow& row : growth::kRungs)
      expect_complete(s.rates[row.rung], id + ": " + std::string(row.name));
    for (const auto* cardinal : {&s.germination_temperature, &s.ripening_temperature, &s.rooting_temperature}) {
      EXPECT_LT(cardinal->base_c, cardinal->optimum_c) << id;
      EXPECT_LT(cardinal->optimum_c, cardinal->ceiling_c) << id;
    }
  }
}

TEST(Profiles, EveryMethodSaysEverything) {
  for (const auto& [id, text] : shipped().methods) {
    const Method m = method_of(id);
    EXPECT_EQ(m.id, id);
    EXPECT_FALSE(m.name.empty());
    EXPECT_FALSE(m.solution.empty());
    for (const ProfileValue* value :
         {&m.stem_length_mm, &m.cut_angle_deg, &m.group, &m.cutting_seconds, &m.soak_seconds, &m.setting_seconds,
          &m.cuttings_per_container, &m.container_top_mm, &m.container_bottom_mm, &m.container_height_mm,
          &m.pocket_width_mm, &m.pocket_depth_mm, &m.auxin_ppm, &m.solution_ml_per_fill, &m.cuttings_per_fill}) {
      expect_complete(*value, id + ": " + value->source);
    }
    for (const growth::RungRow& row : growth::kRungs) {
      if (m.rates[row.rung]) expect_complete(*m.rates[row.rung], id + ": " + std::string(row.name));
    }
    EXPECT_EQ(m.controls, 0);
    EXPECT_EQ(m.lifted, 0);
  }
}

TEST(Profiles, NoValueStandsWithoutUnitSourceTrustLowAndHigh) {
  const auto count = [](const std::string& text, const std::string& line_start) {
    std::size_t n = 0;
    for (std::size_t at = text.find("\n" + line_start); at != std::string::npos;
         at = text.find("\n" + line_start, at + 1))
      ++n;
    return n;
  };
  for (const auto* folder : {&shipped().species, &shipped().methods}) {
    for (const auto& [id, profile] : *folder) {
      const std::size_t values = count(profile.text, "value = ");
      EXPECT_GE(values, 14U) << id;
      for (const char* key : {"low = ", "high = ", "unit = ", "source = ", "trust = "}) {
        EXPECT_EQ(count(profile.text, key), values) << id << " " << key;
      }
    }
  }
}

TEST(Profiles, BlackPineHasTheAgreedNumbers) {
  const Species s = species_of("pinus-thunbergii");
  EXPECT_EQ(s.germination_time.quantity.value, 130);
  EXPECT_EQ(s.germination_temperature.base_c, 6);
  EXPECT_EQ(s.ripening_time.quantity.low, 280);
  EXPECT_EQ(s.window_end_time.quantity.high, 1400);
  EXPECT_EQ(s.rooting_temperature.optimum_c, 24);
  EXPECT_EQ(s.rates[Rung::take].belief.batch_spread, 0.5);
  EXPECT_EQ(s.rooting_time.trust, Trust::C);
}

TEST(Profiles, TheCutsGiveTheirBaseForms) {
  const Method square = method_of("square-cut");
  const Method slanting = method_of("slanting-cut");
  EXPECT_EQ(square.base_form, "radial");
  EXPECT_EQ(square.cut_angle_deg.typical(), 90);
  EXPECT_EQ(slanting.base_form, "single-root");
  EXPECT_EQ(slanting.cut_angle_deg.typical(), 30);
  EXPECT_GT(slanting.stem_length_mm.typical(), square.stem_length_mm.typical());
  EXPECT_TRUE(slanting.rates[Rung::grade]);
  EXPECT_FALSE(slanting.rates[Rung::take]);
}

std::string changed(std::string text, const std::string& from, const std::string& to) {
  const std::size_t at = text.find(from);
  EXPECT_NE(at, std::string::npos) << from;
  return text.replace(at, from.size(), to);
}

TEST(Profiles, AShippedProfileMustBeCompleteAndInItsUnits) {
  const std::string& good = shipped().species.find("pinus-thunbergii")->second.text;
  const auto refused = [&](const std::string& from, const std::string& to) {
    const auto species = read_species(changed(good, from, to), "p.toml");
    return species ? "" : species.error().message();
  };
  EXPECT_EQ(refused("unit = \"seeds/g\"", "unit = \"seed/g\""),
            "p.toml:11: seeds_per_gram.unit: found \"seed/g\" (did you mean \"seeds/g\"?); allowed: \"seeds/g\"");
  EXPECT_EQ(refused("trust = \"B\"", "trust = \"D\""),
            "p.toml:12: seeds_per_gram.trust: found \"D\"; allowed: \"A\", \"B\" or \"C\"");
  EXPECT_EQ(
      refused("low = 57", "low = 80"),
      "p.toml:7: seeds_per_gram: found low 80, value 75, high 110; allowed: low at most value, value at most high");
  EXPECT_EQ(refused("low = 57\n", ""), "p.toml:7: seeds_per_gram.low: is missing; allowed: the 5 % point");
  EXPECT_EQ(refused("value = 75", "value = 0"),
            "p.toml:8: seeds_per_gram.value: found 0; allowed: a number from 0.1 to 100000 (seeds/g)");
  EXPECT_EQ(
      refused("[cover_time]", "[cover_tine]").find("p.toml:64: cover_tine: unknown key (did you mean \"cover_time\"?)"),
      0U)
      << refused("[cover_time]", "[cover_tine]");
  EXPECT_EQ(refused("id = \"pinus-thunbergii\"\n", ""),
            "p.toml: id: is missing; allowed: the name of the file without .toml");
}

TEST(Profiles, OwnValuesReplaceOnlyWhatTheySay) {
  const Species base = species_of("pinus-thunbergii");
  const auto own = read_own_profile(R"(
ripening_time = 400
rooting_time = { value = 300, low = 250, high = 380, source = "three seasons of my own" }
[germination_temperature]
base = 7
[rates]
take = { good = 130, of = 200 }
usable = 0.9
winter = { value = 0.9, low = 0.8, high = 0.95, batch_spread = 0.1, trust = "A" }
)",
                                    "my.toml", base);
  ASSERT_TRUE(own.ok()) << own.error().message();
  EXPECT_EQ(own->ripening_time.quantity.low, 400) << "a bare number is known exactly";
  EXPECT_EQ(own->ripening_time.source, "the grower's own my.toml");
  EXPECT_EQ(own->rooting_time.quantity.high, 380);
  EXPECT_EQ(own->rooting_time.source, "three seasons of my own");
  EXPECT_EQ(own->germination_temperature.base_c, 7);
  EXPECT_EQ(own->germination_temperature.optimum_c, base.germination_temperature.optimum_c);
  EXPECT_EQ(own->cover_time.quantity.value, base.cover_time.quantity.value);
  EXPECT_EQ(own->rates[Rung::take].belief.batch_spread, 0.5) << "the shipped spread stays beside an own rate";
  EXPECT_EQ(own->rates[Rung::usable].belief.batch_spread, 0.0);
  EXPECT_EQ(own->rates[Rung::winter].belief.batch_spread, 0.1);
  EXPECT_EQ(own->rates[Rung::winter].trust, Trust::A);
  ASSERT_TRUE(own->own);
  EXPECT_EQ(own->own->values, (std::set<std::string, std::less<>>{"germination_temperature", "ripening_time",
                                                                  "rooting_time", "take", "usable", "winter"}));
  EXPECT_EQ(own->own->shipped_name, "Japanese black pine");
}

// Ref  by hand: seeds of 1.2 in a gram are (75 / 1.2)^(1/3) = 3.97 times as wide as those of 75.
TEST(Profiles, TheDepthFollowsTheWeightOfTheSeedUnlessItIsSaid) {
  const Species base = species_of("pinus-thunbergii");
  const auto depth = [&](const char* text) {
    const Species own = read_own_profile(text, "my.toml", base).value();
    return std::pair{own.sowing_depth_mm.quantity.low, own.sowing_depth_mm.quantity.high};
  };
  EXPECT_EQ(depth("weaning_days = 20"), (std::pair{5.0, 8.0}));
  EXPECT_EQ(depth("seeds_per_gram = 1.2"), (std::pair{20.0, 32.0}));
  EXPECT_EQ(depth("seeds_per_gram = 1.2\nsowing_depth_mm = { value = 25, low = 20, high = 30 }"),
            (std::pair{20.0, 30.0}));
  EXPECT_EQ(depth("sowing_depth_mm = 10"), (std::pair{10.0, 10.0}));
}

TEST(Profiles, OwnValuesAreCheckedLikeTheShipped) {
  const Species base = species_of("pinus-thunbergii");
  const auto refused = [&](const char* text) {
    const auto own = read_own_profile(text, "my.toml", base);
    return own ? "" : own.error().message();
  };
  EXPECT_EQ(refused("window_end_time = 300"),
            "my.toml:1: window_end_time: found 300 with ripening_time 420; allowed: a window that ends "
            "after it starts");
  EXPECT_EQ(
      refused("ripening_time = 2000"),
      "my.toml:1: ripening_time: found 2000 with window_end_time 1150; allowed: a window that ends after it starts");
  EXPECT_EQ(refused("[germination_temperature]\nbase = 25"),
            "my.toml:1: germination_temperature: found base 25, optimum 23, ceiling 36; allowed: base at least 1 °C "
            "below optimum, "
            "optimum at least 1 °C below ceiling");
  EXPECT_EQ(refused("edge_odds = 1.5"), "my.toml:1: edge_odds: found 1.5; allowed: a number from 0.01 to 1 (ratio)");
  EXPECT_EQ(refused("ripening_time = { value = 400, low = 380 }"),
            "my.toml:1: ripening_time.high: is missing; allowed: the 95 % point");
  EXPECT_EQ(refused("riping_time = 400").find("my.toml:1: riping_time: unknown key (did you mean \"ripening_time\"?)"),
            0U);
}

TEST(Profiles, AnOwnMethodCanStandOnAShippedOne) {
  const auto own = read_method("based_on = \"square-cut\"\nstem_length_mm = 12\nlifted = 0.05\n[rates]\ntake = 0.7\n",
                               "folder/short-cut.toml", shipped());
  ASSERT_TRUE(own.ok()) << own.error().message();
  EXPECT_EQ(own->id, "short-cut");
  EXPECT_EQ(own->base_form, "radial");
  EXPECT_EQ(own->stem_length_mm.quantity.value, 12);
  EXPECT_EQ(own->lifted, 0.05);
  EXPECT_TRUE(own->rates[Rung::take]);
  EXPECT_FALSE(own->rates[Rung::grade]);
  EXPECT_EQ(own->group.typical(), method_of("square-cut").group.typical());

  const auto lost = read_method("based_on = \"squar-cut\"\nstem_length_mm = 12\n", "m.toml", shipped());
  ASSERT_FALSE(lost.ok());
  EXPECT_EQ(lost.error().message(),
            "m.toml:1: based_on: found \"squar-cut\" (did you mean \"square-cut\"?); allowed: \"slanting-cut\" or "
            "\"square-cut\"");
  const auto alone = read_method("name = \"x\"\n", "m.toml", shipped());
  ASSERT_FALSE(alone.ok());
  EXPECT_EQ(alone.error().message(), "m.toml: id: is missing; allowed: a text");
}

// Covers  which dip a method's take is known for: its own, or that of the shipped method it stands on.
TEST(Profiles, ATakeBelongsToADip) {
  const Method shipped_cut = method_of("square-cut");
  EXPECT_EQ(shipped_cut.reference_dip, shipped_cut.dip());
  const std::string stronger = "based_on = \"square-cut\"\nauxin_ppm = 2000\nsoak_seconds = 5\n";
  const auto own = read_method(stronger, "m.toml", shipped());
  ASSERT_TRUE(own.ok()) << own.error().message();
  EXPECT_EQ(own->dip(), (Method::Dip{2000, 5}));
  EXPECT_EQ(own->reference_dip, shipped_cut.dip());
  const auto measured = read_method(stronger + "[rates]\ntake = 0.7\n", "m.toml", shipped());
  ASSERT_TRUE(measured.ok());
  EXPECT_EQ(measured->reference_dip, measured->dip()) << "a take of one's own is for one's own dip";
}

// Covers  what a method is set in is checked when it is read: recipe, materials, pot and pocket.
TEST(Profiles, AMethodsMediumMustBePossible) {
  const auto refused_method = [](const std::string& line) {
    const auto own = read_method("based_on = \"square-cut\"\n" + line + "\n", "m.toml", shipped());
    return own.ok() ? std::string("taken") : own.error().message();
  };
  EXPECT_EQ(refused_method("medium = \"2 gritt 3-4 mm\"")
                .find("m.toml:2: medium: there is no material \"gritt\" (did "
                      "you mean \"grit\"?)"),
            0U)
      << refused_method("medium = \"2 gritt 3-4 mm\"");
  EXPECT_EQ(refused_method("medium = \"0 grit 3-4 mm\"").find("m.toml:2: medium: "), 0U);
  EXPECT_EQ(refused_method("pocket_sand = \"snad\"").find("m.toml:2: pocket_sand: "), 0U);
  EXPECT_EQ(refused_method("container = \"oval\"").find("m.toml:2: container: found \"oval\""), 0U);
  EXPECT_NE(refused_method("pocket_depth_mm = 200"), "taken") << "deeper than the pot";
  EXPECT_EQ(refused_method("medium = \"1 perlite 2-5 mm\""), "taken");
}

}  // namespace
}  // namespace strikebed::nursery

// An engine names fields, a skin its own controls.
#include "base/field_names.hpp"

#include <gtest/gtest.h>

namespace strikebed {
namespace {

std::string option_of(std::string_view field) {
  if (field == "target" || field == "dose") return "--" + std::string(field);
  return field == "stock" ? "--from" : "";
}

std::string allowed_of(std::string allowed, const FieldNames& names = option_of) {
  return named({.allowed = std::move(allowed)}, names).allowed;
}

TEST(FieldNames, ReplaceTheFieldAndWhatAllowedRefersTo) {
  const Error error = named({.problem = "too little", .allowed = "<target> or <dose>", .field = "stock"}, option_of);
  EXPECT_EQ(error.message(), "--from: too little; allowed: --target or --dose");
}

TEST(FieldNames, LeaveKeysAndColumnsOfAFile) {
  const Error error = named({.problem = "wrong", .field = "dose", .file = "goal.toml"}, option_of);
  EXPECT_EQ(error.message(), "goal.toml: dose: wrong");
}

TEST(FieldNames, LeaveWhatIsNoField) {
  for (const char* text : {"a < b", "a <b c> d", "<>", "<Target>", "2 < 3 and 3 > 2", "<", "-->", ""}) {
    EXPECT_EQ(allowed_of(text), text);
  }
  EXPECT_EQ(allowed_of("<a b<dose>"), "<a b--dose");
}

TEST(FieldNames, LeaveOutAnAlternativeWithoutAControl) {
  EXPECT_EQ(allowed_of("a known name; or <columns.tmin>"), "a known name");
  EXPECT_EQ(allowed_of("<made_up_to> so much; or <dose>; or none"), "--dose; or none");
  EXPECT_EQ(allowed_of("<made_up_to> and <dose>"), "made up to and --dose");
  EXPECT_EQ(allowed_of("<made_up_to>; or <added_to>"), "made up to");
}

TEST(FieldNames, ArePlainWordsWithoutASkin) {
  EXPECT_EQ(allowed_of("<made_up_to> or less", {}), "made up to or less");
  EXPECT_EQ(named({.problem = "wrong", .field = "made_up_to"}, {}).message(), "made_up_to: wrong");
}

TEST(FieldNames, OfASentenceAreThoseOfTheSkin) {
  EXPECT_EQ(field_name(option_of, "stock"), "--from");
  EXPECT_EQ(field_name(option_of, "made_up_to"), std::nullopt);
  EXPECT_EQ(field_name({}, "made_up_to"), "made up to");
  EXPECT_EQ(field_name({}, "seedbed.lit"), "seedbed lit");
}

TEST(FieldNames, ReachTheOthersToo) {
  Error error{.problem = "one", .field = "dose"};
  error.add({.problem = "two", .allowed = "<target>", .field = "stock"});
  const auto lines = named(error, option_of).messages();
  ASSERT_EQ(lines.size(), 2U);
  EXPECT_EQ(lines[1], "--from: two; allowed: --target");
}

}  // namespace
}  // namespace strikebed

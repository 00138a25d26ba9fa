// By when the plants are wanted, and when may be sown.
#include <fmt/format.h>

#include <algorithm>

#include "nursery/goal/reading.hpp"

namespace strikebed::nursery {
namespace {

constexpr double kUsualAssurance = 0.9;
constexpr Days kShortestSeason{150};  ///< a yearly `by` nearer than this means next year's
constexpr Days kLongestSeason{730};
constexpr Days kLongestSown{270};  ///< before today

}  // namespace

void read_target(Reading& reading) {
  const TomlTable& root = reading.root;
  season::Goal& goal = reading.goal();
  goal.by = reading.today + kShortestSeason;
  root.needs("by", R"(a date such as 2027-10-01, or a month and day such as "10-01")");
  if (const auto by = root.day("by")) {
    goal.by = by->on_or_after(reading.today + (by->year ? Days{0} : kShortestSeason));
    const std::string allowed =
        fmt::format("a date from {} to {}", to_iso(reading.today + Days{1}), to_iso(reading.today + kLongestSeason));
    if (goal.by <= reading.today) {
      root.fail("by", fmt::format("found {}, which is not after today, {}", to_iso(goal.by), to_iso(reading.today)),
                allowed);
    } else if (goal.by > reading.today + kLongestSeason) {
      root.fail("by",
                fmt::format("found {}, more than two years from today, {}", to_iso(goal.by), to_iso(reading.today)),
                allowed);
    }
    if (!by->year) {
      reading.assume(fmt::format("By {}: the next such day at least {} days from today.", to_words(goal.by),
                                 kShortestSeason.count()));
    }
  }
  if (const auto count_at = root.one_of("count_at", growth::kCountAtNames)) {
    goal.count_at = static_cast<season::CountAt>(std::ranges::find(growth::kCountAtNames, *count_at) -
                                                 growth::kCountAtNames.begin());
  }
  if (!root.has("count_at")) reading.assume("Plants are counted when weaned: count_at is left out.");
  const NumberRange assurance{
      .low = 0, .high = 1, .low_excluded = true, .high_excluded = true, .of_what = "a share: 0.90 is 90 % sure"};
  goal.assurance = root.number("assurance", assurance).value_or(kUsualAssurance);
  if (!root.has("assurance")) reading.assume("90 % sure: assurance is left out.");
}

std::optional<Error> out_of_season(const Reading& reading, Date sow) {
  const Date by = reading.file.goal.by;
  if (!reading.root.sound({"by"}) || (sow >= reading.today - kLongestSown && sow < by)) return std::nullopt;
  Error wrong;
  wrong.problem = fmt::format("found {} with today {} and by {}", to_iso(sow), to_iso(reading.today), to_iso(by));
  wrong.allowed = fmt::format("a date from {} days before today to the day before `by`", kLongestSown.count());
  return wrong;
}

void read_sowing(Reading& reading) {
  const auto table = reading.root.table("sowing");
  if (!table) return;
  season::Goal& goal = reading.goal();
  const bool by_known = reading.root.sound({"by"});
  if (const auto day = table->day("not_before")) goal.sow_not_before = day->on_or_after(reading.today);
  if (const auto day = table->day("on")) {
    goal.sow_on = day->on_or_after(reading.today);
    if (const auto wrong = out_of_season(reading, *goal.sow_on)) {
      table->fail("on", wrong->problem, wrong->allowed);
    } else if (*goal.sow_on < reading.today) {
      reading.assume(fmt::format("Sown on {}: how many are up is not used yet.", to_words(*goal.sow_on)));
    }
  }
  if (by_known && goal.sow_not_before && *goal.sow_not_before >= goal.by) {
    table->fail("not_before", fmt::format("found {} with by {}", to_iso(*goal.sow_not_before), to_iso(goal.by)),
                "a date before `by`");
  }
  if (goal.sow_on && goal.sow_not_before && *goal.sow_on < *goal.sow_not_before) {
    table->fail("on", fmt::format("found {} with not_before {}", to_iso(*goal.sow_on), to_iso(*goal.sow_not_before)),
                "a date on or after not_before");
  }
}

}  // namespace strikebed::nursery

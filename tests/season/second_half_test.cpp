// What a plan says beside its number of seeds, held against the simulation of one seedling at a time, by hand, or by
// asking directly: loads of sessions, plants counted, seedlings alive, dates, what not knowing costs, the last day to
// sow, the nearest goal, staggered sowings.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <numeric>

#include "evidence/beta.hpp"
#include "evidence/beta_binomial.hpp"
#include "evidence/binomial.hpp"
#include "example_goals.hpp"
#include "one_by_one.hpp"
#include "season/make_plan.hpp"
#include "season/seed_search.hpp"
#include "season/sowing_sweep.hpp"
#include "season/timetable.hpp"
#include "season/unknowns.hpp"

namespace strikebed::season {
namespace {

constexpr double kPromised = 0.01;  // of a chance, docs/methods/season.md
constexpr std::uint64_t kSeed = 20'270'101;

Example example(const std::string& name) {
  for (const Example& one : engine_examples()) {
    if (one.name == name) return one;
  }
  ADD_FAILURE() << "no example " << name;
  return {};
}

/// The same with room for all, and a session on any day.
Example roomy(const std::string& name) {
  Example one = example(name);
  one.goal.sessions.cuttings_at_most.reset();
  one.goal.sessions.weekdays.fill(true);
  return one;
}

// --- The timetable ---------------------------------------------------------------------------------------------------

// As many futures as the timetable looks at, for counts and for dates.
constexpr int kOfCounts = 3072;
constexpr int kOfDates = 512;

/// An example's timetable, and the same seasons one seedling at a time.
struct Compared {
  Example of;
  Asked asked;
  Plan plan;
  std::vector<one_by_one::Seen> seasons;

  explicit Compared(Example one) : of(std::move(one)), asked(of.goal, of.weather, kReplicates, kLog2Points) {
    const int how_many = std::clamp(1'600'000 / of.seeds, 1'500, 4'000);  // seasons, to take no longer than that
    const std::vector<Sowing> sowings = asked.sowings(of.sow);
    plan.seeds = of.seeds;
    plan.shares = of.shares;
    fill_sowings(asked.model(), sowings, plan);
    fill_timetable(asked.model(), sowings, plan);
    std::vector<one_by_one::SownSeeds> sown;
    const std::vector<int> split = split_seeds(of.seeds, sowings);
    for (std::size_t i = 0; i < sowings.size(); ++i) sown.push_back({sowings[i].day(), split[i], sowings[i].seed()});
    seasons = one_by_one::look_on(of.goal, asked.sums(), asked.model().sessions(), sown, of.shares, how_many, kSeed);
  }
  [[nodiscard]] const std::vector<int>& sessions() const { return asked.model().sessions().day; }
  [[nodiscard]] Date date(int day) const { return asked.model().date(day); }
};

/// One number of each season.
template <class Number>
std::vector<double> each(const std::vector<one_by_one::Seen>& seasons, const Number& number) {
  std::vector<double> sample;
  for (const one_by_one::Seen& season : seasons) sample.push_back(static_cast<double>(number(season)));
  return sample;
}

/// The share of a sample for which something is so.
template <class IsSo>
double share_of(const std::vector<double>& sample, const IsSo& is_so) {
  return static_cast<double>(std::ranges::count_if(sample, is_so)) / static_cast<double>(sample.size());
}

/// What is promised of a chance and three standard errors of it, in the sample and in so many futures, both taken as
/// plain draws.
double tolerance_of(double share, std::size_t sample, int futures) {
  return kPromised + 3 * std::sqrt(share * (1 - share) * (1 / static_cast<double>(sample) + 1.0 / futures));
}

/// The 5, 50 and 95 % points part the sample so.
void expect_points_of(const std::vector<double>& sample, const Spread& spread, int futures, const std::string& what) {
  for (const auto& [share, point] : {std::pair{0.05, spread.low}, {0.5, spread.typical}, {0.95, spread.high}}) {
    const double tolerance = tolerance_of(share, sample.size(), futures);
    EXPECT_LE(share_of(sample, [&](double one) { return one < point; }), share + tolerance)
        << what << ": below " << point;
    EXPECT_GE(share_of(sample, [&](double one) { return one <= point; }), share - tolerance)
        << what << ": up to " << point;
  }
}

/// Of days, each as often as something happens on it: the first by which so large a share has.
int day_of_share(std::vector<int> days, double share) {
  std::ranges::sort(days);
  const auto come = static_cast<std::size_t>(std::ceil(share * static_cast<double>(days.size())));
  return days[std::max<std::size_t>(come, 1) - 1];
}

struct Load {
  const char* example;
  bool has_room;  ///< for all
};
const auto kLoads = [](const testing::TestParamInfo<Load>& load) {
  return std::string(load.param.example) + (load.param.has_room ? "WithRoom" : "");
};
void PrintTo(const Load& load, std::ostream* to) { *to << load.example << (load.has_room ? " with room" : ""); }

// What is struck at each session, and in all: where the bench fills up in some seasons, in nearly all, for two sowings,
// and with room for all. Sessions that are not listed are hardly worth the bench in nineteen of twenty seasons.
class SessionLoads : public testing::TestWithParam<Load> {};
TEST_P(SessionLoads, AreThoseOfOneSeedlingAtATime) {
  Example one = example(GetParam().example);
  if (GetParam().has_room) one.goal.sessions.cuttings_at_most.reset();
  const Compared compared(std::move(one));
  const Plan& plan = compared.plan;
  const auto in_all = each(compared.seasons, [](const auto& season) {
    return std::accumulate(season.struck.begin(), season.struck.end(), 0);
  });
  const double tolerance = tolerance_of(0.95, in_all.size(), kOfCounts);
  EXPECT_GE(share_of(in_all, [&](double cuttings) { return cuttings <= plan.needs.cuttings; }), 0.95 - tolerance);
  EXPECT_LE(share_of(in_all, [&](double cuttings) { return cuttings < plan.needs.cuttings - 1; }), 0.95 + tolerance);

  std::size_t listed = 0;
  for (std::size_t s = 0; s < compared.sessions().size(); ++s) {
    const Date date = compared.date(compared.sessions()[s]);
    const auto struck = each(compared.seasons, [&](const auto& season) { return season.struck[s]; });
    const auto session = std::ranges::find(plan.sessions, date, &SessionPlan::date);
    if (session == plan.sessions.end()) {
      const double hardly = std::max(0.02 * plan.needs.cuttings, 0.5);
      EXPECT_LE(share_of(struck, [&](double cuttings) { return cuttings > hardly; }), 0.05 + tolerance) << to_iso(date);
      continue;
    }
    ++listed;
    expect_points_of(struck, session->cuttings, kOfCounts, to_iso(date));
    for (std::size_t w = 0; w < plan.shares.size(); ++w) {
      EXPECT_DOUBLE_EQ(session->by_want[w], session->cuttings.typical * plan.shares[w]);
    }
  }
  EXPECT_EQ(listed, plan.sessions.size());
  EXPECT_GT(listed, 5U);
}
INSTANTIATE_TEST_SUITE_P(, SessionLoads,
                         testing::Values(Load{"WeekendsForTwoWants", false}, Load{"WeekendsForTwoWants", true},
                                         Load{"WarmSeedbed", false}, Load{"TwoSowings", false},
                                         Load{"LateAndUnchilled", true}),
                         kLoads);

const auto kNames = [](const testing::TestParamInfo<const char*>& name) { return std::string(name.param); };

// Plants of each want, and seedlings alive on the morning they are counted.
class Counts : public testing::TestWithParam<const char*> {};
TEST_P(Counts, AreThoseOfOneSeedlingAtATime) {
  const Compared compared(example(GetParam()));
  const Plan& plan = compared.plan;
  ASSERT_EQ(plan.counted.size(), compared.of.goal.wants.size());
  for (std::size_t w = 0; w < plan.counted.size(); ++w) {
    const auto counted = each(compared.seasons, [&](const auto& season) { return season.counted[w]; });
    expect_points_of(counted, plan.counted[w], kOfCounts, fmt::format("want {}", w));
  }
  const int count_day = compared.asked.day(plan.count_date);
  const auto alive = each(compared.seasons, [&](const auto& season) {
    return std::ranges::count_if(season.lives, [&](const auto& life) { return life.alive_on(count_day); });
  });
  expect_points_of(alive, plan.emerged, kOfDates, "alive");
}
INSTANTIATE_TEST_SUITE_P(, Counts,
                         testing::Values("SmallAndKnown", "WeekendsForTwoWants", "EstablishedForTwoWants",
                                         "ControlsAndLifted", "TwoSowings"),
                         kNames);

// Where the plants are lost, against one seedling at a time: come up, still stand, struck, rooted in time, counted.
TEST_P(Counts, StagesAreThoseOfOneSeedlingAtATime) {
  const Compared compared(example(GetParam()));
  const auto expect_stage = [&](Stage stage, const std::function<double(const one_by_one::Seen&)>& left) {
    const auto found = std::ranges::find(compared.plan.stages, stage, &StageCount::stage);
    ASSERT_NE(found, compared.plan.stages.end());
    const auto sample = each(compared.seasons, left);
    const auto n = static_cast<double>(sample.size());
    const double mean = std::accumulate(sample.begin(), sample.end(), 0.0) / n;
    double squares = 0;
    for (const double one : sample) squares += (one - mean) * (one - mean);
    const double error = std::sqrt(squares / (n - 1) * (1 / n + 1.0 / kOfDates));
    EXPECT_NEAR(found->plants, mean, kPromised * mean + 3 * error) << "stage " << static_cast<int>(stage);
  };
  const auto sum = [](const std::vector<int>& counts) {
    return static_cast<double>(std::accumulate(counts.begin(), counts.end(), 0));
  };
  expect_stage(Stage::sown, [&](const auto&) { return static_cast<double>(compared.of.seeds); });
  expect_stage(Stage::emerged, [](const auto& season) { return static_cast<double>(season.lives.size()); });
  expect_stage(Stage::standing, [](const auto& season) {
    return static_cast<double>(std::ranges::count(season.lives, one_by_one::kStands, &one_by_one::Life::gone));
  });
  expect_stage(Stage::struck, [&](const auto& season) { return sum(season.struck); });
  expect_stage(Stage::rooted, [](const auto& season) { return static_cast<double>(season.rooted.size()); });
  expect_stage(compared.plan.stages.back().stage, [&](const auto& season) { return sum(season.counted); });
  double before = compared.of.seeds;
  for (const StageCount& stage : compared.plan.stages) {
    EXPECT_LE(stage.plants, before * (1 + 1e-5)) << "no plant comes back";
    before = stage.plants;
  }
}

/// One date of each season, and the days of all of each season's seedlings.
struct SimulatedDates {
  using Seasons = std::vector<std::vector<int>>;
  Seasons first_up, most_up, first_ready, first_struck, last_struck, half_rooted;
  Seasons up, opens, closes, struck, rooted;

  explicit SimulatedDates(const Compared& compared) {
    for (const one_by_one::Seen& season : compared.seasons) {
      std::vector<int> up_now, opens_now, closes_now, struck_now;
      for (const one_by_one::Life& life : season.lives) up_now.push_back(life.up);
      for (const one_by_one::Window& window : season.windows) {
        opens_now.push_back(window.opens);
        closes_now.push_back(window.closes);
      }
      for (std::size_t s = 0; s < season.struck.size(); ++s) {
        struck_now.insert(struck_now.end(), static_cast<std::size_t>(season.struck[s]), compared.sessions()[s]);
      }
      if (struck_now.empty() || season.rooted.empty()) continue;
      first_up.push_back({day_of_share(up_now, 0.05)});
      most_up.push_back({day_of_share(up_now, 0.95)});
      first_ready.push_back({day_of_share(opens_now, 0.05)});
      first_struck.push_back({day_of_share(struck_now, 0.05)});
      last_struck.push_back({day_of_share(struck_now, 0.95)});
      half_rooted.push_back({day_of_share(season.rooted, 0.5)});
      up.push_back(std::move(up_now));
      opens.push_back(std::move(opens_now));
      closes.push_back(std::move(closes_now));
      struck.push_back(std::move(struck_now));
      rooted.push_back(season.rooted);
    }
  }
};

/// How many of each season's have come by a day, of how many: seedlings of one season share its weather and its luck,
/// so that a share of all of them is as uncertain as so many seasons make it, not so many seedlings.
struct ShareBy {
  double share = 0, standard_error = 0;

  ShareBy(const std::vector<std::vector<int>>& seasons, int day) {
    double come = 0, all = 0, squares = 0;
    const auto come_of = [&](const std::vector<int>& days) {
      return static_cast<double>(std::ranges::count_if(days, [&](int one) { return one <= day; }));
    };
    for (const auto& days : seasons) {
      come += come_of(days);
      all += static_cast<double>(days.size());
    }
    share = come / all;
    for (const auto& days : seasons) squares += std::pow(come_of(days) - share * static_cast<double>(days.size()), 2);
    standard_error = std::sqrt(squares) / all;
  }
  /// Three standard errors, with those of so many futures, both taken as plain draws.
  [[nodiscard]] double tolerance(std::size_t seasons, int futures) const {
    return 3 * standard_error * std::sqrt(1 + static_cast<double>(seasons) / futures);
  }
};

/// The day by which so large a share of all seasons' have come is the one said, so many days more or less, or the
/// seasons are too few to tell the two apart.
void expect_day_of_share(const Compared& compared, const std::vector<std::vector<int>>& seasons, double share,
                         Date said, int days, const std::string& what) {
  const auto by = [&](int day) { return ShareBy(seasons, compared.asked.day(said) + day); };
  const ShareBy later = by(days), earlier = by(-days - 1);
  EXPECT_GE(later.share, share - later.tolerance(seasons.size(), kOfDates)) << what << ", said " << to_iso(said);
  EXPECT_LE(earlier.share, share + earlier.tolerance(seasons.size(), kOfDates)) << what << ", said " << to_iso(said);
}

// Dates over the seasons within 3 days, bands of all seedlings together within 2 (a late point in autumn, when the
// clock hardly moves, moves by a week from one thousand seasons to the next; with 40,000 all of these are within 1
// day): where there is room for all, and where a queue forms; with hundreds of seeds, for among a few dozen luck moves
// the first and the last by as much as a week. Days of sessions are session days, so as far apart as these, and the
// groups that meet at rare sessions are wide: so is the end of their windows.
class Dates : public testing::TestWithParam<Load> {};
TEST_P(Dates, AreThoseOfOneSeedlingAtATime) {
  const Compared compared(GetParam().has_room ? roomy(GetParam().example) : example(GetParam().example));
  const int between_sessions = GetParam().has_room ? 1 : 7;  // days: any day is one, or a weekday
  const SimulatedDates seen(compared);
  using Seasons = SimulatedDates::Seasons;
  const auto expect_entry = [&](CalendarKind kind, const Seasons& days, const std::string& what) {
    constexpr int kApart = 3;
    const auto entry = std::ranges::find(compared.plan.calendar, kind, &CalendarEntry::kind);
    ASSERT_NE(entry, compared.plan.calendar.end()) << what;
    expect_day_of_share(compared, days, 0.05, entry->when.early, kApart, what + ", early");
    expect_day_of_share(compared, days, 0.5, entry->when.typical, kApart, what + ", typical");
    expect_day_of_share(compared, days, 0.95, entry->when.late, kApart, what + ", late");
  };
  expect_entry(CalendarKind::emergence, seen.first_up, "first up");
  expect_entry(CalendarKind::ready, seen.first_ready, "first ready");
  // The other dates of these two entries are days of the plan's sessions.
  const auto sessions = [&](CalendarKind kind) {
    return std::ranges::find(compared.plan.calendar, kind, &CalendarEntry::kind)->when;
  };
  const int apart = std::max(3, between_sessions);
  expect_day_of_share(compared, seen.first_struck, 0.95, sessions(CalendarKind::first_sessions).late, apart,
                      "first struck, late");
  expect_day_of_share(compared, seen.last_struck, 0.05, sessions(CalendarKind::last_sessions).early, apart,
                      "last struck, early");
  expect_entry(CalendarKind::rooted, seen.half_rooted, "half rooted");
  expect_day_of_share(compared, seen.most_up, 0.9, compared.plan.count_date - Days{1}, 3, "count");

  const auto expect_band = [&](BandKind kind, const Seasons& first, const Seasons& middle, const Seasons& last) {
    const auto band = std::ranges::find(compared.plan.bands, kind, &Band::kind);
    ASSERT_NE(band, compared.plan.bands.end());
    const auto what = [&](const char* point) { return fmt::format("{} of band {}", point, static_cast<int>(kind)); };
    expect_day_of_share(compared, first, 0.05, band->days.early, 2, what("first"));
    expect_day_of_share(compared, middle, 0.5, band->days.typical, 2, what("middle"));
    expect_day_of_share(compared, last, 0.95, band->days.late, between_sessions > 1 ? between_sessions : 2,
                        what("last"));
  };
  expect_band(BandKind::emergence, seen.up, seen.up, seen.up);
  expect_band(BandKind::window, seen.opens, seen.struck, seen.closes);
  expect_band(BandKind::sessions, seen.struck, seen.struck, seen.struck);
  expect_band(BandKind::rooting, seen.rooted, seen.rooted, seen.rooted);
}
INSTANTIATE_TEST_SUITE_P(, Dates,
                         testing::Values(Load{"RootedOnSaturdays", true}, Load{"WeekendsForTwoWants", true},
                                         Load{"South", true}, Load{"LateAndUnchilled", true},
                                         Load{"RootedOnSaturdays", false}, Load{"TwoSowings", false},
                                         Load{"ManySeedsLittleRoom", false}),
                         kLoads);

// --- What not knowing costs ------------------------------------------------------------------------------------------

constexpr int kParts = 15;  // a quantity may turn out to stand at the middles of so many equal parts of its belief

/// Sown on the first day, whatever follows is in time; the plan's own number of futures.
std::vector<Unknown> unknowns_of(const Goal& goal) {
  const Asked asked(goal, even_weather(goal.today, 330, 15), kReplicates, kLog2Points);
  AskedSowings question{asked.sowings({goal.today}), {1.0}, 0};
  question.seeds =
      seeds_for(asked.model(), question.sowings, goal.assurance, question.shares, 100, kMostSeeds).value_or(0);
  std::vector<Unknown> unknowns;
  for (Steps<double> steps = cost_of_not_knowing(asked.model(), question, Workers{}, unknowns); steps.next();) continue;
  return unknowns;
}

std::vector<double> middles(const evidence::Beta& belief, int parts) {
  std::vector<double> values;
  for (int i = 0; i < parts; ++i) values.push_back(belief.quantile((i + 0.5) / parts));
  return values;
}

/// The smallest number with which the chance is at least so large; the chance rises with the number.
int smallest_number(double target, const std::function<double(int)>& chance) {
  int high = 1;
  while (chance(high) < target) high *= 2;
  int low = high / 2;
  while (high - low > 1) (chance((low + high) / 2) >= target ? high : low) = (low + high) / 2;
  return high;
}

/// Of so many plants wanted, when a seed's chance may be any of these.
int seeds_by_hand(int wanted, double assurance, const std::vector<double>& chances) {
  return smallest_number(assurance, [&](int seeds) {
    double sum = 0;
    for (const double chance : chances) {
      sum += evidence::chance_at_least(wanted, seeds * chance, seeds * chance * (1 - chance));
    }
    return sum / static_cast<double>(chances.size());
  });
}

// One rate, nothing else in the way: the beta-binomial's number less the mean of the plain binomial's. Each of the
// engine's numbers is searched to 0.4 %; with the error of 1,024 futures, 1 % of the number.
TEST(CostOfNotKnowing, OneRateIsTheDifferenceOfTheClosedForms) {
  for (const double assurance : {0.8, 0.95}) {
    Goal goal = goal_without_limits(60);
    goal.assurance = assurance;
    goal.wants[0].take = tested(28, 40);
    const int now = evidence::beta_binomial_smallest_number(60, assurance, 29, 13).value();
    double mean = 0;
    for (const double take : middles({29, 13}, kParts)) {
      mean += evidence::smallest_number(60, take, assurance, kMostSeeds).value() / static_cast<double>(kParts);
    }
    const std::vector<Unknown> unknowns = unknowns_of(goal);
    ASSERT_EQ(unknowns.size(), 1U) << "what is known exactly is not listed";
    EXPECT_EQ(unknowns[0].quantity, ChainQuantity::take);
    EXPECT_GT(now - mean, 0.03 * now);
    EXPECT_NEAR(unknowns[0].seeds_saved, now - mean, 0.01 * now);
    EXPECT_EQ(unknowns[0].unreachable_share, 0);
    EXPECT_NEAR(unknowns[0].typical, evidence::Beta({29, 13}).quantile(0.5), 1e-6);
  }
}

// Two rates of which one is told: the other stays a belief. The dearer stands first, whichever it is.
TEST(CostOfNotKnowing, OfTwoRatesTheDearerStandsFirst) {
  constexpr int kFine = 60;  // parts of a belief that stays one
  const auto by_hand = [&](const std::vector<double>& some, const std::vector<double>& others) {
    std::vector<double> chances;
    for (const double one : some) {
      for (const double other : others) chances.push_back(one * other);
    }
    return seeds_by_hand(60, 0.9, chances);
  };
  const auto saved = [&](const evidence::Beta& told, const evidence::Beta& other) {
    const int now = by_hand(middles(told, kFine), middles(other, kFine));
    double mean = 0;
    for (const double value : middles(told, kParts)) mean += by_hand({value}, middles(other, kFine)) / double{kParts};
    return std::pair{now - mean, now};
  };
  const evidence::Beta little{13, 9};  // 12 of 20
  const evidence::Beta much{42, 10};   // 41 of 50
  const auto [saved_little, now] = saved(little, much);
  const auto [saved_much, same] = saved(much, little);
  EXPECT_EQ(now, same);
  for (const bool take_is_known_less : {true, false}) {
    Goal goal = goal_without_limits(60);
    goal.wants[0].take = take_is_known_less ? tested(12, 20) : tested(41, 50);
    goal.rates[Rung::germination] = take_is_known_less ? tested(41, 50) : tested(12, 20);
    const std::vector<Unknown> unknowns = unknowns_of(goal);
    ASSERT_EQ(unknowns.size(), 2U);
    EXPECT_EQ(unknowns[0].quantity, take_is_known_less ? ChainQuantity::take : ChainQuantity::germination);
    EXPECT_EQ(unknowns[1].quantity, take_is_known_less ? ChainQuantity::germination : ChainQuantity::take);
    EXPECT_NEAR(unknowns[0].seeds_saved, saved_little, 0.01 * now);
    EXPECT_NEAR(unknowns[1].seeds_saved, saved_much, 0.01 * now);
  }
}

// Where plants are counted as soon as they have rooted, nobody asks how many are weaned or come through the winter.
TEST(CostOfNotKnowing, OfWhatComesLaterIsNotListed) {
  Goal goal = goal_without_limits(20);
  goal.count_at = CountAt::rooted;
  goal.winter_ends = goal.by + Days{1};
  goal.rates[Rung::weaning] = goal.rates[Rung::winter] = tested(5, 10);
  goal.rates[Rung::usable] = tested(5, 10);
  const std::vector<Unknown> unknowns = unknowns_of(goal);
  ASSERT_EQ(unknowns.size(), 1U);
  EXPECT_EQ(unknowns[0].quantity, ChainQuantity::usable);
}

// One session of 48, 30 plants wanted: with 48 struck, the chance of 30 at take t is a binomial tail, and where that
// falls short of the assurance no number of seeds helps.
TEST(CostOfNotKnowing, CountsTheValuesThatPutTheGoalOutOfReach) {
  Goal goal = goal_without_limits(30);
  goal.assurance = 0.65;
  goal.wants[0].take = tested(14, 20);
  goal.sessions.dates = {goal.today + Days{60}};
  goal.sessions.cuttings_at_most = 48;
  int out_of_reach = 0;
  for (const double take : middles({15, 7}, kParts)) {
    const double at_best = evidence::chance_at_least(30, 48 * take, 48 * take * (1 - take));
    EXPECT_GT(std::abs(at_best - goal.assurance), 0.02) << "too near to call";
    out_of_reach += at_best < goal.assurance ? 1 : 0;
  }
  EXPECT_GT(out_of_reach, 0);
  const std::vector<Unknown> unknowns = unknowns_of(goal);
  ASSERT_EQ(unknowns.size(), 1U);
  EXPECT_NEAR(unknowns[0].unreachable_share, out_of_reach / double{kParts}, 1e-9);
}

// With sessions, dates and batches in the way: the number of the goal itself less the mean of the numbers of fifteen
// goals that say the rate exactly, each to the seed.
TEST(CostOfNotKnowing, IsWhatGoalsThatKnowTheRateSay) {
  const Example one = example("WeekendsForTwoWants");
  Study study(one.goal, one.weather, {});
  const std::vector<int> sow_days{study.outlook(Look::rough).model().day(one.sow.front())};
  study.sow_on(sow_days);
  const AskedSowings question{study.sowings(Look::rough), one.shares, one.seeds};
  std::vector<Unknown> unknowns;
  for (Steps<double> steps = cost_of_not_knowing(study.outlook(Look::rough).model(), question, Workers{}, unknowns);
       steps.next();) {
    continue;
  }
  EXPECT_TRUE(std::ranges::is_sorted(unknowns, std::greater<>{}, &Unknown::seeds_saved));
  for (const Unknown& unknown : unknowns) {
    EXPECT_NE(unknown.quantity, ChainQuantity::usable) << "known exactly";
    EXPECT_NE(unknown.quantity, ChainQuantity::winter) << "plants are counted before";
  }

  int now = one.seeds;
  const auto needed = [&](const Goal& goal) {
    const auto sums = study.outlook(Look::rough).model().setting().sums;
    const Model model(setting_of(goal, sums), study.futures().first(2), Workers{});
    const std::vector<Sowing> sowings{model.sowing(sow_days.front())};
    const auto chance = [&](int seeds) { return model.assurance(sowings, seeds, one.shares).chance; };
    return smallest_seeds(chance, goal.assurance, now, kMostSeeds, 0).value();
  };
  now = needed(one.goal);
  const auto expect_saved = [&](ChainQuantity quantity, const RateBelief& belief,
                                const std::function<void(Goal&, const RateBelief&)>& set) {
    double mean = 0;
    for (const double value : middles(evidence::beta_of(belief).value(), kParts)) {
      Goal goal = one.goal;
      set(goal, {Known{value}, belief.batch_spread});
      mean += needed(goal) / double{kParts};
    }
    const auto unknown = std::ranges::find(unknowns, quantity, &Unknown::quantity);
    ASSERT_NE(unknown, unknowns.end());
    EXPECT_NEAR(unknown->seeds_saved, now - mean, 0.01 * now);
  };
  expect_saved(ChainQuantity::take, one.goal.wants[0].take, [](Goal& goal, const RateBelief& take) {
    for (Want& want : goal.wants) want.take = take;
  });
  expect_saved(ChainQuantity::standing, one.goal.rates[Rung::standing],
               [](Goal& goal, const RateBelief& standing) { goal.rates[Rung::standing] = standing; });
}

// --- When to sow -----------------------------------------------------------------------------------------------------

/// Up to its dates; without its timetable and the cost of not knowing.
Plan plan_of(Study& study) {
  Plan plan;
  for (Steps<PlanStep> steps = plan_in_steps(study, plan); plan.stage < PlanStage::dates && steps.next();) continue;
  return plan;
}

one_by_one::Outcome simulated(const Example& of, const std::vector<Date>& sow, const std::vector<int>& seeds,
                              const std::vector<double>& shares, int seasons, const BenchHabit& habit) {
  const Asked asked(of.goal, of.weather, 2, 1);
  const SessionDays sessions = session_days(of.goal, asked.sums(), habit);
  std::vector<one_by_one::SownSeeds> sown;
  for (std::size_t i = 0; i < sow.size(); ++i) sown.push_back({asked.day(sow[i]), seeds[i]});
  return one_by_one::simulate(of.goal, asked.sums(), sessions, sown, shares, seasons, kSeed);
}

// Every day after the best is asked whether three times the fewest seeds do: on the last that the plan names they do,
// on none after it; and one seedling at a time it is the same, there and two weeks later.
TEST(LastSowing, IsTheLastDayOnWhichThreeTimesTheFewestSeedsDo) {
  constexpr int kSeasons = 4'000;
  const Example one = example("RootedOnSaturdays");
  Study study(one.goal, one.weather, {});
  const Plan plan = plan_of(study);
  ASSERT_TRUE(plan.last_sowing.has_value());
  const Model& model = study.outlook(Look::rough).model();
  int fewest = kMostSeeds;
  for (const SowingPoint& point : plan.sweep) fewest = std::min(fewest, point.seeds.value_or(kMostSeeds));
  const auto chance = [&](int day, int seeds) {
    const std::vector<Sowing> sowings{model.sowing(day)};
    return model.assurance(sowings, seeds, plan.shares).chance;
  };
  Date last = plan.sow_dates.front();
  const int end = sowing_range(one.goal, study.sums()).last;
  for (int day = model.day(last); day <= end; ++day) {
    if (chance(day, 3 * fewest) >= one.goal.assurance) last = model.date(day);
    EXPECT_LT(chance(day, static_cast<int>(0.98 * fewest)), one.goal.assurance) << "the fewest are not the fewest";
  }
  EXPECT_EQ(*plan.last_sowing, last);
  EXPECT_LT(model.day(last), end) << "a question with an answer";

  const auto one_by_one = [&](Date day) {
    return simulated(one, {day}, {3 * fewest}, plan.shares, kSeasons, plan.habit);
  };
  EXPECT_GE(one_by_one(last).met, one.goal.assurance - kPromised - 3 * std::sqrt(0.09 / kSeasons));
  EXPECT_LT(one_by_one(last + Days{14}).met, one.goal.assurance / 2);
}

// With room for few at a session, several sowings need fewer seeds than one, by 2 % at least for each that is more; and
// the plan is as sure as it says, one seedling at a time.
TEST(StaggeredSowings, NeedFewerSeedsThanOneAndAreAsSureAsTheySay) {
  constexpr int kSeasons = 6'000;
  Example one = example("TwoSowings");
  Study study(one.goal, one.weather, {});
  const Plan at_once = plan_of(study);
  ASSERT_EQ(at_once.sow_dates.size(), 1U);
  one.goal.sessions.sowings_at_most = 3;
  study.change(one.goal);
  const Plan plan = plan_of(study);
  ASSERT_TRUE(plan.met);
  const std::size_t sowings = plan.sow_dates.size();
  ASSERT_GE(sowings, 2U);
  ASSERT_LE(sowings, 3U);
  EXPECT_TRUE(std::ranges::is_sorted(plan.sow_dates));
  std::vector<int> seeds;
  for (const SowingPlan& sowing : plan.sowings) {
    seeds.push_back(sowing.seeds);
    ASSERT_TRUE(sowing.chill_start.has_value());
    EXPECT_EQ(*sowing.chill_start + Days{45}, sowing.on) << "each is chilled for its own sowing";
  }
  EXPECT_EQ(std::accumulate(seeds.begin(), seeds.end(), 0), plan.seeds);
  EXPECT_LT(plan.seeds * std::pow(1.02, sowings - 1), at_once.seeds);
  const one_by_one::Outcome plain = simulated(one, plan.sow_dates, seeds, plan.shares, kSeasons, plan.habit);
  EXPECT_NEAR(plan.assurance, plain.met, kPromised + 3 * plain.error);
}

// --- The nearest goal ------------------------------------------------------------------------------------------------

/// A goal for which the bench is too small: what is named instead is asked as a goal of its own.
class NearestGoal : public testing::Test {
 protected:
  NearestGoal() : study_(one_.goal, one_.weather, {}), plan_(plan_of(study_)) {}

  /// The smallest number for another goal, sown on the plan's day.
  std::optional<int> needed(const Goal& goal) {
    study_.change(goal);
    study_.sow_on({study_.outlook(Look::whole).model().day(plan_.sow_dates.front())});
    return study_.seeds_needed(Look::whole).seeds;
  }
  /// What is named was asked in two of the twelve replicates, so with errors so much larger.
  void expect_nearly_sure(const Goal& goal, int seeds) {
    const Assurance sure = study_.how_sure(seeds, plan_.shares, Look::whole);
    EXPECT_NEAR(sure.chance, goal.assurance, kPromised + 3 * std::sqrt(6) * sure.error);
    constexpr int kSeasons = 4'000;
    const auto plain = simulated(with(goal), plan_.sow_dates, {seeds}, plan_.shares, kSeasons, plan_.habit);
    EXPECT_NEAR(plain.met, goal.assurance, kPromised + 3 * std::sqrt(6) * sure.error + 3 * plain.error);
  }
  [[nodiscard]] Example with(const Goal& goal) const {
    Example other = one_;
    other.goal = goal;
    return other;
  }

  Example one_ = [] {
    Example one = example("RootedOnSaturdays");
    one.goal.wants[0].count = 40;
    one.goal.sessions.cuttings_at_most = 5;
    return one;
  }();
  Study study_;
  Plan plan_;
};

// As sure as it can be on the plan's day with as many seeds as are sensible; on no other day is it surer.
TEST_F(NearestGoal, AssuranceIsTheBestThatASensibleNumberGives) {
  constexpr int kSeasons = 1'000;
  ASSERT_FALSE(plan_.met);
  ASSERT_TRUE(plan_.nearest.assurance.has_value());
  const double best = *plan_.nearest.assurance;
  EXPECT_GT(best, 0.3);
  for (const SowingPoint& point : plan_.sweep) {
    EXPECT_FALSE(point.seeds.has_value());
    EXPECT_LE(point.best_assurance, best + kPromised);
  }
  const int sensible = sensible_seeds(one_.goal);
  EXPECT_NEAR(study_.how_sure(sensible, plan_.shares, Look::whole, Precision::exact).chance, best, 1e-12);
  const auto plain = simulated(one_, plan_.sow_dates, {sensible}, plan_.shares, kSeasons, plan_.habit);
  EXPECT_NEAR(plain.met, best, kPromised + 3 * plain.error);
}

// The named count can be had with about the named seeds; two plants more take more than twice the seeds a plant that
// half the count takes, which is easy, or cannot be had at all.
TEST_F(NearestGoal, NamedCountHoldsAndALittleMoreDoesNot) {
  ASSERT_TRUE(plan_.nearest.counts.has_value());
  Goal goal = one_.goal;
  int& count = goal.wants[0].count;
  const int named = count = plan_.nearest.counts->front();
  const int seeds = plan_.nearest.seeds.value();
  EXPECT_NEAR(needed(goal).value(), seeds, 0.1 * seeds);
  expect_nearly_sure(goal, seeds);
  count = named / 2;
  const double easy = needed(goal).value() / static_cast<double>(count);
  EXPECT_LT(seeds, 2.2 * easy * named);
  count = named + 2;
  EXPECT_GT(needed(goal).value_or(kMostSeeds), 2 * easy * count);
}

// The named date will do with about the named seeds; fifteen days sooner it takes more than three times the seeds of a
// date without haste, on whatever day they are sown.
TEST_F(NearestGoal, NamedDateHoldsAndASoonerOneDoesNot) {
  ASSERT_TRUE(plan_.nearest.by.has_value());
  Goal goal = one_.goal;
  goal.by = *plan_.nearest.by;
  const int seeds = plan_.nearest.by_seeds.value();
  EXPECT_NEAR(needed(goal).value(), seeds, 0.1 * seeds);
  expect_nearly_sure(goal, seeds);
  goal.by = one_.goal.by + Days{240};
  const int easy = needed(goal).value();
  EXPECT_LE(seeds, 3.1 * easy);
  goal.by = *plan_.nearest.by - Days{15};
  study_.change(goal);
  SowingSweep sweep;
  for (Steps<double> steps = study_.sweep(sweep); steps.next();) continue;
  for (const SowingPoint& point : sweep.points) EXPECT_GT(point.seeds.value_or(kMostSeeds), 3 * easy);
}

}  // namespace
}  // namespace strikebed::season

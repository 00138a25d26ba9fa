#pragma once
// The answer to a goal, as numbers. Words, tables and pictures are made of it in src/print.
#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "base/date.hpp"
#include "base/workers.hpp"
#include "climate/seasons.hpp"
#include "season/chain_quantity.hpp"
#include "season/goal.hpp"
#include "season/session_days.hpp"
#include "season/spread.hpp"
#include "season/stage.hpp"

namespace strikebed::season {

struct DateSpread {
  Date early;
  Date typical;
  Date late;
  bool operator==(const DateSpread&) const = default;
};

/// A sowing of the season: one of the goal's own, or one that the plan asks for.
struct SowingPlan {
  std::optional<std::size_t> own;  ///< which of goal.sown; nothing: the plan asks for it, of the goal's lot
  Date on;
  int seeds = 0;
  std::optional<Date> chill_start;  ///< nothing: it is not chilled
  DateSpread up;                    ///< when the first of it come up, where there are several sowings
  Date count_date;                  ///< when nearly all of it that come up are up
  Spread emerged;                   ///< expected alive then
  bool operator==(const SowingPlan&) const = default;
};
[[nodiscard]] inline const Lot& lot_of(const Goal& goal, const SowingPlan& sowing) {
  return sowing.own ? goal.sown[*sowing.own].lot : goal.lot;
}

struct SessionPlan {
  Date date;
  Spread cuttings;              ///< struck, all wants
  std::vector<double> by_want;  ///< typical, per want
  double hours = 0;             ///< for the typical number, by the methods' own timings
  /// Something to strike in a typical season: half a cutting or more, or a number that is not known.
  [[nodiscard]] bool is_usual() const { return !(cuttings.typical < 0.5); }
  bool operator==(const SessionPlan&) const = default;
};

/// From a session on, seedlings are struck at the session nearest to a place in their window.
struct StrikeStep {
  Date from;
  double place = 0;  ///< 0: as soon as it has opened; 0.5: the middle; 1: only what would close before the next
  bool operator==(const StrikeStep&) const = default;
};

struct CurvePoint {
  int seeds = 0;
  double assurance = 0;
  bool operator==(const CurvePoint&) const = default;
};
struct SowingPoint {
  Date sow;
  std::optional<int> seeds;   ///< smallest number; nothing: no sensible one is enough
  double best_assurance = 0;  ///< there: with sensible_seeds; else what was asked
  bool operator==(const SowingPoint&) const = default;
};

/// One uncertain quantity and what not knowing it costs.
struct Unknown {
  ChainQuantity quantity{};
  std::optional<std::size_t> want;  ///< whose it is, where wants differ and no other has the same
  std::string lot;                  ///< the same, where lots differ
  int seeds_saved = 0;              ///< smallest number now minus its mean over the values it may turn out to have
  double unreachable_share = 0;     ///< of those values, how many make the goal unreachable whatever the seeds
  double low = 0, typical = 0, high = 0;  ///< 5, 50, 95 % of the belief, a timing in its profile's unit
  int tries = 0;                          ///< of a small test that would tell most of a rate; 0 for the timing
  std::optional<int> seeds_at_best = {};  ///< of a rate: smallest number if it stood at its 95 % point
  bool operator==(const Unknown&) const = default;
};

/// How many are left at a stage of the season, in the mean of the futures.
struct StageCount {
  Stage stage{};
  double plants = 0;
  bool operator==(const StageCount&) const = default;
};

struct WantNeeds {
  std::string base_form;
  int cuttings = 0;  ///< to be ready for: 95 % point
  int containers = 0;
  double container_litres = 0;      ///< filled
  double container_drained_kg = 0;  ///< its content after watering
  bool operator==(const WantNeeds&) const = default;
};
/// A material to buy, all wants together, enough in nineteen of twenty cases.
struct MaterialNeed {
  std::string name;
  double litres = 0;
  double dry_kg = 0;
  bool in_pockets = false;
  bool operator==(const MaterialNeed&) const = default;
};
/// What the stock is measured in.
enum class StockUnit { ml, g };
/// A rooting solution, for all wants that are dipped alike.
struct DipNeed {
  double auxin_ppm = 0;  ///< all auxins together as IBA
  double fill_ml = 0;    ///< of one filling
  int fillings = 0;
  /// Of the grower's stock, where it was named.
  struct Stock {
    double per_fill = 0;
    double drops_per_fill = 0;  ///< 0: not counted in drops
    StockUnit unit = StockUnit::ml;
    bool operator==(const Stock&) const = default;
  };
  std::optional<Stock> stock;
  bool operator==(const DipNeed&) const = default;
};
/// Seed that is still to be sown.
struct SeedNeed {
  std::string lot;
  int seeds = 0;
  double grams = 0;
  bool operator==(const SeedNeed&) const = default;
};
struct Needs {
  std::vector<SeedNeed> seed;  ///< of each lot
  double seed_grams = 0;       ///< in all
  std::vector<WantNeeds> wants;
  int cuttings = 0;  ///< 95 % point of all struck
  int containers = 0;
  double medium_litres = 0;  ///< mixed, spills included
  double sand_litres = 0;    ///< in the pockets
  std::vector<MaterialNeed> materials;
  double solution_ml = 0;
  std::vector<DipNeed> dips;
  int labels = 0;
  double bench_m2 = 0;
  double hours = 0;          ///< for `cuttings`
  double hours_typical = 0;  ///< for as many as are struck in a typical season
  std::optional<double> money;
  bool operator==(const Needs&) const = default;
};

/// What stands in the way of the goal, or makes a plan need more seed than it would otherwise.
enum class LimitKind {
  room,           ///< for cuttings in a session; lifted: for all
  bench_days,     ///< are few, or with `date` all before the first seedlings are ripe then; lifted: a session every day
  sowing_day,     ///< said by the grower; lifted: any
  cold,           ///< seedbed or bench, or both where neither alone is what limits; lifted: as they say
  hot,            ///< the same
  chilling,       ///< puts off the first day to sow; lifted: `chill_days` of it
  date,           ///< comes too soon; lifted: `date` instead
  first_winter,   ///< is not over by the goal's date, and before that nothing is established; lifted: `date` instead
  no_sowing_day,  ///< is left; by the season the first would be `date`
  no_session,     ///< in time, in a medium neither too cold nor too hot for a cutting to root
  rate,           ///< of one rung is poor; lifted: `share` of what comes to it passes
  rates,          ///< are so poor in some of the futures that no sensible number of seeds gives enough
};
/// What comes of it where one limit alone is lifted.
struct Lifted {
  std::optional<int> seeds;  ///< about so many then meet the goal; nothing: no sensible number does
  double assurance = 0;      ///< how sure the goal can be then, where no number does
  double assurance_now = 0;  ///< and as it stands
  bool operator==(const Lifted&) const = default;
};
/// What is changed at a position that is too cold or too hot.
struct Rewarmed {
  double heated_c = 0;  ///< to this; 0: no other heating
  double cooler_c = 0;  ///< by this, with shade and air
  bool operator==(const Rewarmed&) const = default;
};
struct Limit {
  LimitKind kind{};
  std::optional<Lifted> lifted = {};  ///< nothing: there is nothing to lift, or lifting it does not help
  int sessions = 0;                   ///< room: how many can be held
  std::optional<Rewarmed> seedbed = {};
  std::optional<Rewarmed> bench = {};
  int chill_days = 0;
  Date date = {};
  Rung rung = {};
  double share = 0;
  bool operator==(const Limit&) const = default;
};

/// The nearest goal that can be met, in each direction that helps.
struct Nearest {
  std::optional<double> assurance;         ///< with the counts and the date as asked, and sensible_seeds
  std::optional<std::vector<int>> counts;  ///< largest counts (same proportions) at the asked assurance
  std::optional<int> seeds;                ///< what those counts need
  std::optional<Date> by;                  ///< earliest date that would do without several times the seeds
  std::optional<int> by_seeds;             ///< what it needs
  bool operator==(const Nearest&) const = default;
};

/// Why the plan asks for fewer sowings than the goal allows.
struct Stagger {
  enum class Why {
    day_said,      ///< the sowing day is the goal's
    room_for_all,  ///< no session has a limit
    none_better,   ///< one sowing more needs no fewer seeds, on any days that were tried
    out_of_reach,  ///< the goal is, with one sowing more too
    saves_little   ///< one more needs `seeds_with_more` where as planned it takes `seeds`
  };
  Why why{};
  int seeds = 0;
  int seeds_with_more = 0;
  bool rarely_full = false;  ///< no session is full in nineteen seasons of twenty
  bool operator==(const Stagger&) const = default;
};

/// What one rhythm of sessions would need, where the grower has not said on which days.
struct RhythmPoint {
  Rhythm rhythm{};
  std::optional<int> seeds;   ///< about so many; nothing: no sensible number is enough
  double best_assurance = 0;  ///< as SowingPoint's
  int days = 0;               ///< on which something is struck in the mean of the seasons; chosen: in a typical one
  bool operator==(const RhythmPoint&) const = default;
};

enum class CalendarKind {
  chill,
  sow,
  emergence,  ///< the first are up
  count,      ///< the seedlings
  ready,      ///< the first can be cut
  first_sessions,
  last_sessions,
  rooted,  ///< half of the cuttings
  weaned,  ///< nearly all of them
  winter_begins,
  winter_ends,
  last_sowing,  ///< that can still meet the goal
  goal,         ///< the plants are counted
};
struct CalendarEntry {
  CalendarKind kind{};
  DateSpread when;
  std::optional<std::size_t>
      sowing;  ///< chill, sow, emergence, count: which of the plan's; the last two: nothing where there is one
  std::optional<int> seeds;  ///< last_sowing: as many as it takes, where that is known
  bool operator==(const CalendarEntry&) const = default;
};

/// What the grower should mind.
enum class RemarkKind {
  cold_seed,       ///< `share` of the seed is lost lying in a bed too cold to germinate in
  cold_seedlings,  ///< `share` of the seedlings is lost to frost, or standing still in cold or on short days
  cold_cuttings,   ///< `share` of the cuttings is lost to frost, or standing still in the cold, before they root
  in_the_cold,     ///< the plan counts on seed of `lot` that has been in the cold since `date`
  cold_bench,      ///< the first seedlings are ready on `date`, no session is held before `until`
  long_day,        ///< at the bench, on `date`
  loose_pocket,    ///< the sand of the pockets of `want` does not stay on its medium
};
struct Remark {
  RemarkKind kind{};
  Date date = {};
  Date until = {};
  std::size_t want = 0;
  std::string lot = {};  ///< empty: it has no name
  double cuttings = 0;   ///< of a long day
  double hours = 0;
  double share = 0;
  bool operator==(const Remark&) const = default;
};

/// A stretch of the season: 5, 50 and 95 % of the seedlings.
enum class BandKind { chilling, emergence, window, sessions, rooting, weaning };
struct Band {
  BandKind kind{};
  DateSpread days;
  bool operator==(const Band&) const = default;
};

/// How far a plan has come. Each stage holds what the stages before hold, and better.
enum class PlanStage {
  none,
  quick,   ///< seeds and assurance in few futures, on the sowing days of before
  number,  ///< the exact number of seeds there
  dates,   ///< on the best sowing days, with all others beside, and what other numbers of seeds would mean
  whole    ///< sessions, dates, needs, limits and what not knowing costs
};

struct Plan {
  PlanStage stage = PlanStage::none;
  bool met = false;
  int seeds = 0;                      ///< on top of the goal's own sowings
  int seeds_low = 0, seeds_high = 0;  ///< what the Monte Carlo error of the assurance means in seeds
  double assurance = 0;
  double assurance_error = 0;       ///< one standard error
  std::optional<CurvePoint> half;   ///< half the seeds, where they already do nearly as well: what limits is not seed
  std::vector<SowingPlan> sowings;  ///< the goal's own first
  std::vector<Date> sow_dates;      ///< of those that the plan asks for
  std::optional<Stagger> stagger;   ///< why there are not as many as the goal allows
  /// Later than the earliest day that does as well: until then the seed would only lie in the cold.
  bool waits_for_warmth = false;
  std::optional<Date>
      last_sowing;                 ///< last date that can still meet the goal with at most three times the fewest seeds
  Date count_date;                 ///< count the emerged; not set where nothing is sown
  Spread emerged;                  ///< expected alive on count_date
  std::vector<double> shares;      ///< of the accepted seedlings, per want
  std::vector<Spread> counted;     ///< plants counted at `by`, per want
  std::vector<StageCount> stages;  ///< from the seeds to the plants counted, those that the goal reaches
  std::vector<SessionPlan> sessions;
  Spread struck;                     ///< cuttings of all sessions together
  std::vector<RhythmPoint> rhythms;  ///< the seldom first; none where the goal says the days
  BenchHabit habit;                  ///< chosen
  std::vector<StrikeStep> strike;    ///< how ripe to let seedlings get, from a session to the next that differs
  std::vector<CurvePoint> curve;
  std::vector<SowingPoint> sweep;
  std::vector<Unknown> unknowns;
  Needs needs;
  std::vector<Limit> limits;
  Nearest nearest;
  std::vector<CalendarEntry> calendar;
  std::vector<Remark> remarks;
  std::vector<Band> bands;
  climate::SeasonsOrigin weather;
  int futures = 0;
  bool operator==(const Plan&) const = default;
};

}  // namespace strikebed::season

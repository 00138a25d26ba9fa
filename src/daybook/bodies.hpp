#pragma once
// What an entry tells, a struct for each kind. To add a kind: write its struct here with its fields, and put it into
// Body; JSON, CSV, checking and the grammar follow, and the fold fails to compile until it knows what the kind does.
//
//   kKind    its name in the JSON
//   kAbout   whether it is about one batch, which the entry then names
//   fields   calls its visitor with each field, in the order of the JSON
//   disagreement   where some of its fields cannot be true together
#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "base/date.hpp"
#include "base/result.hpp"
#include "daybook/entry_id.hpp"
#include "daybook/field.hpp"
#include "daybook/moment.hpp"

namespace strikebed::daybook {

/// Whether an entry of a kind names a batch.
enum class About { batch, maybe_batch, other };

// Of the goal.

/// A goal file as it stood that day.
struct GoalSet {
  static constexpr std::string_view kKind = "goal_set";
  static constexpr About kAbout = About::other;
  std::string name;
  std::string goal_toml;  ///< the whole text
  static void fields(auto& self, auto&& visit) {
    visit(named("name"), self.name);
    visit(Field{"goal_toml", 1, 200'000}, self.goal_toml);
  }
  bool operator==(const GoalSet&) const = default;
};

struct SowingPlanned {
  Date on = {};
  int seeds = 0;
  static void fields(auto& self, auto&& visit) {
    visit(plain("on"), self.on);
    visit(number_of("seeds"), self.seeds);
  }
  bool operator==(const SowingPlanned&) const = default;
};

struct SessionPlanned {
  Date on = {};
  int cuttings = 0;
  static void fields(auto& self, auto&& visit) {
    visit(plain("on"), self.on);
    visit(number_of("cuttings"), self.cuttings);
  }
  bool operator==(const SessionPlanned&) const = default;
};

struct PlanChosen {
  static constexpr std::string_view kKind = "plan_chosen";
  static constexpr About kAbout = About::other;
  EntryId goal;
  int seeds = 0;
  double assurance = 0;
  std::vector<SowingPlanned> sowings;
  std::vector<SessionPlanned> sessions;
  static void fields(auto& self, auto&& visit) {
    visit(reference("goal", Refers::goal), self.goal);
    visit(number_of("seeds"), self.seeds);
    visit(between("assurance", 0, 1), self.assurance);
    visit(list("sowings", 0, 100), self.sowings);
    visit(list("sessions", 0, 400), self.sessions);
  }
  bool operator==(const PlanChosen&) const = default;
};

/// What was said of the number of plants on a day to come, so that it can be scored when that day is past.
struct ForecastGiven {
  static constexpr std::string_view kKind = "forecast_given";
  static constexpr About kAbout = About::other;
  EntryId goal;
  Date count_on = {};
  int wanted = 0;
  double assurance = 0;
  double plants_p05 = 0, plants_p25 = 0, plants_p50 = 0, plants_p75 = 0, plants_p95 = 0;  ///< points of its range
  static void fields(auto& self, auto&& visit) {
    visit(reference("goal", Refers::goal), self.goal);
    visit(plain("count_on"), self.count_on);
    visit(number_of("wanted"), self.wanted);
    visit(between("assurance", 0, 1), self.assurance);
    visit(number_of("plants_p05"), self.plants_p05);
    visit(number_of("plants_p25"), self.plants_p25);
    visit(number_of("plants_p50"), self.plants_p50);
    visit(number_of("plants_p75"), self.plants_p75);
    visit(number_of("plants_p95"), self.plants_p95);
  }
  [[nodiscard]] std::optional<Error> disagreement() const;
  bool operator==(const ForecastGiven&) const = default;
};

// Of lots and bottles.

struct LotReceived {
  static constexpr std::string_view kKind = "lot_received";
  static constexpr About kAbout = About::other;
  std::string name;
  std::string species;  ///< as in the profiles
  std::string origin;
  std::optional<int> year;  ///< of the harvest
  std::optional<int> seeds;
  std::optional<double> mass_g;
  static void fields(auto& self, auto&& visit) {
    visit(named("name"), self.name);
    visit(named("species"), self.species);
    visit(maybe_named("origin"), self.origin);
    visit(between("year", 1900, 2200), self.year);
    visit(number_of("seeds"), self.seeds);
    visit(between("mass_g", 0, 1e6), self.mass_g);
  }
  bool operator==(const LotReceived&) const = default;
};

/// A germination test, which uses its seeds up.
struct LotTested {
  static constexpr std::string_view kKind = "lot_tested";
  static constexpr About kAbout = About::other;
  EntryId lot;
  int good = 0;
  int of = 0;
  std::optional<int> days;
  std::optional<double> temperature_c;
  static void fields(auto& self, auto&& visit) {
    visit(reference("lot", Refers::lot), self.lot);
    visit(number_of("good"), self.good);
    visit(number_of("of", 1), self.of);
    visit(between("days", 1, 1000), self.days);
    visit(between("temperature_c", -50, 60), self.temperature_c);
  }
  [[nodiscard]] std::optional<Error> disagreement() const;
  bool operator==(const LotTested&) const = default;
};

/// What a bottle, bag or mixture is for.
enum class Stuff { solution, solvent, medium, feed, disinfectant, other };
inline constexpr std::array<std::string_view, 6> kStuffNames{"solution", "solvent",      "medium",
                                                             "feed",     "disinfectant", "other"};
constexpr const auto& names_of(Stuff) { return kStuffNames; }

/// A bottle or a bag.
struct StockReceived {
  static constexpr std::string_view kKind = "stock_received";
  static constexpr About kAbout = About::other;
  Stuff what = Stuff::other;
  std::string name;
  std::optional<double> volume_ml;
  std::optional<double> mass_g;
  std::string strength;  ///< in words, as on the label
  std::optional<Date> use_by;
  static void fields(auto& self, auto&& visit) {
    visit(plain("what"), self.what);
    visit(named("name"), self.name);
    visit(between("volume_ml", 0, 1e9), self.volume_ml);
    visit(between("mass_g", 0, 1e9), self.mass_g);
    visit(maybe_named("strength"), self.strength);
    visit(plain("use_by"), self.use_by);
  }
  bool operator==(const StockReceived&) const = default;
};

/// So much of a bottle went into a mixture.
struct Used {
  EntryId stock;
  std::optional<double> volume_ml;
  std::optional<double> mass_g;
  static void fields(auto& self, auto&& visit) {
    visit(reference("stock", Refers::bottle), self.stock);
    visit(between("volume_ml", 0, 1e9), self.volume_ml);
    visit(between("mass_g", 0, 1e9), self.mass_g);
  }
  bool operator==(const Used&) const = default;
};

/// A solution, a medium, a feed or a disinfectant. What is made is a bottle of its own.
struct Mixed {
  static constexpr std::string_view kKind = "mixed";
  static constexpr About kAbout = About::other;
  Stuff what = Stuff::solution;
  std::string name;
  std::optional<double> volume_ml;
  std::optional<double> mass_g;
  std::optional<double> auxin_ppm;    ///< all auxins together as IBA
  std::optional<double> alcohol_pct;  ///< by volume
  std::optional<double> active_pct;   ///< of a disinfectant, as its label counts it
  std::optional<double> ec_ms_cm;
  std::optional<double> ph;
  std::vector<Used> used;
  std::optional<Date> use_by;
  std::string recipe;
  static void fields(auto& self, auto&& visit) {
    visit(plain("what"), self.what);
    visit(named("name"), self.name);
    visit(between("volume_ml", 0, 1e9), self.volume_ml);
    visit(between("mass_g", 0, 1e9), self.mass_g);
    visit(between("auxin_ppm", 0, 1e6), self.auxin_ppm);
    visit(between("alcohol_pct", 0, 100), self.alcohol_pct);
    visit(between("active_pct", 0, 100), self.active_pct);
    visit(between("ec_ms_cm", 0, 100), self.ec_ms_cm);
    visit(between("ph", 0, 14), self.ph);
    visit(list("used", 0, 50), self.used);
    visit(plain("use_by"), self.use_by);
    visit(note("recipe"), self.recipe);
  }
  bool operator==(const Mixed&) const = default;
};

/// What is left of a lot or a bottle, looked at and measured; nothing of it once it is empty or thrown away.
struct StockCounted {
  static constexpr std::string_view kKind = "stock_counted";
  static constexpr About kAbout = About::other;
  EntryId stock;
  std::optional<int> seeds;
  std::optional<double> volume_ml;
  std::optional<double> mass_g;
  static void fields(auto& self, auto&& visit) {
    visit(reference("stock", Refers::stock), self.stock);
    visit(number_of("seeds"), self.seeds);
    visit(between("volume_ml", 0, 1e9), self.volume_ml);
    visit(between("mass_g", 0, 1e9), self.mass_g);
  }
  [[nodiscard]] std::optional<Error> disagreement() const;
  bool operator==(const StockCounted&) const = default;
};

// Of batches: where they come from and go.

enum class Holds { seeds, seedlings, cuttings, plants };
inline constexpr std::array<std::string_view, 4> kHoldsNames{"seeds", "seedlings", "cuttings", "plants"};
constexpr const auto& names_of(Holds) { return kHoldsNames; }

/// So many of a batch went into another; 0 where they follow group by group (Struck).
struct FromBatch {
  EntryId batch;
  int number = 0;
  static void fields(auto& self, auto&& visit) {
    visit(reference("batch", Refers::batch), self.batch);
    visit(number_of("number"), self.number);
  }
  bool operator==(const FromBatch&) const = default;
};

/// A batch begins: from a lot, from one batch (split off), from several (pooled), or from elsewhere. Its id is the
/// batch's own. With batches, its number is the sum of theirs.
struct BatchStarted {
  static constexpr std::string_view kKind = "batch_started";
  static constexpr About kAbout = About::other;
  std::string code;     ///< for people: batch_code.hpp
  std::string label;    ///< more words on the label
  std::string species;  ///< as in the profiles, where no lot says it
  Holds holds = Holds::seeds;
  std::optional<EntryId> lot;
  std::optional<int> number;  ///< of the lot, or from elsewhere
  std::optional<double> mass_g;
  std::vector<FromBatch> from;
  static void fields(auto& self, auto&& visit) {
    visit(named("code"), self.code);
    visit(maybe_named("label"), self.label);
    visit(maybe_named("species"), self.species);
    visit(plain("holds"), self.holds);
    visit(reference("lot", Refers::lot), self.lot);
    visit(number_of("number"), self.number);
    visit(between("mass_g", 0, 1e6), self.mass_g);
    visit(list("from", 0, 200), self.from);
  }
  [[nodiscard]] std::optional<Error> disagreement() const;
  bool operator==(const BatchStarted&) const = default;
};

/// Put into the cold, moist; it ends when they are sown.
struct Chilled {
  static constexpr std::string_view kKind = "chilled";
  static constexpr About kAbout = About::batch;
  std::optional<int> days;  ///< meant
  std::optional<double> temperature_c;
  static void fields(auto& self, auto&& visit) {
    visit(between("days", 1, 1000), self.days);
    visit(between("temperature_c", -30, 30), self.temperature_c);
  }
  bool operator==(const Chilled&) const = default;
};

struct Sown {
  static constexpr std::string_view kKind = "sown";
  static constexpr About kAbout = About::batch;
  std::optional<int> number;  ///< a level: so many were sown
  std::optional<double> depth_mm;
  std::string bench;
  std::string container;
  static void fields(auto& self, auto&& visit) {
    visit(number_of("number"), self.number);
    visit(between("depth_mm", 0, 200), self.depth_mm);
    visit(maybe_named("bench"), self.bench);
    visit(note("container"), self.container);
  }
  bool operator==(const Sown&) const = default;
};

/// A count: levels, each given where it was looked for. `green` and unrooted at the last look is undecided, not lost.
struct Counted {
  static constexpr std::string_view kKind = "counted";
  static constexpr About kAbout = About::batch;
  std::optional<int> emerged;                     ///< ever, alive or not
  std::optional<int> green, turning, red, faded;  ///< by sign
  std::optional<int> alive;
  std::optional<int> rooted;
  std::optional<int> undecided;  ///< alive, no roots seen
  std::optional<int> of;         ///< so many were looked at
  bool sample = false;           ///< a part of the batch: says nothing of how many there are
  bool destructive = false;      ///< those looked at are used up
  static void fields(auto& self, auto&& visit) {
    visit(number_of("emerged"), self.emerged);
    visit(number_of("green"), self.green);
    visit(number_of("turning"), self.turning);
    visit(number_of("red"), self.red);
    visit(number_of("faded"), self.faded);
    visit(number_of("alive"), self.alive);
    visit(number_of("rooted"), self.rooted);
    visit(number_of("undecided"), self.undecided);
    visit(number_of("of", 1), self.of);
    visit(plain("sample"), self.sample);
    visit(plain("destructive"), self.destructive);
  }
  [[nodiscard]] std::optional<Error> disagreement() const;
  bool operator==(const Counted&) const = default;
};

enum class LossCause { never_came_up, too_late, passed_over, dried, rotted, burnt, eaten, handling, winter, unknown };
inline constexpr std::array<std::string_view, 10> kLossCauseNames{
    "never_came_up", "too_late", "passed_over", "dried", "rotted", "burnt", "eaten", "handling", "winter", "unknown"};
constexpr const auto& names_of(LossCause) { return kLossCauseNames; }

struct Lost {
  static constexpr std::string_view kKind = "lost";
  static constexpr About kAbout = About::batch;
  int number = 0;
  LossCause cause = LossCause::unknown;
  static void fields(auto& self, auto&& visit) {
    visit(number_of("number", 1), self.number);
    visit(plain("cause"), self.cause);
  }
  bool operator==(const Lost&) const = default;
};

/// One group at the bench; the entry's batch is where the seedlings came from. Offered are those looked at: rejected
/// ones do not come back, those left waiting stay where they were.
struct Struck {
  static constexpr std::string_view kKind = "struck";
  static constexpr About kAbout = About::batch;
  EntryId into;
  std::optional<int> offered;
  int rejected = 0;
  int broken = 0;
  int struck = 0;
  int left_waiting = 0;
  std::string method;  ///< as in the profiles
  std::optional<EntryId> solution;
  std::optional<double> soak_s;
  std::optional<double> stem_length_mm;
  std::optional<Moment> start, end;
  static void fields(auto& self, auto&& visit) {
    visit(reference("into", Refers::batch), self.into);
    visit(number_of("offered"), self.offered);
    visit(number_of("rejected"), self.rejected);
    visit(number_of("broken"), self.broken);
    visit(number_of("struck"), self.struck);
    visit(number_of("left_waiting"), self.left_waiting);
    visit(maybe_named("method"), self.method);
    visit(reference("solution", Refers::bottle), self.solution);
    visit(between("soak_s", 0, 1e6), self.soak_s);
    visit(between("stem_length_mm", 0, 1000), self.stem_length_mm);
    visit(plain("start"), self.start);
    visit(plain("end"), self.end);
  }
  [[nodiscard]] std::optional<Error> disagreement() const;
  bool operator==(const Struck&) const = default;
};

/// Cut and dipped again: they stay in their batch.
struct Recut {
  static constexpr std::string_view kKind = "recut";
  static constexpr About kAbout = About::batch;
  int number = 0;
  std::optional<EntryId> solution;
  std::optional<double> soak_s;
  std::optional<double> stem_length_mm;
  static void fields(auto& self, auto&& visit) {
    visit(number_of("number", 1), self.number);
    visit(reference("solution", Refers::bottle), self.solution);
    visit(between("soak_s", 0, 1e6), self.soak_s);
    visit(between("stem_length_mm", 0, 1000), self.stem_length_mm);
  }
  bool operator==(const Recut&) const = default;
};

/// So many of the batch are a control; they stay in it.
struct ControlSetAside {
  static constexpr std::string_view kKind = "control_set_aside";
  static constexpr About kAbout = About::batch;
  int number = 0;
  std::string without;  ///< what was left out or done otherwise
  static void fields(auto& self, auto&& visit) {
    visit(number_of("number", 1), self.number);
    visit(note("without"), self.without);
  }
  bool operator==(const ControlSetAside&) const = default;
};

enum class HandedHow { given, sold };
inline constexpr std::array<std::string_view, 2> kHandedHowNames{"given", "sold"};
constexpr const auto& names_of(HandedHow) { return kHandedHowNames; }

/// Given away or sold.
struct HandedOver {
  static constexpr std::string_view kKind = "handed_over";
  static constexpr About kAbout = About::batch;
  int number = 0;
  HandedHow how = HandedHow::given;
  std::string to;
  static void fields(auto& self, auto&& visit) {
    visit(number_of("number", 1), self.number);
    visit(plain("how"), self.how);
    visit(note("to"), self.to);
  }
  bool operator==(const HandedOver&) const = default;
};

// Of batches: care.

struct Moved {
  static constexpr std::string_view kKind = "moved";
  static constexpr About kAbout = About::batch;
  std::string bench;
  static void fields(auto& self, auto&& visit) { visit(named("bench"), self.bench); }
  bool operator==(const Moved&) const = default;
};

/// Of a batch, or of a bench.
struct Fed {
  static constexpr std::string_view kKind = "fed";
  static constexpr About kAbout = About::maybe_batch;
  std::string bench;
  std::optional<EntryId> feed;
  std::optional<double> volume_ml;
  std::optional<double> ec_ms_cm;
  static void fields(auto& self, auto&& visit) {
    visit(maybe_named("bench"), self.bench);
    visit(reference("feed", Refers::bottle), self.feed);
    visit(between("volume_ml", 0, 1e9), self.volume_ml);
    visit(between("ec_ms_cm", 0, 100), self.ec_ms_cm);
  }
  bool operator==(const Fed&) const = default;
};

/// Of a batch, or of a bench. Without numbers: off.
struct MistingChanged {
  static constexpr std::string_view kKind = "misting_changed";
  static constexpr About kAbout = About::maybe_batch;
  std::string bench;
  std::optional<double> every_min;
  std::optional<double> burst_s;
  static void fields(auto& self, auto&& visit) {
    visit(maybe_named("bench"), self.bench);
    visit(between("every_min", 0, 10'080), self.every_min);
    visit(between("burst_s", 0, 3'600), self.burst_s);
  }
  bool operator==(const MistingChanged&) const = default;
};

enum class Weaning { less_mist, no_mist, vented, less_shade, open_air, full_sun, finished };
inline constexpr std::array<std::string_view, 7> kWeaningNames{"less_mist", "no_mist",  "vented",  "less_shade",
                                                               "open_air",  "full_sun", "finished"};
constexpr const auto& names_of(Weaning) { return kWeaningNames; }

struct WeaningStep {
  static constexpr std::string_view kKind = "weaning_step";
  static constexpr About kAbout = About::batch;
  Weaning step = Weaning::less_mist;
  std::optional<double> shade_pct;
  static void fields(auto& self, auto&& visit) {
    visit(plain("step"), self.step);
    visit(between("shade_pct", 0, 100), self.shade_pct);
  }
  bool operator==(const WeaningStep&) const = default;
};

struct Potted {
  static constexpr std::string_view kKind = "potted";
  static constexpr About kAbout = About::batch;
  std::optional<int> number;
  std::string container;
  std::optional<double> volume_ml;  ///< of one container
  std::optional<EntryId> medium;
  static void fields(auto& self, auto&& visit) {
    visit(number_of("number", 1), self.number);
    visit(note("container"), self.container);
    visit(between("volume_ml", 0, 1e6), self.volume_ml);
    visit(reference("medium", Refers::bottle), self.medium);
  }
  bool operator==(const Potted&) const = default;
};

enum class BaseForm { radial, single_root };
inline constexpr std::array<std::string_view, 2> kBaseFormNames{"radial", "single-root"};
constexpr const auto& names_of(BaseForm) { return kBaseFormNames; }

/// How the roots stand round the foot.
struct Graded {
  static constexpr std::string_view kKind = "graded";
  static constexpr About kAbout = About::batch;
  BaseForm base_form = BaseForm::radial;
  int fit = 0;  ///< for that form
  int of = 0;
  std::optional<double> largest_gap_deg;  ///< between neighbouring roots; the mean of several plants
  std::optional<double> roots;            ///< of a plant, in the mean
  static void fields(auto& self, auto&& visit) {
    visit(plain("base_form"), self.base_form);
    visit(number_of("fit"), self.fit);
    visit(number_of("of", 1), self.of);
    visit(between("largest_gap_deg", 0, 360), self.largest_gap_deg);
    visit(between("roots", 0, 1000), self.roots);
  }
  [[nodiscard]] std::optional<Error> disagreement() const;
  bool operator==(const Graded&) const = default;
};

// Of anything.

/// On a batch or a bench.
struct Measured {
  static constexpr std::string_view kKind = "measured";
  static constexpr About kAbout = About::maybe_batch;
  std::string bench;
  std::optional<double> air_temperature_c;
  std::optional<double> medium_temperature_c;
  std::optional<double> humidity_pct;
  std::optional<double> light_umol_m2_s;
  static void fields(auto& self, auto&& visit) {
    visit(maybe_named("bench"), self.bench);
    visit(between("air_temperature_c", -60, 70), self.air_temperature_c);
    visit(between("medium_temperature_c", -60, 70), self.medium_temperature_c);
    visit(between("humidity_pct", 0, 100), self.humidity_pct);
    visit(between("light_umol_m2_s", 0, 3000), self.light_umol_m2_s);
  }
  [[nodiscard]] std::optional<Error> disagreement() const;
  bool operator==(const Measured&) const = default;
};

/// The picture itself travels beside the entries, under its digest.
struct PhotoAttached {
  static constexpr std::string_view kKind = "photo_attached";
  static constexpr About kAbout = About::maybe_batch;
  std::string sha256;  ///< 64 digits of base 16, small
  std::string media_type;
  int size_bytes = 0;
  std::optional<EntryId> about;
  static void fields(auto& self, auto&& visit) {
    visit(Field{"sha256", 64, 64}, self.sha256);
    visit(named("media_type"), self.media_type);
    visit(between("size_bytes", 1, 2e9), self.size_bytes);
    visit(reference("about", Refers::any), self.about);
  }
  [[nodiscard]] std::optional<Error> disagreement() const;
  bool operator==(const PhotoAttached&) const = default;
};

struct Remark {
  static constexpr std::string_view kKind = "remark";
  static constexpr About kAbout = About::maybe_batch;
  std::string text;
  std::optional<EntryId> about;
  static void fields(auto& self, auto&& visit) {
    visit(Field{"text", 1, kLongestNote}, self.text);
    visit(reference("about", Refers::any), self.about);
  }
  bool operator==(const Remark&) const = default;
};

/// An entry was a mistake. A withdrawal can be withdrawn like any other.
struct Withdrawn {
  static constexpr std::string_view kKind = "withdrawn";
  static constexpr About kAbout = About::other;
  EntryId target;
  std::string why;
  static void fields(auto& self, auto&& visit) {
    visit(reference("target", Refers::any), self.target);
    visit(note("why"), self.why);
  }
  bool operator==(const Withdrawn&) const = default;
};

/// An entry of a version that this program does not know yet: kept whole, passed on, and left out of the fold.
struct Unread {
  std::string json;  ///< the whole entry, in one line
  bool operator==(const Unread&) const = default;
};

using Body =
    std::variant<GoalSet, PlanChosen, ForecastGiven, LotReceived, LotTested, StockReceived, Mixed, StockCounted,
                 BatchStarted, Chilled, Sown, Counted, Lost, Struck, Recut, ControlSetAside, HandedOver, Moved, Fed,
                 MistingChanged, WeaningStep, Potted, Graded, Measured, PhotoAttached, Remark, Withdrawn, Unread>;

}  // namespace strikebed::daybook

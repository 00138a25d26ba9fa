#pragma once
// What is known of a species, and of a method of striking. Filled from profiles/ by nursery; never computed on disk.
#include <functional>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <string_view>

#include "base/date.hpp"
#include "base/profile_value.hpp"
#include "growth/rungs.hpp"

namespace strikebed::growth {

/// A rate of a profile, with its batch spread (logit sd) always filled.
struct RateValue {
  RateBelief belief;
  std::string source;
  Trust trust = Trust::C;
  int counted = 0;  ///< seeds, seedlings or cuttings of the grower's own that it was learnt from
};

/// Cardinal temperatures, °C: nothing happens at or below `base` and at or above `ceiling`; fastest at `optimum`.
/// They are held fixed within a plan: a thermal time is only defined together with its base, and its own range covers
/// both (docs/methods/thermal-time.md).
struct Cardinal {
  double base_c;
  double optimum_c;
  double ceiling_c;
  bool operator==(const Cardinal&) const = default;
};

/// Past seasons of a daybook that a profile of the grower's own is made from already.
struct Absorbed {
  Date until;          ///< all seasons that were over on this day
  Date noted_before;   ///< of what was noted of them
  int entries = 0;     ///< so many
  std::string digest;  ///< of their ids: which ones
  bool operator==(const Absorbed&) const = default;
};

/// A grower's own profile over a shipped one, of which all the other values are.
struct OwnOver {
  std::string file;
  std::set<std::string, std::less<>> values;  ///< as in the file: "ripening_time", "take"
  std::string shipped_id;
  std::string shipped_name;
  bool depth_by_weight = false;  ///< the sowing depth follows from the own weight of the seed
  std::optional<Absorbed> absorbed = {};
};

/// A species profile. Thermal times in °C d above the base of their own cardinal temperatures, spreads as sd of the
/// natural logarithm between seedlings.
struct Species {
  std::string id;              ///< "pinus-thunbergii"
  std::string name;            ///< "Japanese black pine"
  std::optional<OwnOver> own;  ///< nothing: all of it is the shipped profile
  ProfileValue seeds_per_gram;
  ProfileValue sowing_depth_mm;          ///< of cover over the seed; what is usual lies between low and high
  ProfileValue chill_days;               ///< full chilling of stored seed, days at 1-5 °C; 0 for species that need none
  ProfileValue unchilled_time_factor;    ///< germination time without chilling / fully chilled, >= 1
  ProfileValue unchilled_spread_factor;  ///< the same for its spread
  Cardinal germination_temperature;
  ProfileValue germination_time;  ///< median, sowing to the root tip showing
  ProfileValue germination_spread;
  ProfileValue cover_time;          ///< from root tip to emergence through the seed cover
  ProfileValue loss_half_age_days;  ///< age from emergence by which half of the standing losses have happened
  Cardinal ripening_temperature;
  ProfileValue ripening_time;    ///< median, own emergence to the start of the window
  ProfileValue ripening_spread;  ///< a slow seedling is slow at both ends of its window
  ProfileValue window_end_time;  ///< median, own emergence to the end of the window; > ripening_time
  ProfileValue edge_odds;        ///< odds of take at the edges of the window / in its middle, <= 1
  Cardinal rooting_temperature;
  ProfileValue rooting_time;  ///< median, strike to first roots, in the medium
  ProfileValue rooting_spread;
  ProfileValue unrooted_life_days;      ///< a cutting that has not rooted by then does not live
  ProfileValue failure_half_life_days;  ///< age by which half of those that never root have died
  ProfileValue weaning_days;            ///< from own rooting to open air and sun
  ProfileValue shortest_day_h;          ///< unlit seedlings ripen more slowly on shorter days,
  ProfileValue standstill_day_h;        ///< and stand still on days as short as this
  ProfileValue cold_seed_loss;          ///< share of the seed lost in a week in a bed too cold to germinate in
  ProfileValue idle_loss;         ///< share of seedlings, and of unrooted cuttings, lost in a week of standing still
  ProfileValue seedling_frost_c;  ///< a night that half of the seedlings live through
  ProfileValue cutting_frost_c;   ///< and half of the unrooted cuttings
  PerRung<RateValue> rates;       ///< the take is that in the middle of the window
  /// Of single methods, by their ids, where the grower's own profile says it.
  std::map<std::string, PerRung<std::optional<RateValue>>, std::less<>> method_rates = {};

  /// The name of the profile that a value is of, unless it is the grower's own.
  [[nodiscard]] const std::string& shipped_name() const { return own ? own->shipped_name : name; }
  [[nodiscard]] bool is_own(std::string_view value) const { return own && own->values.contains(value); }
  /// Whole days, in the middle of its range.
  [[nodiscard]] int unrooted_life() const { return static_cast<int>(unrooted_life_days.typical()); }
};

enum class ContainerShape { round, square };

/// How a cutting is made, what it is dipped in and what it is set in.
struct Method {
  std::string id;  ///< "square-cut"
  std::string name;
  std::string base_form;   ///< "radial" or "single-root"
  std::string solution;    ///< in words, for the calendar
  ProfileValue auxin_ppm;  ///< strength of the solution, all auxins together as IBA
  ProfileValue stem_length_mm;
  ProfileValue cut_angle_deg;    ///< 90: square across
  ProfileValue group;            ///< cuttings that go through the solution together
  ProfileValue cutting_seconds;  ///< per group: cut
  ProfileValue soak_seconds;     ///< per group: in the solution
  ProfileValue setting_seconds;  ///< per group: set and firm
  std::string medium;            ///< a recipe by parts: "2 grit 3-4 mm, 1 fired-clay 2-4 mm"
  std::string pocket_sand;
  ProfileValue pocket_width_mm;  ///< of the hole for one cutting
  ProfileValue pocket_depth_mm;
  ContainerShape container = ContainerShape::square;
  ProfileValue container_top_mm;  ///< inner width at the rim, and at the bottom
  ProfileValue container_bottom_mm;
  ProfileValue container_height_mm;
  ProfileValue cuttings_per_container;
  ProfileValue solution_ml_per_fill;        ///< one filling of the vessel
  ProfileValue cuttings_per_fill;           ///< cuttings before the dip is renewed
  PerRung<std::optional<RateValue>> rates;  ///< of the rungs of a method, where it differs from the species
  PerRung<bool> own_rates{};                ///< of these, those that the grower's own profile says
  double controls = 0;                      ///< share of struck cuttings set without auxin and not counted
  double lifted = 0;                        ///< share of struck cuttings lifted to look and not counted

  /// The dip that the take is known for: that of the shipped method.
  struct Dip {
    double auxin_ppm = 0;
    double seconds = 0;
    bool operator==(const Dip&) const = default;
  };
  Dip reference_dip;
  [[nodiscard]] Dip dip() const { return {auxin_ppm.typical(), soak_seconds.typical()}; }
};

}  // namespace strikebed::growth

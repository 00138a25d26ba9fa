#pragma once
// Feeds of known strength: from the label to ppm and back, by litre, can or injector, and blends of several.
//
// ppm is mg/L. Labels give N, P2O5 and K2O in per cent of the mass; plants and targets are counted in N, P and K.
#include <array>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/profile_value.hpp"
#include "base/result.hpp"
#include "mix/amounts.hpp"
#include "mix/ratio.hpp"

namespace strikebed::mix {

/// Share of the element in its oxide, by IUPAC atomic masses.
inline constexpr double kPhosphorusInOxide = 0.43642;  ///< P in P2O5
inline constexpr double kPotassiumInOxide = 0.83015;   ///< K in K2O

/// N, P and K as elements; ppm in a feed, or per cent of a fertiliser's mass.
using Nutrients = std::array<double, 3>;
inline constexpr std::array<std::string_view, 3> kNutrientNames{"N", "P", "K"};

/// A label: per cent of the mass as N, P2O5, K2O.
struct Label {
  double n = 0;
  double p2o5 = 0;
  double k2o = 0;
  std::array<double, 3> last_digit{1, 1, 1};  ///< of each as written: 7.5 is printed to 0.1
};
/// "20-10-20", decimals allowed. Errors: another form, negative, more than 100 % together, nothing of all three.
[[nodiscard]] Result<Label> parse_label(std::string_view text, std::string_view field);
[[nodiscard]] std::string to_text(const Label& label);         ///< "20-10-20"
[[nodiscard]] Nutrients elements_percent(const Label& label);  ///< N, P, K in per cent

/// "100 N", "150 N, 60 P, 150 K": ppm as elements; also P2O5 and K2O. Errors: another form, none above 0, twice the
/// same.
struct Target {
  std::array<std::optional<double>, 3> ppm;  ///< what is not named is free
};
[[nodiscard]] Result<Target> parse_target(std::string_view text, std::string_view field);

/// Grams in a litre of feed for this many ppm of an element of which the fertiliser holds this per cent.
[[nodiscard]] double grams_per_litre(double ppm, double percent);
[[nodiscard]] double ppm_from_grams(double grams_per_litre, double percent);

/// Grams a litre of each of several fertilisers, none negative, for the least sum of squared misfits, each nutrient
/// measured by its own target (by the largest target where its own is 0).
///   percents  of each fertiliser, as elements
/// Source: Lawson & Hanson 1974, Solving Least Squares Problems, ch. 23 (NNLS).
[[nodiscard]] std::vector<double> blend(std::span<const Nutrients> percents, const Target& target);

/// What is known of a fertiliser's salt: EC of its solution by ppm of N.
struct Conductivity {
  double ds_m = 0;        ///< of a feed ...
  double at_ppm = 0;      ///< ... of this strength (N; P or K where there is no N)
  double last_digit = 0;  ///< of ds_m as written
};
/// "1.48 at 200": dS/m at ppm of N, as on a label. Errors: another form, not above 0, implausible.
[[nodiscard]] Result<Conductivity> parse_conductivity(std::string_view text, std::string_view field);

/// A phase of the season: strength by what the plants show, not by date.
struct Phase {
  std::string name{};
  std::string stage{};  ///< what is seen when it begins
  Nutrients ppm{};      ///< typical; 0: none
  double n_low = 0;     ///< ppm N
  double n_high = 0;
  double ec_low = 0;  ///< of the feed, dS/m
  double ec_high = 0;
  double leachate_limit = 0;  ///< dS/m in what runs out of the pot
  std::string source{};
  Trust trust = Trust::C;
};
/// All phases, in the order of the season (profiles/feed).
struct FeedSchedule {
  std::vector<Phase> phases;
  double flush_ds_m = 0;  ///< leachate at which to flush with plain water
  std::string flush_source{};
  Trust flush_trust = Trust::C;
};
/// Errors: no such phase (names the nearest and all).
[[nodiscard]] Result<Phase> find_phase(const FeedSchedule& schedule, std::string_view name, std::string_view field);

/// Grams a litre of stock above which it may not all dissolve. Common practice; the label knows.
inline constexpr double kRichStock_g_l = 200;

struct Fertiliser {
  Label label;
  std::optional<Conductivity> conductivity;
};

/// What was left out of a question, so that the usual was filled in.
enum class FeedAssumption { one_litre, usual_scale };

struct FeedRequest {
  std::vector<Fertiliser> fertilisers;  ///< one or more
  std::optional<Target> target;         ///< or, in the other directions:
  std::vector<double> grams;    ///< of each fertiliser, in `volume_l`; with a target of one nutrient: how much feed?
  std::optional<Phase> phase;   ///< for limits; its target where none is given
  std::vector<double> grams_u;  ///< standard uncertainty of each where written; 0 or none: the scale's
  FeedSchedule schedule;        ///< where no phase is named, the strongest and saltiest of its phases are the limits
  double volume_l = 1;          ///< of feed, or of stock with an injector; the answer where grams and target are given
  double volume_error = jug_ml(1).u;  ///< relative standard uncertainty of the can
  std::optional<Ratio> injector;
  double scale_g = 0.1;          ///< step of the scale
  double water_ec = 0;           ///< of the water, dS/m
  double misfit_allowed = 0.10;  ///< of a nutrient's target
  std::vector<FeedAssumption> assumed;
};

struct Weighed {
  Label label;
  double grams_exact = 0;
  double grams = 0;            ///< rounded to the scale
  double grams_per_litre = 0;  ///< of what is weighed, in the can or the stock
};

struct NutrientAnswer {
  std::optional<double> wanted;
  Measured obtained;             ///< after rounding: label (its last digit), weight and can; ppm
  std::optional<double> misfit;  ///< of the wanted, share
};

/// What to mind about a feed.
enum class FeedRemarkKind {
  nothing_fed,   ///< in this phase
  left_out,      ///< weigh[`index`]: too little for the scale, and the rest is within `misfit_allowed`
  coarse_scale,  ///< nutrients[`index`] is off by more than `misfit_allowed` once weighed
  strong,        ///< more N than the phase named is fed, `limit` ppm, or, where none is named, any phase
  salty,         ///< more than the phase bears, `limit` dS/m, or any
  rich_stock,    ///< weigh[`index`] may not all dissolve
};
struct FeedRemark {
  FeedRemarkKind kind{};
  std::size_t index = 0;
  double limit = 0;
};

struct FeedAnswer {
  FeedRequest asked;
  std::vector<Weighed> weigh;
  std::array<NutrientAnswer, 3> nutrients;
  double p2o5_ppm = 0;
  double k2o_ppm = 0;
  std::optional<double> feed_ec;  ///< with the water's, dS/m; nothing when a fertiliser's is not known
  double feed_ec_u = 0;           ///< standard uncertainty: last digit of each label's EC, and what makes N unsure
  double feed_l = 0;              ///< the feed this makes
  std::vector<FeedRemark> remarks;
};

/// Errors: no fertiliser, a volume or step not above 0, neither target nor grams, not one weight for each fertiliser, a
/// target of several nutrients for weights that are given, a nutrient that no fertiliser has, a
/// blend further from the target than `misfit_allowed` (with the best there is), less than half a step of the scale
/// (a part of a blend is left out instead where the rest stays within `misfit_allowed`).
[[nodiscard]] Result<FeedAnswer> make_feed(const FeedRequest& asked);

}  // namespace strikebed::mix

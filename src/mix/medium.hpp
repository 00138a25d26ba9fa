#pragma once
// A medium for so many containers: what to buy, what it weighs, how it holds water and air, whether sand stays in it.
//
// Every answer is worked out once with the typical values and again for 256 draws of all that is uncertain (bulk
// density, pores, pore width, hand mixing, the pots); 5 and 95 % of the draws stand beside the typical value.
#include <optional>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "mix/container.hpp"
#include "mix/filter_rule.hpp"
#include "mix/material.hpp"
#include "mix/pocket.hpp"
#include "mix/retention.hpp"

namespace strikebed::mix {

/// A computed number: typical, and 5 and 95 % points over what is uncertain.
struct Estimate {
  double value = 0;
  double low = 0;
  double high = 0;
};

struct Part {
  double parts = 0;
  Material material;
  double lost = 0;  ///< share of the volume that sieving takes off what was bought; 0 to kMostLost
};

/// What the grower has of a part, dry and loose, as bought.
struct Stored {
  double amount = 0;       ///< L or kg
  bool by_weight = false;  ///< kg
  double limits = 0;       ///< either way, in the unit of the amount; anything between is as likely
};

struct PocketPlan {
  Material sand;
  Pocket pocket;
  int per_container = 1;
};

/// What was left out of a question, so that the usual was filled in.
enum class MediumAssumption {
  as_tall_as_wide,   ///< the container, as its top
  usual_fill,        ///< usual_fill_cm
  usual_pocket,      ///< its width and depth
  one_pocket,        ///< in a container
  weighed_dry,       ///< what is stored by weight
  usual_stem_depth,  ///< less in a shallow cell or pocket
};

struct MediumRequest {
  std::vector<Part> recipe;  ///< with at least one part above 0
  Container container;
  int containers = 1;
  std::vector<Stored> stored;  ///< one for each part: `containers` is then the answer
  int per_tray = 1;
  std::optional<PocketPlan> pockets;
  double stem_depth_cm = 1.5;  ///< stem base below the surface
  double reading_cm = 0.1;     ///< 90 % error of each dimension of the container: a ruler, the pots' own spread
  double spare = 0.05;         ///< share on top for spills
  double jug_l = 0.5;          ///< smallest step in which materials are measured, L
  double bag_l = 20;
  std::optional<double> bag_kg;  ///< where bags are sold by weight: in place of bag_l
  double lift_limit_kg = 20;     ///< one person
  std::vector<MediumAssumption> assumed;
};

/// One material of the recipe.
struct Bought {
  std::string name;
  GrainRange grains;
  double parts = 0;
  Estimate loose_l;       ///< needed, with the spare, before mixing
  double measured_l = 0;  ///< to measure out and buy: the 95 % point, up to the next step of the jug
  double lost = 0;        ///< share that sieving takes
  double unsieved_l = 0;  ///< to buy, so that this much is left after sieving
  int bags = 0;           ///< of the unsieved
  Estimate dry_kg;        ///< of what is measured
  std::string source;     ///< of its bulk density
  Trust trust = Trust::C;
};

/// What is there of one material, and what of it is left when as many containers are filled as can be.
struct Used {
  Estimate there_l;  ///< sieved, loose
  Estimate left_l;
  Estimate left_kg;
  double runs_out = 0;  ///< chance that it is the one that runs out
};

/// How far what is there reaches.
struct Reach {
  Estimate containers;       ///< with the spare
  std::vector<Used> used;    ///< one for each part
  std::size_t runs_out = 0;  ///< the part that runs out with the typical values
};

struct Slice {
  double height_cm = 0;  ///< above the bottom
  Estimate water;        ///< between the grains, share of the volume
  Estimate air;
};

struct PocketAnswer {
  Pocket pocket;
  int per_container = 1;
  std::string sand;
  GrainRange grains;
  double volume_ml = 0;        ///< of one
  double sand_l = 0;           ///< for all, with the spare, up to the next step of the jug
  double visible_rise_cm = 0;  ///< how far this sand lifts water
  Estimate foot_suction_cm;
  Estimate water_at_stem;
  Estimate air_at_stem;
  Estimate air;       ///< mean of the pocket
  Estimate water_ml;  ///< of one pocket, drained
  double ratio = 0;   ///< D15 of the medium over d85 of the sand
  Staying staying = Staying::stays;
  double freely_draining_ratio = 0;  ///< D15 of the medium over d15 of the sand
  std::optional<GrainRange> bridge;  ///< a layer between that would hold it, where it does not stay
};

struct MediumAnswer {
  MediumRequest asked;
  double container_ml = 0;  ///< filled to the fill height
  double medium_l = 0;      ///< of mix in all containers, pockets taken off, without the spare
  double spare_l = 0;
  std::vector<Bought> buy;     ///< for asked.containers
  std::optional<Reach> reach;  ///< where what is there was given
  Estimate shrinkage;          ///< of the summed loose volumes
  Estimate obtained_l;         ///< mix from what is measured
  Estimate containers_filled;
  std::vector<double> parts_obtained;  ///< measured, in the unit of the first part asked
  Estimate bulk_density_kg_l;
  Estimate porosity;           ///< between the grains
  Estimate inside_water;       ///< within the grains, share of the volume: costs no air
  Estimate capacity;           ///< water between the grains in a drained container
  Estimate air;                ///< in a drained container
  Estimate wet_zone_cm;        ///< from the bottom: less than a tenth is air
  std::vector<Slice> profile;  ///< bottom to surface
  Estimate stem_water;         ///< at the stem base, without a pocket: between the grains
  Estimate stem_air;
  Estimate reach_ml;            ///< water within 1 cm of the stem base, pocket included
  double conductivity_m_s = 0;  ///< Kozeny-Carman, 20 degrees C
  bool drains_at_once = false;
  Estimate dry_kg;  ///< a container's content, pockets included, the container not
  Estimate drained_kg;
  Estimate full_kg;  ///< every pore full, as just after a soak
  Estimate tray_drained_kg;
  Estimate tray_full_kg;
  Estimate tub_wet_kg;       ///< all the mix at once, drained
  double d15_mm = 0;         ///< of the mix
  double finest_d85_mm = 0;  ///< of sand that stays on it
  double finest_d85_older_mm = 0;
  double throat_mm = 0;  ///< smallest throat between grains of size D15
  std::optional<PocketAnswer> pocket;
  bool silica_dust = false;
  bool organic_dust = false;
};

/// A volume of medium, weighed.
struct Weights {
  double dry_kg = 0;
  double drained_kg = 0;
  double full_kg = 0;
};
/// Mass balance: dry, with the water of a drained container, with all pores full; water inside grains in the last two.
[[nodiscard]] Weights weights_of(double volume_l, double bulk_density_kg_l, double porosity, double capacity,
                                 double inside_water);

/// What make_medium would refuse at once, without working anything out.
[[nodiscard]] std::optional<Error> wrong_request(const MediumRequest& asked);

/// The answer. Where `stored` is given, asked.containers is what it typically fills, and the mix is all that it gives.
/// Errors: what container, pocket, grains and packing refuse; no container; parts that sum to nothing; a loss that is
/// no share; not one amount for each part, or too little for one container.
[[nodiscard]] Result<MediumAnswer> make_medium(const MediumRequest& request);

}  // namespace strikebed::mix

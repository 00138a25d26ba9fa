#include "mix/medium.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>

#include "evidence/low_discrepancy.hpp"
#include "mix/flow.hpp"
#include "mix/limits.hpp"
#include "mix/packing.hpp"
#include "mix/recipe.hpp"

namespace strikebed::mix {
namespace {

constexpr double kMlPerL = 1000;
constexpr double kReachCm = 1;
constexpr double kSmallestStepL = 0.001;
constexpr double kWaterTemperatureC = 20;
constexpr double kMostStored = 1e6;  // L or kg
constexpr int kMostContainers = 1'000'000;
constexpr int kSlices = 8;
constexpr int kReplicates = 2;
constexpr int kLog2Points = 7;
constexpr std::uint64_t kSeed = 3;       // any: the answer shows two or three figures
constexpr double kRoundingSlack = 1e-9;  // 3 steps of a jug that come out as 3.0000000001 are 3

/// A material with every value drawn.
struct DrawnMaterial {
  double bulk_density_kg_l;
  double porosity;
  double inside_water;
  double residual;
  double alpha_per_cm;
  double n;
};
constexpr int kScoresPerMaterial = 5;  // bulk density, porosity, inside water, n, residual
constexpr int kCommonScores = 3;       // the rule for alpha, hand mixing, the containers

/// Standard normal scores of one draw, handed out in order; all 0: the typical values.
class Scores {
 public:
  explicit Scores(std::function<double(int)> score) : score_(std::move(score)) {}
  double next() { return score_(taken_++); }

 private:
  std::function<double(int)> score_;
  int taken_ = 0;
};

DrawnMaterial drawn_material(const Material& material, double alpha_score, Scores& scores) {
  DrawnMaterial one{};
  one.bulk_density_kg_l = drawn(material.bulk_density_kg_l.quantity, scores.next());
  one.porosity = std::min(drawn(material.porosity.quantity, scores.next()), kMostPorous);
  one.inside_water = std::min(drawn(material.inside_water.quantity, scores.next()), kMostPorous);
  one.n = std::max(drawn(material.n.quantity, scores.next()), 1.05);
  one.residual = std::min(drawn(material.residual.quantity, scores.next()), kMostPorous);
  const double alpha = material.typical_alpha_per_cm();
  one.alpha_per_cm =
      drawn(material.alpha_per_cm ? material.alpha_per_cm->quantity
                                  : Quantity{alpha, alpha / kAlphaErrorFactor, alpha * kAlphaErrorFactor},
            alpha_score);
  return one;
}

Pores pores_of(const DrawnMaterial& material, double share) {
  return {share, material.residual * share, material.alpha_per_cm, material.n};
}

/// Everything that depends on the draw.
struct Worked {
  std::vector<double> loose_l;
  std::vector<double> dry_kg_per_l;
  double mix_per_loose = 1;
  double bulk_density = 0;
  double porosity = 0;
  double inside = 0;
  double capacity = 0;
  double wet_zone_cm = 0;
  std::vector<double> water;
  double stem_water = 0;
  double reach_ml = 0;
  Weights weights;  ///< of a container's content
  PocketWater pocket;
  double volume_factor = 1;    ///< of the container over its nominal volume
  std::vector<double> stored;  ///< what is there of each part, L or kg
};

double medium_ml(const MediumRequest& asked) {
  const double pockets = asked.pockets ? asked.pockets->per_container * pocket_volume(asked.pockets->pocket) : 0;
  return filled_volume(asked.container) - pockets;
}

/// 90 % error of a container's volume from that of its width (twice) and its height.
double volume_error(const MediumRequest& asked) {
  const Container& c = asked.container;
  return std::hypot(2 * asked.reading_cm / ((c.base_cm + c.top_cm) / 2), asked.reading_cm / c.fill_cm);
}

double slice_height(const Container& container, int slice) { return container.fill_cm * slice / kSlices; }

/// Water within kReachCm of the stem base: the pocket's share of that ball, and the medium's.
double water_in_reach_ml(const MediumRequest& asked, const Worked& worked) {
  const double ball = 4.0 / 3.0 * std::numbers::pi * kReachCm * kReachCm * kReachCm;
  if (!asked.pockets) return ball * (worked.stem_water + worked.inside);
  const Pocket& pocket = asked.pockets->pocket;
  const double above = std::min(kReachCm, asked.stem_depth_cm);
  const double below = std::min(kReachCm, pocket.depth_cm - asked.stem_depth_cm);
  const double column = pocket_volume({pocket.width_cm, above + below});
  const double in_pocket = std::min(column, ball);
  return in_pocket * worked.pocket.water_at_stem + (ball - in_pocket) * (worked.stem_water + worked.inside);
}

Result<Worked> work(const MediumRequest& asked, double needed_l, Scores scores) {
  Worked worked;
  const double alpha_score = scores.next();
  const HandMixing hand;
  const double achieved = std::min(drawn({hand.value, hand.low, hand.high}, scores.next()), 1.0);
  const double error = volume_error(asked);
  worked.volume_factor = drawn({1, 1 / (1 + error), 1 + error}, scores.next());
  std::vector<DrawnMaterial> materials;
  std::vector<Poured> poured;
  double parts = 0;
  for (const Part& part : asked.recipe) {
    materials.push_back(drawn_material(part.material, alpha_score, scores));
    poured.push_back({part.parts, 1 - materials.back().porosity, part.material.diameter_mm()});
    parts += part.parts;
  }
  const auto mixture = mixed(poured, achieved);
  if (!mixture) return mixture.error();

  worked.mix_per_loose = mixture->volume / parts;
  PoreSpace pores;
  for (std::size_t i = 0; i < materials.size(); ++i) {
    const double per_mix = asked.recipe[i].parts / mixture->volume;
    worked.loose_l.push_back(needed_l * worked.volume_factor * per_mix);
    worked.dry_kg_per_l.push_back(materials[i].bulk_density_kg_l);
    worked.bulk_density += per_mix * materials[i].bulk_density_kg_l;
    worked.inside += per_mix * (1 - materials[i].porosity) * materials[i].inside_water;
    if (mixture->pores[i] > 0) pores.push_back(pores_of(materials[i], mixture->pores[i]));
  }
  worked.porosity = porosity(pores);
  worked.capacity = container_capacity(pores, asked.container);
  worked.wet_zone_cm = wet_zone_cm(pores, asked.container.fill_cm, kLeastAir);
  for (int slice = 0; slice <= kSlices; ++slice) {
    worked.water.push_back(water_at(pores, slice_height(asked.container, slice)));
  }
  worked.stem_water = water_at(pores, asked.container.fill_cm - asked.stem_depth_cm);

  const double litres = worked.volume_factor * medium_ml(asked) / kMlPerL;
  worked.weights = weights_of(litres, worked.bulk_density, worked.porosity, worked.capacity, worked.inside);
  if (asked.pockets) {
    const DrawnMaterial sand = drawn_material(asked.pockets->sand, alpha_score, scores);
    worked.pocket = drained_pocket({pores_of(sand, sand.porosity)}, pores, asked.pockets->pocket, asked.container,
                                   asked.stem_depth_cm);
    const double sand_l = asked.pockets->per_container * pocket_volume(asked.pockets->pocket) / kMlPerL;
    const Weights wet_sand = weights_of(sand_l, sand.bulk_density_kg_l, sand.porosity, worked.pocket.water, 0);
    worked.weights.dry_kg += wet_sand.dry_kg;
    worked.weights.drained_kg += wet_sand.drained_kg;
    worked.weights.full_kg += wet_sand.full_kg;
  }
  worked.reach_ml = water_in_reach_ml(asked, worked);
  for (const Stored& one : asked.stored) {
    const double from_middle = one.limits > 0 ? std::erf(scores.next() / std::numbers::sqrt2) : 0;  // -1 to 1, evenly
    worked.stored.push_back(one.amount + from_middle * one.limits);
  }
  return worked;
}

/// The typical working and its draws; each figure is read from all of them.
class Workings {
 public:
  static Result<Workings> of(const MediumRequest& asked, double needed_l) {
    auto typical = work(asked, needed_l, Scores([](int) { return 0.0; }));
    if (!typical) return typical.error();
    Workings all;
    all.typical_ = std::move(*typical);
    const int materials = static_cast<int>(asked.recipe.size()) + (asked.pockets ? 1 : 0);
    const auto unsure = static_cast<int>(
        std::count_if(asked.stored.begin(), asked.stored.end(), [](const Stored& one) { return one.limits > 0; }));
    const auto scores = evidence::normal_scores(kCommonScores + kScoresPerMaterial * materials + unsure, kReplicates,
                                                kLog2Points, kSeed);
    for (std::size_t draw = 0; draw < scores.front().size(); ++draw) {
      auto one = work(asked, needed_l, Scores([&scores, draw](int i) {
                        return static_cast<double>(scores[static_cast<std::size_t>(i)][draw]);
                      }));
      if (!one) return one.error();
      all.draws_.push_back(std::move(*one));
    }
    return all;
  }

  [[nodiscard]] const Worked& typical() const { return typical_; }

  template <class Figure>
  [[nodiscard]] Estimate estimate(const Figure& figure) const {
    std::vector<double> values;
    values.reserve(draws_.size());
    for (const Worked& one : draws_) values.push_back(figure(one));
    std::sort(values.begin(), values.end());
    const auto at = [&](double share) {
      return values[static_cast<std::size_t>(share * static_cast<double>(values.size()))];
    };
    const double value = figure(typical_);
    // A figure that does not vary but for rounding keeps its order.
    return {value, std::min(at(0.05), value), std::max(at(0.95), value)};
  }
  /// Of the draws in which it is so.
  template <class Holds>
  [[nodiscard]] double share(const Holds& holds) const {
    return static_cast<double>(std::count_if(draws_.begin(), draws_.end(), holds)) / static_cast<double>(draws_.size());
  }
  [[nodiscard]] Estimate estimate(double Worked::* figure) const {
    return estimate([figure](const Worked& one) { return one.*figure; });
  }

 private:
  Worked typical_;
  std::vector<Worked> draws_;
};

double up_to_step(double value, double step) { return std::ceil(value / step - kRoundingSlack) * step; }

std::vector<Bought> what_to_buy(const MediumRequest& asked, const Workings& workings) {
  std::vector<Bought> buy;
  for (std::size_t i = 0; i < asked.recipe.size(); ++i) {
    const Part& part = asked.recipe[i];
    Bought one;
    one.name = part.material.name;
    one.grains = part.material.grains;
    one.parts = part.parts;
    one.loose_l = workings.estimate([i](const Worked& w) { return w.loose_l[i]; });
    one.measured_l = up_to_step(one.loose_l.high, asked.jug_l);
    one.lost = part.lost;
    one.unsieved_l = one.measured_l / (1 - part.lost);
    one.dry_kg = workings.estimate([i, &one](const Worked& w) { return one.measured_l * w.dry_kg_per_l[i]; });
    // A heavy lot fills fewer litres: by weight, enough for the heaviest.
    const double bags = asked.bag_kg ? one.dry_kg.high / (1 - part.lost) / *asked.bag_kg : one.unsieved_l / asked.bag_l;
    one.bags = static_cast<int>(std::ceil(bags - kRoundingSlack));
    one.source = part.material.bulk_density_kg_l.source;
    one.trust = part.material.bulk_density_kg_l.trust;
    buy.push_back(std::move(one));
  }
  return buy;
}

PocketAnswer pocket_answer(const MediumRequest& asked, const PocketPlan& plan, const Workings& workings,
                           double d15_mm) {
  PocketAnswer answer;
  answer.pocket = plan.pocket;
  answer.per_container = plan.per_container;
  answer.sand = plan.sand.name;
  answer.grains = plan.sand.grains;
  answer.volume_ml = pocket_volume(plan.pocket);
  answer.sand_l = up_to_step(answer.volume_ml * plan.per_container * asked.containers * (1 + asked.spare) / kMlPerL,
                             std::min(asked.jug_l, 0.1));
  answer.visible_rise_cm = visible_rise_cm(plan.sand.grains.middle_mm());
  const auto of_pocket = [&](double PocketWater::* figure) {
    return workings.estimate([figure](const Worked& w) { return w.pocket.*figure; });
  };
  answer.foot_suction_cm = of_pocket(&PocketWater::foot_suction_cm);
  answer.water_at_stem = of_pocket(&PocketWater::water_at_stem);
  answer.air_at_stem = of_pocket(&PocketWater::air_at_stem);
  answer.air = of_pocket(&PocketWater::air);
  answer.water_ml = of_pocket(&PocketWater::water_ml);
  const double d85 = plan.sand.grains.finer_mm(0.85);
  answer.ratio = d15_mm / d85;
  answer.staying = staying(d15_mm, d85);
  answer.freely_draining_ratio = d15_mm / plan.sand.grains.finer_mm(0.15);
  if (answer.staying != Staying::stays) answer.bridge = bridge_layer(d15_mm, d85);
  return answer;
}

/// How far what is there reaches: `one` works out what a single container takes, with the spare.
class Store {
 public:
  Store(const MediumRequest& asked, const Workings& one) : asked_(asked), one_(one) {}

  /// Loose and sieved, L.
  [[nodiscard]] double there_l(std::size_t part, const Worked& w) const {
    const double unsieved_l = asked_.stored[part].by_weight ? w.stored[part] / w.dry_kg_per_l[part] : w.stored[part];
    return unsieved_l * (1 - asked_.recipe[part].lost);
  }
  /// The part that runs out first.
  [[nodiscard]] std::size_t runs_out(const Worked& w) const {
    std::size_t first = 0;
    for (std::size_t i = 0; i < asked_.recipe.size(); ++i) {
      if (reaches(i, w) < reaches(first, w)) first = i;
    }
    return first;
  }
  [[nodiscard]] double containers(const Worked& w) const { return reaches(runs_out(w), w); }
  [[nodiscard]] double left_l(std::size_t part, const Worked& w) const {
    return part == runs_out(w) ? 0 : there_l(part, w) - containers(w) * w.loose_l[part];
  }
  [[nodiscard]] double mix_l(const Worked& w) const {
    double loose = 0;
    for (const double l : w.loose_l) loose += l;
    return containers(w) * loose * w.mix_per_loose;
  }

  [[nodiscard]] Reach reach() const {
    Reach reach;
    reach.containers = one_.estimate([this](const Worked& w) { return containers(w); });
    reach.runs_out = runs_out(one_.typical());
    for (std::size_t i = 0; i < asked_.recipe.size(); ++i) {
      reach.used.push_back({
          .there_l = one_.estimate([this, i](const Worked& w) { return there_l(i, w); }),
          .left_l = one_.estimate([this, i](const Worked& w) { return left_l(i, w); }),
          .left_kg = one_.estimate([this, i](const Worked& w) { return left_l(i, w) * w.dry_kg_per_l[i]; }),
          .runs_out = one_.share([this, i](const Worked& w) { return runs_out(w) == i; }),
      });
    }
    return reach;
  }

 private:
  /// Containers that this part alone allows; a part of 0 never runs out.
  [[nodiscard]] double reaches(std::size_t part, const Worked& w) const {
    return w.loose_l[part] > 0 ? there_l(part, w) / w.loose_l[part] : HUGE_VAL;
  }
  const MediumRequest& asked_;
  const Workings& one_;
};

}  // namespace

Weights weights_of(double volume_l, double bulk_density_kg_l, double porosity, double capacity, double inside_water) {
  const double dry = volume_l * bulk_density_kg_l;
  return {dry, dry + volume_l * (capacity + inside_water), dry + volume_l * (porosity + inside_water)};
}

namespace {

double measured_l(const MediumAnswer& answer) {
  double all = 0;
  for (const Bought& one : answer.buy) all += one.measured_l;
  return all;
}

/// What the measured amounts come to, and in which proportions.
void add_obtained(const Workings& workings, MediumAnswer& answer) {
  const double measured = measured_l(answer);
  const auto first =
      std::find_if(answer.buy.begin(), answer.buy.end(), [](const Bought& one) { return one.parts > 0; });
  for (const Bought& one : answer.buy)
    answer.parts_obtained.push_back(one.measured_l / first->measured_l * first->parts);
  answer.shrinkage = workings.estimate([](const Worked& w) { return 1 - w.mix_per_loose; });
  answer.obtained_l = workings.estimate([&](const Worked& w) { return measured * w.mix_per_loose; });
  const double one_l = medium_ml(answer.asked) / kMlPerL;
  answer.containers_filled =
      workings.estimate([&](const Worked& w) { return measured * w.mix_per_loose / (w.volume_factor * one_l); });
}

void add_water(const Workings& workings, MediumAnswer& answer) {
  answer.porosity = workings.estimate(&Worked::porosity);
  answer.inside_water = workings.estimate(&Worked::inside);
  answer.capacity = workings.estimate(&Worked::capacity);
  answer.air = workings.estimate([](const Worked& w) { return w.porosity - w.capacity; });
  answer.wet_zone_cm = workings.estimate(&Worked::wet_zone_cm);
  for (int i = 0; i <= kSlices; ++i) {
    const auto at = static_cast<std::size_t>(i);
    answer.profile.push_back({slice_height(answer.asked.container, i),
                              workings.estimate([at](const Worked& w) { return w.water[at]; }),
                              workings.estimate([at](const Worked& w) { return w.porosity - w.water[at]; })});
  }
  answer.stem_water = workings.estimate(&Worked::stem_water);
  answer.stem_air = workings.estimate([](const Worked& w) { return w.porosity - w.stem_water; });
  answer.reach_ml = workings.estimate(&Worked::reach_ml);
}

void add_weights(const Workings& workings, MediumAnswer& answer) {
  const double measured = measured_l(answer);
  answer.bulk_density_kg_l = workings.estimate(&Worked::bulk_density);
  answer.dry_kg = workings.estimate([](const Worked& w) { return w.weights.dry_kg; });
  answer.drained_kg = workings.estimate([](const Worked& w) { return w.weights.drained_kg; });
  answer.full_kg = workings.estimate([](const Worked& w) { return w.weights.full_kg; });
  const auto times = [](const Estimate& e, double factor) {
    return Estimate{e.value * factor, e.low * factor, e.high * factor};
  };
  answer.tray_drained_kg = times(answer.drained_kg, answer.asked.per_tray);
  answer.tray_full_kg = times(answer.full_kg, answer.asked.per_tray);
  answer.tub_wet_kg = workings.estimate(
      [&](const Worked& w) { return measured * w.mix_per_loose * (w.bulk_density + w.capacity + w.inside); });
}

/// What goes by the sizes of the grains, and their dust.
void add_grains(MediumAnswer& answer) {
  const MediumRequest& request = answer.asked;
  std::vector<Graded> grading;
  for (const Part& part : request.recipe) {
    grading.push_back({part.material.grains, part.parts * (1 - part.material.porosity.quantity.value)});
    answer.silica_dust = answer.silica_dust || part.material.dust == Dust::silica;
    answer.organic_dust = answer.organic_dust || part.material.dust == Dust::organic;
  }
  answer.silica_dust = answer.silica_dust || (request.pockets && request.pockets->sand.dust == Dust::silica);
  answer.d15_mm = finer_mm(grading, 0.15);
  answer.finest_d85_mm = finest_d85_that_stays(answer.d15_mm);
  answer.finest_d85_older_mm = finest_d85_that_stays(answer.d15_mm, kOlderRetainingRatio);
  answer.throat_mm = dense_throat_mm(answer.d15_mm);
  answer.conductivity_m_s = kozeny_carman_m_s(answer.porosity.value, finer_mm(grading, 0.10), kWaterTemperatureC);
  answer.drains_at_once = answer.conductivity_m_s > kDrainsAtOnceMs;
}

Result<MediumAnswer> medium_for(const MediumRequest& request) {
  MediumAnswer answer;
  answer.asked = request;
  answer.container_ml = filled_volume(request.container);
  answer.medium_l = medium_ml(request) * request.containers / kMlPerL;
  answer.spare_l = answer.medium_l * request.spare;
  const auto workings = Workings::of(request, answer.medium_l + answer.spare_l);
  if (!workings) return workings.error();
  answer.buy = what_to_buy(request, *workings);
  add_obtained(*workings, answer);
  add_water(*workings, answer);
  add_weights(*workings, answer);
  add_grains(answer);
  if (request.pockets) answer.pocket = pocket_answer(request, *request.pockets, *workings, answer.d15_mm);
  return answer;
}

std::optional<Error> wrong_stored(const MediumRequest& asked) {
  if (!asked.stored.empty() && asked.stored.size() != asked.recipe.size()) {
    return Error{.problem = fmt::format("{} amounts are given for {} parts", asked.stored.size(), asked.recipe.size()),
                 .allowed = "one for each part of the recipe, in its order",
                 .field = "stored"};
  }
  for (const Stored& one : asked.stored) {
    if (!above_zero_to(one.amount, kMostStored)) {
      return Error{.problem = fmt::format("found {} {}", one.amount, one.by_weight ? "kg" : "L"),
                   .allowed = fmt::format("above 0, at most {:.0f}", kMostStored),
                   .field = "stored"};
    }
    if (!(one.limits >= 0 && one.limits < one.amount)) {
      return Error{.problem = fmt::format("found limits of {} about {}", one.limits, one.amount),
                   .allowed = "limits smaller than the amount",
                   .field = "stored"};
    }
  }
  return std::nullopt;
}

}  // namespace

std::optional<Error> wrong_request(const MediumRequest& asked) {
  if (const auto container = checked(asked.container); !container) return container.error();
  if (asked.containers < 1)
    return Error{.problem = "there is no container to fill", .allowed = "1 or more", .field = "containers"};
  if (!from_to(asked.stem_depth_cm, 0, asked.container.fill_cm)) {
    return Error{
        .problem = fmt::format("found {} cm in a medium {} cm deep", asked.stem_depth_cm, asked.container.fill_cm),
        .allowed = "0 or more, at most the depth of the medium",
        .field = "stem_depth_cm"};
  }
  if (!(asked.jug_l >= kSmallestStepL)) {
    return Error{
        .problem = fmt::format("found {} mL", asked.jug_l * kMlPerL), .allowed = "1 mL or more", .field = "jug_l"};
  }
  if (asked.bag_kg && !above_zero_to(*asked.bag_kg, kMostStored)) {
    return Error{.problem = fmt::format("found {} kg", *asked.bag_kg),
                 .allowed = fmt::format("above 0, at most {:.0f} kg", kMostStored),
                 .field = "bag_kg"};
  }
  if (!asked.bag_kg && !(asked.bag_l >= asked.jug_l)) {
    return Error{.problem = "a bag holds less than a step of the jug", .allowed = "at least as much", .field = "bag_l"};
  }
  if (asked.pockets) {
    const auto pocket = checked(asked.pockets->pocket, asked.container, asked.stem_depth_cm);
    if (!pocket) return pocket.error();
    if (!(medium_ml(asked) > 0)) {
      return Error{.problem = "the pockets take up more than the container holds",
                   .allowed = "fewer or smaller pockets",
                   .field = "pockets"};
    }
  }
  if (const auto stored = wrong_stored(asked)) return stored;
  for (const Part& part : asked.recipe) {
    if (!from_to(part.lost, 0, kMostLost)) {
      return Error{.problem = fmt::format("sieving loses {} of {}", part.lost, part.material.name),
                   .allowed = fmt::format("a share from 0 to {}", kMostLost),
                   .field = "recipe"};
    }
    if (const auto grains = checked(part.material.grains); !grains) {
      Error error = grains.error();
      error.problem = part.material.name + ": " + error.problem;
      error.field = "recipe";
      return error;
    }
  }
  return std::nullopt;
}

Result<MediumAnswer> make_medium(const MediumRequest& request) {
  if (const auto wrong = wrong_request(request)) return *wrong;
  if (request.stored.empty()) return medium_for(request);
  const auto one = Workings::of(request, medium_ml(request) * (1 + request.spare) / kMlPerL);
  if (!one) return one.error();
  const Store store(request, *one);
  const Reach reach = store.reach();
  if (!(reach.containers.value >= 1 && reach.containers.value <= kMostContainers)) {
    return Error{.problem = fmt::format("what there is of {} fills {:.2g} pots",
                                        request.recipe[reach.runs_out].material.name, reach.containers.value),
                 .allowed = fmt::format("for 1 to {} pots", kMostContainers),
                 .field = "stored"};
  }
  MediumRequest filled = request;
  filled.containers = static_cast<int>(std::floor(reach.containers.value + kRoundingSlack));
  auto answer = medium_for(filled);
  if (!answer) return answer.error();
  answer->obtained_l = one->estimate([&](const Worked& w) { return store.mix_l(w); });
  answer->containers_filled = reach.containers;
  answer->tub_wet_kg =
      one->estimate([&](const Worked& w) { return store.mix_l(w) * (w.bulk_density + w.capacity + w.inside); });
  answer->reach = reach;
  return answer;
}

}  // namespace strikebed::mix

// Published checks of containers, media and feeds.
#include <algorithm>
#include <array>
#include <optional>

#include "mix/container.hpp"
#include "mix/feed.hpp"
#include "mix/filter_rule.hpp"
#include "mix/flow.hpp"
#include "mix/medium.hpp"
#include "mix/packing.hpp"
#include "mix/pocket.hpp"
#include "mix/retention.hpp"
#include "nursery/checks/computations.hpp"

namespace strikebed::nursery {
namespace {

// Containers.

mix::Container frustum(mix::CrossSection section, double base, double top, double height, double fill) {
  return {section, base, top, height, fill};
}

template <mix::CrossSection section>
Computed frustum_volume(const CheckInputs& in) {
  Computed out;
  for (const auto& [base, top, height, fill] : in.rows<4>({"base_cm", "top_cm", "height_cm", "fill_cm"}))
    out.add("volume_ml", mix::filled_volume(frustum(section, base, top, height, fill)));
  return out;
}

Computed area_at_height(const CheckInputs& in) {
  Computed out;
  for (const auto& [base, top, height, z] : in.rows<4>({"base_cm", "top_cm", "height_cm", "z_cm"})) {
    out.add("round_cm2", mix::area_at(frustum(mix::CrossSection::round, base, top, height, height), z));
    out.add("square_cm2", mix::area_at(frustum(mix::CrossSection::square, base, top, height, height), z));
  }
  return out;
}

Computed medium_weights(const CheckInputs& in) {
  Computed out;
  for (const auto& [volume, bulk, porosity, capacity, inside] :
       in.rows<5>({"volume_l", "bulk_density_kg_l", "porosity", "capacity", "inside_water"})) {
    const mix::Weights weights = mix::weights_of(volume, bulk, porosity, capacity, inside);
    out.add("dry_kg", weights.dry_kg);
    out.add("drained_kg", weights.drained_kg);
    out.add("full_kg", weights.full_kg);
  }
  return out;
}

// Retention.

mix::PoreSpace curve(double theta_r, double theta_s, double alpha, double n) { return {{theta_s, theta_r, alpha, n}}; }

Computed retention_water(const CheckInputs& in) {
  Computed out;
  for (const auto& [suction, theta_r, theta_s, alpha, n] :
       in.rows<5>({"suction_cm", "theta_r", "theta_s", "alpha_per_cm", "n"}))
    out.add("theta", mix::water_at(curve(theta_r, theta_s, alpha, n), suction));
  return out;
}

Computed retention_of_grains(const CheckInputs& in) {
  Computed out;
  for (const auto& [d50, height, theta_r, theta_s, n] :
       in.rows<5>({"d50_mm", "height_cm", "theta_r", "theta_s", "n"})) {
    const double alpha = mix::draining_alpha_per_cm(d50);
    const mix::PoreSpace pores = curve(theta_r, theta_s, alpha, n);
    out.add("alpha_per_cm", alpha);
    out.add("air", mix::porosity(pores) - mix::column_capacity(pores, height));
  }
  return out;
}

Computed column_capacity(const CheckInputs& in) {
  Computed out;
  for (const auto& [height, theta_r, theta_s, alpha, n] :
       in.rows<5>({"height_cm", "theta_r", "theta_s", "alpha_per_cm", "n"})) {
    const mix::PoreSpace pores = curve(theta_r, theta_s, alpha, n);
    out.add("capacity", mix::column_capacity(pores, height));
    out.add("air", mix::porosity(pores) - mix::column_capacity(pores, height));
  }
  return out;
}

Computed container_capacity(const CheckInputs& in) {
  Computed out;
  for (const auto& [base, top, height, theta_r, theta_s, alpha, n] :
       in.rows<7>({"base_cm", "top_cm", "height_cm", "theta_r", "theta_s", "alpha_per_cm", "n"})) {
    const mix::PoreSpace pores = curve(theta_r, theta_s, alpha, n);
    out.add("capacity", mix::container_capacity(pores, frustum(mix::CrossSection::round, base, top, height, height)));
  }
  return out;
}

/// A medium known by its air in one height, in another.
Computed air_in_another_height(const CheckInputs& in) {
  Computed out;
  for (const auto& [porosity, residual, n, height, air, other] :
       in.rows<6>({"porosity", "residual", "n", "height_cm", "air", "other_height_cm"})) {
    const auto alpha = mix::alpha_for_air(porosity, residual, n, height, air);
    if (!alpha) return in.give_up("no alpha gives this air");
    const mix::PoreSpace pores = curve(residual, porosity, *alpha, n);
    out.add("air", porosity - mix::column_capacity(pores, other));
  }
  return out;
}

Computed rise_between_grains(const CheckInputs& in) {
  Computed out;
  for (const double grain : in.numbers("grain_mm"))
    out.add("rise_between_grains_cm", mix::rise_between_grains_cm(grain));
  return out;
}

Computed pocket_air(const CheckInputs& in) {
  Computed out;
  for (const auto& [d50, depth, suction, theta_r, theta_s, n] :
       in.rows<6>({"d50_mm", "depth_cm", "foot_suction_cm", "theta_r", "theta_s", "n"})) {
    const mix::PoreSpace sand = curve(theta_r, theta_s, mix::draining_alpha_per_cm(d50), n);
    out.add("air", mix::porosity(sand) - mix::mean_water(sand, suction, depth, [](double) { return 1.0; }));
  }
  return out;
}

Computed foot_suction(const CheckInputs& in) {
  Computed out;
  for (const auto& [d50, height, theta_r, theta_s, n] :
       in.rows<5>({"d50_mm", "foot_above_bottom_cm", "theta_r", "theta_s", "n"}))
    out.add("foot_suction_cm",
            mix::foot_suction_cm(curve(theta_r, theta_s, mix::draining_alpha_per_cm(d50), n), height));
  return out;
}

// Packing.

Computed furnas(const CheckInputs& in) {
  Computed out;
  for (const auto& [coarse, fine, share] : in.rows<3>({"packing_coarse", "packing_fine", "fine_share"}))
    out.add("packing", mix::furnas_packing(coarse, fine, share));
  if (in.has("packing_coarse"))
    out.add("best_coarse_share",
            1 - mix::furnas_best_fine_share(in.numbers("packing_coarse").front(), in.numbers("packing_fine").front()));
  return out;
}

/// Any number of sizes in one packing, or, where a share is a list, a fine one in a coarse one.
Computed de_larrard(const CheckInputs& in) {
  Computed out;
  for (const auto& [beta_coarse, beta_fine, ratio, fine] :
       in.rows<4>({"packing_coarse", "packing_fine", "size_ratio", "fine_share"})) {
    const std::array<mix::Grains, 2> two{{{1 - fine, beta_coarse, 1}, {fine, beta_fine, ratio}}};
    const std::array<mix::Grains, 2> other_order{two[1], two[0]};
    out.add("packing", mix::mixed_packing(two));
    out.add("other_order", mix::mixed_packing(other_order));
  }
  return out;
}

Computed several_sizes(const CheckInputs& in) {
  std::vector<mix::Grains> grains;
  for (const auto& [share, packing, size] : in.rows<3>({"share", "packing_alone", "size_mm"}))
    grains.push_back({share, packing, size});
  Computed out;
  out.add("packing", mix::mixed_packing(grains));
  return out;
}

Computed interaction(const CheckInputs& in) {
  Computed out;
  for (const double ratio : in.numbers("size_ratio")) {
    out.add("loosening", mix::loosening(ratio));
    out.add("wall_effect", mix::wall_effect(ratio));
  }
  return out;
}

Computed shrinkage_of_two(const CheckInputs& in) {
  Computed out;
  for (const auto& [coarse, fine, porosity] : in.rows<3>({"coarse_l", "fine_l", "porosity_coarse"})) {
    const double volume = mix::mixed_volume_of_two(coarse, fine, porosity);
    out.add("volume_l", volume);
  }
  return out;
}

Computed mixed_volume(const CheckInputs& in) {
  std::vector<mix::Poured> poured;
  double loose = 0;
  for (const auto& [volume, packing, size] : in.rows<3>({"volume_l", "packing_alone", "size_mm"})) {
    poured.push_back({volume, packing, size});
    loose += volume;
  }
  const mix::Mixture mixture = in.value_of(mix::mixed(poured, in.number("achieved")));
  Computed out;
  out.add("volume_l", mixture.volume);
  out.add("shrinkage", mixture.shrinkage(loose));
  out.add("porosity", 1 - mixture.packing);
  return out;
}

// The filter rule.

std::string staying_word(mix::Staying staying) {
  return staying == mix::Staying::stays ? "stays" : staying == mix::Staying::slowly_lost ? "slowly lost" : "washes in";
}

Computed filter_ratio(const CheckInputs& in) {
  Computed out;
  for (const auto& [coarse_low, coarse_high, fine_low, fine_high] :
       in.rows<4>({"coarse_low_mm", "coarse_high_mm", "fine_low_mm", "fine_high_mm"})) {
    const double d15 = mix::GrainRange{coarse_low, coarse_high}.finer_mm(0.15);
    const mix::GrainRange fine{fine_low, fine_high};
    out.add("d15_mm", d15);
    out.add("ratio", d15 / fine.finer_mm(0.85));
    out.add("drainage_ratio", d15 / fine.finer_mm(0.15));
    out.add("staying", staying_word(mix::staying(d15, fine.finer_mm(0.85))));
    out.add("finest_d85_mm", mix::finest_d85_that_stays(d15));
    out.add("finest_d85_older_mm", mix::finest_d85_that_stays(d15, mix::kOlderRetainingRatio));
  }
  return out;
}

Computed throats(const CheckInputs& in) {
  Computed out;
  for (const double diameter : in.numbers("diameter_mm")) {
    out.add("dense_mm", mix::dense_throat_mm(diameter));
    out.add("cubic_mm", mix::cubic_throat_mm(diameter));
  }
  return out;
}

Computed mixed_grading(const CheckInputs& in) {
  std::vector<mix::Graded> parts;
  for (const auto& [low, high, share] : in.rows<3>({"low_mm", "high_mm", "part_share"}))
    parts.push_back({{low, high}, share});
  Computed out;
  for (const double share : in.numbers("finer_share")) out.add("size_mm", mix::finer_mm(parts, share));
  return out;
}

Computed bridge(const CheckInputs& in) {
  Computed out;
  for (const auto& [coarse_d15, fine_d85] : in.rows<2>({"coarse_d15_mm", "fine_d85_mm"})) {
    const auto layer = mix::bridge_layer(coarse_d15, fine_d85);
    if (!layer) {
      out.add("layer", "none");
      continue;
    }
    out.add("layer", "one");
    out.add("lower_mm", layer->low_mm);
    out.add("upper_mm", layer->high_mm);
    out.add("on_coarse", staying_word(mix::staying(coarse_d15, layer->finer_mm(0.85))));
    out.add("fine_on_it", staying_word(mix::staying(layer->finer_mm(0.15), fine_d85)));
  }
  return out;
}

// Flow.

Computed conductivity_by_porosity(const CheckInputs& in) {
  Computed out;
  std::optional<double> first;
  for (const auto& [porosity, d10, temperature] : in.rows<3>({"porosity", "d10_mm", "temperature_c"})) {
    const double conductivity = mix::kozeny_carman_m_s(porosity, d10, temperature);
    if (!first) first = conductivity;
    out.add("m_s", conductivity);
    out.add("of_the_first", conductivity / *first);
  }
  return out;
}

Computed conductivity_by_grain(const CheckInputs& in) {
  Computed out;
  for (const double d10 : in.numbers("d10_mm")) out.add("cm_s", mix::hazen_cm_s(d10));
  return out;
}

Computed viscosity(const CheckInputs& in) {
  Computed out;
  for (const double temperature : in.numbers("temperature_c")) out.add("pa_s", mix::water_viscosity_pa_s(temperature));
  return out;
}

// Feeds.

mix::FeedRequest feed_of_labels(const CheckInputs& in) {
  mix::FeedRequest request;
  for (const std::string& label : in.texts("label"))
    request.fertilisers.push_back({in.value_of(mix::parse_label(label, "label")), std::nullopt});
  request.volume_l = in.value_of(mix::parse_positive(in.text("volume"), mix::Dimension::volume, "volume")) / 1000;
  request.scale_g = 1e-6;  // the arithmetic, not the scale
  return request;
}

mix::FeedRequest feed_request(const CheckInputs& in) {
  mix::FeedRequest request = feed_of_labels(in);
  if (in.has("target")) request.target = in.value_of(mix::parse_target(in.text("target"), "target"));
  if (in.has("grams")) request.grams = {in.number("grams")};
  if (in.has("injector")) request.injector = in.value_of(mix::parse_ratio(in.text("injector"), "injector"));
  if (in.has("misfit")) request.misfit_allowed = in.number("misfit");
  if (in.has("ec")) {
    const std::vector<std::string> ecs = in.texts("ec");
    if (ecs.size() > request.fertilisers.size()) in.give_up("more ec than labels");
    for (std::size_t i = 0; i < std::min(ecs.size(), request.fertilisers.size()); ++i)
      request.fertilisers[i].conductivity = in.value_of(mix::parse_conductivity(ecs[i], "ec"));
  }
  if (in.has("water_ec")) request.water_ec = in.number("water_ec");
  return request;
}

void add_weights(Computed& out, const mix::FeedAnswer& answer) {
  const double ounce = mix::find_unit("oz").value()->in_base;
  for (const mix::Weighed& one : answer.weigh) {
    out.add("grams", one.grams);
    out.add("ounces", one.grams / ounce);
  }
}

Computed feed_weights(const CheckInputs& in) {
  const mix::FeedRequest request = feed_request(in);
  if (in.given_up()) return {};
  const Result<mix::FeedAnswer> fed = mix::make_feed(request);
  if (!fed) return in.give_up(fed.error().message());
  const mix::FeedAnswer& answer = *fed;
  Computed out;
  add_weights(out, answer);
  out.add("n_ppm", answer.nutrients[0].obtained.value);
  out.add("p_ppm", answer.nutrients[1].obtained.value);
  out.add("k_ppm", answer.nutrients[2].obtained.value);
  out.add("feed_l", answer.feed_l);
  if (answer.feed_ec) out.add("ec_ds_m", *answer.feed_ec);
  return out;
}

/// Every target with every injector.
Computed injector_chart(const CheckInputs& in) {
  mix::FeedRequest request = feed_of_labels(in);
  Computed out;
  for (const std::string& target : in.texts("target")) {
    request.target = in.value_of(mix::parse_target(target, "target"));
    for (const std::string& injector : in.texts("injector")) {
      request.injector = in.value_of(mix::parse_ratio(injector, "injector"));
      if (in.given_up()) return {};
      const auto fed = mix::make_feed(request);
      if (!fed) return in.give_up(fed.error().message());
      add_weights(out, *fed);
    }
  }
  return out;
}

Computed oxides(const CheckInputs&) {
  Computed out;
  out.add("p_in_p2o5", mix::kPhosphorusInOxide);
  out.add("k_in_k2o", mix::kPotassiumInOxide);
  return out;
}

}  // namespace

Computations mix_medium_computations() {
  return {{"frustum_volume_round", frustum_volume<mix::CrossSection::round>},
          {"frustum_volume_square", frustum_volume<mix::CrossSection::square>},
          {"area_at_height", area_at_height},
          {"medium_weights", medium_weights},
          {"retention_water", retention_water},
          {"retention_of_grains", retention_of_grains},
          {"column_capacity", column_capacity},
          {"container_capacity", container_capacity},
          {"air_in_another_height", air_in_another_height},
          {"rise_between_grains", rise_between_grains},
          {"pocket_air", pocket_air},
          {"foot_suction", foot_suction},
          {"furnas", furnas},
          {"de_larrard", de_larrard},
          {"several_sizes", several_sizes},
          {"interaction", interaction},
          {"shrinkage_of_two", shrinkage_of_two},
          {"mixed_volume", mixed_volume},
          {"filter_ratio", filter_ratio},
          {"throats", throats},
          {"mixed_grading", mixed_grading},
          {"bridge", bridge},
          {"conductivity_by_porosity", conductivity_by_porosity},
          {"conductivity_by_grain", conductivity_by_grain},
          {"viscosity", viscosity},
          {"feed_weights", feed_weights},
          {"injector_chart", injector_chart},
          {"oxides", oxides}};
}

}  // namespace strikebed::nursery

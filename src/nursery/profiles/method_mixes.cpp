#include "nursery/profiles/method_mixes.hpp"

#include <algorithm>
#include <array>
#include <string_view>
#include <utility>

#include "mix/recipe.hpp"

namespace strikebed::nursery {
namespace {

constexpr double kMmPerCm = 10;

/// The error with the method's own key for the field of the request that is wrong; `otherwise` where it has none.
Error in_method(Error error, std::string_view otherwise) {
  constexpr std::array<std::pair<std::string_view, std::string_view>, 8> kKeys{{
      {"container.base_cm", "container_bottom_mm"},
      {"container.top_cm", "container_top_mm"},
      {"container.height_cm", "container_height_mm"},
      {"container.fill_cm", "container_height_mm"},
      {"pocket.width_cm", "pocket_width_mm"},
      {"pocket.depth_cm", "pocket_depth_mm"},
      {"stem_depth_cm", "stem_length_mm"},
      {"pockets", "cuttings_per_container"},
  }};
  const auto key = std::ranges::find(kKeys, error.field, &std::pair<std::string_view, std::string_view>::first);
  error.field = key == kKeys.end() ? otherwise : key->second;
  return error;
}

}  // namespace

Result<mix::MediumRequest> container_of(const growth::Method& method, const Library& library) {
  mix::MediumRequest request;
  const auto recipe = mix::parse_recipe(method.medium, "medium");
  if (!recipe) return recipe.error();
  for (const mix::NamedPart& part : *recipe) {
    auto material = find_material(library, part.material, part.grains, "medium");
    if (!material) return in_method(material.error(), "medium");
    request.recipe.push_back({part.parts, std::move(*material), part.lost});
  }
  const double height_cm = method.container_height_mm.typical() / kMmPerCm;
  const auto container = mix::checked(mix::Container{.section = method.container == growth::ContainerShape::round
                                                                    ? mix::CrossSection::round
                                                                    : mix::CrossSection::square,
                                                     .base_cm = method.container_bottom_mm.typical() / kMmPerCm,
                                                     .top_cm = method.container_top_mm.typical() / kMmPerCm,
                                                     .height_cm = height_cm,
                                                     .fill_cm = mix::usual_fill_cm(height_cm)});
  if (!container) return in_method(container.error(), "container");
  request.container = *container;

  const auto sand = mix::parse_recipe("1 " + method.pocket_sand, "pocket_sand");
  if (!sand) return sand.error();
  auto material = find_material(library, sand->front().material, sand->front().grains, "pocket_sand");
  if (!material) return in_method(material.error(), "pocket_sand");
  request.pockets = mix::PocketPlan{
      .sand = std::move(*material),
      .pocket = {method.pocket_width_mm.typical() / kMmPerCm, method.pocket_depth_mm.typical() / kMmPerCm},
      .per_container = static_cast<int>(method.cuttings_per_container.typical())};
  request.stem_depth_cm = method.stem_length_mm.typical() / kMmPerCm;  // set up to the needles
  if (const auto wrong = mix::wrong_request(request)) return in_method(*wrong, "medium");
  return request;
}

mix::SolutionRequest filling_of(const growth::Method& method, const mix::Stock& stock) {
  const double ppm = method.auxin_ppm.typical();
  mix::SolutionRequest request;
  request.stock = stock;
  request.target = mix::AuxinTarget{.auxin = std::nullopt,
                                    .mmol = mix::mm_from_ppm(ppm, mix::auxin_of(mix::Acid::iba)),
                                    .number = ppm,
                                    .unit = "ppm"};
  request.bath = mix::Bath{.filling = mix::Filling::made_up_to,
                           .amount = {method.solution_ml_per_fill.typical(), 0},
                           .words = "one filling",
                           .of_talc = false};
  return request;
}

}  // namespace strikebed::nursery

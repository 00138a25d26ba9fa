#include "mix/container.hpp"

#include <fmt/format.h>

#include <numbers>

#include "mix/limits.hpp"

namespace strikebed::mix {
namespace {

/// Area over width squared.
double shape_factor(CrossSection section) { return section == CrossSection::round ? std::numbers::pi / 4 : 1; }

Error too_far(const char* field, double found_cm, double most_cm) {
  return {.problem = fmt::format("found {} cm", found_cm),
          .allowed = fmt::format("above 0, at most {} cm, inside the container", most_cm),
          .field = field};
}

}  // namespace

Result<Container> checked(const Container& container) {
  if (!above_zero_to(container.base_cm, kWidestContainerCm)) {
    return too_far("container.base_cm", container.base_cm, kWidestContainerCm);
  }
  if (!above_zero_to(container.top_cm, kWidestContainerCm)) {
    return too_far("container.top_cm", container.top_cm, kWidestContainerCm);
  }
  if (!above_zero_to(container.height_cm, kTallestContainerCm)) {
    return Error{.problem = fmt::format("a container {} cm tall is outside what the model of drained pots covers",
                                        container.height_cm),
                 .allowed = fmt::format("above 0, at most {} cm, inside the container", kTallestContainerCm),
                 .field = "container.height_cm"};
  }
  if (!above_zero_to(container.fill_cm, container.height_cm)) {
    return Error{
        .problem = fmt::format("found {} cm in a container {} cm tall", container.fill_cm, container.height_cm),
        .allowed = "above 0, at most the height of the container",
        .field = "container.fill_cm"};
  }
  return container;
}

double usual_fill_cm(double height_cm) {
  constexpr double kRimCm = 1;
  constexpr double kTallEnoughForARimCm = 10;
  return height_cm >= kTallEnoughForARimCm ? height_cm - kRimCm : height_cm * (1 - kRimCm / kTallEnoughForARimCm);
}

double width_at(const Container& c, double z_cm) { return c.base_cm + (c.top_cm - c.base_cm) * z_cm / c.height_cm; }

double area_at(const Container& c, double z_cm) {
  const double width = width_at(c, z_cm);
  return shape_factor(c.section) * width * width;
}

double volume_below(const Container& c, double z_cm) {
  const double top = width_at(c, z_cm);
  return shape_factor(c.section) * z_cm * (c.base_cm * c.base_cm + c.base_cm * top + top * top) / 3;
}

double filled_volume(const Container& c) { return volume_below(c, c.fill_cm); }

}  // namespace strikebed::mix

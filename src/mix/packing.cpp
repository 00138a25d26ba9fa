#include "mix/packing.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "mix/limits.hpp"

namespace strikebed::mix {

double furnas_packing(double packing_coarse, double packing_fine, double fine_share) {
  const double coarse_share = 1 - fine_share;
  const double fines_fill = packing_fine / (1 - (1 - packing_fine) * coarse_share);
  return coarse_share > 0 ? std::min(packing_coarse / coarse_share, fines_fill) : fines_fill;
}

double furnas_best_fine_share(double packing_coarse, double packing_fine) {
  // Where fines just fill the coarse pores: fine = (1 - coarse) packing_fine.
  const double fine = (1 - packing_coarse) * packing_fine;
  return fine / (packing_coarse + fine);
}

double mixed_volume_of_two(double coarse, double fine, double porosity_coarse) {
  return std::max(coarse, coarse * (1 - porosity_coarse) + fine);
}

double loosening(double size_ratio) { return std::sqrt(1 - std::pow(1 - size_ratio, 1.02)); }
double wall_effect(double size_ratio) { return 1 - std::pow(1 - size_ratio, 1.5); }

double mixed_packing(std::span<const Grains> grains) {
  double densest = 1;
  for (const Grains& filling : grains) {
    if (filling.share <= 0) continue;
    double gained = 0;
    for (const Grains& other : grains) {
      if (&other == &filling || other.share <= 0) continue;
      if (other.diameter_mm > filling.diameter_mm) {
        const double b = wall_effect(filling.diameter_mm / other.diameter_mm);
        gained += (1 - filling.packing + b * filling.packing * (1 - 1 / other.packing)) * other.share;
      } else {
        const double a = loosening(other.diameter_mm / filling.diameter_mm);
        gained += (1 - a * filling.packing / other.packing) * other.share;
      }
    }
    densest = std::min(densest, filling.packing / (1 - gained));
  }
  return densest;
}

Result<Mixture> mixed(std::span<const Poured> components, double achieved) {
  double loose = 0;
  double solid = 0;
  for (const Poured& part : components) {
    if (!(part.volume >= 0)) return Error{.problem = "a component's volume is negative", .allowed = "0 or more"};
    if (!between(part.packing, 0, 1)) {
      return Error{.problem = "a component's packing is not between 0 and 1", .allowed = "above 0, below 1"};
    }
    if (!(part.diameter_mm > 0)) return Error{.problem = "a component's grains have no size", .allowed = "above 0 mm"};
    loose += part.volume;
    solid += part.volume * part.packing;
  }
  if (!(loose > 0)) return Error{.problem = "the recipe sums to nothing", .allowed = "at least one part above 0"};

  std::vector<Grains> grains;
  for (const Poured& part : components)
    grains.push_back({part.volume * part.packing / solid, part.packing, part.diameter_mm});
  // Components that disturb each other more than they fill may come out looser than apart; hands do not loosen a mix.
  const double densest = std::max(mixed_packing(grains), solid / loose);

  Mixture mixture;
  mixture.volume = loose - achieved * (loose - solid / densest);
  mixture.packing = solid / mixture.volume;

  std::vector<std::size_t> widest_first(components.size());
  std::iota(widest_first.begin(), widest_first.end(), 0U);
  std::stable_sort(widest_first.begin(), widest_first.end(),
                   [&](std::size_t a, std::size_t b) { return components[a].diameter_mm > components[b].diameter_mm; });
  mixture.pores.resize(components.size());
  double lost = loose - mixture.volume;
  for (const std::size_t i : widest_first) {
    const double own = components[i].volume * (1 - components[i].packing);
    const double taken = std::min(own, lost);
    lost -= taken;
    mixture.pores[i] = (own - taken) / mixture.volume;
  }
  return mixture;
}

}  // namespace strikebed::mix

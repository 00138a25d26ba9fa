#include "nursery/half_of_world.hpp"

#include <fmt/format.h>

namespace strikebed::nursery {

std::optional<Error> wrong_half_of_world(double latitude_deg, const climate::SolsticeMeans& means,
                                         std::string_view whose) {
  constexpr double kPlainlyWarmer_c = 3;
  const bool north = latitude_deg >= 0;
  const double warmer_c =
      (means.december_to_february_c - means.june_to_august_c) * (north ? 1 : -1);  // than north or south would have it
  if (warmer_c < kPlainlyWarmer_c) return std::nullopt;
  return Error{
      .problem = fmt::format("found {} ({}), but {} {} the summer of the {}: {:.1f} °C from December to February and "
                             "{:.1f} °C from June to August; is the minus sign {}?",
                             latitude_deg, north ? "north" : "south", whose, whose.ends_with('s') ? "have" : "has",
                             north ? "south" : "north", means.december_to_february_c, means.june_to_august_c,
                             north ? "missing" : "meant"),
      .allowed = fmt::format("{}, {} of the equator; or weather of the place itself, January first", -latitude_deg,
                             north ? "south" : "north")};
}

}  // namespace strikebed::nursery

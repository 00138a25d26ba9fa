#pragma once
// A latitude against the months that go with it: the minus sign of the south is easily forgotten.
#include <optional>
#include <string_view>

#include "base/result.hpp"
#include "climate/statistics.hpp"

namespace strikebed::nursery {

/// What speaks against a latitude, if anything: months that have the summer of the other half of the world, by 3 °C or
/// more. Near the equator, where rains cool the summer, no place comes near that.
///   whose  the record or the normals, for the message
[[nodiscard]] std::optional<Error> wrong_half_of_world(double latitude_deg, const climate::SolsticeMeans& means,
                                                       std::string_view whose);

}  // namespace strikebed::nursery

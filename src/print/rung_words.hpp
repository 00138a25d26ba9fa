#pragma once
// The rates of the chain as a grower reads them.
#include <string>
#include <string_view>

#include "growth/rungs.hpp"

namespace strikebed::print {

/// What a share of this rung means, after its percent: "of the cuttings root".
[[nodiscard]] std::string_view rung_words(growth::Rung rung);

/// "65 (30 to 90) %".
///   typical, low, high  shares
[[nodiscard]] std::string share_range_words(double typical, double low, double high);

}  // namespace strikebed::print

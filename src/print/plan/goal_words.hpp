#pragma once
// What is wanted, in words.
#include <string>
#include <string_view>
#include <vector>

#include "season/goal.hpp"

namespace strikebed::print {

[[nodiscard]] std::string want_name(const season::Goal& goal,
                                    std::size_t want);  ///< "radial"; with the method if two are alike
[[nodiscard]] std::string counts_words(const season::Goal& goal, const std::vector<int>& counts);
[[nodiscard]] std::string wanted_words(const season::Goal& goal);  ///< "60 radial and 8 single-root"
[[nodiscard]] std::string state_words(season::CountAt count_at);   ///< "weaned"

}  // namespace strikebed::print

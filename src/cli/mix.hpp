#pragma once
// `strikebed mix ...`: one table of options for each thing that is mixed, in a file of its own.
#include "cli/option_table.hpp"

namespace strikebed::cli {

[[nodiscard]] CommandTable mix_solution();      // mix_solution.cpp
[[nodiscard]] CommandTable mix_medium();        // mix_medium.cpp
[[nodiscard]] CommandTable mix_feed();          // mix_feed.cpp
[[nodiscard]] CommandTable mix_disinfectant();  // mix_disinfectant.cpp

}  // namespace strikebed::cli

#pragma once
// What a grower's own seasons have taught of the values of a profile.
#include <optional>
#include <string>
#include <vector>

#include "print/forecast_shown.hpp"
#include "season/learnt_values.hpp"

namespace strikebed::print {

struct OwnValues {
  struct Season {
    Date from, until;
    int entries;
    std::vector<EarlierForecast> foretold;
    std::optional<int> came_true;  ///< plants that count, all wants together
  };
  const season::Goal& before;
  const season::Goal& after;
  std::vector<Season> seasons = {};
  std::vector<season::LearntValues> learnt = {};  ///< [season]; nothing where a profile held it already
  const std::vector<std::string>& remarks;
};

[[nodiscard]] std::string own_values_text(const OwnValues& values, int width);
[[nodiscard]] std::string own_values_json(const OwnValues& values);

}  // namespace strikebed::print

#pragma once
// The season on one time line, for the text chart and the picture.
#include <optional>
#include <string>
#include <vector>

#include "season/goal.hpp"
#include "season/plan.hpp"

namespace strikebed::print {

[[nodiscard]] Date month_after(Date month);  ///< first day of the month after the one `month` is in

struct SeasonRow {
  std::string name;
  std::optional<season::DateSpread> band;
  std::vector<Date> marks;  ///< single days
};
struct SeasonChart {
  Date from;  ///< first day of a month
  Date to;    ///< first day of the month after the last
  std::vector<SeasonRow> rows;
  std::vector<Date> months;  ///< first days of the months from `from`
};
[[nodiscard]] SeasonChart season_chart(const season::Goal& goal, const season::Plan& plan);

}  // namespace strikebed::print

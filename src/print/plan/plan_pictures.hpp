#pragma once
// The pictures of a plan, each an SVG element for the page. A picture that would be empty is an empty string.
#include <string>
#include <string_view>

#include "season/goal.hpp"
#include "season/plan.hpp"

namespace strikebed::print {

/// The season as bands over the months, with the sowing, the sessions and the date to meet. `width` in units of which
/// letters are 13 high: 340 for a phone, 760 for a sheet. `id` unique on the page.
[[nodiscard]] std::string season_picture(const season::Goal& goal, const season::Plan& plan, double width,
                                         std::string_view id);
/// Assurance against seeds, with what was asked and what the plan says.
[[nodiscard]] std::string curve_picture(const season::Goal& goal, const season::Plan& plan);
/// The fewest seeds for each sowing date; a cross where no number is enough.
[[nodiscard]] std::string sweep_picture(const season::Goal& goal, const season::Plan& plan);
/// Cuttings in each session that its table shows (bench_days), stacked by want, with 5 to 95 % whiskers and the cap.
/// `width` and `id` as in season_picture; up to half a sheet it is as high as the table beside it.
[[nodiscard]] std::string sessions_picture(const season::Goal& goal, const season::Plan& plan, double width,
                                           std::string_view id);
/// Seeds saved by knowing each uncertain quantity.
[[nodiscard]] std::string unknowns_picture(const season::Goal& goal, const season::Plan& plan);
/// How many plants are left at each stage, and why the others are not.
[[nodiscard]] std::string stages_picture(const season::Plan& plan);
/// Plants counted at the date, per want, against the number asked for.
[[nodiscard]] std::string counted_picture(const season::Goal& goal, const season::Plan& plan);

}  // namespace strikebed::print

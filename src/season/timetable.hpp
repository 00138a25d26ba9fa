#pragma once
// What happens when, and how many: the plan's sessions, bands, calendar and counts, read off the futures.
#include <span>

#include "season/model.hpp"
#include "season/plan.hpp"

namespace strikebed::season {

/// The 5, 50 and 95 % points of a sample (sorted in place; linear between order statistics; all 0 when empty).
[[nodiscard]] Spread spread_of(std::vector<double>& sample);

/// Fills sessions, counted, needs.wants[].cuttings, needs.cuttings, count_date, emerged, bands, calendar and remarks of
/// a plan that already has its seeds, shares and sowing dates.
void fill_timetable(const Model& model, std::span<const Sowing> sowings, Plan& plan);

}  // namespace strikebed::season

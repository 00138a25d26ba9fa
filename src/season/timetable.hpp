#pragma once
// What happens when, and how many: the plan's sessions, bands, calendar and counts, read off the futures.
#include <cstddef>
#include <span>
#include <utility>
#include <vector>

#include "season/model.hpp"
#include "season/plan.hpp"

namespace strikebed::season {

/// From what is struck at each session: the first, and one past the last, of those before and after which there is not
/// one cutting in a hundred.
[[nodiscard]] std::pair<std::size_t, std::size_t> without_tails(std::span<const double> struck);

/// Fills sowings and sow_dates of a plan that already has its seeds.
void fill_sowings(const Model& model, std::span<const Sowing> sowings, Plan& plan);

/// Fills sessions, counted, needs.wants[].cuttings, needs.cuttings, count_date, emerged, bands, calendar and remarks of
/// a plan that already has its seeds, shares and sowings, and what is expected of each of these.
void fill_timetable(const Model& model, std::span<const Sowing> sowings, Plan& plan);

}  // namespace strikebed::season

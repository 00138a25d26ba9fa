#pragma once
// Where a group of seedlings stands in its windows, and what its ripeness does to the take.
#include <cstddef>

#include "growth/stages.hpp"

namespace strikebed::season {

/// Position in the window, 0 as it opens, 1 as it closes: mean and sd of a group.
struct WindowPlace {
  float position;
  float sd;
};

/// From the warmth now and the means and sds at which the group's windows open and close, on one clock. Between the two
/// the sd runs straight.
inline WindowPlace place_in_window(float now, float opened, float opened_sd, float closes, float closes_sd) {
  const float length = closes - opened > 1 ? closes - opened : 1;
  const float position = (now - opened) / length;
  return {position, (opened_sd * (1 - position) + closes_sd * position) / length};
}

/// Those of a normal group whose windows are still open (below 1): their mean and sd.
[[nodiscard]] WindowPlace leave_out_closed(WindowPlace place);

/// The log odds of take are a parabola in the position, so their mean over a group needs no more than the variance.
inline float mean_log_odds(WindowPlace place, float edge_log_odds) {
  return growth::take_log_odds(place.position, edge_log_odds) + 4 * edge_log_odds * place.sd * place.sd;
}

/// log_odds[s] += mean_log_odds of the group that is met at session s, for all sessions.
void add_log_odds(std::size_t n, const float* __restrict now, const float* __restrict opened,
                  const float* __restrict opened_sd, const float* __restrict closes, const float* __restrict closes_sd,
                  float edge_log_odds, float* __restrict log_odds);

}  // namespace strikebed::season

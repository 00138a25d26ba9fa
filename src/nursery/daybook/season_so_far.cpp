#include "nursery/daybook/season_so_far.hpp"

#include <utility>

namespace strikebed::nursery {

Result<SeasonSoFar> season_so_far(const DaybookRequest& request, daybook::Fold& fold, const Library& library) {
  auto known = goal_so_far(request, fold, library);
  if (!known.ok()) return known.error();
  SeasonSoFar so_far{.goal_so_far = std::move(*known), .seen = {}, .study = {}};
  season::Goal& goal = so_far.goal_so_far.goal;
  so_far.seen = season_seen(goal, so_far.goal_so_far.season, fold);
  if (!so_far.seen.sown.empty()) goal.sown = so_far.seen.sown;
  so_far.seen.observed.sowings.resize(goal.sown.size());
  goal.sow_on.reset();
  goal.seeds_in_hand.reset();
  if (goal.by <= goal.today) return so_far;
  so_far.span = season::weather_span(goal, &so_far.seen.observed);
  auto seasons = so_far.goal_so_far.weather.seasons(so_far.span.first, so_far.span.days, goal.today, season::kFutures,
                                                    request.random_seed);
  if (!seasons.ok()) return seasons.error();
  so_far.study = std::make_unique<season::Study>(
      goal, std::move(*seasons),
      season::StudyOptions{.seed = request.random_seed,
                           .workers = request.workers,
                           .seen = std::make_shared<const season::Observed>(so_far.seen.observed)});
  return so_far;
}

}  // namespace strikebed::nursery

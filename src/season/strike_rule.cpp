#include "season/strike_rule.hpp"

#include <algorithm>
#include <cmath>

#include "base/random.hpp"
#include "evidence/rate_curve.hpp"
#include "growth/hardiness.hpp"
#include "season/winter_ahead.hpp"

namespace strikebed::season {
namespace {

constexpr double kNone = 1e-9;   // of what is struck becomes a plant: as good as nothing
constexpr double kTake = 0.5;    // a logit moves a share of about this size by so much of itself
constexpr double kStill = 1e-6;  // of the window: nothing ripens between two sessions

/// The hazard that a stage has met by the start of each day, as the mean of what lives through each day says.
std::vector<double> usual_hazard(const ThermalSum& clock, const Frost& frost, double idle, double frost_scale,
                                 int seasons) {
  std::vector<double> met{0};
  for (int d = 0; d < clock.days(); ++d) {
    double alive = 0;
    for (int s = 0; s < seasons; ++s) {
      const float* const by_day = clock.season(s);
      const float* const doses = frost.season(s);
      const double still = static_cast<double>(growth::idle_part(by_day[d + 1] - by_day[d]));
      const double dose = doses ? static_cast<double>(doses[d]) : 0;
      alive += still > 0 || dose > 0 ? std::exp(-idle * still - frost_scale * dose) : 1;
    }
    met.push_back(met.back() - std::log(std::max(alive / seasons, kNone)));
  }
  return met;
}

/// What the rule looks at, by day.
struct UsualSeason {
  std::vector<double> ripening, rooting;    ///< clocks at the start of each day
  std::vector<double> seedlings, cuttings;  ///< hazards met by then

  UsualSeason(const Goal& goal, const ThermalSums& sums) {
    const int seasons = std::min(sums.seasons, kUsualSeasons);
    const growth::Species& species = goal.species;
    const double idle = growth::idle_hazard(species.idle_loss.typical());
    const auto scale = [](const ProfileValue& half) { return std::exp(growth::log_frost_scale(half.typical())); };
    ripening = sums.ripening.usual(seasons);
    rooting = sums.rooting.usual(seasons);
    seedlings = usual_hazard(sums.ripening, sums.seedbed_frost, idle, scale(species.seedling_frost_c), seasons);
    cuttings = usual_hazard(sums.rooting, sums.bench_frost, idle, scale(species.cutting_frost_c), seasons);
  }
};

/// Of what is struck on a day, the share that roots while it lives and in time, and lives through the winter if one
/// comes between.
class Worth {
 public:
  Worth(const Goal& goal, const ThermalSums& sums, const UsualSeason& usual)
      : goal_(goal), sums_(sums), usual_(usual), winter_ahead_(goal, sums) {
    const growth::Species& species = goal.species;
    const int weaned_in = goal.reaches(Rung::weaning) ? static_cast<int>(species.weaning_days.typical()) : 0;
    last_ = static_cast<int>((goal.ready_by() - sums.first).count()) - weaned_in;
    log_median_ = std::log(species.rooting_time.typical());
    spread_ = std::hypot(species.rooting_spread.typical(), log_sd_of(species.rooting_time.quantity));
    winter_ = evidence::RateCurve(goal.rates[Rung::winter]).rate(0, 0);
  }
  [[nodiscard]] double on(int day) const {
    const int until = std::clamp(std::min(last_, day + goal_.species.unrooted_life()), day, sums_.days);
    const double winter = std::pow(winter_, winter_ahead_.part(day));
    if (of(usual_.cuttings, until) - of(usual_.cuttings, day) < kStill) return winter * rooted(day, until);
    double share = 0;
    double before = 0;
    for (int d = day + 1; d <= until; ++d) {
      const double now = rooted(day, d);
      share += (now - before) * std::exp(of(usual_.cuttings, day) - of(usual_.cuttings, d));
      before = now;
    }
    return winter * share;
  }

 private:
  static double of(const std::vector<double>& by_day, int day) { return by_day[static_cast<std::size_t>(day)]; }
  [[nodiscard]] double rooted(int from, int to) const {
    const double warmth = of(usual_.rooting, to) - of(usual_.rooting, from);
    return warmth > 0 ? normal_share_below((std::log(warmth) - log_median_) / spread_) : 0;
  }

  const Goal& goal_;
  const ThermalSums& sums_;
  const UsualSeason& usual_;
  WinterAhead winter_ahead_;
  int last_;
  double log_median_, spread_, winter_;
};

}  // namespace

std::vector<float> strike_places(const std::vector<int>& days, const Goal& goal, const ThermalSums& sums,
                                 double patience) {
  const growth::Species& species = goal.species;
  const UsualSeason usual(goal, sums);
  const Worth worth(goal, sums, usual);
  const double window = std::max(species.window_end_time.typical() - species.ripening_time.typical(), 1.0);
  const double edge = (1 - kTake) * 4 * std::max(-std::log(species.edge_odds.typical()), kStill);
  std::vector<double> log_worth;  // of being struck at a session, and of living until then as a seedling
  for (const int day : days) {
    log_worth.push_back(std::log(std::max(worth.on(day), kNone)) - usual.seedlings[static_cast<std::size_t>(day)]);
  }
  const auto step = [&](std::size_t from, std::size_t to) {
    return std::max(
        (usual.ripening[static_cast<std::size_t>(days[to])] - usual.ripening[static_cast<std::size_t>(days[from])]) /
            window,
        kStill);
  };
  std::vector<float> places(days.size());
  for (std::size_t s = 0; s + 1 < days.size(); ++s) {
    // Waiting from s to t pays while what the take gains on the way to the middle, with what the later strike is worth
    // more, is above 0: edge * step * (1 - place at s - place at t) > -gain. Whoever has closed by t cannot.
    double wait_below = -1;
    for (std::size_t t = s + 1; t < days.size(); ++t) {
      const double moved = step(s, t);
      if (moved >= 1) break;
      const double mean_place = 0.5 * (1 + (log_worth[t] - log_worth[s]) / (edge * moved));
      wait_below = std::max(wait_below, std::min(1 - moved, mean_place - moved / 2));
    }
    places[s] = static_cast<float>(patience * std::clamp(wait_below + step(s, s + 1) / 2, 0.0, 1.0));
  }
  return places;
}

}  // namespace strikebed::season

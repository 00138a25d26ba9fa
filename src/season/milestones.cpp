#include "season/milestones.hpp"

#include <algorithm>
#include <cmath>

#include "season/timetable.hpp"

namespace strikebed::season {
namespace {

constexpr int kFutures = 512;
constexpr float kOneInTen = 1.2815516F;     // standard normal score of the share beyond
constexpr float kOneInTwenty = 1.6448536F;  // the same

/// The first day by whose morning a clock has gained so much since another; the last day where it never does.
int day_after(const float* clock, int from, int last, float gained) {
  return static_cast<int>(std::lower_bound(clock + from, clock + last, clock[from] + gained) - clock);
}

/// A day of each future, and how much it counts.
class DaysOfFutures {
 public:
  void add(int day, double weight) { days_.push_back({static_cast<double>(day), weight}); }
  [[nodiscard]] DateSpread dates(Date first) const {
    const Spread spread = spread_of(days_);
    const auto date = [&](double day) { return first + Days{static_cast<int>(std::lround(day))}; };
    return {date(spread.low), date(spread.typical), date(spread.high)};
  }

 private:
  std::vector<Weighed> days_;
};

int looked_at(const Model& model) { return std::min(kFutures, model.futures().count()); }

}  // namespace

std::vector<SowingMilestones> milestones_of_sowings(const Study& study) {
  const Model& model = study.outlook(Look::whole).model();
  const ThermalSums& sums = model.sums();
  std::vector<SowingMilestones> milestones;
  for (std::size_t i = 0; i < model.goal().sown.size(); ++i) {
    const int sown = model.day(model.goal().sown[i].on);
    DaysOfFutures first_up;
    DaysOfFutures all_up;
    DaysOfFutures ready;
    for (int f = 0; f < looked_at(model); ++f) {
      const int season = model.futures().weather(f);
      const double weight = model.futures().weight(f);
      const Timing timing = slowed(model.timing(f), model.chain().slowing[i + 1]);
      const auto up = [&](float score) {
        const float germinates = std::exp(timing.germination_log_median + score * timing.germination_spread);
        return day_after(sums.germination.season(season), sown, sums.days, timing.cover_time + germinates);
      };
      const float ripens = std::exp(timing.ripening_log_median - kOneInTwenty * timing.ripening_spread);
      const int first = up(-kOneInTwenty);
      first_up.add(first, weight);
      all_up.add(up(kOneInTwenty), weight);
      ready.add(day_after(sums.ripening.season(season), first, sums.days, ripens), weight);
    }
    milestones.push_back({first_up.dates(sums.first), all_up.dates(sums.first), ready.dates(sums.first)});
  }
  return milestones;
}

std::vector<StrikeMilestones> milestones_of_strikes(const Study& study, const Observed& seen) {
  const Model& model = study.outlook(Look::whole).model();
  const ThermalSums& sums = model.sums();
  std::vector<StrikeMilestones> milestones;
  for (const SeenStrike& strike : seen.strikes) {
    const int struck = model.day(strike.on);
    DaysOfFutures first;
    DaysOfFutures most;
    DaysOfFutures weaned;
    for (int f = 0; f < looked_at(model); ++f) {
      const double weight = model.futures().weight(f);
      const Timing& timing = model.timing(f);
      const auto rooted = [&](float score) {
        return day_after(sums.rooting.season(model.futures().weather(f)), struck, sums.days,
                         std::exp(timing.rooting_log_median + score * timing.rooting_spread));
      };
      first.add(rooted(-kOneInTen), weight);
      most.add(rooted(kOneInTen), weight);
      weaned.add(rooted(0) + static_cast<int>(std::lround(timing.weaning_days)), weight);
    }
    milestones.push_back({first.dates(sums.first), most.dates(sums.first), weaned.dates(sums.first)});
  }
  return milestones;
}

}  // namespace strikebed::season

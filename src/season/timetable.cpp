#include "season/timetable.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "growth/stages.hpp"
#include "season/lognormal_kernel.hpp"

namespace strikebed::season {
namespace {

constexpr int kSessionFutures = 3072;  // futures walked through, one seedling count each
constexpr int kDateFutures = 512;      // futures whose dates are looked at
constexpr int kLongWait = 10;          // days that ready seedlings wait for a session before the plan says why
constexpr double kEarly = 0.05;
constexpr double kMiddle = 0.5;
constexpr double kLate = 0.95;
constexpr double kWorthTheBench =
    0.02;  // sessions with less than this of all cuttings, even at their high, are not listed
constexpr double kCountedShare = 0.95;  // emergence is counted when so many of those that will come up are up

/// Weights on days; where its running total passes a share.
class DayWeights {
 public:
  explicit DayWeights(int days) : weight_(static_cast<std::size_t>(days) + 2) {}
  void add(int day, double weight) {
    weight_[static_cast<std::size_t>(std::clamp(day, 0, static_cast<int>(weight_.size()) - 1))] += weight;
  }
  [[nodiscard]] bool empty() const { return !(std::accumulate(weight_.begin(), weight_.end(), 0.0) > 0); }
  [[nodiscard]] int day_at(double share) const {
    const double total = std::accumulate(weight_.begin(), weight_.end(), 0.0);
    double running = 0;
    for (std::size_t d = 0; d < weight_.size(); ++d) {
      running += weight_[d];
      if (running >= share * total) return static_cast<int>(d);
    }
    return static_cast<int>(weight_.size()) - 1;
  }
  void add_all(const DayWeights& other, double weight) {
    for (std::size_t d = 0; d < weight_.size(); ++d) weight_[d] += weight * other.weight_[d];
  }

 private:
  std::vector<double> weight_;
};

/// Early, typical and late day of an event over the futures.
DateSpread dates_of(std::vector<double>& days, Date first) {
  const Spread spread = spread_of(days);
  const auto date = [&](double day) { return first + Days{static_cast<int>(std::lround(day))}; };
  return {date(spread.low), date(spread.typical), date(spread.high)};
}

DateSpread band_of(const DayWeights& weights, Date first) {
  return {first + Days{weights.day_at(kEarly)}, first + Days{weights.day_at(kMiddle)},
          first + Days{weights.day_at(kLate)}};
}

struct Walked {
  std::vector<std::vector<double>> cut;      ///< [session][future]
  std::vector<double> total;                 ///< [future]
  std::vector<std::vector<double>> counted;  ///< [want][future]
};

/// A count of this mean and variance as it may fall out in one future; `which` keeps different counts' luck apart.
double with_luck(const Model& model, int future, int which, double mean, double variance, int at_most) {
  constexpr int kCountUnits = 1 << 20;  // beyond the units that sessions use
  const auto luck =
      static_cast<double>(BatchScores(model.futures().seed, future, BatchKind::arrival)(kCountUnits + which));
  return std::clamp(std::round(mean + luck * std::sqrt(std::max(variance, 0.0))), 0.0, static_cast<double>(at_most));
}

/// Walks futures through their sessions; plants counted get their luck from a batch score of their own.
Walked walk(const Model& model, std::span<const Sowing> sowings, const Plan& plan) {
  const int futures = std::min(kSessionFutures, model.futures().count());
  const std::vector<int> split = split_evenly(plan.seeds, static_cast<int>(sowings.size()));
  Walked walked;
  walked.cut.assign(static_cast<std::size_t>(model.sessions().count()),
                    std::vector<double>(static_cast<std::size_t>(futures)));
  walked.total.assign(static_cast<std::size_t>(futures), 0);
  walked.counted.assign(static_cast<std::size_t>(model.wants()), {});
  for (int f = 0; f < futures; ++f) {
    model.run_sessions(sowings, split, f, [&](const Model::Cut& cut) {
      walked.cut[static_cast<std::size_t>(cut.session)][static_cast<std::size_t>(f)] += cut.cuttings;
      walked.total[static_cast<std::size_t>(f)] += cut.cuttings;
    });
    const Model::Counted counted = model.counted(sowings, split, plan.shares, f);
    for (std::size_t w = 0; w < walked.counted.size(); ++w) {
      walked.counted[w].push_back(
          with_luck(model, f, static_cast<int>(w), counted.mean[w], counted.variance[w], plan.seeds));
    }
  }
  return walked;
}

void fill_sessions(const Model& model, Walked& walked, Plan& plan) {
  const double most = spread_of(walked.total).high;
  for (int s = 0; s < model.sessions().count(); ++s) {
    const Spread cuttings = spread_of(walked.cut[static_cast<std::size_t>(s)]);
    if (cuttings.high < std::max(kWorthTheBench * most, 0.5)) continue;
    SessionPlan session;
    session.date = model.sums().first + Days{model.sessions().day[static_cast<std::size_t>(s)]};
    session.cuttings = cuttings;
    for (const double share : plan.shares) session.by_want.push_back(cuttings.typical * share);
    plan.sessions.push_back(session);
  }
  plan.needs.cuttings = static_cast<int>(std::ceil(most));
  plan.needs.wants.resize(plan.shares.size());
  for (std::size_t w = 0; w < plan.shares.size(); ++w) {
    plan.needs.wants[w].cuttings = static_cast<int>(std::ceil(most * plan.shares[w]));
  }
  for (auto& counted : walked.counted) plan.counted.push_back(spread_of(counted));
}

/// Days of one future's season, as weights of its seedlings and cuttings.
struct SeasonDays {
  DayWeights emergence, opening, closing, striking, rooting, weaning;
  explicit SeasonDays(int days)
      : emergence(days), opening(days), closing(days), striking(days), rooting(days), weaning(days) {}
};

int day_when(const float* clock, int days, float reached) {
  return static_cast<int>(std::lower_bound(clock, clock + days, reached) - clock);
}

void add_future(const Model& model, std::span<const Sowing> sowings, int f, SeasonDays& days) {
  const ThermalSums& sums = model.sums();
  const Timing timing = timing_of(model.chain(), model.futures(), f);
  const int season = model.futures().weather[static_cast<std::size_t>(f)];
  const float* ripening = sums.ripening.season(season);
  const float* rooting = sums.rooting.season(season);
  for (const Sowing& sowing : sowings) {
    const std::vector<float> emerged =
        emerged_by_day(timing, sums.germination.season(season), sowing.offers.sow_day, sums.days);
    float before = 0;
    for (std::size_t e = 0; e < emerged.size(); ++e) {
      days.emergence.add(sowing.offers.sow_day + static_cast<int>(e), static_cast<double>(emerged[e] - before));
      before = emerged[e];
    }
    for (int s = 0; s < model.sessions().count(); ++s) {
      const std::size_t i = sowing.offers.at(f, s);
      const auto share = static_cast<double>(sowing.accepted[i]);
      if (!(share > 1e-6)) continue;
      const int struck = model.sessions().day[static_cast<std::size_t>(s)];
      days.opening.add(day_when(ripening, sums.days, sowing.offers.opened[i]), share);
      days.closing.add(day_when(ripening, sums.days, sowing.offers.closes[i]), share);
      days.striking.add(struck, share);
      float rooted_before = 0;
      const int last = model.rooted_by(f, s);
      for (int d = struck + 1; d <= last; ++d) {
        const float rooted =
            lognormal_share(rooting[d] - rooting[struck], timing.rooting_log_median, timing.rooting_spread);
        const double weight = share * static_cast<double>(rooted - rooted_before);
        days.rooting.add(d, weight);
        days.weaning.add(d + static_cast<int>(std::lround(timing.weaning_days)), weight);
        rooted_before = rooted;
        if (rooted > 0.999F) break;
      }
    }
  }
}

std::string listed(const std::vector<int>& seeds, double seeds_per_gram) {
  const int all = std::accumulate(seeds.begin(), seeds.end(), 0);
  const int decimals = all < seeds_per_gram ? 2 : all < 10 * seeds_per_gram ? 1 : 0;
  const double steps = std::pow(10, decimals);
  const double grams = std::ceil(all / seeds_per_gram * steps) / steps;  // weighed out, never short
  return fmt::format("{} seed{} ({:.{}f} g)", all, all == 1 ? "" : "s", grams, decimals);
}

/// What it takes to sow again on the last day, and when that must be begun.
std::string sowing_again(const Goal& goal, const Plan& plan) {
  std::string text = "Last date on which sowing again can still meet the goal";
  const auto point = std::ranges::find(plan.sweep, *plan.last_sowing, &SowingPoint::sow);
  if (point != plan.sweep.end() && point->seeds) text += fmt::format(", with {} seeds", *point->seeds);
  if (goal.chill_days == 0) return text;
  const Date chilled = *plan.last_sowing - Days{goal.chill_days};
  text += fmt::format("; they must go into the cold by {}", to_words(chilled));
  if (chilled < plan.count_date) text += ", before these can be counted: keep some chilling";
  return text;
}

}  // namespace

Spread spread_of(std::vector<double>& sample) {
  if (sample.empty()) return {};
  std::ranges::sort(sample);
  const auto at = [&](double share) {
    const double place = share * static_cast<double>(sample.size() - 1);
    const auto below = static_cast<std::size_t>(place);
    const std::size_t above = std::min(below + 1, sample.size() - 1);
    return sample[below] + (place - static_cast<double>(below)) * (sample[above] - sample[below]);
  };
  return {at(kEarly), at(kMiddle), at(kLate)};
}

void fill_timetable(const Model& model, std::span<const Sowing> sowings, Plan& plan) {
  const Goal& goal = model.goal();
  const Date first = model.sums().first;
  Walked walked = walk(model, sowings, plan);
  fill_sessions(model, walked, plan);

  const int futures = std::min(kDateFutures, model.futures().count());
  SeasonDays all(model.sums().days);
  std::vector<double> first_up, most_up, first_ready, first_struck, last_struck, half_rooted, all_weaned;
  for (int f = 0; f < futures; ++f) {
    SeasonDays one(model.sums().days);
    add_future(model, sowings, f, one);
    if (one.emergence.empty() || one.striking.empty() || one.rooting.empty()) continue;
    first_up.push_back(one.emergence.day_at(kEarly));
    most_up.push_back(one.emergence.day_at(kCountedShare));
    first_ready.push_back(one.opening.day_at(kEarly));
    first_struck.push_back(one.striking.day_at(kEarly));
    last_struck.push_back(one.striking.day_at(kLate));
    half_rooted.push_back(one.rooting.day_at(kMiddle));
    all_weaned.push_back(one.weaning.day_at(kLate));
    for (DayWeights SeasonDays::* band : {&SeasonDays::emergence, &SeasonDays::opening, &SeasonDays::closing,
                                          &SeasonDays::striking, &SeasonDays::rooting, &SeasonDays::weaning}) {
      (all.*band).add_all(one.*band, 1);
    }
  }
  if (all.striking.empty()) {
    plan.count_date = plan.sow_dates.front();
    return;
  }

  // Count when nine futures in ten have nearly all of their seedlings up.
  std::vector<double> up = most_up;
  std::ranges::sort(up);
  const int count_day = static_cast<int>(up[static_cast<std::size_t>(0.9 * static_cast<double>(up.size() - 1))]) + 1;
  plan.count_date = first + Days{count_day};
  const std::vector<int> split = split_evenly(plan.seeds, static_cast<int>(sowings.size()));
  std::vector<double> alive;
  for (int f = 0; f < futures; ++f) {
    const Timing timing = timing_of(model.chain(), model.futures(), f);
    const float* germination = model.sums().germination.season(model.futures().weather[static_cast<std::size_t>(f)]);
    double count = 0;
    for (std::size_t l = 0; l < sowings.size(); ++l) {
      const int index = static_cast<int>(l);
      const double dying = 1 - model.standing(f, index);
      const std::vector<float> emerged = emerged_by_day(timing, germination, sowings[l].offers.sow_day, count_day);
      float before = 0;
      double share = 0;
      for (std::size_t e = 0; e < emerged.size(); ++e) {
        const double age = count_day - sowings[l].offers.sow_day - static_cast<double>(e);
        share += static_cast<double>(emerged[e] - before) *
                 (1 - dying * growth::losses_by_age(age, goal.species.loss_half_age_days.typical()));
        before = emerged[e];
      }
      count += split[l] * model.emerging(f, index) * share;
    }
    alive.push_back(
        with_luck(model, f, model.wants(), count, count * (1 - count / std::max(plan.seeds, 1)), plan.seeds));
  }
  plan.emerged = spread_of(alive);

  const auto fixed = [](Date date) { return DateSpread{date, date, date}; };
  const auto band = [&](const char* name, const DateSpread& dates) {
    plan.band_names.emplace_back(name);
    plan.bands.push_back(dates);
  };
  if (goal.chill_days > 0) {
    band("chilling", {plan.chill_start, plan.chill_start + (plan.sow_dates.front() - plan.chill_start) / 2,
                      plan.sow_dates.front()});
  }
  const DateSpread opening = band_of(all.opening, first);
  const DateSpread closing = band_of(all.closing, first);
  band("emergence", band_of(all.emergence, first));
  band("cutting window", {opening.early, band_of(all.striking, first).typical, closing.late});
  band("sessions", band_of(all.striking, first));
  band("rooting", band_of(all.rooting, first));
  if (goal.count_at != CountAt::rooted) band("weaning", band_of(all.weaning, first));

  const double seeds_per_gram = goal.seeds_per_gram_of_lot.value_or(goal.species.seeds_per_gram.typical());
  const auto entry = [&](const DateSpread& when, std::string what, const char* kind) {
    plan.calendar.push_back({when, std::move(what), kind});
  };
  if (goal.chill_days > 0 && plan.chill_start >= goal.today) {
    entry(fixed(plan.chill_start),
          fmt::format("Soak {} for a day, drain, and chill moist at 1-5 °C for {} days; look weekly for mould",
                      listed(plan.sow_seeds, seeds_per_gram), goal.chill_days),
          "chill");
  } else if (goal.chill_days > 0 && plan.sow_dates.front() >= goal.today) {
    plan.warnings.push_back(
        fmt::format("The plan counts on seed that has been in the cold since {}. If it has not, write how many days it "
                    "will have had ([lot] chill_days), or sow later.",
                    to_words(plan.chill_start)));
  }
  for (std::size_t l = 0; l < plan.sow_dates.size(); ++l) {
    if (plan.sow_dates[l] < goal.today) continue;
    entry(fixed(plan.sow_dates[l]),
          fmt::format("Sow {}, 5-8 mm deep, grit over them", listed({plan.sow_seeds[l]}, seeds_per_gram)), "sow");
  }
  entry(dates_of(first_up, first), "First seedlings up: bright light, drier surface, moving air", "emergence");
  entry(fixed(plan.count_date),
        fmt::format("Count the seedlings: about {:.0f} alive ({:.0f} to {:.0f})", plan.emerged.typical,
                    plan.emerged.low, plan.emerged.high),
        "count");
  const DateSpread ready = dates_of(first_ready, first);
  if (const Date opens = first + Days{model.sessions().day.front()};
      model.sessions().held_up_by_cold && ready.typical + Days{kLongWait} < opens) {
    plan.warnings.push_back(
        fmt::format("The first seedlings are ready about {}, but no session is held before {}: until then the bench's "
                    "medium is too "
                    "cold to root a cutting within its {:.0f} days. A warmer bench ([bench] at_least) would do it.",
                    to_words(ready.typical), to_words(opens), goal.species.unrooted_life_days.typical()));
  }
  entry(ready, "First seedlings ready to cut: pots, sand, blade and solution prepared by now", "ready");
  entry(dates_of(first_struck, first), "First sessions at the bench", "session");
  entry(dates_of(last_struck, first), "Last sessions", "session");
  entry(dates_of(half_rooted, first), "Half of the cuttings rooted: begin weaning, first weak feed", "rooted");
  if (goal.count_at != CountAt::rooted)
    entry(dates_of(all_weaned, first), "Nearly all weaned: open air and sun", "weaned");
  if (goal.count_at == CountAt::established) {
    entry(fixed(goal.winter_starts), "First winter begins: roots above -3 °C, not soggy", "winter");
    entry(fixed(goal.winter_ends), "First winter is over", "winter");
  }
  if (plan.last_sowing > plan.sow_dates.back()) entry(fixed(*plan.last_sowing), sowing_again(goal, plan), "deadline");
  entry(fixed(goal.by), "Count the plants", "goal");
  std::ranges::stable_sort(plan.calendar, {}, [](const CalendarEntry& one) { return one.when.typical; });
}

}  // namespace strikebed::season

#include "season/forecast.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "base/random.hpp"
#include "evidence/binomial.hpp"
#include "evidence/rate_curve.hpp"
#include "season/choose_days.hpp"
#include "season/seed_search.hpp"
#include "season/timetable.hpp"

namespace strikebed::season {
namespace {

constexpr int kSessionFutures = 1536;  // in which sessions are looked at
constexpr double kNobody = 0.05;       // of a cutting

std::vector<int> numbers_of(std::span<const Sowing> sowings) { return split_seeds(0, sowings); }

/// What every future makes of the seedlings and plants there are.
std::vector<Model::Counted> counted_in_futures(const Model& model, std::span<const Sowing> sowings,
                                               std::span<const double> shares) {
  const std::vector<int> numbers = numbers_of(sowings);
  std::vector<Model::Counted> counts(static_cast<std::size_t>(model.futures().count()));
  for (std::size_t f = 0; f < counts.size(); ++f) {
    counts[f] = model.counted(sowings, numbers, shares, static_cast<int>(f));
  }
  return counts;
}

CountForecast counts_of_want(const Model& model, std::span<const Model::Counted> counts, std::size_t want) {
  std::vector<double> mean;
  std::vector<double> variance;
  std::vector<double> weight;
  for (std::size_t f = 0; f < counts.size(); ++f) {
    mean.push_back(counts[f].mean[want]);
    variance.push_back(counts[f].variance[want]);
    weight.push_back(model.futures().weight(static_cast<int>(f)) / model.futures().count());
  }
  return {std::move(mean), std::move(variance), std::move(weight)};
}

/// So many that each have a chance: as it turns out in a future.
double turned_out(int number, double chance, const Model& model, int future, std::uint64_t unit) {
  constexpr std::uint64_t kReady = 0x4ead;
  const BatchScores luck(model.futures().seed(), kReady, future);
  return evidence::binomial_at_score(number, std::clamp(chance, 0.0, 1.0), static_cast<double>(luck(unit)));
}

std::vector<SessionForecast> sessions_of(const Model& model, std::span<const Sowing> sowings) {
  const std::vector<int> numbers = numbers_of(sowings);
  const auto count = static_cast<std::size_t>(model.sessions().count());
  const int futures = std::min(model.futures().count(), kSessionFutures);
  std::vector<std::vector<Weighed>> ready(count);
  std::vector<std::vector<Weighed>> struck(count);
  std::vector<double> mean(count);
  for (int f = 0; f < futures; ++f) {
    const double weight = model.futures().weight(f);
    std::vector<double> at(count);
    std::vector<double> now(count);
    for (std::size_t l = 0; l < sowings.size(); ++l) {
      for (std::size_t s = 0; s < count; ++s) {
        const auto share = static_cast<double>(sowings[l]->accepted[sowings[l]->offers->at(f, static_cast<int>(s))]);
        if (share > 0) at[s] += turned_out(numbers[l], share, model, f, mixed_bits(s) + l);
      }
    }
    const bool room = model.room_for_all(numbers);
    if (room) now = at;
    if (!room) {
      model.run_sessions(sowings, numbers, f,
                         [&](const Model::Cut& cut) { now[static_cast<std::size_t>(cut.session)] += cut.cuttings; });
    }
    double waiting = 0;
    for (std::size_t s = 0; s < count; ++s) {
      waiting += at[s];
      ready[s].push_back({waiting, weight});
      struck[s].push_back({now[s], weight});
      mean[s] += weight * now[s] / futures;
      waiting = std::max(waiting - now[s], 0.0);
    }
  }
  std::vector<SessionForecast> sessions;
  for (std::size_t s = 0; s < count; ++s) {
    if (mean[s] < kNobody) continue;
    sessions.push_back(
        {model.date(model.sessions().day[s]), spread_of(std::move(ready[s])), spread_of(std::move(struck[s]))});
  }
  return sessions;
}

/// A quantity at a score, in the unit of its belief.
class Quantities {
 public:
  explicit Quantities(const Chain& chain) : chain_(chain) {}
  [[nodiscard]] double at(const UncertainQuantity& quantity, double score) const {
    if (quantity.is_rate()) {
      for (const auto& rung : growth::kRungs) {
        for (const ChainRate& rate : chain_.rates[rung.rung]) {
          if (rate.draw == quantity.draw) return rate.curve.rate(score, 0);
        }
      }
    }
    // low, typical and high are the points of a log-normal, or of what is as good as one.
    const double half = score < 0 ? quantity.typical / quantity.low : quantity.high / quantity.typical;
    return quantity.typical * std::pow(half, score / kScore95);
  }

 private:
  const Chain& chain_;
};

std::vector<Learned> learned_of(const Model& model) {
  const Quantities quantities(model.chain());
  std::vector<Learned> learned;
  for (const UncertainQuantity& quantity : model.chain().uncertain) {
    const Scores scores = model.futures().given(quantity.draw);
    if (!scores) continue;
    std::vector<Weighed> sample;
    for (int f = 0; f < model.futures().count(); ++f) {
      sample.push_back({static_cast<double>((*scores)[static_cast<std::size_t>(f)]), model.futures().weight(f)});
    }
    const Spread score = spread_of(std::move(sample));
    learned.push_back({quantity.draw.quantity,
                       quantity.want,
                       quantity.lot,
                       {quantity.low, quantity.typical, quantity.high},
                       {quantities.at(quantity, score.low), quantities.at(quantity, score.typical),
                        quantities.at(quantity, score.high)}});
  }
  return learned;
}

double mean_counted(const Model& model, std::span<const Model::Counted> counts, std::size_t wants) {
  double sum = 0;
  for (std::size_t f = 0; f < counts.size(); ++f) {
    for (std::size_t w = 0; w < wants; ++w) {
      sum += model.futures().weight(static_cast<int>(f)) * counts[f].mean[w] / model.futures().count();
    }
  }
  return sum;
}

}  // namespace

CountForecast::CountForecast(std::vector<double> mean, std::vector<double> variance, std::vector<double> weight)
    : mean_(std::move(mean)), variance_(std::move(variance)), weight_(std::move(weight)) {}

double CountForecast::chance_at_least(int plants) const {
  if (plants <= 0) return 1;
  double sum = 0;
  for (std::size_t f = 0; f < mean_.size(); ++f) {
    sum += weight_[f] * evidence::quick_chance_at_least(plants, mean_[f], variance_[f]);
  }
  return sum;
}

double CountForecast::mean() const { return std::inner_product(mean_.begin(), mean_.end(), weight_.begin(), 0.0); }

int CountForecast::point(double p) const {
  int low = -1;  // P(X <= low) < p
  int high = 1;
  while (chance_at_least(high + 1) > 1 - p) high *= 2;
  while (high - low > 1) {
    const int middle = low + (high - low) / 2;
    (chance_at_least(middle + 1) > 1 - p ? low : high) = middle;
  }
  return high;
}

CountForecast counts_of(Study& study, std::size_t want) {
  study.sow_on({});
  const std::vector<Sowing> sowings = study.sowings(Look::whole);
  const Model& model = study.outlook(Look::whole).model();
  const FairShares fair = fair_shares(model, sowings, study.goal().assurance);
  return counts_of_want(model, counted_in_futures(model, sowings, fair.shares), want);
}

Forecast forecast_of(Study& study) {
  study.sow_on({});
  const std::vector<Sowing> sowings = study.sowings(Look::whole);
  const Model& model = study.outlook(Look::whole).model();
  const std::vector<double> shares = fair_shares(model, sowings, study.goal().assurance).shares;
  const std::vector<Model::Counted> counts = counted_in_futures(model, sowings, shares);
  Forecast forecast;
  const Assurance sure = model.assurance(sowings, 0, shares);
  forecast.assurance = sure.chance;
  forecast.assurance_error = sure.error;
  forecast.met = sure.chance >= study.goal().assurance;
  for (std::size_t w = 0; w < study.goal().wants.size(); ++w) {
    const Want& want = study.goal().wants[w];
    const CountForecast count = counts_of_want(model, counts, w);
    double in_pots = 0;
    for (int f = 0; f < model.futures().count(); ++f) {
      in_pots += model.futures().weight(f) * model.in_pots(f).mean[w] / model.futures().count();
    }
    forecast.wants.push_back(
        {want.base_form,
         want.count,
         {count.point(0.05), count.point(0.25), count.point(0.5), count.point(0.75), count.point(0.95)},
         sure.by_want[w],
         in_pots});
  }
  forecast.sessions = sessions_of(model, sowings);
  forecast.learned = learned_of(model);
  forecast.possible.push_back({.kind = StepKind::nothing, .assurance = sure.chance});
  forecast.futures = model.futures().count();
  forecast.effective_futures = model.futures().effective_count();
  forecast.weather = study.weather().origin;
  return forecast;
}

void look_for_steps(Study& study, Forecast& forecast) {
  const Goal goal = study.goal();
  const auto counted = [&](std::vector<int> days, int seeds) {
    study.sow_on(std::move(days));
    const std::vector<Sowing> sowings = study.sowings(Look::whole);
    const Model& model = study.outlook(Look::whole).model();
    const std::vector<double> shares = fair_shares(model, sowings, goal.assurance).shares;
    const std::vector<int> split = split_seeds(seeds, sowings);
    std::vector<Model::Counted> counts;
    for (int f = 0; f < model.futures().count(); ++f) counts.push_back(model.counted(sowings, split, shares, f));
    const double plants = mean_counted(model, counts, goal.wants.size());
    return std::pair(model.assurance(sowings, seeds, shares).chance, plants);
  };
  const double plants_now = counted({}, 0).second;
  const auto add = [&](StillPossible step, double assurance, double plants) {
    step.assurance = assurance;
    step.more_plants = plants - plants_now;
    constexpr double kHelps = 0.005;
    if (assurance > forecast.assurance + kHelps) forecast.possible.push_back(step);
  };
  if (!forecast.met) {
    if (goal.sessions.cuttings_at_most) {
      Goal roomy = goal;
      roomy.sessions.cuttings_at_most.reset();
      study.change(roomy);
      const auto [assurance, plants] = counted({}, 0);
      add({.kind = StepKind::strike_more}, assurance, plants);
      study.change(goal);
    }
    if (goal.sessions.days_said) {
      Goal daily = goal;
      daily.sessions.weekdays.fill(true);
      daily.sessions.dates.reset();
      study.change(daily);
      const auto [assurance, plants] = counted({}, 0);
      add({.kind = StepKind::more_sessions}, assurance, plants);
      study.change(goal);
    }
    if (const SowingRange range = sowing_range(goal, study.sums()); !range.is_empty()) {
      study.sow_on({});
      SowingSweep sweep;
      for (Steps<double> steps = study.sweep(sweep); steps.next();) {
      }
      if (sweep.best_day) {
        study.sow_on({*sweep.best_day});
        const SeedAnswer answer = study.seeds_needed(Look::whole);
        const int seeds = answer.seeds.value_or(sensible_seeds(goal));
        const auto [assurance, plants] = counted({*sweep.best_day}, seeds);
        add({.kind = StepKind::sow, .date = study.sums().first + Days{*sweep.best_day}, .seeds = seeds}, assurance,
            plants);
        if (sweep.last_day) forecast.last_sowing = study.sums().first + Days{*sweep.last_day};
      } else {
        const int seeds = std::max(goal.own_seeds(), 1);  // as many again
        const auto [assurance, plants] = counted({sweep.surest_day}, seeds);
        add({.kind = StepKind::sow, .date = study.sums().first + Days{sweep.surest_day}, .seeds = seeds}, assurance,
            plants);
      }
    }
  }
  study.sow_on({});
}

}  // namespace strikebed::season

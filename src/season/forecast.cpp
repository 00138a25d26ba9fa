#include "season/forecast.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "base/random.hpp"
#include "evidence/binomial.hpp"
#include "season/seed_search.hpp"
#include "season/timetable.hpp"

namespace strikebed::season {
namespace {

constexpr int kSessionFutures = 1536;  // in which sessions are looked at
constexpr double kNobody = 0.05;       // of a cutting

/// What the futures make of the seedlings and plants there are, and of so many seeds more on the study's sowing days.
struct Foreseen {
  const Model& model;
  std::vector<Sowing> sowings;
  std::vector<double> shares;
  Assurance sure;
  std::vector<Model::Counted> counts;  ///< [future]

  Foreseen(Study& study, int seeds)
      : model(study.outlook(Look::whole).model()),
        sowings(study.sowings(Look::whole)),
        shares(fair_shares(model, sowings, study.goal().assurance).shares),
        sure(model.assurance(sowings, seeds, shares)) {
    const std::vector<int> numbers = split_seeds(seeds, sowings);
    for (int f = 0; f < model.futures().count(); ++f) counts.push_back(model.counted(sowings, numbers, shares, f));
  }
  /// On the mean, all wants together.
  [[nodiscard]] double plants() const {
    double sum = 0;
    for (std::size_t f = 0; f < counts.size(); ++f) {
      for (std::size_t w = 0; w < shares.size(); ++w) {
        sum += model.futures().weight(static_cast<int>(f)) * counts[f].mean[w] / model.futures().count();
      }
    }
    return sum;
  }
};

CountForecast counts_of_want(const Foreseen& foreseen, std::size_t want) {
  const std::vector<Model::Counted>& counts = foreseen.counts;
  const Model& model = foreseen.model;
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
  const std::vector<int> numbers = split_seeds(0, sowings);
  const auto count = static_cast<std::size_t>(model.sessions().count());
  const int futures = std::min(model.futures().count(), kSessionFutures);
  std::vector<std::vector<Weighed>> ready(count);
  std::vector<std::vector<Weighed>> struck(count);
  std::vector<double> mean(count);
  for (int f = 0; f < futures; ++f) {
    const double weight = model.futures().weight(f);
    std::vector<double> at(count);
    for (std::size_t l = 0; l < sowings.size(); ++l) {
      for (std::size_t s = 0; s < count; ++s) {
        const auto share = static_cast<double>(sowings[l]->accepted[sowings[l]->offers->at(f, static_cast<int>(s))]);
        if (share > 0) at[s] += turned_out(numbers[l], share, model, f, mixed_bits(s) + l);
      }
    }
    std::vector<double> now = at;
    if (!model.room_for_all(numbers)) {
      std::ranges::fill(now, 0.0);
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
double value_of(const UncertainQuantity& quantity, double score, const Chain& chain) {
  if (const auto rung = rung_of(quantity.draw.quantity)) {
    const std::vector<ChainRate>& rates = chain.rates[*rung];
    return std::ranges::find(rates, quantity.draw, &ChainRate::draw)->curve.rate(score, 0);
  }
  // low, typical and high are the points of a log-normal, or of what is as good as one.
  const double half = score < 0 ? quantity.typical / quantity.low : quantity.high / quantity.typical;
  return quantity.typical * std::pow(half, score / kScore95);
}

std::vector<Learned> learned_of(const Model& model) {
  std::vector<Learned> learned;
  for (const UncertainQuantity& quantity : model.chain().uncertain) {
    const Scores scores = model.futures().given(quantity.draw);
    if (!scores) continue;
    std::vector<Weighed> sample;
    for (int f = 0; f < model.futures().count(); ++f) {
      sample.push_back({static_cast<double>((*scores)[static_cast<std::size_t>(f)]), model.futures().weight(f)});
    }
    const Spread score = spread_of(std::move(sample));
    const auto at = [&](double point) { return value_of(quantity, point, model.chain()); };
    learned.push_back({quantity.draw.quantity,
                       quantity.want,
                       quantity.lot,
                       {quantity.low, quantity.typical, quantity.high},
                       {at(score.low), at(score.typical), at(score.high)}});
  }
  return learned;
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
  return counts_of_want(Foreseen(study, 0), want);
}

Forecast forecast_of(Study& study) {
  study.sow_on({});
  const Foreseen now(study, 0);
  const Model& model = now.model;
  Forecast forecast;
  forecast.assurance = now.sure.chance;
  forecast.assurance_error = now.sure.error;
  forecast.met = now.sure.chance >= study.goal().assurance;
  for (std::size_t w = 0; w < study.goal().wants.size(); ++w) {
    const Want& want = study.goal().wants[w];
    const CountForecast count = counts_of_want(now, w);
    double in_pots = 0;
    for (int f = 0; f < model.futures().count(); ++f) {
      in_pots += model.futures().weight(f) * model.in_pots(f).mean[w] / model.futures().count();
    }
    forecast.wants.push_back(
        {want.base_form,
         want.count,
         {count.point(0.05), count.point(0.25), count.point(0.5), count.point(0.75), count.point(0.95)},
         now.sure.by_want[w],
         in_pots});
  }
  forecast.sessions = sessions_of(model, now.sowings);
  forecast.learned = learned_of(model);
  forecast.possible.push_back({.kind = StepKind::nothing, .assurance = now.sure.chance});
  forecast.futures = model.futures().count();
  forecast.effective_futures = model.futures().effective_count();
  return forecast;
}

void look_for_steps(Study& study, Forecast& forecast) {
  if (forecast.met) return;
  const Goal goal = study.goal();
  const auto foreseen = [&](std::vector<int> days, int seeds) {
    study.sow_on(std::move(days));
    return Foreseen(study, seeds);
  };
  const double plants_now = foreseen({}, 0).plants();
  const auto add = [&](StillPossible step, const Foreseen& then) {
    step.assurance = then.sure.chance;
    step.more_plants = then.plants() - plants_now;
    constexpr double kHelps = 0.005;
    if (step.assurance > forecast.assurance + kHelps) forecast.possible.push_back(step);
  };
  const auto hold_sessions_otherwise = [&](StepKind kind, const auto& change) {
    Goal other = goal;
    change(other.sessions);
    study.change(other);
    add({.kind = kind}, foreseen({}, 0));
    study.change(goal);
  };
  const auto sow = [&](int day, int seeds) {
    add({.kind = StepKind::sow, .date = study.sums().first + Days{day}, .seeds = seeds}, foreseen({day}, seeds));
  };
  if (goal.sessions.cuttings_at_most) {
    hold_sessions_otherwise(StepKind::strike_more, [](Sessions& sessions) { sessions.cuttings_at_most.reset(); });
  }
  if (goal.sessions.days_said) {
    hold_sessions_otherwise(StepKind::more_sessions, [](Sessions& sessions) {
      sessions.weekdays.fill(true);
      sessions.dates.reset();
    });
  }
  study.sow_on({});
  if (sowing_range(goal, study.sums()).is_empty()) return;
  SowingSweep sweep;
  for (Steps<double> steps = study.sweep(sweep); steps.next();) {
  }
  if (sweep.best_day) {
    study.sow_on({*sweep.best_day});
    sow(*sweep.best_day, study.seeds_needed(Look::whole).seeds.value_or(sensible_seeds(goal)));
    if (sweep.last_day) forecast.last_sowing = study.sums().first + Days{*sweep.last_day};
  } else {
    sow(sweep.surest_day, std::max(goal.own_seeds(), 1));  // as many again
  }
  study.sow_on({});
}

}  // namespace strikebed::season

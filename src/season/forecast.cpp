#include "season/forecast.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "evidence/binomial.hpp"
#include "season/foreseen.hpp"

namespace strikebed::season {
namespace {

/// With nothing more.
Foreseen foreseen(Study& study, Look look) { return {study.outlook(look).model(), study.sowings(look), 0}; }

bool is_room_short(const Goal& goal, const std::vector<SessionForecast>& sessions) {
  const auto& room = goal.sessions.cuttings_at_most;
  return room && std::ranges::any_of(sessions, [&](const SessionForecast& one) { return one.struck.high >= *room; });
}

/// With the patience that makes the goal surest, where room is short.
std::vector<SessionForecast> hold_sessions_best(Study& study) {
  std::vector<SessionForecast> best;
  double surest = -1;
  BenchHabit best_habit = study.habit();
  for (const double patience : kPatience) {
    constexpr double kSurer = 0.01;  // to be less patient for it
    BenchHabit habit = study.habit();
    habit.patience = patience;
    study.try_sessions(habit);
    const Foreseen now = foreseen(study, Look::rough);
    if (now.sure().chance < surest + kSurer) continue;
    surest = now.sure().chance;
    best = now.sessions();
    best_habit = habit;
    if (!is_room_short(study.goal(), best)) break;
  }
  study.hold_sessions(best_habit);
  return best;
}

CountForecast counts_of_want(const Model& model, const std::vector<Model::Counted>& counts, std::size_t want) {
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
  return counts_of_want(study.outlook(Look::whole).model(), foreseen(study, Look::whole).counts(), want);
}

Forecast forecast_of(Study& study) {
  study.sow_on({});
  Forecast forecast;
  forecast.sessions = hold_sessions_best(study);
  const Foreseen now = foreseen(study, Look::whole);
  const Model& model = study.outlook(Look::whole).model();
  forecast.assurance = now.sure().chance;
  forecast.assurance_error = now.sure().error;
  forecast.met = now.sure().chance >= study.goal().assurance;
  for (std::size_t w = 0; w < study.goal().wants.size(); ++w) {
    const Want& want = study.goal().wants[w];
    const CountForecast count = counts_of_want(model, now.counts(), w);
    double in_pots = 0;
    for (int f = 0; f < model.futures().count(); ++f) {
      in_pots += model.futures().weight(f) * model.in_pots(f).mean[w] / model.futures().count();
    }
    forecast.wants.push_back(
        {want.base_form,
         want.count,
         {count.point(0.05), count.point(0.25), count.point(0.5), count.point(0.75), count.point(0.95)},
         now.sure().by_want[w],
         in_pots});
  }
  forecast.learned = learned_of(model);
  forecast.futures = model.futures().count();
  forecast.effective_futures = model.futures().effective_count();
  return forecast;
}

}  // namespace strikebed::season

#include "season/learnt_values.hpp"

#include <array>
#include <cmath>
#include <utility>

#include "evidence/low_discrepancy.hpp"
#include "season/learning.hpp"

namespace strikebed::season {
namespace {

using evidence::ScorePoint;
using evidence::WeightedDraws;

struct TimingPlace {
  ChainTiming Chain::* timing;
  ProfileValue growth::Species::* of;
};
constexpr std::array<TimingPlace, 8> kTimings{{
    {&Chain::germination_time, &growth::Species::germination_time},
    {&Chain::germination_spread, &growth::Species::germination_spread},
    {&Chain::cover_time, &growth::Species::cover_time},
    {&Chain::ripening_time, &growth::Species::ripening_time},
    {&Chain::ripening_spread, &growth::Species::ripening_spread},
    {&Chain::rooting_time, &growth::Species::rooting_time},
    {&Chain::rooting_spread, &growth::Species::rooting_spread},
    {&Chain::failure_half_life, &growth::Species::failure_half_life_days},
}};

/// Standard normal points, the same for every fit: one dimension more than a fit has scores.
const std::vector<std::vector<float>>& normal_points() {
  constexpr int kReplicates = 2;
  constexpr int kLog2Points = 10;
  static const auto points = evidence::normal_scores(evidence::kMostScores + 1, kReplicates, kLog2Points, 1);
  return points;
}
ScorePoint normal_point(std::size_t k) {
  ScorePoint point{};
  for (std::size_t d = 0; d < point.size(); ++d) point[d] = static_cast<double>(normal_points()[d][k]);
  return point;
}
std::size_t number_of_points() { return normal_points().front().size(); }

WeightedDraws draws_of(const evidence::Posterior& posterior) {
  std::vector<ScorePoint> points;
  for (std::size_t k = 0; k < number_of_points(); ++k) points.push_back(normal_point(k));
  return {posterior, points};
}

/// The draws of one of the other shares of a fit, its score first.
WeightedDraws draws_of_other(const evidence::CureFit& fit, std::size_t share) {
  std::vector<ScorePoint> scores;
  std::vector<double> log_weights;
  for (std::size_t k = 0; k < number_of_points(); ++k) {
    const evidence::WeightedPoint point = fit.posterior().near(normal_point(k));
    const auto normal = static_cast<double>(normal_points()[evidence::kMostScores][k]);
    const evidence::CureFit::OtherShare other = fit.other_share(share, point.scores, normal);
    scores.push_back({other.score});
    log_weights.push_back(point.log_weight + other.log_weight);
  }
  return {std::move(scores), log_weights};
}

/// 5, 50 and 95 % points of one score.
struct ScoreRange {
  double low, middle, high;
};
ScoreRange range_of(const WeightedDraws& draws, std::size_t score) {
  const auto at = [score](const ScorePoint& point) { return point[score]; };
  return {draws.quantile(at, 0.05), draws.quantile(at, 0.5), draws.quantile(at, 0.95)};
}
/// With as many digits as a profile writes, so that it makes no difference whether one was written.
double with_seven_digits(double value) {
  if (value == 0 || !std::isfinite(value)) return value;
  const double step = std::pow(10.0, 6 - std::floor(std::log10(std::fabs(value))));
  return std::round(value * step) / step;
}
Quantity quantity_at(double log_median, double log_sd, const ScoreRange& score) {
  const auto at = [&](double z) { return with_seven_digits(std::exp(log_median + log_sd * z)); };
  return {at(score.middle), at(score.low), at(score.high)};
}

class Gathering {
 public:
  explicit Gathering(const Setting& setting) : goal_(setting.goal), chain_(*setting.chain) {}

  /// Whatever the score of a draw is of.
  void add(const DrawName& draw, const ScoreRange& score, int counted) {
    if (counted == 0) return;
    for (const TimingPlace& place : kTimings) {
      const ChainTiming& timing = chain_.*place.timing;
      if (timing.draw != draw || timing.log_sd == 0) continue;
      // The chain's is that of the goal's own lot, chilled as it is.
      const double log_median = std::log((goal_.species.*place.of).typical());
      values.timings.push_back({draw.quantity, place.of, quantity_at(log_median, timing.log_sd, score), counted});
    }
    for (const growth::RungRow& row : growth::kRungs) add_rate(row, draw, score, counted);
  }

  LearntValues values;

 private:
  void add_rate(const growth::RungRow& row, const DrawName& draw, const ScoreRange& score, int counted) {
    const std::vector<ChainRate>& rates = chain_.rates[row.rung];
    const std::size_t number = row.is_of_method() ? rates.size() : 1;
    for (std::size_t i = 0; i < number; ++i) {
      const ChainRate& rate = rates[i];
      if (rate.draw != draw || rate.curve.known()) continue;
      const auto at = [&](double z) { return with_seven_digits(rate.curve.rate(z, 0)); };
      const bool is_own = row.is_of_method() && draw.owner != 0;
      values.rates.push_back({row.rung,
                              is_own ? std::optional(i) : std::nullopt,
                              {at(score.low), at(score.high), at(score.middle)},
                              counted});
      return;
    }
  }

  const Goal& goal_;
  const Chain& chain_;
};

}  // namespace

LearntValues learnt_values(const Goal& goal, const climate::WeatherSeasons& weather, const Observed& seen,
                           const Workers& workers) {
  const Setting setting{.goal = goal,
                        .chain = std::make_shared<const Chain>(goal),
                        .sums = std::make_shared<const ThermalSums>(thermal_sums(goal, weather, workers)),
                        .sessions = {},
                        .habit = {},
                        .own = {}};
  const LearntPieces pieces = learnt_pieces(setting, seen);
  Gathering gathering(setting);
  for (const CurePiece& piece : pieces.cures) {
    const WeightedDraws draws = draws_of(piece.fit.posterior());
    for (std::size_t i = 0; i < piece.names.size(); ++i) {
      const int counted = i == evidence::CureFit::kShare ? piece.counted_of_share.front() : piece.counted;
      gathering.add(piece.names[i], range_of(draws, i), counted);
    }
    for (std::size_t i = 0; i < piece.others.size(); ++i) {
      const WeightedDraws other = draws_of_other(piece.fit, i + 1);
      gathering.add(piece.others[i], range_of(other, 0), piece.counted_of_share[i + 1]);
    }
  }
  const auto add_all = [&](const auto& piece) {
    const WeightedDraws draws = draws_of(piece.fit.posterior());
    for (std::size_t i = 0; i < piece.names.size(); ++i)
      gathering.add(piece.names[i], range_of(draws, i), piece.counted);
  };
  for (const RatePiece& piece : pieces.rates) add_all(piece);
  if (pieces.readiness) add_all(*pieces.readiness);
  return std::move(gathering.values);
}

void believe(const LearntValues& learnt, Goal& goal) {
  for (const LearntTiming& one : learnt.timings) {
    ProfileValue& value = goal.species.*one.of;
    value.quantity = one.value;
    value.counted += one.counted;
  }
  for (const LearntRate& one : learnt.rates) {
    const auto set = [&](RateBelief& belief) { belief.belief = one.rate; };  // batches differ as before
    if (one.want) {
      RateBelief& belief = belief_of(goal, one.rung, *one.want);  // no other want is of this method
      set(belief);
      std::optional<growth::RateValue>& value = goal.species.method_rates[goal.wants[*one.want].method.id][one.rung];
      if (!value) value.emplace();
      value->belief = belief;
      value->counted += one.counted;
      continue;
    }
    growth::RateValue& value = goal.species.rates[one.rung];
    value.counted += one.counted;
    for (std::size_t w = 0; w < goal.wants.size(); ++w) {
      const Want& want = goal.wants[w];
      if ((one.rung == Rung::take && want.own_take) || (one.rung == Rung::grade && want.own_grade)) continue;
      set(belief_of(goal, one.rung, w));
      value.belief = belief_of(goal, one.rung, w);
    }
  }
}

}  // namespace strikebed::season

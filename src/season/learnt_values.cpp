#include "season/learnt_values.hpp"

#include <array>
#include <cmath>
#include <utility>

#include "evidence/normal_points.hpp"
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

constexpr int kLog2Points = 11;  // draws of every fit

const std::vector<ScorePoint>& points() {
  static const std::vector<ScorePoint> points = evidence::normal_points(evidence::kMostScores, kLog2Points);
  return points;
}
/// Standard normal numbers for so many more unknowns of a fit, [unknown][point].
std::vector<std::vector<float>> more_normals(std::size_t unknowns) {
  constexpr std::uint64_t kStream = 0x1ea7;
  std::vector<std::vector<float>> normals;
  for (std::uint64_t i = 0; i < unknowns; ++i) {
    normals.push_back(evidence::shuffled_normal_scores(1, kLog2Points, 1, kStream + i));
  }
  return normals;
}

WeightedDraws draws_of(const evidence::Posterior& posterior) { return {posterior, points()}; }

/// The draws of the scores of a fit, then of the other shares'.
std::vector<WeightedDraws> draws_of(const CurePiece& piece) {
  const std::size_t others = piece.others.size();
  std::vector<std::vector<ScorePoint>> scores(1 + others);
  std::vector<double> log_weights;
  std::vector<double> of_others(others);
  std::vector<double> of_batches(piece.batches.size());
  const auto more = more_normals(others + of_batches.size());
  for (std::size_t k = 0; k < points().size(); ++k) {
    for (std::size_t i = 0; i < others; ++i) of_others[i] = static_cast<double>(more[i][k]);
    for (std::size_t b = 0; b < of_batches.size(); ++b) {
      of_batches[b] = static_cast<double>(more[others + b][k]);
    }
    const evidence::CureDraw draw = piece.fit.draw(points()[k], of_others, of_batches);
    log_weights.push_back(draw.log_weight);
    scores[0].push_back(draw.scores);
    for (std::size_t i = 0; i < others; ++i) scores[1 + i].push_back({draw.others[i]});
  }
  std::vector<WeightedDraws> draws;
  for (std::vector<ScorePoint>& of : scores) draws.emplace_back(std::move(of), log_weights);
  return draws;
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
    const std::vector<WeightedDraws> draws = draws_of(piece);
    for (std::size_t i = 0; i < piece.names.size(); ++i) {
      const int counted = i == evidence::CureFit::kShare ? piece.counted_of_share.front() : piece.counted;
      gathering.add(piece.names[i], range_of(draws.front(), i), counted);
    }
    for (std::size_t i = 0; i < piece.others.size(); ++i) {
      gathering.add(piece.others[i], range_of(draws[1 + i], 0), piece.counted_of_share[i + 1]);
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

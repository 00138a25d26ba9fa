#include "season/learnt.hpp"

#include <functional>
#include <utility>

#include "season/learning.hpp"

namespace strikebed::season {
namespace {

/// Scores of the prior, and where the moved ones are written.
class Moved {
 public:
  Moved(const std::vector<DrawName>& names, const Futures& futures, Draws& draws) {
    for (const DrawName& name : names) {
      prior_.push_back(futures.scores(name));
      to_.push_back(&draws.scores.try_emplace(name, static_cast<std::size_t>(futures.count())).first->second);
    }
  }
  [[nodiscard]] double normal(std::size_t i, std::size_t future) const {
    return static_cast<double>((*prior_[i])[future]);
  }
  [[nodiscard]] std::vector<double> normals(std::size_t future) const {
    std::vector<double> normals;
    for (std::size_t i = 0; i < prior_.size(); ++i) normals.push_back(normal(i, future));
    return normals;
  }
  [[nodiscard]] evidence::ScorePoint point(std::size_t future) const {
    evidence::ScorePoint point{};
    for (std::size_t i = 0; i < prior_.size(); ++i) point[i] = normal(i, future);
    return point;
  }
  void write(std::size_t i, std::size_t future, double score) const { (*to_[i])[future] = static_cast<float>(score); }
  void write(std::size_t future, std::span<const double> scores) const {
    for (std::size_t i = 0; i < to_.size(); ++i) write(i, future, scores[i]);
  }

 private:
  std::vector<Scores> prior_;
  std::vector<std::vector<float>*> to_;
};

/// Draws piece after piece, in all futures.
class Drawing {
 public:
  Drawing(const Futures& prior, const Workers& workers) : prior_(prior), workers_(workers) {
    draws_.log_weights.assign(static_cast<std::size_t>(prior.count()), 0);
  }

  void draw(const CurePiece& piece, std::vector<StrikeDraws>& strikes) {
    const Moved scores(piece.names, prior_, draws_);
    const Moved others(piece.others, prior_, draws_);
    const Moved effects(piece.batches, prior_, draws_);
    in_each_future([&](std::size_t f) {
      const evidence::CureDraw drawn = piece.fit.draw(scores.point(f), others.normals(f), effects.normals(f));
      draws_.log_weights[f] += drawn.log_weight;
      scores.write(f, drawn.scores);
      others.write(f, drawn.others);
      for (std::size_t b = 0; b < piece.batches.size(); ++b) {
        effects.write(b, f, score_of(drawn.effects[b], piece.batch_spread[b]));
        if (!piece.of_strikes) continue;
        strikes[b].take_logit[f] = static_cast<float>(drawn.logits[b]);
        strikes[b].chance_of_waiting[f] = static_cast<float>(drawn.chance_of_waiting[b]);
      }
    });
  }
  void draw(const RatePiece& piece) {
    const Moved scores(piece.names, prior_, draws_);
    const Moved effects(piece.batches, prior_, draws_);
    in_each_future([&](std::size_t f) {
      const evidence::RateDraw drawn = piece.fit.draw(scores.normal(0, f), effects.normals(f));
      draws_.log_weights[f] += drawn.log_weight;
      scores.write(0, f, drawn.score);
      for (std::size_t b = 0; b < piece.batches.size(); ++b) {
        effects.write(b, f, score_of(drawn.effects[b], piece.batch_spread));
      }
    });
  }
  void draw(const ReadinessPiece& piece) {
    const Moved scores(piece.names, prior_, draws_);
    in_each_future([&](std::size_t f) {
      const evidence::WeightedPoint point = piece.fit.posterior().near(scores.point(f));
      draws_.log_weights[f] += point.log_weight;
      scores.write(f, point.scores);
    });
  }

  [[nodiscard]] Futures futures() { return prior_.with(std::move(draws_)); }

 private:
  static double score_of(double effect, double spread) { return spread > 0 ? effect / spread : 0; }
  void in_each_future(const std::function<void(std::size_t)>& draw) const {
    in_blocks(workers_, prior_.count(), [&](int begin, int end) {
      for (int f = begin; f < end; ++f) draw(static_cast<std::size_t>(f));
    });
  }

  const Futures& prior_;
  const Workers& workers_;
  Draws draws_;
};

}  // namespace

LearntFutures learnt_futures(const Setting& setting, const Observed& seen, const Futures& prior,
                             const Workers& workers) {
  const LearntPieces learning = learnt_pieces(setting, seen);
  std::vector<StrikeDraws> strikes;
  const std::vector<float> unset(static_cast<std::size_t>(prior.count()));
  for (const evidence::BatchSeen& rooting : learning.rooting_seen) {
    strikes.push_back({rooting, unset, unset});
  }
  Drawing drawing(prior, workers);
  for (const CurePiece& piece : learning.cures) drawing.draw(piece, strikes);
  for (const RatePiece& piece : learning.rates) drawing.draw(piece);
  if (learning.readiness) drawing.draw(*learning.readiness);
  return {drawing.futures(), std::move(strikes)};
}

}  // namespace strikebed::season

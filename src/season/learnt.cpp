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
  [[nodiscard]] evidence::ScorePoint normal(std::size_t future) const {
    evidence::ScorePoint point{};
    for (std::size_t i = 0; i < prior_.size(); ++i) point[i] = normal(i, future);
    return point;
  }
  void write(std::size_t i, std::size_t future, double score) const { (*to_[i])[future] = static_cast<float>(score); }
  void write(std::size_t future, const evidence::ScorePoint& scores) const {
    for (std::size_t i = 0; i < to_.size(); ++i) write(i, future, scores[i]);
  }

 private:
  std::vector<Scores> prior_;
  std::vector<std::vector<float>*> to_;
};

std::vector<DrawName> names_of(const std::vector<UndecidedBatch>& batches) {
  std::vector<DrawName> names;
  for (const UndecidedBatch& batch : batches) names.push_back(batch.name);
  return names;
}

/// Draws piece after piece, in all futures.
class Drawing {
 public:
  Drawing(const Futures& prior, const Workers& workers) : prior_(prior), workers_(workers) {
    draws_.log_weights.assign(static_cast<std::size_t>(prior.count()), 0);
  }

  void draw(const CurePiece& piece, std::vector<StrikeDraws>& strikes) {
    const Moved scores(piece.names, prior_, draws_);
    const Moved others(piece.others, prior_, draws_);
    const Moved effects(names_of(piece.batches), prior_, draws_);
    in_each_future([&](std::size_t f) {
      const evidence::ScorePoint at = drawn(piece.fit.posterior(), scores, f);
      std::vector<double> logits{piece.fit.point(at).share_logit};  // in the long run
      for (std::size_t i = 0; i < piece.others.size(); ++i) {
        const evidence::CureFit::OtherShare other = piece.fit.other_share(i + 1, at, others.normal(i, f));
        others.write(i, f, other.score);
        logits.push_back(other.logit);
        draws_.log_weights[f] += other.log_weight;
      }
      for (std::size_t b = 0; b < piece.batches.size(); ++b) {
        const UndecidedBatch& batch = piece.batches[b];
        const double common = logits[batch.share];
        const auto [logit, log_weight] = piece.fit.batch_logit(batch.of_fit, at, common, effects.normal(b, f));
        draws_.log_weights[f] += log_weight;
        effects.write(b, f, batch.spread > 0 ? (logit - common - batch.offset) / batch.spread : 0);
        if (!batch.strike) continue;
        strikes[*batch.strike].take_logit[f] = static_cast<float>(logit);
        strikes[*batch.strike].failure_half_life[f] = static_cast<float>(piece.fit.point(at).failure_half_life);
      }
    });
  }
  void draw(const RatePiece& piece) {
    const Moved scores(piece.names, prior_, draws_);
    const Moved effects(names_of(piece.batches), prior_, draws_);
    in_each_future([&](std::size_t f) {
      const double score = drawn(piece.fit.posterior(), scores, f)[0];
      const double common = piece.fit.long_run_logit(score);
      for (std::size_t b = 0; b < piece.batches.size(); ++b) {
        const UndecidedBatch& batch = piece.batches[b];
        const auto [logit, log_weight] = piece.fit.batch_logit(batch.of_fit, score, effects.normal(b, f));
        draws_.log_weights[f] += log_weight;
        effects.write(b, f, (logit - common) / batch.spread);
      }
    });
  }
  void draw(const ReadinessPiece& piece) {
    const Moved scores(piece.names, prior_, draws_);
    in_each_future([&](std::size_t f) { drawn(piece.fit.posterior(), scores, f); });
  }

  [[nodiscard]] Futures futures() { return prior_.with(std::move(draws_)); }

 private:
  evidence::ScorePoint drawn(const evidence::Posterior& posterior, const Moved& scores, std::size_t f) {
    const evidence::WeightedPoint point = posterior.near(scores.normal(f));
    scores.write(f, point.scores);
    draws_.log_weights[f] += point.log_weight;
    return point.scores;
  }
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

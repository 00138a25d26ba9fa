#pragma once
// What was seen of a season, as fits in pieces of few dimensions.
#include <cstddef>
#include <optional>
#include <vector>

#include "evidence/cure_model.hpp"
#include "evidence/rate_fit.hpp"
#include "evidence/readiness.hpp"
#include "season/observed.hpp"
#include "season/setting.hpp"

namespace strikebed::season {

/// A fit, the names of what it is about in the order of its scores, and how many seeds, seedlings or cuttings it is
/// learnt from.
template <class Fit>
struct Piece {
  Fit fit;
  std::vector<DrawName> names;
  int counted = 0;
};
/// And of the effects of its batches, in the fit's order.
struct RatePiece : Piece<evidence::RateFit> {
  std::vector<DrawName> batches = {};
  double batch_spread = 0;
};
struct CurePiece : Piece<evidence::CureFit> {
  std::vector<DrawName> others = {};       ///< shares beside the first
  std::vector<int> counted_of_share = {};  ///< first, others
  std::vector<DrawName> batches = {};
  std::vector<double> batch_spread = {};  ///< [batch]
  bool of_strikes = false;                ///< the batches are those of the strikes, in their order
};
using ReadinessPiece = Piece<evidence::ReadinessFit>;

struct LearntPieces {
  std::vector<CurePiece> cures;  ///< emergence, rooting
  std::vector<RatePiece> rates;
  std::optional<ReadinessPiece> readiness;
  std::vector<evidence::BatchSeen> rooting_seen;  ///< [strike]
};

/// Of the setting's goal, on the clocks of the usual season.
[[nodiscard]] LearntPieces learnt_pieces(const Setting& setting, const Observed& seen);

}  // namespace strikebed::season

#pragma once
// Counts at looks, as they were written down, made sense of: what a cure model can read.
#include <span>

#include "evidence/cure_model.hpp"

namespace strikebed::evidence {

/// A count of those that are through (emerged, rooted) at one look, whoever they are.
struct Look {
  double at;    ///< thermal time
  int through;  ///< of those looked at
  int of;       ///< looked at; all that there are, or a sample
};

/// One batch from its looks, in any order.
///   number   seeds sown or cuttings struck, >= 0
///   lost     known to come through never (dried, rotted before they rooted), among `number`, in days of their age
///   lifted   looks that used up what was looked at: counted apart, never among those that wait
///
/// Looks at all of them: what came between two looks is interval-censored; the rest waits. Where a count falls, so many
/// of those seen are gone since, and what rises again is new; as many again may have come and gone unseen: so many tell
/// nothing (they are neither through nor waiting). A count above what there is counts as all.
/// Samples: each is a binomial of its own. One that is looked at before, with the weight 1 - sample / number: no more
/// than what is not looked at again; so is each where all were looked at too.
[[nodiscard]] BatchSeen batch_seen(int number, std::span<const Look> looks, std::span<const BatchSeen::Lost> lost = {},
                                   std::span<const Look> lifted = {});

}  // namespace strikebed::evidence

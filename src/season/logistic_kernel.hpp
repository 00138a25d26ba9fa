#pragma once
// Shares from logits, many at once: the other inner loop of the season.
#include <span>

namespace strikebed::season {

/// Each logit x becomes the share 1 / (1 + exp(-x)). Single precision, the same numbers at every vector width.
/// Accuracy: within 3e-7 (tests/season/logistic_kernel_test.cpp). Not a number stays not a number.
void logistic_shares(std::span<float> logits);

/// One of them.
[[nodiscard]] float logistic_share(float logit);

}  // namespace strikebed::season

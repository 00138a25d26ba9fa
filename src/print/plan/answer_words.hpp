#pragma once
// The answer to a goal in a few sentences, and what could be met instead.
#include <string>
#include <vector>

#include "season/goal.hpp"
#include "season/plan.hpp"

namespace strikebed::print {

/// A stretch of a sentence; `strong`: a number or date the grower acts on.
struct Words {
  std::string text;
  bool strong = false;
};
using Sentence = std::vector<Words>;
[[nodiscard]] std::string plain(const std::vector<Sentence>& sentences);  ///< joined by spaces, without the stress

/// The answer to the goal in two to four sentences.
[[nodiscard]] std::vector<Sentence> answer(const season::Goal& goal, const season::Plan& plan);
/// Sentences on the nearest goals that can be met.
[[nodiscard]] std::vector<std::string> nearest_words(const season::Goal& goal, const season::Plan& plan);

}  // namespace strikebed::print

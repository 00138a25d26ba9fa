#pragma once
// A published check: a number from a book, a standard or another library, beside what this program gives for it.
#include <string>
#include <variant>
#include <vector>

namespace strikebed::print {

/// A number, or the word for a state such as "polar night".
using Figure = std::variant<double, std::string>;

/// The figures of one name, in order; they hold when each |computed - expected| <= abs + rel * |expected|, and words
/// are the same.
struct CheckedFigures {
  std::string name;  ///< with its unit, as "day_length_h"
  std::vector<Figure> expected;
  std::vector<Figure> computed;  ///< empty when nothing could be computed
  double abs = 0;
  double rel = 0;
  bool holds = false;
};

struct Check {
  std::string id;     ///< "sun.position.golden"
  std::string topic;  ///< "sun"
  std::string title;
  std::string source;     ///< the publication
  std::string how_known;  ///< "looked up", "from memory", "common practice", "by hand", "computed with R 4.2.2"
  std::string note;
  std::vector<CheckedFigures> figures;
  std::string problem;  ///< why nothing could be computed; empty: something was
  bool holds = false;   ///< every figure holds
};

}  // namespace strikebed::print

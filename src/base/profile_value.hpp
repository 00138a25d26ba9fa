#pragma once
// One number of a profile with all that must be said about it.
#include <string>

#include "base/belief.hpp"

namespace strikebed {

/// How well a value is known: A measured and published, B fair, C a guess to be replaced by own counts.
enum class Trust : char { A = 'A', B = 'B', C = 'C' };
constexpr char letter(Trust trust) { return static_cast<char>(trust); }

/// A range (5, 50 and 95 % points) with its unit and where it comes from. A value of 0 stands for none at all.
struct ProfileValue {
  Quantity quantity{0, 0, 0};
  std::string unit;
  std::string source;
  Trust trust = Trust::C;
  int counted = 0;  ///< seeds, seedlings or cuttings of the grower's own that it was learnt from

  [[nodiscard]] double typical() const { return quantity.value; }
};

}  // namespace strikebed

#pragma once
// What a grower measures out with: drops, the marks of a syringe or cylinder, a scale. What each can tell apart.
#include <optional>
#include <string>
#include <string_view>

#include "base/result.hpp"
#include "mix/amounts.hpp"
#include "mix/drops.hpp"

namespace strikebed::mix {

struct Instrument {
  enum class Kind { drops, marks, scale };
  Kind kind = Kind::drops;
  double step = 1;  ///< a drop, the distance of two marks in mL, the last digit in g
};

/// "drops", "syringe 0.02 mL", "cylinder 1 mL", "scale 1 mg". A syringe or scale without its step: the usual one for
/// the amount, see usual_instrument.
[[nodiscard]] Result<Instrument> parse_instrument(std::string_view text, std::string_view field);
[[nodiscard]] std::string instrument_words(const Instrument& instrument);  ///< "syringe with marks every 0.02 mL"

/// A syringe of 1 (filled twice at most), 3, 10 or 60 mL, marked every 0.02, 0.1, 0.2 or 1 mL, above that a cylinder
/// marked finely enough for kFairSteps (common practice, no source); a scale to 1 mg below 20 g, else to 0.1 g.
[[nodiscard]] Instrument usual_marks(double ml);
[[nodiscard]] Instrument usual_scale(double g);

/// Fewer steps than this (drops, marks, digits) are too few: the rounding alone can exceed 2.5 %.
inline constexpr double kFairSteps = 20;

/// An amount as it can be measured out.
struct MeasuredOut {
  Instrument instrument;
  double steps = 0;      ///< whole number of drops, marks or last digits
  Measured amount;       ///< what that comes to, mL or g
  double steps_low = 0;  ///< uncalibrated drops: what the range of their sizes asks for; else the same
  double steps_high = 0;
};

/// "0.003 mL is less than half a step of what measures it (marks every 0.02 mL)"; nothing when it is not.
[[nodiscard]] std::optional<std::string> too_little_to_measure(double amount, const Instrument& instrument,
                                                               const DropSize& drop);

/// To the nearest whole step, at least one. Reading: half a step as limits (u = step / sqrt 12), twice for a scale
/// (tare and weight). amount > 0, mL or g; `drop` is used by drops alone.
[[nodiscard]] MeasuredOut measure_out(double amount, const Instrument& instrument, const DropSize& drop);

}  // namespace strikebed::mix

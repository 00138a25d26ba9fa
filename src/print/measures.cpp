#include "print/measures.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace strikebed::print {
namespace {

constexpr int kFigures = 3;
constexpr double kMlPerL = 1000;
constexpr double kGramsPerKilo = 1000;
constexpr double kMmPerCm = 10;

std::string in_unit(double base, std::string_view unit) {
  const auto found = mix::find_unit(unit);
  return found ? fmt::format("{} {}", mix::figures(base / (*found)->in_base, kFigures), unit) : "";
}

/// Behind the metric amount, where there is something.
std::string in_brackets(const std::string& text) { return text.empty() ? "" : fmt::format(" ({})", text); }

struct Measure {
  double below_ml;  ///< it suits volumes below this
  std::string_view unit;
};
constexpr double kSmallestSpoonMl = 0.6;  // an eighth of a teaspoon
constexpr std::array<Measure, 4> kUsMeasures{
    {{14.7, "tsp-us"}, {59, "tbsp-us"}, {kMlPerL, "fl-oz-us"}, {HUGE_VAL, "gal-us"}}};
constexpr std::array<Measure, 4> kImperialMeasures{
    {{14.9, "tsp-metric"}, {56, "tbsp-metric"}, {kMlPerL, "fl-oz-imp"}, {HUGE_VAL, "gal-imp"}}};

}  // namespace

std::string volume_beside(double ml, Beside beside) {
  if (beside == Beside::nothing || ml < kSmallestSpoonMl) return "";
  const auto& measures = beside == Beside::us ? kUsMeasures : kImperialMeasures;
  const auto suits = std::find_if(measures.begin(), measures.end(), [ml](const Measure& m) { return ml < m.below_ml; });
  return suits == measures.end() ? "" : in_unit(ml, suits->unit);
}

std::string weight_beside(double grams, Beside beside) {
  constexpr double kPoundGrams = 453.59237;
  if (beside == Beside::nothing || grams < 1) return "";
  return in_unit(grams, grams < kPoundGrams ? "oz" : "lb");
}

std::string litres_words(double litres, Beside beside) {
  const std::string text = litres < 1 ? fmt::format("{} mL", mix::figures(litres * kMlPerL, kFigures))
                                      : fmt::format("{} L", mix::figures(litres, kFigures));
  return text + in_brackets(volume_beside(litres * kMlPerL, beside));
}

std::string kilos_words(const mix::Estimate& kilos, Beside beside) {
  const bool light = kilos.value < 1;
  const double factor = light ? kGramsPerKilo : 1;
  return fmt::format("{} {}{}{}", mix::figures(kilos.value * factor, kFigures), light ? "g" : "kg",
                     range_words(kilos, factor), in_brackets(weight_beside(kilos.value * kGramsPerKilo, beside)));
}

std::string kilos_words(double kilos, Beside beside) { return kilos_words(mix::Estimate{kilos, kilos, kilos}, beside); }

std::string grams_words(double grams, Beside beside) {
  const std::string text = grams < kGramsPerKilo ? fmt::format("{} g", mix::figures(grams, 4))
                                                 : fmt::format("{} kg", mix::figures(grams / kGramsPerKilo, 4));
  return text + in_brackets(weight_beside(grams, beside));
}

std::string lengths_words(double cm, Beside beside) {
  std::string text = fmt::format("{} cm", mix::figures(cm, kFigures));
  if (beside != Beside::nothing) text += in_brackets(in_unit(cm * kMmPerCm, "in"));
  return text;
}

std::string range_words(const mix::Estimate& estimate, double factor) {
  const std::string low = mix::figures(estimate.low * factor, kFigures);
  const std::string high = mix::figures(estimate.high * factor, kFigures);
  return low == high ? "" : fmt::format(" ({} to {})", low, high);
}

std::string percent_words(const mix::Estimate& share) {
  const auto whole = [](double value) { return fmt::format("{:.0f}", std::fabs(100 * value)); };
  if (whole(share.low) == whole(share.high)) return whole(share.value) + " %";
  return fmt::format("{} ({} to {}) %", whole(share.value), whole(share.low), whole(share.high));
}

}  // namespace strikebed::print

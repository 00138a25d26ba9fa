#include "print/measures.hpp"

#include <fmt/format.h>

#include <cmath>

namespace strikebed::print {
namespace {

constexpr int kFigures = 3;
constexpr double kMlPerL = 1000;
constexpr double kGramsPerKilo = 1000;
constexpr double kMmPerCm = 10;

/// The amount in a named unit, in brackets.
std::string in_unit(double base, std::string_view unit) {
  const auto found = mix::find_unit(unit);
  return found ? fmt::format(" ({} {})", mix::figures(base / (*found)->in_base, kFigures), unit) : "";
}

}  // namespace

std::string litres_words(double litres, Beside beside) {
  const double ml = litres * kMlPerL;
  std::string text = litres < 1 ? fmt::format("{} mL", mix::figures(ml, kFigures))
                                : fmt::format("{} L", mix::figures(litres, kFigures));
  const bool small = litres < 1;
  if (beside == Beside::us) text += in_unit(ml, small ? "fl-oz-us" : "gal-us");
  if (beside == Beside::imperial) text += in_unit(ml, small ? "fl-oz-imp" : "gal-imp");
  return text;
}

std::string kilos_words(const mix::Estimate& kilos, Beside beside) {
  const bool light = kilos.value < 1;
  const double factor = light ? kGramsPerKilo : 1;
  std::string text = fmt::format("{} {}{}", mix::figures(kilos.value * factor, kFigures), light ? "g" : "kg",
                                 range_words(kilos, factor));
  if (beside != Beside::nothing) text += in_unit(kilos.value * kGramsPerKilo, light ? "oz" : "lb");
  return text;
}

std::string kilos_words(double kilos, Beside beside) { return kilos_words(mix::Estimate{kilos, kilos, kilos}, beside); }

std::string grams_words(double grams, Beside beside) {
  std::string text = grams < kGramsPerKilo ? fmt::format("{} g", mix::figures(grams, 4))
                                           : fmt::format("{} kg", mix::figures(grams / kGramsPerKilo, 4));
  if (beside != Beside::nothing) text += in_unit(grams, "oz");
  return text;
}

std::string lengths_words(double cm, Beside beside) {
  std::string text = fmt::format("{} cm", mix::figures(cm, kFigures));
  if (beside != Beside::nothing) text += in_unit(cm * kMmPerCm, "in");
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

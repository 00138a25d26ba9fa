#include "print/cautions.hpp"

namespace strikebed::print {

const std::vector<std::string>& cautions() {
  static const std::vector<std::string> kCautions = {
      ("Sand, grit and pumice: wet them before you pour, sieve or mix. The dry dust can hold silica, which harms the "
       "lungs for good; where dust cannot be avoided wear a fitted dust mask."),
      "Blade: cut on a firm board, away from your fingers; cover the blade between groups.",
      ("Auxin is a regulated product in many places. Its label rules: strength, gloves, eyes, waste. Keep it from "
       "children, animals and food."),
      "Alcohol, in the solution or for the blade, burns: no flame, no heater, no sparks near it, and fresh air.",
      "Bleach, if you clean with it: never together with acid, ammonia or alcohol.",
      ("Mist and mains power: only equipment meant for wet places, behind a residual-current breaker (RCD, GFCI); "
       "fixed "
       "wiring by a licensed electrician."),
      "Wet tubs of grit are heavy: fill them where they will stand, or carry half at a time with someone.",
      "Product labels, local codes and licensed practice come before anything printed here.",
  };
  return kCautions;
}

}  // namespace strikebed::print

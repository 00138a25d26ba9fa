#pragma once
// Numbers of a mix as a grower reads them: few figures, with their range, and in other measures beside the metric ones.
#include <string>

#include "mix/amounts.hpp"
#include "mix/medium.hpp"

namespace strikebed::print {

/// What is shown beside metric amounts.
enum class Beside { nothing, us, imperial };

/// A volume in the spoon, ounce or gallon that suits it: "0.75 tsp-us", "15.2 fl-oz-us", "3.3 gal-us"; the imperial
/// spoons are the metric ones. Nothing where nothing is shown beside, or for less than an eighth of a teaspoon.
[[nodiscard]] std::string volume_beside(double ml, Beside beside);
/// A weight in oz, or from one lb in lb; nothing below a gram, which no kitchen scale shows in oz.
[[nodiscard]] std::string weight_beside(double grams, Beside beside);

[[nodiscard]] std::string litres_words(double litres, Beside beside);  ///< "12.5 L", "450 mL", "12.5 L (3.3 gal-us)"
[[nodiscard]] std::string kilos_words(double kilos, Beside beside);    ///< "1.25 kg", "450 g", "1.25 kg (2.76 lb)"
[[nodiscard]] std::string kilos_words(const mix::Estimate& kilos, Beside beside);  ///< "450 g (315 to 633)"
[[nodiscard]] std::string grams_words(double grams, Beside beside);                ///< "4.5 g", "4.5 g (0.16 oz)"
[[nodiscard]] std::string lengths_words(double cm, Beside beside);                 ///< "8.5 cm", "8.5 cm (3.35 in)"

/// " (0.41 to 0.52)" in the figures that the range leaves, or nothing when there is no range to speak of.
[[nodiscard]] std::string range_words(const mix::Estimate& estimate, double factor = 1);
/// "31 (26 to 36) %" of a share.
[[nodiscard]] std::string percent_words(const mix::Estimate& share);

}  // namespace strikebed::print

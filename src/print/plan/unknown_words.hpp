#pragma once
// What is not known, what knowing it would save and how to find out, in words.
#include <string>
#include <string_view>
#include <vector>

#include "season/forecast.hpp"
#include "season/goal.hpp"
#include "season/plan.hpp"

namespace strikebed::print {

[[nodiscard]] std::string unknown_name(const season::Goal& goal, const season::Unknown& unknown);  ///< "take (radial)"
/// The quantity of which something was learnt, for its name.
[[nodiscard]] inline season::Unknown unknown_of(const season::Learned& learned) {
  return {.quantity = learned.quantity, .want = learned.want, .lot = learned.lot};
}
[[nodiscard]] std::string_view unit_of(
    season::ChainQuantity quantity);  ///< "share", "°C d", "d", "ratio", "ln", "share/week", "°C"
/// "65 (30 to 90) %", "420 (280 to 650) °C d": in the unit of unit_of.
[[nodiscard]] std::string value_words(const season::Spread& value, std::string_view unit);
[[nodiscard]] std::string small_test(const season::Unknown& unknown);  ///< that would tell most of it

[[nodiscard]] std::string belief_words(const season::Unknown& unknown);  ///< "65 (30 to 90) % of the cuttings root"
[[nodiscard]] std::string worth_words(const season::Unknown& unknown);   ///< "96 seeds"

[[nodiscard]] std::vector<season::Unknown> unknowns_by_worth(const season::Plan& plan);  ///< most seeds saved first
/// Whether knowing it would save one seed in a hundred or more, or tell whether the goal can be reached at all.
[[nodiscard]] bool worth_knowing(const season::Plan& plan, const season::Unknown& unknown);
/// What the small tests are and what the belief leaves out of reach, a sentence each, for those worth knowing; then one
/// sentence that names the rest.
[[nodiscard]] std::vector<std::string> unknown_notes(const season::Goal& goal, const season::Plan& plan);

}  // namespace strikebed::print

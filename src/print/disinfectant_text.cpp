#include "print/disinfectant_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <string_view>
#include <utility>
#include <vector>

#include "print/text_table.hpp"

namespace strikebed::print {
namespace {

using mix::Agent;
using mix::Disinfectant;
using mix::DisinfectantRequest;
using Json = nlohmann::ordered_json;

/// 95 % range; never below 0, and no more than all of it.
std::pair<double, double> range_of(const Disinfectant& d) {
  return {std::max(0.0, d.strength.low()), std::min(d.agent == Agent::chlorine ? 1e6 : 100.0, d.strength.high())};
}

std::string strength_words(const Disinfectant& d) {
  const bool chlorine = d.agent == Agent::chlorine;
  return fmt::format("{} {} ({} to {}, 95 %)", mix::digits(d.strength.value, d.strength.u),
                     chlorine ? "ppm available chlorine" : "% alcohol by volume",
                     mix::digits(range_of(d).first, d.strength.u), mix::digits(range_of(d).second, d.strength.u));
}

std::string opening(const DisinfectantRequest& request, const Disinfectant& d, Beside beside) {
  const auto ml_words = [beside](double ml) { return litres_words(ml / 1000, beside); };
  std::string text = fmt::format("Take {} of {}", ml_words(d.stock_ml), request.from.words);
  if (request.stock == std::nullopt && std::fabs(d.stock_out.amount.value - d.stock_ml) > 0.005 * d.stock_ml)
    text += fmt::format(" ({} to the nearest mark)", ml_words(d.stock_out.amount.value));
  if (d.water_ml) {
    text += fmt::format(" and {} of water: {} in all", ml_words(*d.water_ml), ml_words(d.total_ml));
  } else {
    text += fmt::format(" and fill up with water to {}", ml_words(d.total_ml));
  }
  if (d.shrinks_ml && *d.shrinks_ml > 0.002 * d.total_ml)
    text += fmt::format(", {} less than both together, because they shrink", ml_words(*d.shrinks_ml));
  return text + fmt::format(". That is {}.", strength_words(d));
}

std::vector<std::string> cautions_of(const Disinfectant& d) {
  if (d.agent == Agent::chlorine) {
    return {
        "Never mix bleach with acid (chlorine gas), with ammonia, urea or feeds (chloramines), or with alcohol or "
        "acetone: "
        "the fumes harm. Not in one bucket, not one after the other without rinsing.",
        "Gloves, eye protection, fresh air. Rinse what plants and hands will touch. The label comes first."};
  }
  return {
      "Alcohol and its vapour burn: no flame, heater or hot tool near it, wait until blades are dry, small open cups "
      "only.",
      "Never mix it with bleach. Wear gloves; the label and local rules come first."};
}

std::string list_of(std::string_view title, const std::vector<std::string>& texts, std::size_t width) {
  if (texts.empty()) return "";
  std::string text = fmt::format("\n{}\n\n", title);
  for (const std::string& line : texts) text += paragraph(line, width, "  - ");
  return text;
}

Json number(double value) { return std::isfinite(value) ? Json(std::round(value * 1000) / 1000) : Json(nullptr); }

}  // namespace

std::string disinfectant_text(const DisinfectantRequest& request, const Disinfectant& disinfectant, Beside beside,
                              int width) {
  const auto cells = static_cast<std::size_t>(std::max(width, 60));
  const std::string use = fmt::format("{} Fresh by {}: {}.", disinfectant.contact,
                                      to_words(disinfectant.keeping.use_by), disinfectant.keeping.why);
  return paragraph(opening(request, disinfectant, beside), cells) + "\nUse\n\n" + paragraph(use, cells, "  ") +
         list_of("Mind", disinfectant.warnings, cells) + list_of("Taken as given", disinfectant.assumed, cells) +
         list_of("Cautions", cautions_of(disinfectant), cells);
}

std::string disinfectant_json(const DisinfectantRequest& request, const Disinfectant& d) {
  const bool chlorine = d.agent == Agent::chlorine;
  const std::string unit = chlorine ? "chlorine_ppm" : "alcohol_pct";
  const Json document = {{"stock", request.from.words},
                         {"agent", chlorine                    ? "chlorine"
                                   : d.agent == Agent::ethanol ? "ethanol"
                                                               : "isopropyl"},
                         {"stock_ml", number(d.stock_ml)},
                         {"stock_to_the_mark_ml", number(d.stock_out.amount.value)},
                         {"water_ml", d.water_ml ? number(*d.water_ml) : Json(nullptr)},
                         {"total_ml", number(d.total_ml)},
                         {"shrinks_ml", d.shrinks_ml ? number(*d.shrinks_ml) : Json(nullptr)},
                         {unit, number(d.strength.value)},
                         {"standard_uncertainty_" + unit, number(d.strength.u)},
                         {"low_" + unit, number(range_of(d).first)},
                         {"high_" + unit, number(range_of(d).second)},
                         {"contact", d.contact},
                         {"made", to_iso(request.made)},
                         {"use_by", to_iso(d.keeping.use_by)},
                         {"warnings", d.warnings},
                         {"assumed", d.assumed},
                         {"cautions", cautions_of(d)}};
  return document.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace strikebed::print

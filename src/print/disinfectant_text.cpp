#include "print/disinfectant_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string_view>
#include <utility>
#include <vector>

#include "print/json.hpp"
#include "print/text_table.hpp"

namespace strikebed::print {
namespace {

using mix::Agent;
using mix::Disinfectant;
using mix::DisinfectantRequest;

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

std::string_view contact_words(mix::Contact contact) {
  switch (contact) {
    case mix::Contact::wiped:
      return "Wipe off sap and soil first; keep wet for 30 s to 1 min and let dry by itself (common practice).";
    case mix::Contact::ten_minutes:
      return "Wash first; keep wet for 10 min, then rinse (common practice for pots and trays).";
    case mix::Contact::half_an_hour:
      return "Wash first; keep wet for 30 min, then rinse (common practice for pots and trays).";
    case mix::Contact::by_the_label:
      return "Only for surfaces that are clean already; the time on the label (too weak for a usual figure for pots).";
  }
  return "";
}

std::string_view keeping_words(Agent agent) {
  return agent == Agent::chlorine
             ? "thinned hypochlorite loses strength within a day, faster in light and dirt (common practice)"
             : "closed and cool; what stands open loses alcohol within hours: pour out little (common practice)";
}

std::string remark_words(const Disinfectant& d, mix::DisinfectantRemark remark) {
  switch (remark) {
    case mix::DisinfectantRemark::outside_useful:
      return fmt::format(
          "{} % is outside the {:.0f} to {:.0f} % in which alcohol disinfects best: it needs some water.",
          mix::figures(d.strength.value, 3), mix::kWeakestUseful_pct, mix::kStrongestUseful_pct);
    case mix::DisinfectantRemark::few_steps:
      return fmt::format(
          "The stock is fewer than {:.0f} steps of what measures it ({}): finer marks, or more at a time, come nearer.",
          mix::kFairSteps, mix::instrument_words(d.stock_out.instrument));
    case mix::DisinfectantRemark::ageing:
      return "The label's strength is that of a fresh bottle; one that is open for months may hold a fifth to half "
             "less. It corrodes blades: rinse and oil them, or use alcohol.";
  }
  return "";
}

std::string assumption_words(const DisinfectantRequest& request, const Disinfectant& d,
                             mix::DisinfectantAssumption assumption) {
  const mix::AgentStrength& from = request.from;
  const bool chlorine = d.agent == Agent::chlorine;
  switch (assumption) {
    case mix::DisinfectantAssumption::stock_tolerance:
      return fmt::format("The stock's strength is taken as good to {} % of it (a guess; write \"{}\" if you know).",
                         mix::figures(100 * (chlorine ? mix::kBleachTolerance : mix::kAlcoholTolerance), 2),
                         chlorine ? "5 +- 0.5 % chlorine" : "96 +- 0.5 % ethanol");
    case mix::DisinfectantAssumption::percent_by_volume: {
      const double if_by_weight = from.if_by_weight.value_or(from.strength.value);
      return fmt::format(
          "The % of \"{0}\" is read as % w/v, grams in 100 mL: {1} ppm available chlorine. If the label counts by "
          "weight, % w/w, the stock holds {2} ppm and this mixture {3} ppm; the range covers both. The label or its "
          "data sheet says which: write \"5 % w/w hypochlorite\" or \"5 % w/v hypochlorite\".",
          from.words, mix::figures(from.strength.value, 3), mix::figures(if_by_weight, 3),
          mix::figures(d.strength.value * if_by_weight / from.strength.value, 3));
    }
    case mix::DisinfectantAssumption::share_of_bottle:
      return fmt::format(
          "\"{}\" is read as so much of the bottle in the mixture, {}; what is sold as bleach differs, so "
          "the ppm are what counts.",
          request.bottle_words, mix::to_text(*request.ratio));
    case mix::DisinfectantAssumption::alcohol_as_ethanol:
      return fmt::format("\"{}\" is read as ethanol, denatured or not; write isopropyl where the label says so.",
                         from.words);
    case mix::DisinfectantAssumption::chlorine_units:
      return "ppm is mg available chlorine in one litre; volumes add up.";
    case mix::DisinfectantAssumption::alcohol_units:
      return "% is mL of pure alcohol in 100 mL, at 20 °C.";
    case mix::DisinfectantAssumption::unknown_shrinking:
      return "How much isopropyl alcohol and water shrink is not known here, so no amount of water is given: fill up "
             "to "
             "the mark.";
  }
  return "";
}

std::vector<std::string> remark_sentences(const Disinfectant& d) {
  std::vector<std::string> sentences;
  for (const mix::DisinfectantRemark remark : d.remarks) sentences.push_back(remark_words(d, remark));
  return sentences;
}

std::vector<std::string> assumption_sentences(const DisinfectantRequest& request, const Disinfectant& d) {
  std::vector<std::string> sentences;
  for (const mix::DisinfectantAssumption one : d.assumed) sentences.push_back(assumption_words(request, d, one));
  return sentences;
}

std::string list_of(std::string_view title, const std::vector<std::string>& texts, std::size_t width) {
  if (texts.empty()) return "";
  std::string text = fmt::format("\n{}\n\n", title);
  for (const std::string& line : texts) text += paragraph(line, width, "  - ");
  return text;
}

}  // namespace

std::string disinfectant_text(const DisinfectantRequest& request, const Disinfectant& disinfectant, Beside beside,
                              int width) {
  const auto cells = lines_of(width);
  const std::string use = fmt::format("{} Fresh by {}: {}.", contact_words(disinfectant.contact),
                                      to_words(disinfectant.use_by), keeping_words(disinfectant.agent));
  return paragraph(opening(request, disinfectant, beside), cells) + "\nUse\n\n" + paragraph(use, cells, "  ") +
         list_of("Please note", remark_sentences(disinfectant), cells) +
         list_of("Taken as given", assumption_sentences(request, disinfectant), cells) +
         list_of("Cautions", cautions_of(disinfectant), cells);
}

std::string disinfectant_json(const DisinfectantRequest& request, const Disinfectant& d) {
  const bool chlorine = d.agent == Agent::chlorine;
  const std::string unit = chlorine ? "chlorine_ppm" : "alcohol_pct";
  return document({{"stock", request.from.words},
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
                   {"contact", contact_words(d.contact)},
                   {"made", to_iso(request.made)},
                   {"use_by", to_iso(d.use_by)},
                   {"warnings", remark_sentences(d)},
                   {"assumed", assumption_sentences(request, d)},
                   {"cautions", cautions_of(d)}});
}

}  // namespace strikebed::print

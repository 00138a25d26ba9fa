#include "print/solution_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <string_view>
#include <vector>

#include "print/json.hpp"
#include "print/solution_words.hpp"
#include "print/text_table.hpp"

namespace strikebed::print {
namespace {

using mix::DropSize;
using mix::figures;
using mix::Instrument;
using mix::Measured;
using mix::Solution;
using mix::SolutionRequest;

constexpr int kFigures = 3;

std::string heading(std::string_view text) { return fmt::format("\n{}\n\n", text); }

/// "1.12 mL", "1.12 mL (0.227 tsp-us)"; a weight under a gram in mg.
std::string amount_words(double amount, bool mass) {
  if (!mass) return amount >= 1000 ? figures(amount / 1000, 4) + " L" : figures(amount, kFigures) + " mL";
  return amount < 1 ? figures(amount * 1000, kFigures) + " mg" : figures(amount, 4) + " g";
}

std::string amount_words(double amount, bool mass, Beside beside) {
  const std::string other = mass ? weight_beside(amount, beside) : volume_beside(amount, beside);
  return amount_words(amount, mass) + (other.empty() ? "" : fmt::format(" ({})", other));
}

/// As the grower wrote it, with what that is in metric and in other measures: "3 tbsp-metric (45 mL, 3.04 tbsp-us)".
std::string written_words(const std::string& written, double amount, bool mass, Beside beside) {
  if (written.empty()) return amount_words(amount, mass, beside);
  std::string same;
  for (const std::string& other :
       {amount_words(amount, mass), mass ? weight_beside(amount, beside) : volume_beside(amount, beside)}) {
    if (!other.empty() && other != written) same += (same.empty() ? "" : ", ") + other;
  }
  return same.empty() ? written : fmt::format("{} ({})", written, same);
}

bool stock_is_weighed(const SolutionRequest& request) { return request.stock.form != mix::Form::liquid; }

std::string stock_words(const SolutionRequest& request) {
  const mix::Solvent& solvent = request.stock.solvent;
  if (stock_is_weighed(request) || solvent.kind == mix::Solvent::Kind::unknown) return request.stock.words;
  return fmt::format("{} in {}", request.stock.words, mix::solvent_words(solvent));
}

std::string steps_words(const mix::Way& way) {
  const mix::MeasuredOut& out = way.out;
  switch (out.instrument.kind) {
    case Instrument::Kind::drops: {
      std::string text = fmt::format("{:.0f} {}", out.steps, out.steps == 1 ? "drop" : "drops");
      if (out.steps_high > out.steps_low) text += fmt::format(" ({:.0f} to {:.0f})", out.steps_low, out.steps_high);
      return text;
    }
    case Instrument::Kind::marks:
      return amount_words(out.amount.value, false);
    case Instrument::Kind::scale:
      return amount_words(out.amount.value, true);
  }
  return "";
}

std::string into_words(const SolutionRequest& request, const Solution& s, Beside beside) {
  const std::string liquid = s.dry ? "talc" : mix::solvent_words(request.into);
  const std::string written = request.bath ? request.bath->words : "";
  if (request.bath && request.bath->filling == mix::Filling::added_to)
    return fmt::format("add it to {} of {}", written_words(written, request.bath->amount.value, s.dry, beside), liquid);
  return fmt::format("{} with {} to {}", s.dry ? "make it up" : "fill up", liquid,
                     written_words(written, s.total, s.dry, beside));
}

std::string strength_words(const Solution& s) {
  const mix::Strength& strength = mix::strength_of(s, s.asked);
  const std::string range = strength_range_words(strength.ppm);
  return fmt::format("{} ppm {}{}", figures(strength.ppm.value, kFigures), strength.name,
                     range.empty() ? "" : fmt::format(" ({}, 95 %)", range));
}

std::string mixing_words(const SolutionRequest& request, const Solution& s, Beside beside) {
  const bool weighed = stock_is_weighed(request);
  if (s.total == 0 && request.ratio)
    return fmt::format("{}: {} is {}.", stock_words(request), mix::to_text(*request.ratio), strength_words(s));
  if (request.dose) {
    const std::string amount = written_words(mix::to_text(*request.dose), s.dose.value, weighed, beside);
    if (request.bath || request.cup)
      return fmt::format("{} of {}: {}. That is {}.", amount, stock_words(request), into_words(request, s, beside),
                         strength_words(s));
    return fmt::format("{} of {} make {} of {}: {}.", amount, stock_words(request),
                       amount_words(s.total, s.dry, beside), strength_words(s), into_words(request, s, beside));
  }
  std::string take = amount_words(s.dose.value, weighed, beside);
  if (s.two_steps)
    return fmt::format("It takes {} of {}, too little to measure out: make it in two steps, below.", take,
                       stock_words(request));
  if (!s.ways.empty() && s.ways.front().out.instrument.kind == Instrument::Kind::drops)
    take = fmt::format(
        "{}, which is {}{},", steps_words(s.ways.front()), take,
        s.ways.front().out.steps_high > s.ways.front().out.steps_low
            ? fmt::format(" (drops not calibrated: {} ppm {})", strength_range_words(s.ways.front().ppm), s.asked)
            : "");
  return fmt::format("Take {} of {} and {}.", take, stock_words(request), into_words(request, s, beside));
}

/// "1.54 % w/v IBA (0.7 to 2.4, 95 %)"; a weak one in ppm.
std::string stock_strength_words(const mix::Strength& stock, bool dry) {
  constexpr double kPpmPerPercent = 1e4;
  const bool percent = stock.ppm.value >= kPpmPerPercent / 10;
  const double unit = percent ? kPpmPerPercent : 1;
  const Measured strength{stock.ppm.value / unit, stock.ppm.u / unit};
  const std::string range = strength_range_words(strength);
  return fmt::format("{} {} {}{}", figures(strength.value, kFigures),
                     percent ? (dry ? "% w/w" : "% w/v") : (dry ? "mg/kg" : "ppm"), stock.name,
                     range.empty() ? "" : fmt::format(" ({}, 95 %)", range));
}

std::string opening(const SolutionRequest& request, const Solution& s, Beside beside) {
  if (!s.stock) return mixing_words(request, s, beside);
  return fmt::format("The stock must hold {}. {}", stock_strength_words(*s.stock, s.dry),
                     mixing_words(request, s, beside));
}

std::string ways_table(const Solution& s, Beside beside, std::size_t width) {
  if (s.ways.empty()) return "";
  std::vector<std::vector<std::string>> rows;
  for (const mix::Way& way : s.ways) {
    const bool scale = way.out.instrument.kind == Instrument::Kind::scale;
    rows.push_back({mix::instrument_words(way.out.instrument), steps_words(way),
                    amount_words(way.out.amount.value, scale, beside), figures(way.ppm.value, kFigures),
                    strength_range_words(way.ppm), way.too_coarse ? "too few steps" : ""});
  }
  return heading("Measured out") + table({{"with", false},
                                          {"take", true},
                                          {"that is", true},
                                          {fmt::format("gives ppm {}", s.asked), true},
                                          {"95 % range", true},
                                          {"", false}},
                                         rows, width);
}

std::string strengths_table(const SolutionRequest& request, const Solution& s, std::size_t width) {
  std::vector<std::vector<std::string>> rows;
  rows.reserve(s.strengths.size());
  const auto& mixed = request.stock.ingredients;
  for (const mix::Strength& strength : s.strengths) {
    const bool total = &strength == &s.strengths.back();
    const bool ingredient =
        std::ranges::any_of(mixed, [&](const mix::Ingredient& i) { return i.auxin->name == strength.name; });
    if (!total && !ingredient && mixed.size() == 1) continue;  // the acid of a salt, which is also the total
    rows.push_back({total || ingredient ? std::string(strength.name) : fmt::format("counted as {}", strength.name),
                    figures(strength.ppm.value, kFigures), strength_range_words(strength.ppm),
                    figures(strength.mmol.value, kFigures)});
  }
  const std::string with = s.two_steps      ? ", in two steps"
                           : s.ways.empty() ? ""
                                            : fmt::format(", with {}", steps_words(s.ways.front()));
  std::string text =
      heading("What is in it" + with) +
      table({{"", false}, {s.dry ? "mg/kg" : "ppm", true}, {"95 % range", true}, {s.dry ? "mmol/kg" : "mM", true}},
            rows, width);
  if (s.alcohol_high_pct > 0) {
    const std::string low = figures(s.alcohol_low_pct, 2);
    const std::string high = figures(s.alcohol_high_pct, 2);
    text += fmt::format("  Alcohol: {} % by volume.\n", low == high ? low : low + " to " + high);
  }
  return text;
}

std::string two_steps(const SolutionRequest& request, const Solution& s, Beside beside, std::size_t width) {
  if (!s.two_steps) return "";
  const mix::TwoSteps& steps = *s.two_steps;
  const std::string first = fmt::format(
      "1. Make {} of the stock ({}) up to {}{}: {} ppm {}. The rest keeps as a stock, labelled, cold and "
      "dark, until {}.",
      amount_words(steps.first.amount.value, stock_is_weighed(request), beside),
      mix::instrument_words(steps.first.instrument), amount_words(steps.first_volume_ml, false, beside),
      steps.first_in_alcohol ? " with alcohol of 50 % or more (water does not dissolve it)" : "",
      figures(steps.first_ppm, 4), s.asked, to_words(steps.first_keeping.use_by));
  const std::string second = fmt::format(
      "2. Take {} of that instead of the stock ({}) and {}.", amount_words(steps.second.amount.value, false, beside),
      mix::instrument_words(steps.second.instrument), into_words(request, s, beside));
  return heading("In two steps") + paragraph(first, width, "  ") + paragraph(second, width, "  ");
}

std::string percent(double share) { return fmt::format("{:.0f}", 100 * share); }

std::string dip(const SolutionRequest& request, const Solution& s, std::size_t width) {
  if (!s.dip || !request.soak) return "";
  const mix::DipComparison& d = *s.dip;
  const mix::SoakTime& soak = *request.soak;
  const std::string text = fmt::format(
      "{:g} s in this is a dose of {} ppm for 5 s (strength x (seconds / 5)^{:g}); the reference dip, {} ppm for {:g} "
      "s, "
      "is {} ppm. What is believed before anything was counted: {} times the rooting of the reference dip ({} to {}), "
      "and {} % burnt stems ({} to {} %). A guess from other conifers, of low trust: it may only scale a method's own "
      "take, and never what you counted yourself.",
      soak.seconds, figures(d.dose_ppm, kFigures), mix::kTimeExponent, figures(soak.reference_ppm, kFigures),
      soak.reference_seconds, figures(d.reference_ppm, kFigures), figures(d.ratio, 2), figures(d.ratio_low, 2),
      figures(d.ratio_high, 2), percent(d.burnt), percent(d.burnt_low), percent(d.burnt_high));
  return heading("As a dose") + paragraph(text, width, "  ");
}

std::string keeping(const SolutionRequest& request, const Solution& s, std::size_t width) {
  std::string text = fmt::format("Use by {}: {}.", to_words(s.keeping.use_by), keeping_words(s.keeping.kind));
  if (s.renewal) {
    text += fmt::format(" Renew the dip after {} cuttings (sap and dust; common practice)", s.renewal->cuttings);
    if (s.renewal->wet_cuttings < s.renewal->cuttings)
      text += fmt::format(", wet ones already after {}: 0.03 mL of water on each (a guess) thin this little by a tenth",
                          s.renewal->wet_cuttings);
    text += s.renewal->alcohol_leaves
                ? ", and within the hour: alcohol leaves an open cup first; cover it between groups."
                : ".";
  }
  const auto lines = [](std::string_view title, const std::vector<std::string>& label) {
    std::string all = fmt::format("\n  {}:\n", title);
    for (const std::string& line : label) all += fmt::format("    {}\n", line);
    return all;
  };
  return heading("Keeping") + paragraph(text, width, "  ") +
         (s.two_steps ? lines("For the bottle of the first step", first_label_lines(request, *s.two_steps))
                      : std::string()) +
         lines("For the bottle", label_lines(request, s));
}

std::vector<std::string> cautions_of(const Solution& s) {
  std::vector<std::string> texts = {
      "Auxins are regulated products in many places: the label and local rules come first, also for mixing your own. "
      "Wear "
      "gloves and eye protection."};
  if (s.dry) texts.emplace_back("Do not breathe the dust; tap off what hangs loose on a cutting.");
  if (s.alcohol_high_pct > 0)
    texts.emplace_back("Alcohol and its vapour burn: no flame, heater or hot tool near it, and small open cups only.");
  return texts;
}

std::string list_of(std::string_view title, const std::vector<std::string>& texts, std::size_t width) {
  if (texts.empty()) return "";
  std::string text = heading(title);
  for (const std::string& line : texts) text += paragraph(line, width, "  - ");
  return text;
}

Json spread(const Measured& measured, const std::string& unit) {
  return {{unit, number(measured.value)},
          {"standard_uncertainty_" + unit, number(measured.u)},
          {"low_" + unit, number(std::max(0.0, measured.low()))},
          {"high_" + unit, number(measured.high())}};
}

std::string_view kind_name(Instrument::Kind kind) {
  return kind == Instrument::Kind::drops ? "drops" : kind == Instrument::Kind::marks ? "marks" : "scale";
}

std::string_view basis_name(DropSize::Basis basis) {
  return basis == DropSize::Basis::calibrated     ? "calibrated"
         : basis == DropSize::Basis::from_solvent ? "from_solvent"
                                                  : "unknown";
}

Json way_json(const mix::Way& way, const std::string& unit) {
  const bool scale = way.out.instrument.kind == Instrument::Kind::scale;
  Json json = {{"with", kind_name(way.out.instrument.kind)},
               {scale ? "step_g" : "step_ml",
                way.out.instrument.kind == Instrument::Kind::drops ? Json(nullptr) : number(way.out.instrument.step)},
               {"steps", number(way.out.steps)},
               {"steps_low", number(way.out.steps_low)},
               {"steps_high", number(way.out.steps_high)},
               {scale ? "amount_g" : "amount_ml", number(way.out.amount.value)}};
  json.update(spread(way.ppm, unit));
  json["too_coarse"] = way.too_coarse;
  return json;
}

/// Of an auxin in a mixture or a stock.
Json strength_json(const mix::Strength& strength, bool dry) {
  Json json = {{"of", std::string(strength.name)}};
  json.update(spread(strength.ppm, dry ? "mg_kg" : "ppm"));
  json[dry ? "mmol_kg" : "mmol_l"] = number(strength.mmol.value);
  return json;
}

Json two_steps_json(const SolutionRequest& request, const mix::TwoSteps& steps) {
  const bool weighed = stock_is_weighed(request);
  return {{weighed ? "first_amount_g" : "first_amount_ml", number(steps.first.amount.value)},
          {"first_with", kind_name(steps.first.instrument.kind)},
          {weighed ? "first_step_g" : "first_step_ml", number(steps.first.instrument.step)},
          {"first_volume_ml", number(steps.first_volume_ml)},
          {"first_ppm", number(steps.first_ppm)},
          {"first_in_alcohol", steps.first_in_alcohol},
          {"first_use_by", to_iso(steps.first_keeping.use_by)},
          {"first_label", first_label_lines(request, steps)},
          {"second_ml", number(steps.second.amount.value)},
          {"second_with", kind_name(steps.second.instrument.kind)},
          {"second_step_ml", number(steps.second.instrument.step)},
          {"second_total_ml", number(steps.total)}};
}

Json dip_json(const mix::DipComparison& dip) {
  return {{"dose_ppm", number(dip.dose_ppm)},
          {"reference_ppm", number(dip.reference_ppm)},
          {"rooting_ratio", number(dip.ratio)},
          {"rooting_ratio_low", number(dip.ratio_low)},
          {"rooting_ratio_high", number(dip.ratio_high)},
          {"burnt", number(dip.burnt)},
          {"burnt_low", number(dip.burnt_low)},
          {"burnt_high", number(dip.burnt_high)}};
}

Json drop_json(const DropSize& drop) {
  return {{"ml", number(drop.ml.value)},
          {"standard_uncertainty_ml", number(drop.ml.u)},
          {"per_ml_low", number(drop.per_ml_low)},
          {"per_ml_high", number(drop.per_ml_high)},
          {"basis", basis_name(drop.basis)}};
}

}  // namespace

std::string solution_text(const SolutionRequest& request, const Solution& solution, const FieldNames& names,
                          Beside beside, int width) {
  const auto cells = lines_of(width);
  return paragraph(opening(request, solution, beside), cells) + ways_table(solution, beside, cells) +
         two_steps(request, solution, beside, cells) + strengths_table(request, solution, cells) +
         dip(request, solution, cells) + keeping(request, solution, cells) +
         list_of("Please note", remark_sentences(request, solution, names), cells) +
         list_of("Taken as given", assumption_sentences(request, solution), cells) +
         list_of("Cautions", cautions_of(solution), cells);
}

std::string solution_json(const SolutionRequest& request, const Solution& s) {
  const bool weighed = stock_is_weighed(request);
  Json strengths = Json::array();
  for (const mix::Strength& strength : s.strengths) strengths.push_back(strength_json(strength, s.dry));
  Json ways = Json::array();
  for (const mix::Way& way : s.ways) ways.push_back(way_json(way, s.dry ? "mg_kg" : "ppm"));
  const auto amount = [&](double value) { return s.total > 0 ? number(value) : Json(nullptr); };
  return document(
      {{"stock", request.stock.words},
       {"stock_strength", s.stock ? strength_json(*s.stock, s.dry) : Json(nullptr)},
       {"solvent", mix::solvent_words(request.stock.solvent)},
       {weighed ? "dose_g" : "dose_ml", amount(s.dose.value)},
       {s.dry ? "talc_g" : "liquid_ml", amount(s.liquid)},
       {s.dry ? "total_g" : "total_ml", amount(s.total)},
       {"filling", request.bath && request.bath->filling == mix::Filling::added_to ? "added_to" : "made_up_to"},
       {"asked", std::string(s.asked)},
       {"strengths", strengths},
       {"ways", ways},
       {"two_steps", s.two_steps ? two_steps_json(request, *s.two_steps) : Json(nullptr)},
       {"drop", weighed ? Json(nullptr) : drop_json(s.drop)},
       {"alcohol_low_pct", number(s.alcohol_low_pct)},
       {"alcohol_high_pct", number(s.alcohol_high_pct)},
       {"dip", s.dip ? dip_json(*s.dip) : Json(nullptr)},
       {"renew_after_cuttings",
        s.renewal ? Json(std::min(s.renewal->cuttings, s.renewal->wet_cuttings)) : Json(nullptr)},
       {"alcohol_leaves", s.renewal ? Json(s.renewal->alcohol_leaves) : Json(nullptr)},
       {"made", to_iso(request.made)},
       {"use_by", to_iso(s.keeping.use_by)},
       {"label", label_lines(request, s)},
       {"warnings", remark_sentences(request, s, {})},
       {"assumed", assumption_sentences(request, s)},
       {"cautions", cautions_of(s)}});
}

}  // namespace strikebed::print

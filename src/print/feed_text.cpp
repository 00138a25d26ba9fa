#include "print/feed_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "print/json.hpp"
#include "print/text_table.hpp"
#include "print/trust_words.hpp"

namespace strikebed::print {
namespace {

using mix::FeedAnswer;
using mix::figures;

const std::vector<std::string>& feed_cautions() {
  static const std::vector<std::string> lines{
      "The fertiliser's label and local rules on feeding and run-off come first; keep it from children, food and "
      "bleach.",
      "Never put calcium fertilisers into one stock with phosphates or sulphates: they set to a sludge. Mix them only "
      "in the "
      "feed."};
  return lines;
}

std::string strength_words(const mix::Measured& ppm) {
  return fmt::format("{} ({} to {})", figures(ppm.value, 3), figures(std::max(ppm.low(), 0.0), 3),
                     figures(ppm.high(), 3));
}

/// 95 %, dS/m.
std::pair<double, double> ec_range(const FeedAnswer& answer) {
  const mix::Measured ec{answer.feed_ec.value_or(0), answer.feed_ec_u};
  return {std::max(ec.low(), 0.0), ec.high()};
}

/// "+1.2 %", and "0.0 %" for what is next to nothing.
std::string misfit_words(double misfit) {
  const double tenths = std::round(1000 * misfit);
  return tenths == 0 ? "0.0 %" : fmt::format("{:+.1f} %", tenths / 10);
}

std::string phase_ppm(const mix::Phase& phase, std::size_t nutrient) {
  return phase.ppm[nutrient] > 0 ? figures(phase.ppm[nutrient], 3) : "none";
}

Json phase_json(const mix::Phase& phase) {
  return {{"name", phase.name},
          {"stage", phase.stage},
          {"n_ppm", number(phase.ppm[0])},
          {"p_ppm", number(phase.ppm[1])},
          {"k_ppm", number(phase.ppm[2])},
          {"n_ppm_range", {number(phase.n_low), number(phase.n_high)}},
          {"ec_range_ds_m", {number(phase.ec_low), number(phase.ec_high)}},
          {"leachate_limit_ds_m", number(phase.leachate_limit)},
          {"source", phase.source},
          {"trust", std::string(1, letter(phase.trust))}};
}

/// "more than any phase of young pines is fed (200 ppm)": of a phase that is named, or of the most that any allows.
std::string too_strong_words(const FeedAnswer& answer, const mix::FeedRemark& remark, const FieldNames& names) {
  const double n = answer.nutrients[0].obtained.value;
  if (const auto& phase = answer.asked.phase)
    return fmt::format("{:.3g} ppm N is above the {} to {} ppm of the phase {}", n, phase->n_low, remark.limit,
                       phase->name);
  std::string text = fmt::format("{:.3g} ppm N is more than any phase of young pines is fed ({} ppm)", n, remark.limit);
  if (answer.feed_ec) return text;
  const auto conductivity = field_name(names, "conductivity");
  return text + fmt::format(", and its salt is not known: {}measure it",
                            conductivity ? fmt::format("give {} or ", *conductivity) : "");
}

std::string remark_words(const FeedAnswer& answer, const mix::FeedRemark& remark, const FieldNames& names) {
  const mix::FeedRequest& asked = answer.asked;
  switch (remark.kind) {
    case mix::FeedRemarkKind::nothing_fed:
      return "nothing is fed in this phase";
    case mix::FeedRemarkKind::left_out: {
      const mix::Weighed& one = answer.weigh[remark.index];
      return fmt::format(
          "{:.2g} g of {} is less than half a step of the scale ({} g): left out, the rest is within {:.3g} % of the "
          "target",
          one.grams_exact, to_text(one.label), asked.scale_g, 100 * asked.misfit_allowed);
    }
    case mix::FeedRemarkKind::coarse_scale: {
      const mix::NutrientAnswer& nutrient = answer.nutrients[remark.index];
      return fmt::format("{:.3g} ppm {} instead of {:.3g}: the scale is too coarse; take a finer one or a bigger can",
                         nutrient.obtained.value, mix::kNutrientNames[remark.index], nutrient.wanted.value_or(0));
    }
    case mix::FeedRemarkKind::strong:
      return too_strong_words(answer, remark, names);
    case mix::FeedRemarkKind::salty:
      return asked.phase ? fmt::format("EC {:.2f} dS/m is above the {} dS/m of the phase {}",
                                       answer.feed_ec.value_or(0), remark.limit, asked.phase->name)
                         : fmt::format("EC {:.2f} dS/m is more than any phase of young pines bears ({} dS/m)",
                                       answer.feed_ec.value_or(0), remark.limit);
    case mix::FeedRemarkKind::rich_stock: {
      const mix::Weighed& one = answer.weigh[remark.index];
      return fmt::format(
          "{:.0f} g of {} in a litre of stock may not all dissolve: see the label, use warm water or a smaller ratio",
          one.grams_per_litre, to_text(one.label));
    }
  }
  return "";
}

std::vector<std::string> remark_lines(const FeedAnswer& answer, const FieldNames& names) {
  std::vector<std::string> lines;
  for (const mix::FeedRemark& remark : answer.remarks) lines.push_back(remark_words(answer, remark, names));
  return lines;
}

std::vector<std::string> assumption_lines(const mix::FeedRequest& asked, const FieldNames& names) {
  std::vector<std::string> lines;
  for (const mix::FeedAssumption one : asked.assumed) {
    const bool litre = one == mix::FeedAssumption::one_litre;
    const auto name = field_name(names, litre ? "volume" : "scale");
    lines.push_back((litre ? std::string("1 L") : fmt::format("a scale that shows {} g", asked.scale_g)) +
                    (name ? fmt::format(" ({})", *name) : ""));
  }
  return lines;
}

/// Where the salt of a fertiliser is not known.
std::string unknown_salt_words(const FieldNames& names) {
  const auto name = field_name(names, "conductivity");
  return fmt::format("EC not known: {}measure it.",
                     name ? fmt::format("give the label's, as {} \"1.48 at 200\" (dS/m at ppm N), or ", *name) : "");
}

std::string what_it_is(const FeedAnswer& answer, Beside beside, const Lines& lines) {
  const mix::FeedRequest& asked = answer.asked;
  if (!asked.injector) return fmt::format("Feed, {}\n", litres_words(asked.volume_l, beside));
  return paragraph(fmt::format("Stock, {} for an injector at {} ({} part{} of feed from one of stock): {} of feed",
                               litres_words(asked.volume_l, beside), to_text(*asked.injector),
                               figures(asked.injector->mixture_per_part(), 6),
                               asked.injector->mixture_per_part() == 1 ? "" : "s", litres_words(answer.feed_l, beside)),
                   lines.width);
}

}  // namespace

std::string feed_text(const FeedAnswer& answer, const FieldNames& names, Beside beside, int width) {
  const Lines lines{lines_of(width)};
  const mix::FeedRequest& asked = answer.asked;
  std::string text = what_it_is(answer, beside, lines);
  text += "\nWeigh\n";
  std::vector<std::vector<std::string>> rows;
  rows.reserve(answer.weigh.size());
  for (const mix::Weighed& one : answer.weigh) {
    rows.push_back({to_text(one.label), grams_words(one.grams, beside),
                    fmt::format("{} g", figures(one.grams_exact, 4)),
                    fmt::format("{} g/L", figures(one.grams_per_litre, 4))});
  }
  text += table(
      {{"fertiliser"}, {"weigh", true}, {"exactly", true}, {asked.injector ? "in the stock" : "in the feed", true}},
      rows, lines.width);
  text += lines.item(asked.injector ? fmt::format("Dissolve in part of the water and make up to {}.",
                                                  litres_words(asked.volume_l, beside))
                                    : fmt::format("Dissolve in {} of water.", litres_words(asked.volume_l, beside)));
  text += "\nStrength\n";
  rows.clear();
  for (std::size_t i = 0; i < answer.nutrients.size(); ++i) {
    const mix::NutrientAnswer& one = answer.nutrients[i];
    rows.push_back({std::string(mix::kNutrientNames[i]), one.wanted ? figures(*one.wanted, 4) : "-",
                    strength_words(one.obtained), one.misfit ? misfit_words(*one.misfit) : "-",
                    i == 1   ? fmt::format("{} as P2O5", figures(answer.p2o5_ppm, 3))
                    : i == 2 ? fmt::format("{} as K2O", figures(answer.k2o_ppm, 3))
                             : ""});
  }
  text += table({{""}, {"wanted, ppm", true}, {"obtained, ppm", true}, {"misfit", true}, {"oxide, ppm"}}, rows,
                lines.width);
  const bool weights_have_limits = std::ranges::any_of(asked.grams_u, [](double u) { return u > 0; });
  text += lines.item(
      fmt::format("In brackets: 95 % range from the label's last digit, {} and a can good to {} % either way.",
                  weights_have_limits ? std::string("the limits of the weights")
                                      : fmt::format("a scale of {} g", figures(asked.scale_g, 3)),
                  figures(100 * std::sqrt(3.0) * asked.volume_error, 2)));
  if (answer.feed_ec) {
    text += lines.item(fmt::format(
        "EC about {:.2f} dS/m ({:.2f} to {:.2f}, 95 %){}.", *answer.feed_ec, ec_range(answer).first,
        ec_range(answer).second,
        asked.water_ec > 0 ? fmt::format(", {:.2f} of it the water's", asked.water_ec) : ", with pure water"));
  } else if (!answer.weigh.empty()) {
    text += lines.item(unknown_salt_words(names));
  }
  if (asked.phase) {
    const mix::Phase& phase = *asked.phase;
    text += lines.item(fmt::format(
        "Phase {}: {}. N {} to {} ppm, EC of the feed {} to {} dS/m; what runs out of the pot at most {} dS/m, "
        "at {} flush with plain water. {} ({}).",
        phase.name, phase.stage, phase.n_low, phase.n_high, phase.ec_low, phase.ec_high, phase.leachate_limit,
        asked.schedule.flush_ds_m, phase.source, trust_words(phase.trust)));
  }
  for (const std::string& line : remark_lines(answer, names)) text += lines.item("Please note: " + line + ".");
  for (const std::string& line : assumption_lines(asked, names)) text += lines.item("Assumed: " + line + ".");
  text += "\nTake care\n";
  for (const std::string& line : feed_cautions()) text += lines.item(line);
  return text;
}

std::string phases_text(const mix::FeedSchedule& schedule, int width) {
  const Lines lines{lines_of(width)};
  std::string text = paragraph("Feed by what the plants show, not by date", lines.width) + "\n";
  std::vector<std::vector<std::string>> rows;
  for (const mix::Phase& phase : schedule.phases) {
    rows.push_back({phase.name, phase_ppm(phase, 0), phase_ppm(phase, 1), phase_ppm(phase, 2),
                    fmt::format("{}-{}", phase.ec_low, phase.ec_high), fmt::format("{}", phase.leachate_limit),
                    phase.stage});
  }
  text += table({{"phase"},
                 {"N ppm", true},
                 {"P ppm", true},
                 {"K ppm", true},
                 {"EC dS/m", true},
                 {"run-off at most", true},
                 {"begins"}},
                rows, lines.width);
  text += lines.item(fmt::format("Flush with plain water when what runs out of the pot reaches {} dS/m ({}, {}).",
                                 schedule.flush_ds_m, schedule.flush_source, trust_words(schedule.flush_trust)));
  // Phases of one source are named together.
  std::vector<std::string> told;
  for (const mix::Phase& phase : schedule.phases) {
    if (std::ranges::find(told, phase.source) != told.end()) continue;
    told.push_back(phase.source);
    std::string names;
    for (const mix::Phase& other : schedule.phases) {
      if (other.source == phase.source)
        names += fmt::format("{}{} ({})", names.empty() ? "" : ", ", other.name, trust_words(other.trust));
    }
    text += lines.item(fmt::format("{}: {}.", names, phase.source));
  }
  return text;
}

std::string feed_json(const FeedAnswer& answer) {
  Json weigh = Json::array();
  for (const mix::Weighed& one : answer.weigh) {
    weigh.push_back({{"label", to_text(one.label)},
                     {"grams", number(one.grams)},
                     {"grams_exact", number(one.grams_exact)},
                     {"grams_per_litre", number(one.grams_per_litre)}});
  }
  Json nutrients = Json::object();
  for (std::size_t i = 0; i < answer.nutrients.size(); ++i) {
    const mix::NutrientAnswer& one = answer.nutrients[i];
    nutrients[std::string(mix::kNutrientNames[i])] = {{"wanted_ppm", number(one.wanted)},
                                                      {"obtained_ppm", number(one.obtained.value)},
                                                      {"low_ppm", number(std::max(one.obtained.low(), 0.0))},
                                                      {"high_ppm", number(one.obtained.high())},
                                                      {"misfit", number(one.misfit)}};
  }
  const mix::FeedRequest& asked = answer.asked;
  return document({{"volume_litres", number(asked.volume_l)},
                   {"injector", asked.injector ? Json(to_text(*asked.injector)) : Json(nullptr)},
                   {"feed_litres", number(answer.feed_l)},
                   {"scale_g", number(asked.scale_g)},
                   {"weigh", weigh},
                   {"nutrients", nutrients},
                   {"p2o5_ppm", number(answer.p2o5_ppm)},
                   {"k2o_ppm", number(answer.k2o_ppm)},
                   {"ec_ds_m", number(answer.feed_ec)},
                   {"low_ec_ds_m", answer.feed_ec ? number(ec_range(answer).first) : Json(nullptr)},
                   {"high_ec_ds_m", answer.feed_ec ? number(ec_range(answer).second) : Json(nullptr)},
                   {"water_ec_ds_m", number(asked.water_ec)},
                   {"phase", asked.phase ? phase_json(*asked.phase) : Json(nullptr)},
                   {"warnings", remark_lines(answer, {})},
                   {"assumed", assumption_lines(asked, {})},
                   {"cautions", feed_cautions()}});
}

std::string phases_json(const mix::FeedSchedule& schedule) {
  Json phases = Json::array();
  for (const mix::Phase& phase : schedule.phases) phases.push_back(phase_json(phase));
  return document({{"phases", phases},
                   {"flush_leachate_ds_m", number(schedule.flush_ds_m)},
                   {"flush_source", schedule.flush_source},
                   {"flush_trust", std::string(1, letter(schedule.flush_trust))}});
}

}  // namespace strikebed::print

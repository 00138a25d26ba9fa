#include "print/medium_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "print/json.hpp"
#include "print/text_table.hpp"
#include "print/trust_words.hpp"

namespace strikebed::print {
namespace {

using mix::Estimate;
using mix::figures;
using mix::MediumAnswer;

constexpr double kRoomForRoots = 0.25;  // least air for rooting: 25 to 40 %, common practice

std::string size_words(const mix::GrainRange& grains) {
  if (grains.low_mm == grains.high_mm) return figures(grains.low_mm, 3) + " mm";
  return fmt::format("{}-{} mm", figures(grains.low_mm, 3), figures(grains.high_mm, 3));
}

std::string containers_line(const MediumAnswer& answer, Beside beside, const Lines& lines) {
  const mix::Container& c = answer.asked.container;
  const bool straight = c.base_cm == c.top_cm;
  const std::string across = straight ? lengths_words(c.top_cm, beside) + " across"
                                      : fmt::format("{} across at the bottom, {} at the top",
                                                    lengths_words(c.base_cm, beside), lengths_words(c.top_cm, beside));
  return paragraph(
      fmt::format("Medium for {} {} pot{}, {}, {} tall, filled {}", answer.asked.containers,
                  c.section == mix::CrossSection::round ? "round" : "square", answer.asked.containers == 1 ? "" : "s",
                  across, lengths_words(c.height_cm, beside), lengths_words(c.fill_cm, beside)),
      lines.width);
}

/// Mineral grains are sold with their dust and fines: what of them is counted, and how the rest is.
std::string sieving_words(const MediumAnswer& answer, const Lines& lines) {
  std::string counted;
  bool uncounted = false;
  for (const mix::Part& part : answer.asked.recipe) {
    if (part.lost > 0) {
      counted +=
          fmt::format("{}{} % of the {}", counted.empty() ? "" : ", ", figures(100 * part.lost, 3), part.material.name);
    }
    uncounted = uncounted || (part.lost == 0 && part.material.dust != mix::Dust::organic);
  }
  std::string text;
  if (!counted.empty()) text += lines.item(fmt::format("Sieving takes {} as bought; that is counted.", counted));
  if (uncounted) {
    text += lines.item(
        "What is bought unsieved loses its fines: sieve a litre, measure what stays, and write it into the recipe, "
        "such "
        "as \"2 grit 3-4 mm less 15 %\".");
  }
  return text;
}

std::string reach_section(const MediumAnswer& answer, const mix::Reach& reach, Beside beside, const Lines& lines) {
  const auto whole = [](double containers) { return fmt::format("{:.0f}", std::floor(containers + 1e-9)); };
  std::string text = "\nHow far it reaches\n";
  const double surely = std::floor(reach.containers.low + 1e-9);
  text += lines.item(fmt::format(
      "It fills {} pot{}{}, {} each, with {} % for spills; {} in 19 of 20 cases. It makes {} L{} of mix: the volumes "
      "shrink by {}, because small grains sit between large ones.",
      whole(reach.containers.value), reach.containers.value < 2 ? "" : "s",
      whole(reach.containers.low) == whole(reach.containers.high)
          ? ""
          : fmt::format(" ({} to {})", whole(reach.containers.low), whole(reach.containers.high)),
      litres_words(answer.medium_l / answer.asked.containers, beside), figures(100 * answer.asked.spare, 3),
      surely < 1 ? "not one is sure" : fmt::format("{:.0f} or more", surely), figures(answer.obtained_l.value, 3),
      range_words(answer.obtained_l), percent_words(answer.shrinkage)));
  std::vector<std::vector<std::string>> rows;
  for (std::size_t i = 0; i < reach.used.size(); ++i) {
    const mix::Used& one = reach.used[i];
    const mix::Stored& stored = answer.asked.stored[i];
    const auto words = [&](double amount) {
      return stored.by_weight ? kilos_words(amount, beside) : litres_words(amount, beside);
    };
    rows.push_back({figures(answer.asked.recipe[i].parts, 3), answer.buy[i].name,
                    words(stored.amount) + (stored.limits > 0 ? " ± " + words(stored.limits) : std::string()),
                    figures(one.there_l.value, 3) + range_words(one.there_l),
                    figures(one.left_l.value, 3) + range_words(one.left_l), kilos_words(one.left_kg, beside),
                    i == reach.runs_out ? "runs out" : ""});
  }
  text += table({{"parts", true}, {"material"}, {"there", true}, {"to mix, L"}, {"left, L"}, {"left, dry"}, {""}}, rows,
                lines.width);
  const double sure = reach.used[reach.runs_out].runs_out;
  if (sure < 0.95) {
    text += lines.item(fmt::format("Which runs out first is not sure: {} does in {:.0f} of 100 cases.",
                                   answer.buy[reach.runs_out].name, 100 * sure));
  }
  return text + sieving_words(answer, lines);
}

std::string buy_section(const MediumAnswer& answer, Beside beside, const Lines& lines) {
  std::string text = "\nWhat to buy\n";
  const bool sieved = std::ranges::any_of(answer.buy, [](const mix::Bought& one) { return one.lost > 0; });
  std::vector<std::vector<std::string>> rows;
  for (std::size_t i = 0; i < answer.buy.size(); ++i) {
    const mix::Bought& one = answer.buy[i];
    std::vector<std::string> cells = {
        figures(one.parts, 3),
        one.name,
        litres_words(one.measured_l, beside),
        fmt::format("{} x {}", one.bags,
                    answer.asked.bag_kg ? kilos_words(*answer.asked.bag_kg, Beside::nothing)
                                        : litres_words(answer.asked.bag_l, Beside::nothing)),
        kilos_words(one.dry_kg, beside),
        figures(one.loose_l.value, 3) + range_words(one.loose_l)};
    if (sieved) cells.insert(cells.begin() + 3, litres_words(one.unsieved_l, beside));
    rows.push_back(std::move(cells));
  }
  std::vector<Column> columns = {{"parts", true}, {"material"},   {"measure out", true},
                                 {"bags", true},  {"weighs dry"}, {"needed loose, L"}};
  if (sieved) columns.insert(columns.begin() + 3, {"buy unsieved", true});
  text += table(columns, rows, lines.width);
  text += lines.item(fmt::format(
      "A pot takes {} and all of them {}; {} % more is counted for spills. Mixed, the volumes shrink by {}, "
      "because small grains sit between large ones.",
      litres_words(answer.medium_l / answer.asked.containers, beside), litres_words(answer.medium_l, beside),
      figures(100 * answer.asked.spare, 3), percent_words(answer.shrinkage)));
  std::string ratio;
  for (const double parts : answer.parts_obtained) ratio += (ratio.empty() ? "" : " to ") + figures(parts, 3);
  text += lines.item(
      fmt::format("Measured in steps of {}, enough in 19 of 20 cases, it is {} and gives {} L{} of mix: {:.0f}{} pots.",
                  litres_words(answer.asked.jug_l, Beside::nothing), ratio, figures(answer.obtained_l.value, 3),
                  range_words(answer.obtained_l), std::floor(answer.containers_filled.value),
                  fmt::format(" ({:.0f} to {:.0f})", std::floor(answer.containers_filled.low),
                              std::floor(answer.containers_filled.high))));
  return text + sieving_words(answer, lines);
}

std::string weight_section(const MediumAnswer& answer, Beside beside, const Lines& lines) {
  const auto row = [&](const char* state, const Estimate& pot, const Estimate& tray) {
    std::vector<std::string> cells{state, kilos_words(pot, beside)};
    if (answer.asked.per_tray > 1) cells.push_back(kilos_words(tray, beside));
    return cells;
  };
  const auto tray_of = [&](const Estimate& e) {
    const double n = answer.asked.per_tray;
    return Estimate{e.value * n, e.low * n, e.high * n};
  };
  std::vector<Column> columns{{"content, pot not counted"}, {"a pot"}};
  if (answer.asked.per_tray > 1) columns.push_back({fmt::format("a tray of {}", answer.asked.per_tray)});
  std::string text = "\nWeight\n";
  text += table(
      columns,
      {row("dry", answer.dry_kg, tray_of(answer.dry_kg)), row("drained", answer.drained_kg, answer.tray_drained_kg),
       row("full of water", answer.full_kg, answer.tray_full_kg)},
      lines.width);
  return text;
}

std::string water_section(const MediumAnswer& answer, Beside beside, const Lines& lines) {
  std::string text = "\nWater and air, drained\n";
  text += lines.item(fmt::format(
      "Pores between the grains {}; of the volume {} holds air and {} water{}.", percent_words(answer.porosity),
      percent_words(answer.air), percent_words(answer.capacity),
      answer.inside_water.value > 0
          ? fmt::format("; the grains hold {} more inside, which costs no air", percent_words(answer.inside_water))
          : ""));
  std::vector<std::vector<std::string>> rows;
  for (auto slice = answer.profile.rbegin(); slice != answer.profile.rend(); ++slice) {
    rows.push_back({fmt::format("{:.1f} cm", slice->height_cm), percent_words(slice->water), percent_words(slice->air),
                    bar(slice->water.value / std::max(answer.porosity.value, 0.01), 20)});
  }
  text +=
      table({{"above the bottom", true}, {"water"}, {"air"}, {"share of the pores that is full"}}, rows, lines.width);
  text += lines.item(fmt::format("Wet zone: the lowest {} cm{} hold less than a tenth air.",
                                 figures(answer.wet_zone_cm.value, 2), range_words(answer.wet_zone_cm)));
  if (answer.air.value < kRoomForRoots) {
    text += lines.item(
        fmt::format("That is less than the {:.0f} % air usual for rooting: take coarser grains or a taller pot.",
                    100 * kRoomForRoots));
  }
  if (!answer.pocket) {
    text += lines.item(
        fmt::format("At the stem base, {} below the surface: water {}, air {}; {} mL{} of water within 1 cm.",
                    lengths_words(answer.asked.stem_depth_cm, beside), percent_words(answer.stem_water),
                    percent_words(answer.stem_air), figures(answer.reach_ml.value, 2), range_words(answer.reach_ml)));
  }
  text += lines.item(answer.drains_at_once ? "Water runs through at once."
                                           : fmt::format("Water runs through at about {} mm a second.",
                                                         figures(1000 * answer.conductivity_m_s, 1)));
  return text;
}

std::string finest_words(const MediumAnswer& answer) {
  // A cut whose d85 is the wanted one when its lower sieve is 0.7 of it.
  constexpr double kLower = 0.7;
  constexpr double kUpper = kLower + (1 - kLower) / 0.85;
  const double d85 = answer.finest_d85_mm;
  return fmt::format(
      "The finest sand that stays on this medium has a d85 of {} mm ({} mm by the older rule): 85 % of its grains are "
      "that "
      "size or smaller. A sieve cut of {:.2f}-{:.2f} mm or coarser does.",
      figures(d85, 2), figures(answer.finest_d85_older_mm, 2), kLower * d85, kUpper * d85);
}

std::string pocket_section(const MediumAnswer& answer, const mix::PocketAnswer& pocket, Beside beside,
                           const Lines& lines) {
  std::string text = fmt::format("\nThe pocket of {}\n", pocket.sand);
  const std::string ratio = figures(pocket.ratio, 2);
  const std::string limit = figures(mix::kRetainingRatio, 1);
  switch (pocket.staying) {
    case mix::Staying::stays:
      text += lines.item(
          fmt::format("Yes, it stays: D15 of the medium, {} mm, is {} times d85 of the sand; up to {} holds.",
                      figures(answer.d15_mm, 3), ratio, limit));
      break;
    case mix::Staying::slowly_lost:
      text += lines.item(
          fmt::format("No, it is lost slowly: D15 of the medium, {} mm, is {} times d85 of the sand; up to {} holds "
                      "(up to {} by the older rule).",
                      figures(answer.d15_mm, 3), ratio, limit, figures(mix::kOlderRetainingRatio, 1)));
      break;
    case mix::Staying::washes_in:
      text += lines.item(fmt::format(
          "No, it washes into the medium at once: D15 of the medium, {} mm, is {} times d85 of the sand; up to "
          "{} holds.",
          figures(answer.d15_mm, 3), ratio, limit));
      break;
  }
  text += lines.item(finest_words(answer));
  if (pocket.staying != mix::Staying::stays) {
    text += lines.item(
        pocket.bridge
            ? fmt::format("Or line the hole with 1 cm of sand of {}: the medium holds it, and it holds this sand.",
                          size_words({std::round(pocket.bridge->low_mm * 100) / 100,
                                      std::round(pocket.bridge->high_mm * 100) / 100}))
            : "No single layer between would hold this sand: take a coarser one.");
  }
  text += lines.item(fmt::format("{} pocket{} a pot, {} across and {} deep, {} mL each: {} of sand in all.",
                                 pocket.per_container, pocket.per_container == 1 ? "" : "s",
                                 lengths_words(pocket.pocket.width_cm, beside),
                                 lengths_words(pocket.pocket.depth_cm, beside), figures(pocket.volume_ml, 2),
                                 litres_words(pocket.sand_l, beside)));
  text += lines.item(fmt::format(
      "The medium pulls at its foot with {} cm{} of suction and this sand lifts water {:.0f} cm, so drained it "
      "still holds {} mL{} of water and {} air.",
      figures(pocket.foot_suction_cm.value, 2), range_words(pocket.foot_suction_cm), pocket.visible_rise_cm,
      figures(pocket.water_ml.value, 2), range_words(pocket.water_ml), percent_words(pocket.air)));
  text += lines.item(fmt::format(
      "At the stem base, {} below the surface: water {}, air {}; {} mL{} of water within 1 cm.{}",
      lengths_words(answer.asked.stem_depth_cm, beside), percent_words(pocket.water_at_stem),
      percent_words(pocket.air_at_stem), figures(answer.reach_ml.value, 2), range_words(answer.reach_ml),
      pocket.air_at_stem.value < mix::kLeastAir
          ? " It is a wick and no aerated medium: keep it small, the stem base near the coarse grains, and judge "
            "the mist by the pocket."
          : ""));
  return text;
}

std::vector<std::string> caution_lines(const MediumAnswer& answer, Beside beside) {
  std::vector<std::string> lines;
  if (answer.silica_dust) {
    lines.emplace_back(
        "Sand, grit, pumice, perlite and fired clay give off dust, much of it silica, which harms the lungs for good: "
        "wet them before "
        "pouring, sieve outdoors with the wind behind you, wear a fitted mask, never sweep dry.");
  }
  if (answer.organic_dust) {
    lines.emplace_back(
        "Handle peat and bark moist, with gloves and a mask, and wash after: they can carry Legionella.");
  }
  const double limit = answer.asked.lift_limit_kg;
  if (answer.tub_wet_kg.high > limit) {
    lines.push_back(fmt::format(
        "All of the mix, wet, weighs {}: more than the {} one person should lift. Mix in smaller amounts, share "
        "the lift, or mix where it is used.",
        kilos_words(answer.tub_wet_kg, beside), kilos_words(limit, beside)));
  }
  if (answer.asked.per_tray > 1 && answer.tray_full_kg.high > limit) {
    lines.push_back(fmt::format(
        "A full tray just watered weighs {}: too heavy for one. Let it drain first, or set fewer pots in it.",
        kilos_words(answer.tray_full_kg, beside)));
  }
  return lines;
}

/// The field of the grower's words that would have said it.
std::string_view field_of(mix::MediumAssumption assumption) {
  switch (assumption) {
    case mix::MediumAssumption::as_tall_as_wide:
      return "height";
    case mix::MediumAssumption::usual_fill:
      return "fill";
    case mix::MediumAssumption::usual_pocket:
      return "hole";
    case mix::MediumAssumption::one_pocket:
      return "cuttings";
    case mix::MediumAssumption::weighed_dry:
      return "have";
    case mix::MediumAssumption::usual_stem_depth:
      return "stem";
  }
  return "";
}

std::string assumption_words(const mix::MediumRequest& asked, mix::MediumAssumption assumption) {
  const mix::Container& container = asked.container;
  switch (assumption) {
    case mix::MediumAssumption::as_tall_as_wide:
      return fmt::format("the pots are as tall as their top is wide, {:.4g} cm", container.height_cm);
    case mix::MediumAssumption::usual_fill:
      return fmt::format("filled to {:.2g} cm below the rim", container.height_cm - container.fill_cm);
    case mix::MediumAssumption::usual_pocket: {
      const mix::Pocket pocket = asked.pockets ? asked.pockets->pocket : mix::Pocket{};
      return fmt::format("a pocket is {:g} cm across and {:g} cm deep", pocket.width_cm, pocket.depth_cm);
    }
    case mix::MediumAssumption::one_pocket:
      return "one pocket in a pot";
    case mix::MediumAssumption::weighed_dry:
      return "what is weighed is dry";
    case mix::MediumAssumption::usual_stem_depth:
      return fmt::format("the stem base sits {:.3g} cm below the surface", asked.stem_depth_cm);
  }
  return "";
}

std::vector<std::string> assumption_lines(const mix::MediumRequest& asked, const FieldNames& names) {
  std::vector<std::string> lines;
  for (const mix::MediumAssumption one : asked.assumed) {
    const auto name = field_name(names, field_of(one));
    lines.push_back(assumption_words(asked, one) + (name ? fmt::format(" ({})", *name) : ""));
  }
  return lines;
}

Json range(const Estimate& e) { return {{"value", number(e.value)}, {"low", number(e.low)}, {"high", number(e.high)}}; }
Json grains(const mix::GrainRange& g) { return {number(g.low_mm), number(g.high_mm)}; }

std::string staying_word(mix::Staying staying) {
  switch (staying) {
    case mix::Staying::stays:
      return "stays";
    case mix::Staying::slowly_lost:
      return "slowly_lost";
    default:
      return "washes_in";
  }
}

Json reach_json(const MediumAnswer& answer) {
  if (!answer.reach) return nullptr;
  Json parts = Json::array();
  for (std::size_t i = 0; i < answer.reach->used.size(); ++i) {
    const mix::Used& one = answer.reach->used[i];
    parts.push_back({{"material", answer.buy[i].name},
                     {"parts", number(answer.asked.recipe[i].parts)},
                     {"lost_in_sieving", number(answer.asked.recipe[i].lost)},
                     {"there_litres", range(one.there_l)},
                     {"left_litres", range(one.left_l)},
                     {"left_kg", range(one.left_kg)},
                     {"runs_out_chance", number(one.runs_out)}});
  }
  return {{"runs_out", answer.buy[answer.reach->runs_out].name}, {"parts", parts}};
}

Json pocket_json(const MediumAnswer& answer) {
  if (!answer.pocket) return nullptr;
  const mix::PocketAnswer& pocket = *answer.pocket;
  return {{"sand", pocket.sand},
          {"grain_mm", grains(pocket.grains)},
          {"per_container", pocket.per_container},
          {"width_cm", number(pocket.pocket.width_cm)},
          {"depth_cm", number(pocket.pocket.depth_cm)},
          {"volume_ml", number(pocket.volume_ml)},
          {"sand_litres", number(pocket.sand_l)},
          {"staying", staying_word(pocket.staying)},
          {"retention_ratio", number(pocket.ratio)},
          {"drainage_ratio", number(pocket.freely_draining_ratio)},
          {"bridge_grain_mm", pocket.bridge ? grains(*pocket.bridge) : Json(nullptr)},
          {"visible_rise_cm", number(pocket.visible_rise_cm)},
          {"foot_suction_cm", range(pocket.foot_suction_cm)},
          {"air", range(pocket.air)},
          {"water_ml", range(pocket.water_ml)},
          {"water_at_stem", range(pocket.water_at_stem)},
          {"air_at_stem", range(pocket.air_at_stem)}};
}

/// Nothing where what is there was given.
Json buy_json(const MediumAnswer& answer) {
  Json buy = Json::array();
  for (std::size_t i = 0; i < answer.buy.size() && !answer.reach; ++i) {
    const mix::Bought& one = answer.buy[i];
    buy.push_back({{"material", one.name},
                   {"grain_mm", grains(one.grains)},
                   {"parts", number(one.parts)},
                   {"parts_obtained", number(answer.parts_obtained[i])},
                   {"needed_litres", range(one.loose_l)},
                   {"measured_litres", number(one.measured_l)},
                   {"lost_in_sieving", number(one.lost)},
                   {"unsieved_litres", number(one.unsieved_l)},
                   {"bags", one.bags},
                   {"dry_kg", range(one.dry_kg)},
                   {"source", one.source},
                   {"trust", std::string(1, letter(one.trust))}});
  }
  return buy;
}

}  // namespace

std::string medium_text(const MediumAnswer& answer, const FieldNames& names, Beside beside, int width) {
  const Lines lines{lines_of(width)};
  std::string text = containers_line(answer, beside, lines);
  text += answer.reach ? reach_section(answer, *answer.reach, beside, lines) : buy_section(answer, beside, lines);
  text += weight_section(answer, beside, lines);
  text += water_section(answer, beside, lines);
  if (answer.pocket) {
    text += pocket_section(answer, *answer.pocket, beside, lines);
  } else {
    text += "\nSand on this medium\n" + lines.item(finest_words(answer));
  }
  text += "\nWhere it comes from\n";
  text += lines.item(
      "In brackets: 5 and 95 % points over what is not known of the materials. A jar test of your own (docs/mixes.md) "
      "narrows them.");
  for (const mix::Bought& one : answer.buy) {
    text += lines.item(fmt::format("{}: {} ({}).", one.name, one.source, trust_words(one.trust)));
  }
  for (const std::string& line : assumption_lines(answer.asked, names)) text += lines.item("Assumed: " + line + ".");
  const auto cautions = caution_lines(answer, beside);
  if (!cautions.empty()) text += "\nTake care\n";
  for (const std::string& line : cautions) text += lines.item(line);
  return text;
}

std::string medium_json(const MediumAnswer& answer) {
  Json profile = Json::array();
  for (const mix::Slice& slice : answer.profile) {
    profile.push_back(
        {{"height_cm", number(slice.height_cm)}, {"water", range(slice.water)}, {"air", range(slice.air)}});
  }
  const mix::Container& c = answer.asked.container;
  return document(
      {{"containers", answer.asked.containers},
       {"container",
        {{"section", c.section == mix::CrossSection::round ? "round" : "square"},
         {"base_cm", number(c.base_cm)},
         {"top_cm", number(c.top_cm)},
         {"height_cm", number(c.height_cm)},
         {"fill_cm", number(c.fill_cm)},
         {"filled_ml", number(answer.container_ml)}}},
       {"medium_litres", number(answer.medium_l)},
       {"spare_litres", number(answer.spare_l)},
       {"buy", buy_json(answer)},
       {"reach", reach_json(answer)},
       {"bag_litres", answer.asked.bag_kg ? Json(nullptr) : number(answer.asked.bag_l)},
       {"bag_kg", answer.asked.bag_kg ? number(*answer.asked.bag_kg) : Json(nullptr)},
       {"shrinkage", range(answer.shrinkage)},
       {"obtained_litres", range(answer.obtained_l)},
       {"containers_filled", range(answer.containers_filled)},
       {"bulk_density_kg_l", range(answer.bulk_density_kg_l)},
       {"porosity", range(answer.porosity)},
       {"water", range(answer.capacity)},
       {"air", range(answer.air)},
       {"inside_water", range(answer.inside_water)},
       {"wet_zone_cm", range(answer.wet_zone_cm)},
       {"profile", profile},
       {"stem_depth_cm", number(answer.asked.stem_depth_cm)},
       {"stem_water", range(answer.stem_water)},
       {"stem_air", range(answer.stem_air)},
       {"reach_ml", range(answer.reach_ml)},
       {"conductivity_m_s", number(answer.conductivity_m_s)},
       {"drains_at_once", answer.drains_at_once},
       {"pot_kg",
        {{"dry", range(answer.dry_kg)}, {"drained", range(answer.drained_kg)}, {"full", range(answer.full_kg)}}},
       {"tray",
        {{"pots", answer.asked.per_tray},
         {"drained_kg", range(answer.tray_drained_kg)},
         {"full_kg", range(answer.tray_full_kg)}}},
       {"all_wet_kg", range(answer.tub_wet_kg)},
       {"d15_mm", number(answer.d15_mm)},
       {"finest_d85_mm", number(answer.finest_d85_mm)},
       {"throat_mm", number(answer.throat_mm)},
       {"pocket", pocket_json(answer)},
       {"assumed", assumption_lines(answer.asked, {})},
       {"cautions", caution_lines(answer, Beside::nothing)}});
}

}  // namespace strikebed::print

// Published checks of measures, solutions, drops and disinfectants, by the very words a grower types.
#include <algorithm>
#include <string>
#include <vector>

#include "mix/alcohol.hpp"
#include "mix/amounts.hpp"
#include "mix/auxin.hpp"
#include "mix/disinfectant.hpp"
#include "mix/drops.hpp"
#include "nursery/checks/computations.hpp"
#include "nursery/mixes/solution.hpp"

namespace strikebed::nursery {
namespace {

/// The options of a mix as lists of words side by side; one word alone goes with every row, a missing option is not
/// given.
class Options {
 public:
  Options(const CheckInputs& in, const std::vector<const char*>& names) {
    for (const char* name : names) {
      if (!in.has(name)) continue;
      options_[name] = in.texts(name);
      rows_ = std::max(rows_, options_[name].size());
    }
    for (const auto& [name, list] : options_) {
      if (list.size() != 1 && list.size() != rows_) in.give_up("the list " + name + " is not as long as the others");
    }
  }
  [[nodiscard]] std::size_t rows() const { return rows_; }
  [[nodiscard]] std::string at(const char* name, std::size_t row) const {
    const auto found = options_.find(name);
    if (found == options_.end()) return "";
    return found->second[std::min(row, found->second.size() - 1)];
  }

 private:
  std::map<std::string, std::vector<std::string>> options_;
  std::size_t rows_ = 1;
};

Computed solution(const CheckInputs& in) {
  const Options options(in, {"from", "solvent", "into", "target", "made_up_to", "added_to", "talc", "cuttings",
                             "cup_width", "cup_depth", "per_fill", "dose", "ratio", "measure", "calibration"});
  Computed out;
  for (std::size_t row = 0; row < options.rows(); ++row) {
    SolutionWords words;
    words.stock = options.at("from", row);
    words.solvent = options.at("solvent", row);
    words.into = options.at("into", row);
    words.target = options.at("target", row);
    words.made_up_to = options.at("made_up_to", row);
    words.added_to = options.at("added_to", row);
    words.talc = options.at("talc", row);
    words.cuttings = options.at("cuttings", row);
    words.cup_width = options.at("cup_width", row);
    words.cup_depth = options.at("cup_depth", row);
    words.per_fill = options.at("per_fill", row);
    words.dose = options.at("dose", row);
    words.ratio = options.at("ratio", row);
    words.calibration = options.at("calibration", row);
    if (const std::string measure = options.at("measure", row); !measure.empty()) words.instruments = {measure};
    const auto answer = mix_solution(words, {});
    if (!answer) return in.give_up(answer.error().message());
    const mix::Solution& solution = answer->solution;
    const mix::Strength& strength = solution.strengths.front();
    const mix::Strength& total = solution.strengths.back();
    out.add("dose_ml", solution.dose.value);
    out.add("dose_mg", 1000 * solution.dose.value);
    out.add("liquid_ml", solution.liquid);
    out.add("total_ml", solution.total);
    out.add("ppm", strength.ppm.value);
    out.add("mm", strength.mmol.value);
    out.add("relative_u", strength.ppm.relative());
    out.add("total_ppm", total.ppm.value);
    if (!solution.ways.empty()) {
      out.add("steps", solution.ways.front().out.steps);
      out.add("steps_low", solution.ways.front().out.steps_low);
      out.add("steps_high", solution.ways.front().out.steps_high);
    }
  }
  return out;
}

Computed disinfectant(const CheckInputs& in) {
  const Options options(in, {"from", "target", "make", "stock", "water"});
  Computed out;
  for (std::size_t row = 0; row < options.rows(); ++row) {
    DisinfectantWords words;
    words.from = options.at("from", row);
    words.target = options.at("target", row);
    words.make = options.at("make", row);
    words.stock = options.at("stock", row);
    words.water = options.at("water", row);
    const auto answer = mix_disinfectant(words);
    if (!answer) return in.give_up(answer.error().message());
    const mix::Disinfectant& mixed = answer->disinfectant;
    out.add("stock_ml", mixed.stock_ml);
    if (mixed.water_ml) out.add("water_ml", *mixed.water_ml);
    out.add("total_ml", mixed.total_ml);
    out.add("strength", mixed.strength.value);
  }
  return out;
}

/// Amounts of one unit in another of the same dimension.
Computed converted(const CheckInputs& in) {
  const auto unit = mix::find_unit(in.text("into"));
  if (!unit) return in.give_up(unit.error().message());
  const mix::Unit& into = **unit;
  Computed out;
  for (const std::string& text : in.texts("amount"))
    out.add("number", in.value_of(mix::parse_positive(text, into.dimension, "amount")) / into.in_base);
  return out;
}

const mix::Auxin& auxin(const CheckInputs& in, const std::string& name) {
  const auto found = mix::find_auxin(name, "auxin");
  if (found) return **found;
  in.give_up(found.error().message());
  return mix::auxin_of(mix::Acid::iba);
}

Computed molar_mass(const CheckInputs& in) {
  Computed out;
  for (const std::string& name : in.texts("auxin")) out.add("g_mol", auxin(in, name).molar_mass_g_mol);
  return out;
}

Computed acid_equivalents(const CheckInputs& in) {
  Computed out;
  for (const std::string& name : in.texts("auxin")) {
    out.add("acid_per_substance", mix::acid_equivalent(auxin(in, name)));
    out.add("substance_per_acid", 1 / mix::acid_equivalent(auxin(in, name)));
  }
  return out;
}

/// Every strength with every auxin.
Computed millimolar(const CheckInputs& in) {
  Computed out;
  for (const std::string& name : in.texts("auxin"))
    for (const double ppm : in.numbers("ppm")) out.add("mm", mix::mm_from_ppm(ppm, auxin(in, name)));
  return out;
}

Computed parts_per_million(const CheckInputs& in) {
  Computed out;
  for (const std::string& name : in.texts("auxin"))
    for (const double mm : in.numbers("mm")) out.add("ppm", mix::ppm_from_mm(mm, auxin(in, name)));
  return out;
}

Computed drops_per_ml(const CheckInputs& in) {
  Computed out;
  for (const auto& [tension, density] : in.rows<2>({"surface_tension_mn_m", "density_g_ml"}))
    out.add("drops_per_ml", mix::drops_per_ml(tension, density));
  return out;
}

/// Ethanol of a strength by volume, from the tables of surface tension and density.
Computed ethanol_drops(const CheckInputs& in) {
  using mix::Alcohol;
  Computed out;
  for (const double share : in.numbers("volume_pct")) {
    const double density = mix::solvent_density_g_ml(Alcohol::ethanol, share);
    const double per_ml = mix::drops_per_ml(mix::surface_tension_mn_m(Alcohol::ethanol, share), density);
    out.add("drops_per_ml", per_ml);
    out.add("drops_per_g", per_ml / density);
  }
  return out;
}

Computed counted_drops(const CheckInputs& in) {
  Computed out;
  for (const auto& [drops, per_ml, relative_u] : in.rows<3>({"drops", "drops_per_ml", "relative_u_of_a_drop"})) {
    mix::DropSize size;
    size.ml = {1 / per_ml, relative_u / per_ml};
    out.add("ml", mix::counted_drops_ml(drops, size).value);
    out.add("relative_u", mix::counted_drops_ml(drops, size).relative());
  }
  return out;
}

Computed ethanol_by_mass(const CheckInputs& in) {
  Computed out;
  for (const double share : in.numbers("mass_pct")) {
    out.add("density_g_ml", mix::ethanol_density_g_ml(share / 100));
    out.add("volume_pct", mix::ethanol_volume_pct(share / 100));
  }
  return out;
}

Computed ethanol_by_volume(const CheckInputs& in) {
  Computed out;
  for (const double share : in.numbers("volume_pct")) {
    out.add("mass_pct", 100 * mix::ethanol_mass_share(share));
    out.add("density_g_ml", mix::ethanol_density_g_ml(mix::ethanol_mass_share(share)));
  }
  return out;
}

Computed surface_tension(const CheckInputs& in) {
  Computed out;
  for (const double share : in.numbers("volume_pct"))
    out.add("mn_m", mix::surface_tension_mn_m(mix::Alcohol::ethanol, share));
  return out;
}

Computed agent_strength(const CheckInputs& in) {
  Computed out;
  for (const std::string& text : in.texts("agent"))
    out.add("strength", in.value_of(mix::parse_agent(text, "agent")).strength.value);
  return out;
}

}  // namespace

Computations mix_solution_computations() {
  return {{"converted", converted},
          {"mix_solution", solution},
          {"mix_disinfectant", disinfectant},
          {"auxin_molar_mass", molar_mass},
          {"auxin_acid_equivalent", acid_equivalents},
          {"auxin_mm_from_ppm", millimolar},
          {"auxin_ppm_from_mm", parts_per_million},
          {"drops_per_ml", drops_per_ml},
          {"ethanol_drops", ethanol_drops},
          {"counted_drops", counted_drops},
          {"ethanol_by_mass", ethanol_by_mass},
          {"ethanol_by_volume", ethanol_by_volume},
          {"ethanol_surface_tension", surface_tension},
          {"agent_strength", agent_strength}};
}

}  // namespace strikebed::nursery

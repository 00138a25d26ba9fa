#include <memory>
#include <vector>

#include "cli/mix.hpp"
#include "cli/output.hpp"
#include "host/clock.hpp"
#include "host/library.hpp"
#include "nursery/mixes/solution.hpp"
#include "nursery/printed.hpp"

namespace strikebed::cli {
namespace {

std::vector<TableOption> what_and_how_much() {
  return {
      {"--from", "stock", "STOCK",
       "What you have: \"1 % IBA + 0.5 % NAA\", \"10000 ppm IBA\", \"K-IBA powder\", \"0.3 % IBA talc\"; \"IBA\" "
       "alone: how strong must it be?"},
      {"--solvent", "solvent", "LIQUID",
       "What it is dissolved in: water, alcohol, \"50 % ethanol\", \"70 % isopropyl\""},
      {"--target", "target", "STRENGTH",
       "What you want: \"250 ppm IBA\", \"1.2 mM IBA\", \"5 mM total\" (all auxins together, as IBA)"},
      {"--made-up-to", "made_up_to", "AMOUNT",
       "So much in the end, filled up to the mark: \"3 tbsp-metric\", \"100 mL\""},
      {"--added-to", "added_to", "AMOUNT", "So much water, and the stock goes in addition: \"1 tbsp-us\""},
      {"--talc", "talc", "WEIGHT", "So much talc powder in the end: \"50 g\""},
      {"--cuttings", "cuttings", "N", "For so many cuttings, with --cup-width and --cup-depth"},
      {"--cup-width", "cup_width", "LENGTH", "Inner width of the round cup you dip in: \"40 mm\""},
      {"--cup-depth", "cup_depth", "LENGTH", "How deep the liquid stands in it: \"15 mm\""},
      {"--per-fill", "per_fill", "N", "Cuttings before the cup is filled anew (40 if left out)"},
      {"--dose", "dose", "AMOUNT",
       "So much of the stock: \"8 drops\", \"1.2 mL\", \"30 mg\"; then the strength is the answer"},
      {"--ratio", "ratio", "RATIO", "\"1 in 10\" or \"1 plus 10\" (of water) instead of a target"},
  };
}

std::vector<TableOption> how_it_is_measured() {
  return {
      {"--measure", "instruments", "HOW",
       "What you measure with: drops, \"syringe 0.02 mL\" (its marks), \"scale 1 mg\" (several times: where two steps "
       "are needed, both are in your marks)"},
      {"--calibration", "calibration", "COUNT",
       "Your own drops of this bottle: \"40 drops = 0.8 mL\", \"50 drops = 0.85 g\""},
      {"--into", "into", "LIQUID", "What you thin it with (water if left out): \"50 % ethanol\""},
  };
}

std::vector<TableOption> how_it_is_used() {
  return {
      {"--seconds", "seconds", "SECONDS", "How long you dip; then the dose is compared with a reference dip"},
      {"--method", "method", "METHOD",
       "Compare with the dip of this method (square-cut, slanting-cut, or your own .toml file)"},
      {"--reference", "reference", "STRENGTH",
       "Strength of the reference dip, all auxins as IBA (\"1200 ppm\" if left out)"},
      {"--reference-seconds", "reference_seconds", "SECONDS", "Seconds of the reference dip (5 if left out)"},
      {"--show", "show", "MEASURES", "Beside metric amounts: us or imperial"},
      {"--keep", "keep", "", "It is a stock to be kept, not a dip for today: another use-by date"},
      {"--today", "today", "DATE", "The day on the label"},
  };
}

constexpr const char* kExamples =
    "Examples: how many drops? How strong is that? How strong must the stock be?\n"
    "  strikebed mix solution --from \"1 % IBA + 0.5 % NAA\" --solvent alcohol \\\n"
    "      --target \"250 ppm IBA\" --made-up-to \"3 tbsp-metric\"\n"
    "  strikebed mix solution --from \"1 % IBA\" --solvent alcohol \\\n"
    "      --dose \"8 drops\" --added-to \"1 tbsp-us\"\n"
    "  strikebed mix solution --from IBA --solvent alcohol --target \"250 ppm IBA\" \\\n"
    "      --dose \"20 drops\" --made-up-to \"2 tbsp-us\"\n"
    "  strikebed mix solution --from \"K-IBA powder\" --target \"250 ppm IBA\" \\\n"
    "      --made-up-to \"100 mL\"";

}  // namespace

CommandTable mix_solution() {
  const auto words = std::make_shared<nursery::SolutionWords>();
  words->today = host::today();
  CommandTable table;
  table.name = "solution";
  table.summary =
      "A rooting solution: drops, millilitres or milligrams for a strength, the strength of what was mixed or of the "
      "stock";
  table.fields = nursery::fields_of(*words);
  for (const auto& options : {what_and_how_much(), how_it_is_measured(), how_it_is_used()}) {
    table.options.insert(table.options.end(), options.begin(), options.end());
  }
  table.footer = kExamples;
  table.answer = [words](bool json, const FieldNames& options) -> Result<std::string> {
    const auto library = host::load_library();
    if (!library) return library.error();
    const auto answer = nursery::mix_solution(*words, *library);
    if (!answer) return answer.error();
    return json ? nursery::json_of(*answer) : nursery::words_of(*answer, options, answer_width());
  };
  return table;
}

}  // namespace strikebed::cli

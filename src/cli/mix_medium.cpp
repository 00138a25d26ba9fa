#include <memory>

#include "cli/mix.hpp"
#include "cli/output.hpp"
#include "host/library.hpp"
#include "nursery/mixes/medium.hpp"
#include "nursery/printed.hpp"

namespace strikebed::cli {

CommandTable mix_medium() {
  const auto words = std::make_shared<nursery::MediumWords>();
  CommandTable table;
  table.name = "medium";
  table.summary = "A medium for pots: what to buy, what it weighs, water and air, whether fine sand stays in it";
  table.fields = nursery::fields_of(*words);
  table.options = {
      {"--recipe", "recipe", "PARTS",
       "Parts and materials: \"2 grit 3-4 mm, 1 fired-clay 2-4 mm\"; \"2 grit 3-4 mm less 15 %\" where sieving takes "
       "so much of what you buy"},
      {"--pots", "pots", "N", "How many pots (1 if left out)"},
      {"--have", "have", "AMOUNTS",
       "Instead: what you have of each part, \"20 L, 12 kg\"; how many pots does it fill?"},
      {"--across", "across", "WIDTH",
       "Inner width: \"9 cm\", or \"8-9 cm\" where it is 8 at the bottom and 9 at the top"},
      {"--height", "height", "LENGTH", "Inner height (as tall as the top is wide if left out)"},
      {"--fill", "fill", "LENGTH",
       "Height of the medium in the pot (if left out: to 1 cm below the rim, or a tenth below that of a pot shorter "
       "than 10 "
       "cm)"},
      {"--square", "square", "", "Square pots, not round ones"},
      {"--tray", "tray", "N", "Pots in a tray, for its weight"},
      {"--sand", "sand", "SAND", "Sand of a pocket around the stem: \"0.3 mm\", \"0.5-1 mm\", fine-sand"},
      {"--hole", "hole", "WIDTHxDEPTH", "The pocket's hole (\"1.5 x 3 cm\" if left out)"},
      {"--cuttings", "cuttings", "N", "Pockets in a pot (1 if left out)"},
      {"--stem", "stem", "LENGTH", "How deep the stem base sits (\"1.5 cm\" if left out)"},
      {"--spare", "spare", "PERCENT", "More for spills (5 if left out)"},
      {"--jug", "jug", "AMOUNT", "Smallest step you measure in (\"0.5 L\" if left out)"},
      {"--bag", "bag", "AMOUNT", "What a bag holds: \"20 L\", which is taken if left out, or \"25 kg\""},
      {"--lift", "lift", "WEIGHT", "The most one person lifts (\"20 kg\" if left out)"},
      {"--show", "show", "MEASURES", "Beside metric amounts: us or imperial"},
  };
  table.footer =
      "Example: strikebed mix medium --pots 48 --across 8-9cm --sand 0.3mm \\\n"
      "    --recipe \"2 grit 3-4 mm, 1 fired-clay 2-4 mm\"\n"
      "Materials: grit, sand, pumice, perlite, fired-clay, bark, peat, or a .toml file of your own (docs/mixes.md)";
  table.answer = [words](bool json, const FieldNames& options) -> Result<std::string> {
    const auto library = host::load_library();
    if (!library) return library.error();
    const auto answer = nursery::mix_medium(*words, *library);
    if (!answer) return answer.error();
    return json ? nursery::json_of(*answer) : nursery::words_of(*answer, options, answer_width());
  };
  return table;
}

}  // namespace strikebed::cli

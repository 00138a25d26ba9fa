#include <memory>

#include "cli/mix.hpp"
#include "cli/output.hpp"
#include "host/library.hpp"
#include "nursery/mixes/feed.hpp"
#include "nursery/printed.hpp"
#include "nursery/profiles/feed_file.hpp"

namespace strikebed::cli {

CommandTable mix_feed() {
  const auto words = std::make_shared<nursery::FeedWords>();
  const auto list_phases = std::make_shared<bool>(false);
  CommandTable table;
  table.name = "feed";
  table.summary = "A feed of known strength: grams for a can or an injector's stock, blends, salt";
  table.fields = nursery::fields_of(*words);
  table.fields.push_back({"phases", list_phases.get()});
  table.options = {
      {"--fertiliser", "fertilisers", "N-P2O5-K2O", "Its label, as 20-10-20 (several times for a blend)"},
      {"--target", "target", "PPM", "Strength as elements: \"100 N\", or \"150 N, 60 P, 150 K\""},
      {"--phase", "phase", "PHASE", "Strength for a phase of the season, see --phases"},
      {"--phases", "phases", "", "List the phases and end"},
      {"--phases-from", "phases_from", "FILE", "Phases of your own, over the shipped ones (docs/mixes.md)"},
      {"--grams", "grams", "WEIGHT",
       "The other ways: how strong is this much of each fertiliser, or, with --target, how much feed does it make?"},
      {"--for", "volume", "AMOUNT",
       "The can, or the stock with an injector: \"9 L\", \"9 +- 0.5 L\", \"5 gal-us\" (1 L if left out)"},
      {"--injector", "injector", "RATIO", "\"1 in 100\" or \"1 plus 100\": weigh for a stock"},
      {"--scale", "scale", "WEIGHT", "Smallest step of the scale (\"0.1 g\" if left out)"},
      {"--ec", "conductivity", "EC", "A fertiliser's salt, from its label: \"1.48 at 200\" (dS/m at ppm N)"},
      {"--water-ec", "water_ec", "EC", "The water's own salt, dS/m (0 if left out)"},
      {"--misfit", "misfit", "PERCENT", "How far a blend may be off in a nutrient (10 if left out)"},
      {"--show", "show", "MEASURES", "Beside metric amounts: us or imperial"},
  };
  table.footer = "Example: strikebed mix feed --fertiliser 20-10-20 --target \"100 N\" --for 9L";
  table.answer = [words, list_phases](bool json, const FieldNames& options) -> Result<std::string> {
    const auto library = host::load_library();
    if (!library) return library.error();
    if (*list_phases) {
      const auto phases = nursery::feed_schedule(*library, words->phases_from);
      if (!phases) return phases.error();
      return json ? nursery::json_of(*phases) : nursery::words_of(*phases, answer_width());
    }
    const auto answer = nursery::mix_feed(*words, *library);
    if (!answer) return answer.error();
    return json ? nursery::json_of(*answer) : nursery::words_of(*answer, options, answer_width());
  };
  return table;
}

}  // namespace strikebed::cli

#include <memory>

#include "cli/mix.hpp"
#include "cli/output.hpp"
#include "host/clock.hpp"
#include "nursery/mixes/solution.hpp"
#include "nursery/printed.hpp"

namespace strikebed::cli {

CommandTable mix_disinfectant() {
  const auto words = std::make_shared<nursery::DisinfectantWords>();
  words->today = host::today();
  CommandTable table;
  table.name = "disinfectant";
  table.summary = "Alcohol or hypochlorite for blades, benches and pots, at a stated strength";
  table.fields = nursery::fields_of(*words);
  table.options = {
      {"--from", "from", "STOCK",
       "What you have: \"96 % ethanol\", \"96 % alcohol\" (read as ethanol), \"99 % isopropyl\", \"5 % hypochlorite\" "
       "or \"5 % chlorine\" (available; % is "
       "read as w/v, grams in 100 mL), \"5 % w/w hypochlorite\" where the label counts by weight"},
      {"--target", "target", "STRENGTH",
       "What you want: \"70 % ethanol\", \"5000 ppm chlorine\"; \"10 % bleach\": a tenth of it from the bottle"},
      {"--ratio", "ratio", "RATIO", "\"1 in 10\" or \"1 plus 9\" (of water) instead of a target"},
      {"--make", "make", "AMOUNT", "So much in the end: \"500 mL\", \"1 gal-us\""},
      {"--stock", "stock", "AMOUNT", "So much of what you have: \"200 mL\""},
      {"--water", "water", "AMOUNT", "So much water: \"1 L\""},
      {"--measure", "instrument", "HOW", "What you measure with: \"cylinder 5 mL\" (its marks)"},
      {"--show", "show", "MEASURES", "Beside metric amounts: us or imperial"},
      {"--today", "today", "DATE", "The day it is mixed"},
  };
  table.footer =
      "Examples: how much of each? How strong is that?\n"
      "  strikebed mix disinfectant --from \"96 % ethanol\" --target \"70 % ethanol\" \\\n"
      "      --make \"500 mL\"\n"
      "  strikebed mix disinfectant --from \"5 % hypochlorite\" \\\n"
      "      --target \"5000 ppm chlorine\" --make \"5 L\"\n"
      "  strikebed mix disinfectant --from \"96 % ethanol\" \\\n"
      "      --stock \"100 mL\" --water \"40 mL\"";
  table.answer = [words](bool json, const FieldNames&) -> Result<std::string> {
    const auto answer = nursery::mix_disinfectant(*words);
    if (!answer) return answer.error();
    return json ? nursery::json_of(*answer) : nursery::words_of(*answer, answer_width());
  };
  return table;
}

}  // namespace strikebed::cli

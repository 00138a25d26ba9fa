#pragma once
// A medium from the grower's own words: reads them and asks src/mix.
#include <string>

#include "base/result.hpp"
#include "mix/medium.hpp"
#include "nursery/mixes/word_fields.hpp"
#include "nursery/mixes/words.hpp"
#include "nursery/profiles/material_file.hpp"

namespace strikebed::nursery {

/// What was asked, as written; empty: left out.
struct MediumWords {
  std::string recipe;  ///< "2 grit 3-4 mm less 15 %, 1 fired-clay 2-4 mm"
  std::string pots;    ///< "48"; left out: 1
  std::string have;    ///< "20 L, 12 kg": of each part, in the order of the recipe; then the pots are the answer
  std::string across;  ///< "9 cm", "8-9 cm": inner width, bottom and top
  std::string height;  ///< "9 cm"; left out: as tall as the top is wide
  std::string fill;    ///< "8 cm"; left out: 1 cm below the rim (a tenth of a pot shorter than 10 cm)
  bool square = false;
  std::string tray;      ///< pots in a tray
  std::string sand;      ///< "fine-sand", "0.3 mm": of the pockets
  std::string hole;      ///< "1.5 x 3 cm": width and depth of a pocket
  std::string cuttings;  ///< pockets in a pot
  std::string stem;      ///< "1.5 cm": stem base below the surface
  std::string spare;     ///< per cent
  std::string jug;       ///< "0.5 L"
  std::string bag;       ///< "20 L", "25 kg"
  std::string lift;      ///< "20 kg"
  std::string show;      ///< "us" or "imperial"
};
[[nodiscard]] WordFields fields_of(MediumWords& words);

/// What was asked as numbers. Errors: each names its member of the words, what was found and what is allowed.
[[nodiscard]] Result<mix::MediumRequest> read_medium_words(const MediumWords& words, const Library& library);

struct MediumMixed {
  print::Beside beside = print::Beside::nothing;
  mix::MediumAnswer medium;
};
[[nodiscard]] Result<MediumMixed> mix_medium(const MediumWords& words, const Library& library);

}  // namespace strikebed::nursery

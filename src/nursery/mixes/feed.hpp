#pragma once
// A feed from the grower's own words: reads them and asks src/mix.
#include <string>
#include <vector>

#include "base/result.hpp"
#include "mix/feed.hpp"
#include "nursery/library.hpp"
#include "nursery/mixes/word_fields.hpp"
#include "print/measures.hpp"

namespace strikebed::nursery {

/// What was asked, as written; empty: left out.
struct FeedWords {
  std::vector<std::string> fertilisers;   ///< "20-10-20"
  std::vector<std::string> conductivity;  ///< "1.48 at 200", one for each fertiliser, in order
  std::string target;                     ///< "100 N"
  std::string phase;
  std::vector<std::string> grams;  ///< "4.5 g", one for each fertiliser: the other directions
  std::string volume;              ///< "9 L"
  std::string injector;            ///< "1 in 100"
  std::string scale;               ///< "0.1 g"
  std::string water_ec;            ///< dS/m
  std::string misfit;              ///< per cent
  std::string show;
  std::string phases_from;  ///< a file of the grower's own phases
};
[[nodiscard]] WordFields fields_of(FeedWords& words);

/// What was asked as numbers. Errors name the members of the words as their fields.
[[nodiscard]] Result<mix::FeedRequest> read_feed_words(const FeedWords& words, const mix::FeedSchedule& schedule);

struct FeedMixed {
  print::Beside beside = print::Beside::nothing;
  mix::FeedAnswer feed;
};
[[nodiscard]] Result<FeedMixed> mix_feed(const FeedWords& words, const Library& library);

}  // namespace strikebed::nursery

#pragma once
// `mix feed`: from words on the command line to a feed, as text or JSON.
#include <string>
#include <vector>

#include "base/result.hpp"
#include "mix/feed.hpp"
#include "nursery/library.hpp"

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
  bool phases = false;      ///< list them and nothing else
};

struct FeedReading {
  mix::FeedRequest request;
  std::vector<std::string> assumed;
};
[[nodiscard]] Result<FeedReading> read_feed_words(const FeedWords& words, const mix::FeedSeason& season);

/// The answer as text, or as JSON.
[[nodiscard]] Result<std::string> mix_feed(const FeedWords& words, const Library& library, bool json);

}  // namespace strikebed::nursery

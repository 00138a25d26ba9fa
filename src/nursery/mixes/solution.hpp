#pragma once
// A solution or a disinfectant from the grower's own words: reads them and asks src/mix.
#include <string>
#include <vector>

#include "base/date.hpp"
#include "base/result.hpp"
#include "mix/disinfectant.hpp"
#include "mix/solution.hpp"
#include "nursery/library.hpp"
#include "nursery/mixes/word_fields.hpp"
#include "print/measures.hpp"

namespace strikebed::nursery {

/// As typed; empty: not given.
struct SolutionWords {
  std::string stock;
  std::string solvent;
  std::string into;
  std::string target;
  std::string made_up_to;
  std::string added_to;
  std::string talc;
  std::string cuttings;
  std::string cup_width;
  std::string cup_depth;
  std::string per_fill;
  std::string dose;
  std::string ratio;
  std::vector<std::string> instruments;
  std::string calibration;
  std::string seconds;
  std::string method;  ///< whose dip is the reference: a shipped method or a .toml file
  std::string reference;
  std::string reference_seconds;
  std::string show;
  bool keep = false;
  Date today = {};
};
[[nodiscard]] WordFields fields_of(SolutionWords& words);

/// The question as it was understood, and its answer.
struct SolutionAnswer {
  print::Beside beside = print::Beside::nothing;
  mix::SolutionRequest request;
  mix::Solution solution;
};
/// Errors name the members of the words as their fields.
[[nodiscard]] Result<SolutionAnswer> mix_solution(const SolutionWords& words, const Library& library);

/// As typed; empty: not given.
struct DisinfectantWords {
  std::string from;
  std::string target;
  std::string ratio;
  std::string make;
  std::string stock;
  std::string water;
  std::string instrument;
  std::string show;
  Date today = {};
};
[[nodiscard]] WordFields fields_of(DisinfectantWords& words);

struct DisinfectantAnswer {
  print::Beside beside = print::Beside::nothing;
  mix::DisinfectantRequest request;
  mix::Disinfectant disinfectant;
};
[[nodiscard]] Result<DisinfectantAnswer> mix_disinfectant(const DisinfectantWords& words);

}  // namespace strikebed::nursery

#pragma once
// What goes with a rooting solution, in words: its keeping, the label of its bottle, what to mind and what was taken as
// given.
#include <string>
#include <string_view>
#include <vector>

#include "base/field_names.hpp"
#include "mix/solution.hpp"

namespace strikebed::print {

/// The 95 % range of a strength, never below 0: "120 to 380"; nothing of one that is exact.
[[nodiscard]] std::string strength_range_words(const mix::Measured& measured);

/// Why it keeps no longer than it is dated.
[[nodiscard]] std::string_view keeping_words(mix::KeepingKind kind);

/// Lines for the bottle; and for that of the first of two steps.
[[nodiscard]] std::vector<std::string> label_lines(const mix::SolutionRequest& request, const mix::Solution& solution);
[[nodiscard]] std::vector<std::string> first_label_lines(const mix::SolutionRequest& request,
                                                         const mix::TwoSteps& steps);

/// One or more sentences each. What the reader has no control for is not asked of them.
[[nodiscard]] std::string remark_words(const mix::SolutionRequest& request, const mix::Solution& solution,
                                       const mix::SolutionRemark& remark, const FieldNames& names);
[[nodiscard]] std::vector<std::string> remark_sentences(const mix::SolutionRequest& request,
                                                        const mix::Solution& solution, const FieldNames& names);
[[nodiscard]] std::string assumption_words(const mix::SolutionRequest& request, const mix::Solution& solution,
                                           mix::SolutionAssumption assumption);
[[nodiscard]] std::vector<std::string> assumption_sentences(const mix::SolutionRequest& request,
                                                            const mix::Solution& solution);

}  // namespace strikebed::print

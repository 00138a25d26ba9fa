#pragma once
// What is wanted, in words.
#include <initializer_list>
#include <string>
#include <string_view>
#include <vector>

#include "base/field_names.hpp"
#include "season/goal.hpp"

namespace strikebed::print {

[[nodiscard]] std::string want_name(const season::Goal& goal,
                                    std::size_t want);  ///< "radial"; with the method if two are alike
[[nodiscard]] std::string counts_words(const season::Goal& goal, const std::vector<int>& counts);
[[nodiscard]] std::string wanted_words(const season::Goal& goal);  ///< "60 radial and 8 single-root"
[[nodiscard]] std::string state_words(season::CountAt count_at);   ///< "weaned"

/// The reader's controls for these fields, " ([sessions] cuttings_at_most or [sessions] hours_at_most)"; empty where
/// there is none.
[[nodiscard]] std::string in_brackets(const FieldNames& names, std::initializer_list<std::string_view> fields);

}  // namespace strikebed::print

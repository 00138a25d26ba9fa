#pragma once
// The members of a grower's words by the names that errors call them by, so that each skin fills them from its own
// controls without a list of members of its own.
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "base/date.hpp"

namespace strikebed::nursery {

/// Where the words of one field go: text as typed, text given several times, yes or no, a day.
using WordField = std::variant<std::string*, std::vector<std::string>*, bool*, Date*>;
struct NamedWordField {
  std::string_view name;  ///< "made_up_to"
  WordField into;
};
/// All fields of some words, which they point into.
using WordFields = std::vector<NamedWordField>;

}  // namespace strikebed::nursery

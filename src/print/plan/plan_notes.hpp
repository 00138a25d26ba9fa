#pragma once
// What is said beside a plan, and to whom.
#include <string>
#include <vector>

#include "base/field_names.hpp"

namespace strikebed::print {

/// What reading a goal and its weather adds, a sentence each, shown as they are; and the reader's names.
struct PlanNotes {
  std::vector<std::string> assumed;  ///< what the goal left open, and where it was taken from
  std::vector<std::string> remarks;  ///< on what was read
  FieldNames names = {};  ///< of the reader's controls for the goal's fields, "seedbed.lit"; none: plain words
};

}  // namespace strikebed::print

#pragma once
// The published checks: data files of expected values with their sources, computed with the program's own functions.
#include <vector>

#include "base/result.hpp"
#include "nursery/library.hpp"
#include "print/check.hpp"

namespace strikebed::nursery {

/// The data files of the checks, and a way to read the files that stand beside them and are named in them.
struct CheckFiles {
  Texts topics;
  ReadText beside;
};

/// Runs every case of every data file, in order of file name and place in the file (format: docs/checks.md). A
/// computation that is not known or fails, a figure that is missing or not finite, is a check that does not hold.
/// Errors: a file that is not JSON or lacks what every case must have, the same id twice.
[[nodiscard]] Result<std::vector<print::Check>> run_checks(const CheckFiles& files);

}  // namespace strikebed::nursery

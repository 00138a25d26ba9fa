#pragma once
// The published checks: data files of expected values with their sources, computed with the program's own functions.
#include <string>
#include <vector>

#include "base/result.hpp"
#include "print/check.hpp"

namespace strikebed::nursery {

/// Where the data files of the checks lie: tests/reference of this program's source or share folder.
[[nodiscard]] std::string checks_folder();

/// Runs every case of every *.json file of `folder`, in order of file name and place in the file (format:
/// docs/checks.md). A computation that is not known or fails, a figure that is missing or not finite, is a check that
/// does not hold. Errors: no such folder, no data file in it, a file that is not JSON or lacks what every case must
/// have, the same id twice.
[[nodiscard]] Result<std::vector<print::Check>> run_checks(const std::string& folder = checks_folder());

}  // namespace strikebed::nursery

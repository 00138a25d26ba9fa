#pragma once
// The texts of this machine: the shipped profiles, the grower's own files, the data of the published checks.
#include <cstddef>
#include <string>

#include "base/result.hpp"
#include "host/files.hpp"
#include "nursery/checks/run_checks.hpp"
#include "nursery/library.hpp"

namespace strikebed::host {

/// Where the profiles are: the folder that the environment variable STRIKEBED_PROFILES names, else the shipped one.
[[nodiscard]] std::string profiles_folder();

/// A file with its name. Errors: those of read_file.
[[nodiscard]] Result<nursery::Text> read_text(const std::string& path, std::size_t at_most_bytes = kLargestFileBytes);

/// The same of a weather file. What cannot be weather by its first megabyte is not read on.
[[nodiscard]] Result<nursery::Text> read_weather_text(const std::string& path);

/// Reads files of this machine whose relative paths begin in the folder of `file`; empty: where the program was
/// started. A .toml file of more than nursery::kLargestTomlFile bytes is not read; any other is a weather file.
[[nodiscard]] nursery::ReadText files_beside(const std::string& file);

/// Every .toml file in species, methods, materials and feed of profiles_folder(), and this machine's time zones.
/// The grower's own files are those beside `goal_file`.
/// Errors: a folder that is not there or holds none, a file that cannot be read.
[[nodiscard]] Result<nursery::Library> load_library(const std::string& goal_file = "");
/// The same with another folder of profiles.
[[nodiscard]] Result<nursery::Library> load_library_from(const std::string& profiles,
                                                         const std::string& goal_file = "");

/// Where the data files of the published checks lie: tests/reference of this program's source or share folder.
[[nodiscard]] std::string checks_folder();

/// Where the built page is: the folder that the environment variable STRIKEBED_PAGE names, else web/dist of this
/// program's source or share folder.
[[nodiscard]] std::string page_folder();

/// Every .json file of a folder, and what stands beside them. Errors: as above.
[[nodiscard]] Result<nursery::CheckFiles> load_checks(const std::string& folder = checks_folder());

}  // namespace strikebed::host

#include "nursery/goal/goal_file.hpp"

#include <fmt/format.h>

#include <filesystem>

#include "nursery/files.hpp"
#include "nursery/goal/reading.hpp"

namespace strikebed::nursery {

std::optional<ProfileText> Reading::own_file(const TomlTable& table, std::string_view key, const std::string& path) {
  Result<ProfileText> text = library.own_file ? library.own_file(path) : Error{.problem = "it cannot be read here"};
  if (text) return std::move(*text);
  table.fail(key, fmt::format("found \"{}\", but {}", path, text.error().problem),
             "the name of a file beside the goal file");
  return std::nullopt;
}

Result<GoalFile> parse_goal(std::string_view text, const std::string& name, Date today, const ProfileLibrary& library,
                            const GoalOverrides& overrides) {
  const Result<TomlFile> toml = TomlFile::parse(text, name);
  if (!toml) return toml.error();
  Reading reading{.root = toml->root(),
                  .today = today,
                  .library = library,
                  .file = {},
                  .own_rates = {},
                  .without_spread = {},
                  .elsewhere = std::nullopt};
  reading.file.path = name;
  reading.goal().today = today;
  read_target(reading);
  read_species_and_lot(reading);
  const WrittenRates written = read_written_rates(reading);
  read_wants(reading, written);
  resolve_chain_rates(reading, written);
  read_place(reading, overrides);
  read_positions(reading);
  read_sessions(reading);
  read_sowing(reading);
  read_prices(reading);
  read_solution(reading);
  say_spreads(reading);
  reading.goal().seeds_in_hand = overrides.seeds_in_hand;
  std::optional<Error> wrong = toml->finish();
  if (wrong && reading.elsewhere) wrong->add(*reading.elsewhere);
  if (!wrong) wrong = reading.elsewhere;
  if (wrong) return *wrong;
  return std::move(reading.file);
}

Result<GoalFile> read_goal_file(const std::string& path, Date today, const GoalOverrides& overrides) {
  const Result<std::string> text = read_file(path, kLargestTomlFile);
  if (!text) return text.error();
  Result<ProfileLibrary> library = load_profiles(overrides.profiles_folder.value_or(profiles_folder()));
  if (!library) return library.error();
  library->own_file = [folder = std::filesystem::path(path).parent_path()](const std::string& own) {
    return read_profile_text((folder / own).string());
  };
  library->materials.own_file = library->own_file;
  return parse_goal(*text, path, today, *library, overrides);
}

}  // namespace strikebed::nursery

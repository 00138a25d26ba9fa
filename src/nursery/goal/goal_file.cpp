#include "nursery/goal/goal_file.hpp"

#include <fmt/format.h>

#include "nursery/goal/reading.hpp"

namespace strikebed::nursery {

std::optional<Text> Reading::own_file(const TomlTable& table, std::string_view key, const std::string& path) {
  Result<Text> text = library.own(path);
  if (text) return std::move(*text);
  table.fail(key, fmt::format("found \"{}\", but {}", path, text.error().problem),
             "the name of a file beside the goal file");
  return std::nullopt;
}

Result<GoalFile> parse_goal(std::string_view text, const std::string& name, Date today, const Library& library,
                            const GoalOverrides& overrides) {
  const Result<TomlFile> toml = TomlFile::parse(text, name);
  if (!toml) return toml.error();
  Reading reading{.root = toml->root(),
                  .today = today,
                  .library = library,
                  .file = {},
                  .without_spread = {},
                  .germination_of_lots = {},
                  .lot_is_open = false,
                  .elsewhere = std::nullopt};
  reading.file.path = name;
  reading.goal().today = today;
  read_target(reading);
  read_species(reading);
  read_lots(reading);
  const WrittenRates written = read_written_rates(reading);
  read_wants(reading, written);
  read_place(reading, overrides);
  resolve_chain_rates(reading, written);
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

}  // namespace strikebed::nursery

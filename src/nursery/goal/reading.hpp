#pragma once
// The parts of a goal file, each read by the room that owns it, and what they share while it is read. Only the goal
// files include this; others read a goal by goal_file.hpp.
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "nursery/goal/goal_file.hpp"
#include "nursery/toml_file.hpp"

namespace strikebed::nursery {

inline constexpr int kMostPlants = 1'000'000;

/// What the parts of a goal file share while it is read.
struct Reading {
  TomlTable root;
  Date today;
  const Library& library;
  GoalFile file;
  /// Rates written without their batch spread, in words, by whose stands in: "the profile of Japanese black pine".
  std::map<std::string, std::vector<std::string>> without_spread;
  std::map<std::string, RateBelief> germination_of_lots;  ///< where it is written of one, by its name
  bool lot_is_open = false;        ///< each lot has its own sow_on: the plan sows from the one that germinates best
  std::optional<Error> elsewhere;  ///< what is wrong in other files that the goal names

  season::Goal& goal() { return file.goal; }
  void assume(std::string sentence) { file.assumed.push_back(std::move(sentence)); }

  /// The value, or nothing with its errors kept.
  template <class T>
  std::optional<T> keep(Result<T> result) {
    if (result) return std::move(*result);
    if (elsewhere) {
      elsewhere->add(result.error());
    } else {
      elsewhere = result.error();
    }
    return std::nullopt;
  }
  /// A file that stands beside the goal file; nothing with an error noted at the key.
  std::optional<Text> own_file(const TomlTable& table, std::string_view key, const std::string& path);
};

/// [rates]; nothing where one is left out.
using WrittenRates = growth::PerRung<std::optional<RateBelief>>;

// Each notes its errors in the file and fills in its part of the goal. In the order they build on each other:

void read_target(Reading& reading);   ///< by, count_at, assurance
void read_species(Reading& reading);  ///< species, profile
void read_lots(Reading& reading);     ///< [lot] or [[lot]]
[[nodiscard]] WrittenRates read_written_rates(const Reading& reading);
void read_wants(Reading& reading, const WrittenRates& written);  ///< [[want]] and their methods
void resolve_chain_rates(Reading& reading, const WrittenRates& written);
void read_place(Reading& reading, const GoalOverrides& overrides);  ///< [place], its weather or normals, its winter
void read_positions(Reading& reading);                              ///< [seedbed], [bench]
void read_sessions(Reading& reading);
void read_sowing(Reading& reading);
void read_prices(Reading& reading);
void read_solution(Reading& reading);  ///< what the grower has to make the dip from
void say_spreads(Reading& reading);    ///< whose batch spread stands in where none is written

/// A day on which nothing can be sown for this goal, and which can; nothing: it can.
[[nodiscard]] std::optional<Error> out_of_season(const Reading& reading, Date sow);

/// Whose a value of the species is: "your own profile", "the profile of Japanese black pine".
[[nodiscard]] std::string from_profile(const growth::Species& species, std::string_view value);

/// The rate of the species (or of the grower's own profile, or of the method) when nothing is written in the goal file.
[[nodiscard]] RateBelief rate_left_out(Reading& reading, growth::Rung rung, const growth::Method* method,
                                       const std::string& shown);
[[nodiscard]] RateBelief rate_written(Reading& reading, const RateBelief& belief, growth::Rung rung,
                                      const std::string& shown);

}  // namespace strikebed::nursery

#pragma once
// What can be asked on the command line: one structure of arguments and one function for each command. Each function
// returns the exit code.
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "base/date.hpp"

namespace strikebed::cli {

inline constexpr int kAnswered = 0;
inline constexpr int kInputWrong = 1;        ///< the input or the data is wrong, or the answer could not be written
inline constexpr int kCommandLineWrong = 2;  ///< what was typed is wrong, in an option's name or its value

struct PlanArguments {
  std::string goal;
  std::optional<std::string> weather;
  std::optional<int> seeds;
  Date today;
  std::optional<std::string> report;
  std::uint64_t random_seed = 1;
  int threads = 1;
  bool json = false;
  bool note = false;                   ///< the goal and the plan, in the daybook
  std::optional<std::string> daybook;  ///< where it is kept
};
int answer_plan(const PlanArguments& arguments);

struct WeatherArguments {
  std::string file;
  std::optional<double> latitude;
  std::optional<double> longitude;
  std::optional<double> elevation_m;
  std::vector<std::string> columns;  ///< "role=NAME" or "role=NAME:unit"
  std::string date_order;            ///< "day-first", "month-first" or empty
  std::optional<double> wind_height_m;
  bool on_coast = false;
  std::vector<double> bases_c;  ///< of the degree-days
  bool json = false;
};
int answer_weather(const WeatherArguments& arguments);

struct ChecksArguments {
  std::string topic;  ///< empty: all
  bool json = false;
};
int answer_checks(const ChecksArguments& arguments);

}  // namespace strikebed::cli

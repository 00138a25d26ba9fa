#pragma once
// What the published checks can compute. Every computation only reads its inputs and calls public functions of the
// floors below; a formula never stands here.
#include <array>
#include <map>
#include <nlohmann/json_fwd.hpp>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

#include "base/date.hpp"
#include "base/result.hpp"
#include "nursery/library.hpp"
#include "print/check.hpp"

namespace strikebed::nursery {

/// A check cannot be computed: an input is missing or refused. Caught by run_checks; never leaves this floor.
struct CannotCompute : std::runtime_error {
  using std::runtime_error::runtime_error;
};

/// The "inputs" of one case. Each reader throws CannotCompute when the input is missing or of another kind.
class CheckInputs {
 public:
  CheckInputs(const nlohmann::json& inputs, const ReadText& beside) : inputs_(inputs), beside_(beside) {}

  [[nodiscard]] bool has(const char* name) const;
  [[nodiscard]] double number(const char* name) const;
  [[nodiscard]] int whole(const char* name) const;
  [[nodiscard]] std::string text(const char* name) const;
  [[nodiscard]] Date date(const char* name) const;
  [[nodiscard]] std::vector<double> numbers(const char* name) const;  ///< a single number is a list of one
  [[nodiscard]] std::vector<std::string> texts(const char* name) const;
  [[nodiscard]] Text file(const char* name) const;  ///< that stands beside the data files

  /// The named lists side by side, one row per entry; a single number is repeated, lists must be of one length.
  template <std::size_t N>
  [[nodiscard]] std::vector<std::array<double, N>> rows(const std::array<const char*, N>& names) const {
    std::array<std::vector<double>, N> columns;
    std::size_t length = 1;
    for (std::size_t i = 0; i < N; ++i) {
      columns[i] = numbers(names[i]);
      if (columns[i].size() != 1) length = columns[i].size();
    }
    std::vector<std::array<double, N>> result(length);
    for (std::size_t i = 0; i < N; ++i) {
      if (columns[i].size() != 1 && columns[i].size() != length)
        throw CannotCompute(std::string("the list ") + names[i] + " is not as long as the others");
      for (std::size_t row = 0; row < length; ++row) result[row][i] = columns[i][columns[i].size() == 1 ? 0 : row];
    }
    return result;
  }

 private:
  const nlohmann::json& input(const char* name) const;
  const nlohmann::json& inputs_;
  const ReadText& beside_;
};

/// Figures by name.
class Computed {
 public:
  void add(const std::string& name, double number) { figures_[name].emplace_back(number); }
  void add(const std::string& name, std::string word) { figures_[name].emplace_back(std::move(word)); }
  [[nodiscard]] const std::map<std::string, std::vector<print::Figure>>& figures() const { return figures_; }

 private:
  std::map<std::string, std::vector<print::Figure>> figures_;
};

using Computation = Computed (*)(const CheckInputs&);
using Computations = std::vector<std::pair<std::string, Computation>>;

/// The value of a result, or CannotCompute with the error's message.
template <class T>
T value_or_give_up(const Result<T>& result) {
  if (!result) throw CannotCompute(result.error().message());
  return result.value();
}

// By topic, one file each.
Computations air_computations();           // air.cpp: humid air, evapotranspiration
Computations calendar_computations();      // calendar.cpp: dates
Computations growth_computations();        // growth.cpp: thermal time
Computations mix_medium_computations();    // mix_medium.cpp: containers, media, feeds
Computations mix_solution_computations();  // mix_solution.cpp: measures, solutions, drops, disinfectants
Computations planning_computations();      // planning.cpp: counting, intervals, beliefs
Computations season_computations();        // season.cpp: the chain, by the season engine
Computations sun_computations();           // sun.cpp: sun and light
Computations weather_computations();       // weather.cpp: degree-days, records, the generator

}  // namespace strikebed::nursery

#pragma once
// What the published checks can compute. Every computation only reads its inputs and calls public functions of the
// floors below; a formula never stands here.
#include <array>
#include <map>
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <utility>
#include <vector>

#include "base/date.hpp"
#include "base/result.hpp"
#include "nursery/library.hpp"
#include "print/check.hpp"

namespace strikebed::nursery {

/// Figures by name.
class Computed {
 public:
  void add(const std::string& name, double number) { figures_[name].emplace_back(number); }
  void add(const std::string& name, std::string word) { figures_[name].emplace_back(std::move(word)); }
  [[nodiscard]] const std::map<std::string, std::vector<print::Figure>>& figures() const { return figures_; }

 private:
  std::map<std::string, std::vector<print::Figure>> figures_;
};

/// The "inputs" of one case. What is missing, of another kind or refused is noted, and something harmless given in its
/// place (1, "", a list of one, a day): a computation goes on to its end, and what it computed is thrown away.
class CheckInputs {
 public:
  CheckInputs(const nlohmann::ordered_json& inputs, const ReadText& beside) : inputs_(inputs), beside_(beside) {}

  [[nodiscard]] bool has(const char* name) const;
  [[nodiscard]] double number(const char* name) const;
  [[nodiscard]] int whole(const char* name) const;
  [[nodiscard]] std::string text(const char* name) const;
  [[nodiscard]] Date date(const char* name) const;
  [[nodiscard]] std::vector<double> numbers(const char* name) const;     ///< one or more; a number is a list of one
  [[nodiscard]] std::vector<std::string> texts(const char* name) const;  ///< the same of words
  [[nodiscard]] Text file(const char* name) const;                       ///< that stands beside the data files

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
      if (columns[i].size() != 1 && columns[i].size() != length) {
        give_up(std::string("the list ") + names[i] + " is not as long as the others");
        return {};
      }
      for (std::size_t row = 0; row < length; ++row) result[row][i] = columns[i][columns[i].size() == 1 ? 0 : row];
    }
    return result;
  }

  /// Notes why the case cannot be computed (the first reason stays); returns nothing, for `return in.give_up(...)`.
  Computed give_up(const std::string& reason) const;
  /// The value; what is made of nothing, and the error noted, where there is none.
  template <class T>
  [[nodiscard]] T value_of(const Result<T>& result) const {
    if (result) return *result;
    give_up(result.error().message());
    return T{};
  }
  [[nodiscard]] bool given_up() const { return !problem_.empty(); }
  [[nodiscard]] const std::string& problem() const { return problem_; }

 private:
  [[nodiscard]] const nlohmann::ordered_json* input(const char* name) const;  ///< null: missing, which is noted
  template <class T>
  [[nodiscard]] std::vector<T> list(const char* name, T instead, const char* of_what) const;

  const nlohmann::ordered_json& inputs_;
  const ReadText& beside_;
  mutable std::string problem_;
};

using Computation = Computed (*)(const CheckInputs&);
using Computations = std::vector<std::pair<std::string, Computation>>;

// By topic, one file each.
Computations air_computations();           // air.cpp: humid air, evapotranspiration
Computations calendar_computations();      // calendar.cpp: dates
Computations fitting_computations();       // fitting.cpp: times, batches and stages from counts
Computations growth_computations();        // growth.cpp: thermal time
Computations mix_medium_computations();    // mix_medium.cpp: containers, media, feeds
Computations mix_solution_computations();  // mix_solution.cpp: measures, solutions, drops, disinfectants
Computations planning_computations();      // planning.cpp: counting, intervals, beliefs
Computations season_computations();        // season.cpp: the chain, by the season engine
Computations sun_computations();           // sun.cpp: sun and light
Computations weather_computations();       // weather.cpp: degree-days, records, the generator

}  // namespace strikebed::nursery

#pragma once
// Invented goals, species and weather for the tests of the season. None of their numbers is a finding about pines.
#include <array>
#include <string>
#include <string_view>
#include <vector>

#include "climate/seasons.hpp"
#include "season/goal.hpp"
#include "season/model.hpp"

namespace strikebed::season {

[[nodiscard]] RateBelief known(double share, double batch_spread = 0);
[[nodiscard]] RateBelief tested(double good, double of, double batch_spread = 0);
[[nodiscard]] RateBelief ranged(double low, double about, double high, double batch_spread = 0);

/// The rates that all wants share, in the order of the chain.
[[nodiscard]] growth::PerRung<RateBelief> shared_rates(const std::array<RateBelief, 5>& beliefs);

[[nodiscard]] ProfileValue exactly(double value);
[[nodiscard]] ProfileValue between(double low, double value, double high);

/// A pine whose timing is known but for the spread between seedlings.
[[nodiscard]] growth::Species steady_pine();
/// A pine whose every timing is uncertain.
[[nodiscard]] growth::Species doubtful_pine();

/// A method with the practical values of a small pot, for what a plan needs.
[[nodiscard]] growth::Method plain_method(const std::string& base_form);

/// Whatever the dates and the weather, everything is in time and there is always room: seedbed and bench held at the
/// optimum, a session every day for most of a year, take the same through the whole window. All rates 1.
[[nodiscard]] Goal goal_without_limits(int wanted);

/// Sowing in spring, sessions at weekends, counted weaned on 1 October; all rates at usual values, known exactly.
[[nodiscard]] Goal weekend_goal(std::vector<int> wanted);

/// The same weather every day of every season.
[[nodiscard]] climate::WeatherSeasons even_weather(Date first, int days, double mean_c);
/// Forty seasons made from monthly normals with a yearly mean of 11 degC; the south's are half a year later.
[[nodiscard]] climate::WeatherSeasons mild_weather(const Goal& goal);

/// A lot that is chilled for 45 days.
[[nodiscard]] Lot lot_named(const std::string& name, int chill_days = 45);

/// A goal with everything that is needed to ask how sure it is.
struct Example {
  std::string name;
  Goal goal;
  climate::WeatherSeasons weather;
  std::vector<Date> sow;
  int seeds = 0;
  std::vector<double> shares;
};
/// The sixteen goals on which the engine is held against one seedling at a time.
[[nodiscard]] std::vector<Example> engine_examples();
/// One of them; a test that asks for another fails.
[[nodiscard]] Example engine_example(std::string_view name);

/// The model of a goal, on futures of its own.
class Asked {
 public:
  Asked(Goal goal, const climate::WeatherSeasons& weather, int replicates = 12, int log2_points = 10,
        std::uint64_t seed = 1, const Workers& workers = {});
  Asked(const Asked&) = delete;
  Asked& operator=(const Asked&) = delete;

  [[nodiscard]] const Model& model() const { return model_; }
  [[nodiscard]] const Goal& goal() const { return model_.goal(); }
  [[nodiscard]] const ThermalSums& sums() const { return model_.sums(); }
  [[nodiscard]] int day(Date date) const { return model_.day(date); }
  /// The goal's own, and one on each date.
  [[nodiscard]] std::vector<Sowing> sowings(const std::vector<Date>& dates) const;

 private:
  Model model_;
};

}  // namespace strikebed::season

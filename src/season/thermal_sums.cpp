#include "season/thermal_sums.hpp"

#include <algorithm>
#include <array>
#include <cstddef>
#include <span>

#include "climate/hours.hpp"
#include "climate/sun.hpp"
#include "growth/hardiness.hpp"
#include "growth/response.hpp"

namespace strikebed::season {
namespace {

/// Seasons that are worked side by side, so that the compiler makes vector code of them: the hours of one season wait
/// for each other, those of several do not.
constexpr int kTogether = 8;
using Lanes = std::array<float, kTogether>;

/// shelter::air_inside with its choices made beforehand: a straight line in the outdoor temperature, and a lowest.
class AirInside {
 public:
  explicit AirInside(const shelter::Position& position)
      : follows_(position.fixed_c ? 0.0F : 1.0F),
        offset_(static_cast<float>(position.fixed_c.value_or(position.offset_c))),
        lowest_(static_cast<float>(position.fixed_c.value_or(position.at_least_c.value_or(kNoLowest)))) {}
  [[nodiscard]] float at(float outdoor_c) const {
    const float inside = follows_ * outdoor_c + offset_;
    return inside < lowest_ ? lowest_ : inside;
  }

 private:
  static constexpr double kNoLowest = -1000;
  float follows_, offset_, lowest_;
};

/// growth::triangular_response in °C d per hour.
class TriangularGain {
 public:
  explicit TriangularGain(const growth::Cardinal& cardinal)
      : base_(static_cast<float>(cardinal.base_c)),
        ceiling_(static_cast<float>(cardinal.ceiling_c)),
        fall_(static_cast<float>((cardinal.optimum_c - cardinal.base_c) / (cardinal.ceiling_c - cardinal.optimum_c))) {}
  [[nodiscard]] float at(float temperature_c) const {
    const float rising = temperature_c - base_;
    const float falling = (ceiling_ - temperature_c) * fall_;
    const float lower = rising < falling ? rising : falling;
    return lower > 0 ? lower / 24 : 0.0F;
  }

 private:
  float base_, ceiling_, fall_;
};

/// growth::wang_engel_response in °C d per hour, tabulated every 1/16 °C and read by straight lines: its power would
/// cost more than all the rest, it is smooth between nodes, and its ends stand on nodes or within 1/16 °C of one.
class WangEngelGain {
 public:
  explicit WangEngelGain(const growth::Cardinal& cardinal) {
    for (std::size_t i = 0; i < table_.size(); ++i) {
      const double temperature = kColdest + static_cast<double>(i) / kPerDegree;
      const double response = growth::wang_engel_response(temperature, cardinal);
      table_[i] = static_cast<float>(growth::thermal_time_per_day(response, cardinal) / 24);
    }
  }
  [[nodiscard]] float at(float temperature_c) const {
    const float place = std::clamp((temperature_c - kColdest) * kPerDegree, 0.0F, static_cast<float>(kNodes - 2));
    const auto node = static_cast<std::size_t>(place);
    const float part = place - static_cast<float>(node);
    return table_[node] + part * (table_[node + 1] - table_[node]);
  }

 private:
  static constexpr float kColdest = -10;
  static constexpr float kPerDegree = 16;
  static constexpr std::size_t kNodes = 70 * 16 + 1;  // -10...60 °C
  std::array<float, kNodes> table_{};
};

/// What the day's length leaves of the growth of seedlings.
double light_on(const Goal& goal, Date date) {
  if (goal.seedbed_lit) return 1;
  return growth::light_response(climate::day_length_h(goal.site.latitude_deg, day_of_year(date)),
                                goal.species.standstill_day_h.typical(), goal.species.shortest_day_h.typical());
}

/// The two ends of one day in each season, °C.
struct DayEnds {
  Lanes tmin;
  Lanes tmax;
};

}  // namespace

std::vector<double> ThermalSum::usual(int seasons) const {
  std::vector<double> mean(stride_);
  for (int s = 0; s < seasons; ++s) {
    const float* clock = season(s);
    for (std::size_t d = 0; d < stride_; ++d) mean[d] += static_cast<double>(clock[d]) / seasons;
  }
  return mean;
}

Frost::Frost(const shelter::Position& position, const climate::WeatherSeasons& weather, const Workers& workers)
    : days_(static_cast<std::size_t>(weather.days)) {
  const AirInside inside(position);
  const std::size_t size = static_cast<std::size_t>(weather.count) * days_;
  if (std::ranges::none_of(std::span(weather.tmin_c).first(size), [&](float low) { return inside.at(low) < 0; }))
    return;
  doses_.resize(size);
  workers.run(weather.count, [&](int season) {
    const std::size_t first = static_cast<std::size_t>(season) * days_;
    for (std::size_t d = first; d < first + days_; ++d) {
      doses_[d] = static_cast<float>(growth::frost_dose(static_cast<double>(inside.at(weather.tmin_c[d]))));
    }
  });
}

ThermalSums thermal_sums(const Goal& goal, const climate::WeatherSeasons& weather, const Workers& workers) {
  ThermalSums sums{weather.first,
                   weather.days,
                   weather.count,
                   ThermalSum(weather.count, weather.days),
                   ThermalSum(weather.count, weather.days),
                   ThermalSum(weather.count, weather.days),
                   Frost(goal.seedbed, weather, workers),
                   Frost(goal.bench, weather, workers)};
  const TriangularGain germinating(goal.species.germination_temperature);
  const TriangularGain ripening(goal.species.ripening_temperature);
  const WangEngelGain rooting(goal.species.rooting_temperature);
  const AirInside at_seedbed(goal.seedbed);
  const AirInside at_bench(goal.bench);
  std::vector<climate::HourlyShape> shapes;
  std::vector<float> light;
  shapes.reserve(static_cast<std::size_t>(weather.days));
  for (int d = 0; d < weather.days; ++d) {
    const Date date = weather.first + Days{d};
    shapes.push_back(climate::hourly_shape(goal.site.latitude_deg, date));
    light.push_back(static_cast<float>(light_on(goal, date)));
  }
  workers.run((weather.count + kTogether - 1) / kTogether, [&](int job) {
    std::array<int, kTogether> season{};  // lanes to spare in the last job repeat the last season
    for (int lane = 0; lane < kTogether; ++lane) {
      season[static_cast<std::size_t>(lane)] = std::min(job * kTogether + lane, weather.count - 1);
    }
    const auto ends_of = [&](int day) {
      DayEnds ends;
      for (std::size_t l = 0; l < season.size(); ++l) {
        const auto at = static_cast<std::size_t>(season[l]) * static_cast<std::size_t>(weather.days) +
                        static_cast<std::size_t>(std::min(day, weather.days - 1));
        ends.tmin[l] = weather.tmin_c[at];
        ends.tmax[l] = weather.tmax_c[at];
      }
      return ends;
    };
    DayEnds today = ends_of(0);
    DayEnds last = today;
    Lanes medium;
    for (std::size_t l = 0; l < medium.size(); ++l) medium[l] = at_bench.at((today.tmin[l] + today.tmax[l]) / 2);
    for (int d = 0; d < weather.days; ++d) {
      const climate::HourlyShape& shape = shapes[static_cast<std::size_t>(d)];
      const DayEnds next = ends_of(d + 1);
      Lanes germinated{};
      Lanes ripened{};
      Lanes rooted{};
      for (std::size_t h = 0; h < 24; ++h) {
        for (std::size_t l = 0; l < medium.size(); ++l) {
          const float outdoor = shape.tmin[h] * today.tmin[l] + shape.tmax[h] * today.tmax[l] +
                                shape.next_tmin[h] * next.tmin[l] + shape.last_tmax[h] * last.tmax[l];
          const float seedbed = at_seedbed.at(outdoor);
          medium[l] += shelter::kMediumHourlyApproach * (at_bench.at(outdoor) - medium[l]);
          germinated[l] += germinating.at(seedbed);
          ripened[l] += ripening.at(seedbed);
        }
        for (std::size_t l = 0; l < medium.size(); ++l) rooted[l] += rooting.at(medium[l]);
      }
      for (float& gained : ripened) gained *= light[static_cast<std::size_t>(d)];
      const auto add = [&](ThermalSum& sum, const Lanes& gained) {
        for (std::size_t l = 0; l < gained.size(); ++l) {
          float* const by_day = sum.season(season[l]);
          by_day[d + 1] = by_day[d] + gained[l];
        }
      };
      add(sums.germination, germinated);
      add(sums.ripening, ripened);
      add(sums.rooting, rooted);
      last = today;
      today = next;
    }
  });
  return sums;
}

}  // namespace strikebed::season

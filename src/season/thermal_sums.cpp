#include "season/thermal_sums.hpp"

#include <algorithm>
#include <array>
#include <cstddef>

#include "climate/hours.hpp"
#include "growth/response.hpp"

namespace strikebed::season {
namespace {

/// A response in °C d per hour, tabulated every 1/16 °C and read by straight lines: the curves are smooth between
/// nodes and their corners stand on nodes or within 1/16 °C of one.
class HourlyGain {
 public:
  HourlyGain(double (*response)(double, const growth::Cardinal&), const growth::Cardinal& cardinal) {
    for (std::size_t i = 0; i < table_.size(); ++i) {
      const double temperature = kColdest + static_cast<double>(i) / kPerDegree;
      table_[i] = static_cast<float>(growth::thermal_time_per_day(response(temperature, cardinal), cardinal) / 24);
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

}  // namespace

ThermalSums thermal_sums(const Goal& goal, const climate::WeatherSeasons& weather, const Workers& workers) {
  ThermalSums sums{weather.first,
                   weather.days,
                   weather.count,
                   ThermalSum(weather.count, weather.days),
                   ThermalSum(weather.count, weather.days),
                   ThermalSum(weather.count, weather.days)};
  const HourlyGain germinating(growth::triangular_response, goal.species.germination_temperature);
  const HourlyGain ripening(growth::triangular_response, goal.species.ripening_temperature);
  const HourlyGain rooting(growth::wang_engel_response, goal.species.rooting_temperature);
  std::vector<climate::HourlyShape> shapes;
  shapes.reserve(static_cast<std::size_t>(weather.days));
  for (int d = 0; d < weather.days; ++d) {
    shapes.push_back(climate::hourly_shape(goal.site.latitude_deg, weather.first + Days{d}));
  }
  workers.run(weather.count, [&](int s) {
    const float* tmin = weather.tmin_c.data() + static_cast<std::ptrdiff_t>(s) * weather.days;
    const float* tmax = weather.tmax_c.data() + static_cast<std::ptrdiff_t>(s) * weather.days;
    float* germination_sum = sums.germination.season(s);
    float* ripening_sum = sums.ripening.season(s);
    float* rooting_sum = sums.rooting.season(s);
    float medium = shelter::air_inside(goal.bench, (tmin[0] + tmax[0]) / 2);
    for (int d = 0; d < weather.days; ++d) {
      const climate::HourlyShape& shape = shapes[static_cast<std::size_t>(d)];
      const float next_tmin = tmin[std::min(d + 1, weather.days - 1)];
      const float last_tmax = tmax[std::max(d - 1, 0)];
      float germinated = 0;
      float ripened = 0;
      float rooted = 0;
      for (std::size_t h = 0; h < 24; ++h) {
        const float outdoor = shape.tmin[h] * tmin[d] + shape.tmax[h] * tmax[d] + shape.next_tmin[h] * next_tmin +
                              shape.last_tmax[h] * last_tmax;
        const float seedbed = shelter::air_inside(goal.seedbed, outdoor);
        const float bench = shelter::air_inside(goal.bench, outdoor);
        medium += shelter::kMediumHourlyApproach * (bench - medium);
        germinated += germinating.at(seedbed);
        ripened += ripening.at(seedbed);
        rooted += rooting.at(medium);
      }
      germination_sum[d + 1] = germination_sum[d] + germinated;
      ripening_sum[d + 1] = ripening_sum[d] + ripened;
      rooting_sum[d + 1] = rooting_sum[d] + rooted;
    }
  });
  return sums;
}

}  // namespace strikebed::season

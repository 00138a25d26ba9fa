#include "season/thermal_sums.hpp"

#include <algorithm>
#include <array>
#include <cstddef>
#include <span>
#include <vector>

#include "base/widest_vectors.hpp"
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
    return lower > 0 ? lower * (1.0F / 24) : 0.0F;
  }

 private:
  float base_, ceiling_, fall_;
};

/// growth::wang_engel_response in °C d per hour, tabulated every 1/16 °C and read by straight lines: its power would
/// cost more than all the rest, it is smooth between nodes, and its ends stand on nodes or within 1/16 °C of one.
class WangEngelGain {
 public:
  explicit WangEngelGain(const growth::Cardinal& cardinal) {
    const auto gain = [&](int node) {
      const double response = growth::wang_engel_response(kColdest + static_cast<double>(node) / kPerDegree, cardinal);
      return static_cast<float>(growth::thermal_time_per_day(response, cardinal) / 24);
    };
    for (int i = 0; i < kNodes; ++i) {
      value_[i] = gain(i);
      rise_[i] = gain(i + 1) - gain(i);
    }
  }
  void add(const Lanes& temperature_c, Lanes& gained) const {
    std::array<std::int32_t, kTogether> node;
    Lanes part;
    for (std::size_t l = 0; l < node.size(); ++l) {
      const float reach = (temperature_c[l] - kColdest) * kPerDegree;
      const float above = reach > 0 ? reach : 0.0F;
      const float place = above < kLast ? above : kLast;
      node[l] = static_cast<std::int32_t>(place);
      part[l] = place - static_cast<float>(node[l]);
    }
    for (std::size_t l = 0; l < node.size(); ++l) gained[l] += value_[node[l]] + part[l] * rise_[node[l]];
  }

 private:
  static constexpr float kColdest = -10;
  static constexpr float kPerDegree = 16;
  static constexpr int kNodes = 70 * 16;  // -10...60 °C
  static constexpr float kLast = kNodes - 1;
  float value_[kNodes], rise_[kNodes];  // plain arrays: compilers make vectors of looking them up
};

/// What the day's length leaves of the growth of seedlings.
double light_on(const Goal& goal, Date date) {
  if (goal.seedbed_lit) return 1;
  return growth::light_response(climate::day_length_h(goal.site.latitude_deg, day_of_year(date)),
                                goal.species.standstill_day_h.typical(), goal.species.shortest_day_h.typical());
}

/// What depends on the day alone, the same in every season.
struct DayOfYear {
  climate::HourlyShape shape;
  float light;  ///< on the seedlings' growth
};

std::vector<DayOfYear> days_of(const Goal& goal, const climate::WeatherSeasons& weather) {
  std::vector<DayOfYear> days;
  days.reserve(static_cast<std::size_t>(weather.days));
  for (int d = 0; d < weather.days; ++d) {
    const Date date = weather.first + Days{d};
    days.push_back({climate::hourly_shape(goal.site.latitude_deg, date), static_cast<float>(light_on(goal, date))});
  }
  return days;
}

/// The two ends of one day in each season, °C.
struct DayEnds {
  Lanes tmin;
  Lanes tmax;
};

/// The seasons that are worked side by side. Lanes to spare in the last job repeat the last season.
class SeasonsTogether {
 public:
  SeasonsTogether(const climate::WeatherSeasons& weather, int job) : weather_(weather) {
    for (int lane = 0; lane < kTogether; ++lane) {
      season_[static_cast<std::size_t>(lane)] = std::min(job * kTogether + lane, weather.count - 1);
    }
  }

  /// Of a day; behind the last one, of the last.
  [[nodiscard]] DayEnds ends_of(int day) const {
    DayEnds ends;
    for (std::size_t l = 0; l < season_.size(); ++l) {
      const auto at = static_cast<std::size_t>(season_[l]) * static_cast<std::size_t>(weather_.days) +
                      static_cast<std::size_t>(std::min(day, weather_.days - 1));
      ends.tmin[l] = weather_.tmin_c[at];
      ends.tmax[l] = weather_.tmax_c[at];
    }
    return ends;
  }

  void add(ThermalSum& sum, int day, const Lanes& gained) const {
    for (std::size_t l = 0; l < gained.size(); ++l) {
      float* const by_day = sum.season(season_[l]);
      by_day[day + 1] = by_day[day] + gained[l];
    }
  }
  /// As the first season has it, up to the start of a day.
  void copy_from_first(ThermalSum& sum, int until) const {
    for (const int season : season_) {
      if (season > 0) std::copy_n(sum.season(0), until + 1, sum.season(season));
    }
  }

 private:
  const climate::WeatherSeasons& weather_;
  std::array<int, kTogether> season_{};
};

/// How far seasons have been followed: two days, and the medium at the bench.
struct Reached {
  DayEnds last, today;
  Lanes medium;
};

/// What a day brings to each stage, °C d.
struct DayGains {
  Lanes germination{};
  Lanes ripening{};
  Lanes rooting{};
};

/// The two positions and what their warmth is worth.
class Warmth {
 public:
  explicit Warmth(const Goal& goal)
      : germinating_(goal.species.germination_temperature),
        ripening_(goal.species.ripening_temperature),
        rooting_(goal.species.rooting_temperature),
        at_seedbed_(goal.seedbed),
        at_bench_(goal.bench) {}

  [[nodiscard]] Lanes medium_at_first(const DayEnds& day) const {
    Lanes medium;
    for (std::size_t l = 0; l < medium.size(); ++l) medium[l] = at_bench_.at((day.tmin[l] + day.tmax[l]) / 2);
    return medium;
  }

  /// Hour by hour between the ends of three days; the medium at the bench goes on from the day before.
  [[nodiscard]] DayGains of_day(const DayOfYear& day, const DayEnds& last, const DayEnds& today, const DayEnds& next,
                                Lanes& medium) const {
    const climate::HourlyShape& shape = day.shape;
    DayGains gains;
    for (std::size_t h = 0; h < 24; ++h) {
      for (std::size_t l = 0; l < medium.size(); ++l) {
        const float outdoor = shape.tmin[h] * today.tmin[l] + shape.tmax[h] * today.tmax[l] +
                              shape.next_tmin[h] * next.tmin[l] + shape.last_tmax[h] * last.tmax[l];
        const float seedbed = at_seedbed_.at(outdoor);
        medium[l] += shelter::kMediumHourlyApproach * (at_bench_.at(outdoor) - medium[l]);
        gains.germination[l] += germinating_.at(seedbed);
        gains.ripening[l] += ripening_.at(seedbed);
      }
      rooting_.add(medium, gains.rooting);
    }
    for (float& gained : gains.ripening) gained *= day.light;
    return gains;
  }

 private:
  TriangularGain germinating_;
  TriangularGain ripening_;
  WangEngelGain rooting_;
  AirInside at_seedbed_;
  AirInside at_bench_;
};

/// Follows seasons from one day to another.
STRIKEBED_WIDEST_VECTORS
void go_on(const Warmth& warmth, const std::vector<DayOfYear>& days, const SeasonsTogether& seasons, Reached& at,
           int from, int to, ThermalSums& sums) {
  for (int d = from; d < to; ++d) {
    const DayEnds next = seasons.ends_of(d + 1);
    const DayGains gains = warmth.of_day(days[static_cast<std::size_t>(d)], at.last, at.today, next, at.medium);
    seasons.add(sums.germination, d, gains.germination);
    seasons.add(sums.ripening, d, gains.ripening);
    seasons.add(sums.rooting, d, gains.rooting);
    at.last = at.today;
    at.today = next;
  }
}

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
  const Warmth warmth(goal);
  const std::vector<DayOfYear> days = days_of(goal, weather);
  const auto begin = [&](const SeasonsTogether& seasons) {
    const DayEnds first = seasons.ends_of(0);
    return Reached{first, first, warmth.medium_at_first(first)};
  };
  // What lies behind is the same in all of them, and worked out once; its last day has the next one's minimum in it.
  const int behind = std::max(weather.known - 1, 0);
  const SeasonsTogether first(weather, 0);
  Reached today = begin(first);
  go_on(warmth, days, first, today, 0, behind, sums);
  workers.run((weather.count + kTogether - 1) / kTogether, [&](int job) {
    const SeasonsTogether seasons(weather, job);
    Reached at = behind > 0 ? today : begin(seasons);
    if (job > 0) {
      for (ThermalSum* sum : {&sums.germination, &sums.ripening, &sums.rooting}) seasons.copy_from_first(*sum, behind);
    }
    go_on(warmth, days, seasons, at, behind, weather.days, sums);
  });
  return sums;
}

}  // namespace strikebed::season

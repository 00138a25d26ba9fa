#include "season/offers.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <span>

#include "season/lognormal_kernel.hpp"
#include "season/widest_vectors.hpp"

namespace strikebed::season {
namespace {

constexpr float kAllUp = 1 - 1e-6F;  // emergence is over
constexpr float kCohort = 2e-4F;     // days on which fewer come up wait for the next day's cohort
constexpr float kReach = 3.7F;       // sds of ripening beyond which none or all of a cohort are taken to be ready
constexpr int kLongestGap = 7;       // days between two looks at readiness, so that a group stays narrow
constexpr std::size_t kLanes = 8;    // looks are done in runs of so many: whole vectors, no stragglers

/// Days at which readiness is looked up. Seedlings that become ready between two looks form a group; it meets its first
/// session at or after the second.
struct Looks {
  std::vector<int> day;
  std::vector<int> session;
};

Looks looks_of(const SessionDays& sessions, int sow_day) {
  Looks looks;
  int last = sow_day;
  for (int s = 0; s < sessions.count(); ++s) {
    const int day = sessions.day[static_cast<std::size_t>(s)];
    if (day <= sow_day) continue;
    const int steps = (day - last + kLongestGap - 1) / kLongestGap;
    for (int i = 1; i <= steps; ++i) {
      looks.day.push_back(last + (day - last) * i / steps);
      looks.session.push_back(s);
    }
    last = day;
  }
  return looks;
}

/// Sums over the cohorts, one slot a look: of the share offered at the look's session, and of that share times the
/// ripeness then (warmth since emergence over the demand: 1 as a window opens), its square, the warmth left until the
/// window closes, and its square.
struct GroupSums {
  std::vector<float> share, ripeness, ripeness2, left, left2;
  explicit GroupSums(std::size_t looks) : share(looks), ripeness(looks), ripeness2(looks), left(looks), left2(looks) {}
  void clear() {
    for (auto* sums : {&share, &ripeness, &ripeness2, &left, &left2}) std::ranges::fill(*sums, 0.0F);
  }
};

/// What is the same for all cohorts of a future.
struct Ripening {
  float median;
  float per_variance;  ///< 1 / spread^2
  float window_ratio;
  float least, most;  ///< no demand is outside
};

/// One cohort's shares, at consecutive looks.
struct CohortShares {
  const float* clock;    ///< at the look before the first, at the first, ...
  const float* session;  ///< clock at the look's session
  const float* ready;    ///< share ready at the look before the first, at the first, ...
  const float* missed;   ///< share whose window has closed by the look's session
};

/// What one cohort adds, for the looks [0, n), n a multiple of kLanes. The log-normal demand is taken to fall or rise
/// exponentially within a look's width, at the rate it has in the middle.
STRIKEBED_WIDEST_VECTORS
void add_cohort(std::size_t n, float weight, float emerged_clock, const Ripening& ripening, const CohortShares& shares,
                float* __restrict share, float* __restrict ripeness, float* __restrict ripeness2,
                float* __restrict left, float* __restrict left2) {
  const float* __restrict clock = shares.clock;
  const float* __restrict session = shares.session;
  const float* __restrict ready = shares.ready;
  const float* __restrict missed = shares.missed;
  const auto [median, per_variance, ratio, least, most] = ripening;
  const float per_ratio = 1 / ratio;
  const float per_median = 1 / median;
  n = n / kLanes * kLanes;
  for (std::size_t i = 0; i < n; ++i) {
    const float gained = session[i] - emerged_clock;
    const float too_late = missed[i] > ready[i] ? missed[i] : ready[i];
    const float offered = weight * (ready[i + 1] > too_late ? ready[i + 1] - too_late : 0.0F);
    float high = clock[i + 1] - emerged_clock;
    high = high < most ? high : most;
    float low = clock[i] - emerged_clock;
    low = low > least ? low : least;
    low = low > gained * per_ratio ? low : gained * per_ratio;
    low = low < high ? low : high;
    const float middle = 0.5F * (low + high);
    const float per_middle = 1 / middle;
    const float width = (high - low) * per_middle;  // relative, as all that follows
    // Rise of the logarithm of the density over the width; ln x is near enough to (x - 1 / x) / 2.
    const float rise = -width * (1 + 0.5F * per_variance * (middle * per_median - median * per_middle));
    const float off_middle = width * rise / (12 + (rise < 0 ? -rise : rise));
    const float demand = middle * (1 + off_middle);
    const float per_demand = per_middle * (1 - off_middle + off_middle * off_middle);
    const float variance = width * width * (1 / 12.0F);
    const float ripe = gained * per_demand * (1 + variance);
    const float to_close = ratio * demand - gained;
    share[i] += offered;
    ripeness[i] += offered * ripe;
    ripeness2[i] += offered * ripe * ripe * (1 + variance);
    left[i] += offered * to_close;
    left2[i] += offered * (to_close * to_close + ratio * ratio * middle * middle * variance);
  }
}

/// Groups joined into sessions.
void join_groups(const Looks& looks, const GroupSums& sums, float window_ratio, const float* session_clock,
                 Offers& offers, std::size_t base) {
  constexpr float kLastPosition = 0.99F;
  float total = 0;
  for (std::size_t g = 0; g < looks.day.size();) {
    const int session = looks.session[g];
    const float clock = session_clock[g];
    float share = 0;
    float ripeness = 0;
    float ripeness2 = 0;
    float left = 0;
    float left2 = 0;
    for (; g < looks.day.size() && looks.session[g] == session; ++g) {
      share += sums.share[g];
      ripeness += sums.ripeness[g];
      ripeness2 += sums.ripeness2[g];
      left += sums.left[g];
      left2 += sums.left2[g];
    }
    if (!(share > 0)) continue;
    ripeness /= share;
    left = std::max(left / share, 1.0F);
    const float left_sd = std::sqrt(std::max(left2 / share - left * left, 1.0F));
    const float position = std::clamp((ripeness - 1) / (window_ratio - 1), 0.0F, kLastPosition);
    const float sd = std::sqrt(std::max(ripeness2 / share - ripeness * ripeness, 0.0F)) / (window_ratio - 1);
    const float length = left / (1 - position);
    const std::size_t i = base + static_cast<std::size_t>(session);
    total += share;
    offers.offered[i] = share;
    offers.opened[i] = clock - position * length;
    offers.opened_sd[i] = (sd * length - position * left_sd) / (1 - position);
    offers.closes[i] = clock + left;
    offers.closes_sd[i] = left_sd;
  }
  if (total < kWhole) return;
  for (int s = 0; s < offers.sessions; ++s) offers.offered[base + static_cast<std::size_t>(s)] /= total;
}

}  // namespace

SessionDays session_days(const Goal& goal, const ThermalSums& sums) {
  // The usual season's rooting clock, averaged over the weather.
  std::vector<double> usual(static_cast<std::size_t>(sums.days) + 1);
  for (int s = 0; s < sums.seasons; ++s) {
    const float* clock = sums.rooting.season(s);
    for (std::size_t d = 0; d < usual.size(); ++d) usual[d] += static_cast<double>(clock[d]) / sums.seasons;
  }
  const auto brings = [&](int from, int to) {
    return usual[static_cast<std::size_t>(std::clamp(to, 0, sums.days))] - usual[static_cast<std::size_t>(from)];
  };
  const double median = goal.species.rooting_time.typical();
  const double slow = median * std::exp(kScore95 * goal.species.rooting_spread.typical());
  const double quickest = goal.species.rooting_time.quantity.low * std::exp(-3 * goal.species.rooting_spread.typical());
  const int life = static_cast<int>(goal.species.unrooted_life_days.typical());
  const Date last = goal.count_at == CountAt::established ? goal.winter_starts : goal.by;
  const int last_day = static_cast<int>((last - sums.first).count());
  SessionDays sessions;
  for (int d = 1; d <= std::min(last_day, sums.days - 1); ++d) {
    const Date date = sums.first + Days{d};
    if (date <= goal.today || std::ranges::count(goal.sessions.not_on, date) > 0) continue;
    if (goal.sessions.dates) {
      if (std::ranges::count(*goal.sessions.dates, date) > 0) sessions.day.push_back(d);
      continue;
    }
    if (!goal.sessions.weekdays[static_cast<std::size_t>(weekday_of(date) - 1)]) continue;
    if (brings(d, last_day) < quickest) break;
    if (brings(d, d + life) < slow) continue;
    sessions.day.push_back(d);
  }
  return sessions;
}

std::vector<float> emerged_by_day(const Timing& timing, const float* germination_sum, int sow_day, int last_day) {
  constexpr int kAtOnce = 32;  // days: emergence is often over long before last_day
  std::vector<float> emerged;
  std::array<float, kAtOnce> warmth{};
  for (int from = sow_day; from < last_day; from += kAtOnce) {
    const auto days = static_cast<std::size_t>(std::min(kAtOnce, last_day - from));
    for (std::size_t i = 0; i < days; ++i) {
      warmth[i] =
          germination_sum[static_cast<std::size_t>(from) + i + 1] - germination_sum[sow_day] - timing.cover_time;
    }
    const std::size_t before = emerged.size();
    emerged.resize(before + days);
    lognormal_shares({warmth.data(), days}, timing.germination_log_median, timing.germination_spread,
                     {emerged.data() + before, days});
    const auto over = std::find_if(emerged.begin() + static_cast<std::ptrdiff_t>(before), emerged.end(),
                                   [](float share) { return share > kAllUp; });
    if (over != emerged.end()) {
      emerged.erase(over + 1, emerged.end());
      break;
    }
  }
  return emerged;
}

Offers offers_of_sowing(const Chain& chain, const Futures& futures, const ThermalSums& sums,
                        const SessionDays& sessions, int sow_day, const Workers& workers) {
  Offers offers;
  offers.sow_day = sow_day;
  offers.sessions = sessions.count();
  const std::size_t size = static_cast<std::size_t>(futures.count()) * static_cast<std::size_t>(offers.sessions);
  for (auto* column : {&offers.offered, &offers.opened, &offers.opened_sd, &offers.closes, &offers.closes_sd}) {
    column->assign(size, 0);
  }
  const Looks looks = looks_of(sessions, sow_day);
  if (looks.day.empty()) return offers;
  const std::size_t n = looks.day.size();
  in_blocks(workers, futures.count(), [&](int begin, int end) {
    // Room for a last run of looks that add nothing.
    const std::size_t room = n + kLanes;
    GroupSums groups(room);
    std::vector<float> clock(room + 1);
    std::vector<float> gained(room);
    std::vector<float> ready(room + 1);
    std::vector<float> session_clock(room);
    std::vector<float> closing(room);
    std::vector<float> missed(room);
    for (int f = begin; f < end; ++f) {
      const Timing timing = timing_of(chain, futures, f);
      const int season = futures.weather[static_cast<std::size_t>(f)];
      const float* ripening = sums.ripening.season(season);
      const std::vector<float> emerged =
          emerged_by_day(timing, sums.germination.season(season), sow_day, looks.day.back() - 1);
      if (emerged.empty()) continue;
      clock[0] = ripening[sow_day];
      for (std::size_t i = 0; i < room; ++i) {
        const std::size_t look = std::min(i, n - 1);
        clock[i + 1] = ripening[looks.day[look]];
        session_clock[i] = ripening[sessions.day[static_cast<std::size_t>(looks.session[look])]];
      }
      const float all_ready = std::exp(timing.ripening_log_median + kReach * timing.ripening_spread);
      const float none_ready = std::exp(timing.ripening_log_median - kReach * timing.ripening_spread);
      const float per_ratio = 1 / timing.window_ratio;
      const Ripening demands{std::exp(timing.ripening_log_median),
                             1 / (timing.ripening_spread * timing.ripening_spread), timing.window_ratio, none_ready,
                             all_ready};
      const float whole = emerged.back() >= kWhole ? 1 / emerged.back() : 1.0F;
      groups.clear();
      float before = 0;
      std::size_t from = 0;  // both only move on, as later cohorts ripen later
      std::size_t to = 0;
      for (std::size_t e = 0; e < emerged.size(); ++e) {
        const float weight = (emerged[e] - before) * whole;
        if (weight < kCohort && e + 1 < emerged.size()) continue;
        before = emerged[e];
        const float emerged_clock = ripening[static_cast<std::size_t>(sow_day) + e + 1];
        // Only looks at which some but not all of this cohort are ready have anything to add.
        while (from < n && clock[from + 1] < emerged_clock + none_ready) ++from;
        while (to < n && clock[to] < emerged_clock + all_ready) ++to;
        if (from >= to) continue;
        const std::size_t run = (to - from + kLanes - 1) / kLanes * kLanes;
        for (std::size_t i = from; i < from + run; ++i) gained[i] = clock[i + 1] - emerged_clock;
        ready[from] = 0;
        lognormal_shares({gained.data() + from, run}, timing.ripening_log_median, timing.ripening_spread,
                         {ready.data() + from + 1, run});
        if (gained[to - 1] >= all_ready) ready[to] = 1;
        std::fill(ready.begin() + static_cast<std::ptrdiff_t>(to) + 1,
                  ready.begin() + static_cast<std::ptrdiff_t>(from + run) + 1, ready[to]);
        // Windows that opened after the session before and have closed by this one: only where sessions are rare.
        int closed = 0;
        for (std::size_t i = from; i < from + run; ++i) {
          closing[i] = (session_clock[i] - emerged_clock) * per_ratio;
          closed += closing[i] > clock[i] - emerged_clock && closing[i] > none_ready ? 1 : 0;
        }
        if (closed > 0) {
          lognormal_shares({closing.data() + from, run}, timing.ripening_log_median, timing.ripening_spread,
                           {missed.data() + from, run});
        }
        add_cohort(run, weight, emerged_clock, demands,
                   {clock.data() + from, session_clock.data() + from, ready.data() + from,
                    closed > 0 ? missed.data() + from : ready.data() + from},
                   groups.share.data() + from, groups.ripeness.data() + from, groups.ripeness2.data() + from,
                   groups.left.data() + from, groups.left2.data() + from);
      }
      join_groups(looks, groups, timing.window_ratio, session_clock.data(), offers, offers.at(f, 0));
    }
  });
  return offers;
}

}  // namespace strikebed::season

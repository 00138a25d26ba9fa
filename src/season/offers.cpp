#include "season/offers.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <span>

#include "season/lognormal_kernel.hpp"
#include "season/widest_vectors.hpp"

namespace strikebed::season {
namespace {

constexpr float kAllUp = 1 - 1e-6F;  // emergence is over
constexpr float kCohort = 0.4F;      // days join a cohort while its clocks lie within so many sds of ripening
constexpr float kFew = 1e-6F;        // fewer are no cohort
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

/// Warmth a cohort has gained by each look, and what its demand must be below for its window to have closed by the
/// look's session. True when any of it can have opened after the look before and closed by then.
STRIKEBED_WIDEST_VECTORS
bool warmth_at_looks(std::size_t n, float emerged_clock, float per_ratio, float none_ready,
                     const float* __restrict clock, const float* __restrict session, float* __restrict gained,
                     float* __restrict closing) {
  n = n / kLanes * kLanes;
  std::int32_t closed = 0;
  for (std::size_t i = 0; i < n; ++i) {
    gained[i] = clock[i + 1] - emerged_clock;
    closing[i] = (session[i] - emerged_clock) * per_ratio;
    const float before = clock[i] - emerged_clock;
    const float least = before > none_ready ? before : none_ready;
    closed += closing[i] > least ? 1 : 0;
  }
  return closed > 0;
}

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

/// From sums over cohorts, one slot a session, to what Offers holds of it; nothing where nobody is offered.
STRIKEBED_WIDEST_VECTORS
void describe_groups(std::size_t n, float window_ratio, float per_total, const float* __restrict clock,
                     const float* __restrict share, const float* __restrict ripeness, const float* __restrict ripeness2,
                     const float* __restrict left, const float* __restrict left2, float* __restrict offered,
                     float* __restrict opened, float* __restrict opened_sd, float* __restrict closes,
                     float* __restrict closes_sd) {
  constexpr float kLastPosition = 0.99F;
  const float per_window = 1 / (window_ratio - 1);
  for (std::size_t s = 0; s < n; ++s) {
    const bool any = share[s] > 0;
    const float per_share = 1 / (any ? share[s] : 1.0F);
    const float ripe = ripeness[s] * per_share;
    float to_close = left[s] * per_share;
    to_close = to_close > 1 ? to_close : 1.0F;
    float variance = left2[s] * per_share - to_close * to_close;
    variance = variance > 1 ? variance : 1.0F;
    const float to_close_sd = std::sqrt(variance);
    float position = (ripe - 1) * per_window;
    position = position > 0 ? position : 0.0F;
    position = position < kLastPosition ? position : kLastPosition;
    float spread = ripeness2[s] * per_share - ripe * ripe;
    spread = spread > 0 ? spread : 0.0F;
    const float sd = std::sqrt(spread) * per_window;
    const float per_rest = 1 / (1 - position);
    const float length = to_close * per_rest;
    offered[s] = any ? share[s] * per_total : 0;
    opened[s] = any ? clock[s] - position * length : 0;
    opened_sd[s] = any ? (sd * length - position * to_close_sd) * per_rest : 0;
    closes[s] = any ? clock[s] + to_close : 0;
    closes_sd[s] = any ? to_close_sd : 0;
  }
}

/// Sums of the looks that lead to one session, joined; the share of all of them.
float join_looks(const Looks& looks, const GroupSums& sums, GroupSums& by_session) {
  by_session.clear();
  float total = 0;
  for (std::size_t g = 0; g < looks.day.size(); ++g) {
    const auto s = static_cast<std::size_t>(looks.session[g]);
    by_session.share[s] += sums.share[g];
    by_session.ripeness[s] += sums.ripeness[g];
    by_session.ripeness2[s] += sums.ripeness2[g];
    by_session.left[s] += sums.left[g];
    by_session.left2[s] += sums.left2[g];
    total += sums.share[g];
  }
  return total;
}

/// emerged_by_day into memory that is there.
void fill_emerged(const Timing& timing, const float* germination_sum, int sow_day, int last_day,
                  std::vector<float>& emerged) {
  constexpr int kAtOnce = 32;  // days: emergence is often over long before last_day
  emerged.clear();
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
}

}  // namespace

SessionDays session_days(const Goal& goal, const ThermalSums& sums) {
  const std::vector<double> usual = sums.rooting.usual(sums.seasons);
  const auto brings = [&](int from, int to) {
    return usual[static_cast<std::size_t>(std::clamp(to, 0, sums.days))] - usual[static_cast<std::size_t>(from)];
  };
  const double median = goal.species.rooting_time.typical();
  const double slow = median * std::exp(kScore95 * goal.species.rooting_spread.typical());
  const double quickest = goal.species.rooting_time.quantity.low * std::exp(-3 * goal.species.rooting_spread.typical());
  const int life = goal.species.unrooted_life();
  const Date last = goal.count_at == CountAt::established ? goal.winter_starts : goal.by;
  const int last_day = static_cast<int>((last - sums.first).count());
  const int weaned_in = goal.count_at == CountAt::rooted ? 0 : static_cast<int>(goal.species.weaning_days.quantity.low);
  SessionDays sessions;
  for (int d = 1; d <= std::min(last_day, sums.days - 1); ++d) {
    const Date date = sums.first + Days{d};
    if (date <= goal.today || std::ranges::count(goal.sessions.not_on, date) > 0) continue;
    if (goal.sessions.dates) {
      if (std::ranges::count(*goal.sessions.dates, date) > 0) sessions.day.push_back(d);
      continue;
    }
    if (!goal.sessions.weekdays[static_cast<std::size_t>(weekday_of(date) - 1)]) continue;
    if (brings(d, std::max(last_day - weaned_in, d)) < quickest) break;
    if (brings(d, d + life) < slow) {
      sessions.held_up_by_cold |= sessions.day.empty();
      continue;
    }
    sessions.day.push_back(d);
  }
  return sessions;
}

std::vector<float> emerged_by_day(const Timing& timing, const float* germination_sum, int sow_day, int last_day) {
  std::vector<float> emerged;
  fill_emerged(timing, germination_sum, sow_day, last_day, emerged);
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
    GroupSums by_session(static_cast<std::size_t>(offers.sessions));
    std::vector<float> emerged;
    std::vector<float> clock_at(static_cast<std::size_t>(offers.sessions));  // of each session
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
      fill_emerged(timing, sums.germination.season(season), sow_day, looks.day.back() - 1, emerged);
      if (emerged.empty()) continue;
      for (std::size_t s = 0; s < clock_at.size(); ++s) clock_at[s] = ripening[sessions.day[s]];
      clock[0] = ripening[sow_day];
      for (std::size_t i = 0; i < n; ++i) {
        clock[i + 1] = ripening[looks.day[i]];
        session_clock[i] = clock_at[static_cast<std::size_t>(looks.session[i])];
      }
      std::fill(clock.begin() + static_cast<std::ptrdiff_t>(n) + 1, clock.end(), clock[n]);
      std::fill(session_clock.begin() + static_cast<std::ptrdiff_t>(n), session_clock.end(), session_clock[n - 1]);
      const float all_ready = std::exp(timing.ripening_log_median + kReach * timing.ripening_spread);
      const float none_ready = std::exp(timing.ripening_log_median - kReach * timing.ripening_spread);
      const float per_ratio = 1 / timing.window_ratio;
      const Ripening demands{std::exp(timing.ripening_log_median),
                             1 / (timing.ripening_spread * timing.ripening_spread), timing.window_ratio, none_ready,
                             all_ready};
      const float whole = emerged.back() >= kWhole ? 1 / emerged.back() : 1.0F;
      groups.clear();
      const float wide = kCohort * std::min(timing.ripening_spread, 0.25F * (timing.window_ratio - 1)) * demands.median;
      const float per_median2 = 1 / (demands.median * demands.median);
      const float* const clock_of = ripening + sow_day + 1;  // at the end of the day of emergence
      std::size_t from = 0;                                  // both only move on, as later cohorts ripen later
      std::size_t to = 0;
      for (std::size_t e = 0; e < emerged.size();) {
        // Seedlings of a few days go as one: at their mean clock, their scatter about it added to that of the demand.
        const float first = clock_of[e];
        float weight = 0;
        float clocks = 0;
        float squares = 0;
        for (; e < emerged.size() && clock_of[e] - first <= wide; ++e) {
          const float of_day = emerged[e] - (e > 0 ? emerged[e - 1] : 0);
          const float later = clock_of[e] - first;
          weight += of_day;
          clocks += of_day * later;
          squares += of_day * later * later;
        }
        if (!(weight > kFew)) continue;
        const float mean = clocks / weight;
        const float emerged_clock = first + mean;
        const float scatter = (squares / weight - mean * mean) * per_median2;
        const auto spread_with = [&](float more) {
          return std::sqrt(timing.ripening_spread * timing.ripening_spread + std::max(more, 0.0F));
        };
        weight *= whole;
        // Only looks at which some but not all of this cohort are ready have anything to add.
        while (from < n && clock[from + 1] < emerged_clock + none_ready) ++from;
        while (to < n && clock[to] < emerged_clock + all_ready) ++to;
        if (from >= to) continue;
        const std::size_t run = (to - from + kLanes - 1) / kLanes * kLanes;
        // Windows that opened after the session before and have closed by this one come only where sessions are rare.
        const bool any_closed =
            warmth_at_looks(run, emerged_clock, per_ratio, none_ready, clock.data() + from, session_clock.data() + from,
                            gained.data() + from, closing.data() + from);
        ready[from] = 0;
        lognormal_shares({gained.data() + from, run}, timing.ripening_log_median, spread_with(scatter),
                         {ready.data() + from + 1, run});
        if (gained[to - 1] >= all_ready) ready[to] = 1;
        std::fill(ready.begin() + static_cast<std::ptrdiff_t>(to) + 1,
                  ready.begin() + static_cast<std::ptrdiff_t>(from + run) + 1, ready[to]);
        if (any_closed) {
          lognormal_shares({closing.data() + from, run}, timing.ripening_log_median,
                           spread_with(scatter * per_ratio * per_ratio), {missed.data() + from, run});
        }
        add_cohort(run, weight, emerged_clock, demands,
                   {clock.data() + from, session_clock.data() + from, ready.data() + from,
                    any_closed ? missed.data() + from : ready.data() + from},
                   groups.share.data() + from, groups.ripeness.data() + from, groups.ripeness2.data() + from,
                   groups.left.data() + from, groups.left2.data() + from);
      }
      const float total = join_looks(looks, groups, by_session);
      const std::size_t first = offers.at(f, 0);
      describe_groups(static_cast<std::size_t>(offers.sessions), timing.window_ratio, total < kWhole ? 1 : 1 / total,
                      clock_at.data(), by_session.share.data(), by_session.ripeness.data(), by_session.ripeness2.data(),
                      by_session.left.data(), by_session.left2.data(), &offers.offered[first], &offers.opened[first],
                      &offers.opened_sd[first], &offers.closes[first], &offers.closes_sd[first]);
    }
  });
  return offers;
}

}  // namespace strikebed::season

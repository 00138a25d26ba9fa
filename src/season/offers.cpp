#include "season/offers.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <span>

#include "season/lognormal_kernel.hpp"

namespace strikebed::season {
namespace {

constexpr float kAllUp = 1 - 1e-6F;   // emergence is over
constexpr float kCohort = 2e-4F;     // days on which fewer come up wait for the next day's cohort
constexpr float kReach = 3.7F;       // sds of ripening beyond which none or all of a cohort are taken to be ready
constexpr int kLongestGap = 7;       // days between two looks at readiness, so that a group stays narrow
constexpr double kScore95 = 1.6448536269514722;
constexpr int kFuturesPerJob = 128;

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

/// Sums over the cohorts, one slot a look: share, and share-weighted demand, emergence clock and squared closing clock.
struct GroupSums {
  std::vector<float> share, demand, emerged, closes2;
  explicit GroupSums(std::size_t looks) : share(looks), demand(looks), emerged(looks), closes2(looks) {}
  void clear() {
    for (auto* sums : {&share, &demand, &emerged, &closes2}) std::ranges::fill(*sums, 0.0F);
  }
};

/// What one cohort adds, for the looks [0, n): `ready` holds the share ready at each look, ready[-1] at the one before.
__attribute__((noinline)) void add_cohort(std::size_t n, float weight, float emerged_clock, float window_ratio,
                                          const float* __restrict clock, const float* __restrict ready,
                                          float* __restrict share, float* __restrict demand, float* __restrict emerged,
                                          float* __restrict closes2) {
  for (std::size_t i = 0; i < n; ++i) {
    const float part = weight * (ready[i + 1] - ready[i]);
    const float low = clock[i] - emerged_clock > 0 ? clock[i] - emerged_clock : 0.0F;
    const float middle = 0.5F * (low + clock[i + 1] - emerged_clock);
    const float closing = emerged_clock + window_ratio * middle;
    share[i] += part;
    demand[i] += part * middle;
    emerged[i] += part * emerged_clock;
    closes2[i] += part * closing * closing;
  }
}

/// Groups joined into sessions: those whose window has already closed at their first session are too late.
void join_groups(const Looks& looks, const GroupSums& sums, const Timing& timing, const float* clock_at_session_day,
                 const SessionDays& sessions, Offers& offers, std::size_t base) {
  const auto count = static_cast<std::size_t>(sessions.count());
  float total = 0;
  for (std::size_t g = 0; g < looks.day.size(); ++g) {
    if (!(sums.share[g] > 0)) continue;
    const float share = sums.share[g];
    const float demand = sums.demand[g] / share;
    const float emerged = sums.emerged[g] / share;
    const float closes = emerged + timing.window_ratio * demand;
    // Spread between cohorts, and within a look's width of demand.
    const float width = timing.window_ratio * 0.25F * timing.ripening_spread * demand;
    const float variance = std::max(sums.closes2[g] / share - closes * closes, 0.0F) + width * width * 0.1F;
    const float sd = std::sqrt(std::max(variance, 1.0F));
    const auto s = static_cast<std::size_t>(looks.session[g]);
    const float now = clock_at_session_day[sessions.day[s]];
    const float open = quick_normal_share((closes - now) / sd);
    const float offered = share * open;
    total += offered;
    offers.offered[base + s] += offered;
    offers.opened[base + s] += offered * (emerged + demand);
    offers.closes[base + s] += offered * closes;
    offers.closes_sd[base + s] += offered * (sd * sd + closes * closes);
  }
  const float scale = total >= kWhole ? 1 / total : 1.0F;
  for (std::size_t s = 0; s < count; ++s) {
    float& offered = offers.offered[base + s];
    if (offered <= 0) continue;
    offers.opened[base + s] /= offered;
    const float closes = offers.closes[base + s] /= offered;
    offers.closes_sd[base + s] = std::sqrt(std::max(offers.closes_sd[base + s] / offered - closes * closes, 1.0F));
    offered *= scale;
  }
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
      warmth[i] = germination_sum[static_cast<std::size_t>(from) + i + 1] - germination_sum[sow_day] - timing.cover_time;
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

Offers offers_of_sowing(const Chain& chain, const Futures& futures, const ThermalSums& sums, const SessionDays& sessions,
                        int sow_day, const Workers& workers) {
  Offers offers;
  offers.sow_day = sow_day;
  offers.sessions = sessions.count();
  const std::size_t size = static_cast<std::size_t>(futures.count()) * static_cast<std::size_t>(offers.sessions);
  for (auto* column : {&offers.offered, &offers.opened, &offers.closes, &offers.closes_sd}) column->assign(size, 0);
  const Looks looks = looks_of(sessions, sow_day);
  if (looks.day.empty()) return offers;
  const std::size_t n = looks.day.size();
  const int jobs = (futures.count() + kFuturesPerJob - 1) / kFuturesPerJob;
  workers.run(jobs, [&](int job) {
    GroupSums groups(n);
    std::vector<float> clock(n + 1);
    std::vector<float> gained(n);
    std::vector<float> ready(n + 1);
    const int end = std::min((job + 1) * kFuturesPerJob, futures.count());
    for (int f = job * kFuturesPerJob; f < end; ++f) {
      const Timing timing = timing_of(chain, futures, f);
      const int season = futures.weather[static_cast<std::size_t>(f)];
      const float* ripening = sums.ripening.season(season);
      const std::vector<float> emerged =
          emerged_by_day(timing, sums.germination.season(season), sow_day, looks.day.back() - 1);
      if (emerged.empty()) continue;
      clock[0] = ripening[sow_day];
      for (std::size_t i = 0; i < n; ++i) clock[i + 1] = ripening[looks.day[i]];
      const float all_ready = std::exp(timing.ripening_log_median + kReach * timing.ripening_spread);
      const float none_ready = std::exp(timing.ripening_log_median - kReach * timing.ripening_spread);
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
        for (std::size_t i = from; i < to; ++i) gained[i] = clock[i + 1] - emerged_clock;
        ready[from] = 0;
        lognormal_shares({gained.data() + from, to - from}, timing.ripening_log_median, timing.ripening_spread,
                         {ready.data() + from + 1, to - from});
        if (gained[to - 1] >= all_ready) ready[to] = 1;
        add_cohort(to - from, weight, emerged_clock, timing.window_ratio, clock.data() + from, ready.data() + from,
                   groups.share.data() + from, groups.demand.data() + from, groups.emerged.data() + from,
                   groups.closes2.data() + from);
      }
      join_groups(looks, groups, timing, ripening, sessions, offers, offers.at(f, 0));
    }
  });
  return offers;
}

}  // namespace strikebed::season

#include "season/offers.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <numeric>
#include <span>

#include "base/widest_vectors.hpp"
#include "season/lognormal_kernel.hpp"

namespace strikebed::season {
namespace {

constexpr float kAllUp = 1 - 1e-6F;  // emergence is over
constexpr float kCohort = 0.4F;      // days join a cohort while its clocks lie within so many sds of ripening
constexpr float kFew = 1e-6F;        // fewer are no cohort
constexpr float kReach = 3.7F;       // sds of ripening beyond which none or all of a cohort are taken to be ready
constexpr int kLongestGap = 7;       // days between two looks at readiness, so that a group stays narrow
constexpr std::size_t kLanes = 8;    // looks are done in runs of so many: whole vectors, no stragglers

/// Moments at which it is looked up who would be struck. Seedlings whose time comes between two looks form a group; it
/// meets its first session at or after the second.
struct Looks {
  std::vector<int> day;
  std::vector<int> session;
  std::vector<float> part;  ///< of the way from the session before (or the sowing) to this one
};

Looks looks_of(const SessionDays& sessions, int sow_day) {
  constexpr float kLongestRise = 0.15F;  // of what makes a seedling ripe for the knife, so that a group stays narrow
  Looks looks;
  int last = sow_day;
  for (int s = 0; s < sessions.count(); ++s) {
    const auto session = static_cast<std::size_t>(s);
    const int day = sessions.day[session];
    if (day <= sow_day) continue;
    const float change =
        last == sow_day ? 0 : std::abs(sessions.strike_from[session] - sessions.strike_from[session - 1]);
    const int steps =
        std::max((day - last + kLongestGap - 1) / kLongestGap, static_cast<int>(change / kLongestRise) + 1);
    for (int i = 1; i <= steps; ++i) {
      looks.day.push_back(last + (day - last) * i / steps);
      looks.session.push_back(s);
      looks.part.push_back(static_cast<float>(i) / static_cast<float>(steps));
    }
    last = day;
  }
  return looks;
}

/// Who is struck at a look: whoever has opened, and whose places in the window now and at the next session average at
/// least `from`, or whose window will have closed by then.
struct StrikeAtLook {
  float now, mid, next;  ///< the clock now, half way to the next session, and then
  float from;
};

/// The demand up to which seedlings that emerged at a clock are struck.
inline float struck_up_to(const StrikeAtLook& look, float emerged_clock, float window_ratio, float per_ratio) {
  const float ripe = (look.mid - emerged_clock) / (1 + look.from * (window_ratio - 1));
  const float closing = (look.next - emerged_clock) * per_ratio;
  return std::min(look.now - emerged_clock, std::max(ripe, closing));
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
  const float* demand;   ///< up to which it is struck, at the look before the first, at the first, ...
  const float* session;  ///< clock at the look's session
  const float* ready;    ///< share of such demands
  const float* missed;   ///< share whose window has closed by the look's session
};

/// What a cohort's demand must be below for its window to have closed by each look's session. True when any of it can
/// have been left at the look before and closed by then.
STRIKEBED_WIDEST_VECTORS
bool closed_at_looks(std::size_t n, float emerged_clock, float per_ratio, float none_ready,
                     const float* __restrict demand, const float* __restrict session, float* __restrict closing) {
  n = n / kLanes * kLanes;
  std::int32_t closed = 0;
  for (std::size_t i = 0; i < n; ++i) {
    closing[i] = (session[i] - emerged_clock) * per_ratio;
    const float least = demand[i] > none_ready ? demand[i] : none_ready;
    closed += closing[i] > least ? 1 : 0;
  }
  return closed > 0;
}

/// What one cohort adds, `weight` of it alive at each look's session, for the looks [0, n), n a multiple of kLanes. The
/// log-normal demand is taken to fall or rise exponentially within a look's width, at the rate it has in the middle.
STRIKEBED_WIDEST_VECTORS
void add_cohort(std::size_t n, const float* __restrict weight, float emerged_clock, const Ripening& ripening,
                const CohortShares& shares, float* __restrict share, float* __restrict ripeness,
                float* __restrict ripeness2, float* __restrict left, float* __restrict left2) {
  const float* __restrict demand_to = shares.demand;
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
    const float offered = weight[i] * (ready[i + 1] > too_late ? ready[i + 1] - too_late : 0.0F);
    float high = demand_to[i + 1];
    high = high < most ? high : most;
    float low = demand_to[i];
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

/// Shares that have come up by the end of each day from sow_day on, none lost; ends when all have.
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

/// The share of those that germinate in good time which has come up by the morning of a day.
float up_by_morning(std::span<const float> emerged, int sow_day, int day) {
  const int days = std::min(day - sow_day, static_cast<int>(emerged.size()));
  if (days <= 0) return 0;
  return emerged[static_cast<std::size_t>(days) - 1] / (emerged.back() >= kWhole ? emerged.back() : 1.0F);
}

/// From shares that have come up by each day, to those of each day that the cold bed spares.
void spare_by_day(const Timing& timing, const float* germination_sum, int sow_day, LossClock& lying,
                  std::vector<float>& emerged) {
  const int days = static_cast<int>(emerged.size());
  const float whole = !emerged.empty() && emerged.back() >= kWhole ? 1 / emerged.back() : 1.0F;
  lying.read(germination_sum, nullptr, timing.seeds, sow_day, sow_day + days);
  for (int e = days - 1; e >= 0; --e) {
    float& of_day = emerged[static_cast<std::size_t>(e)];
    if (e > 0) of_day -= emerged[static_cast<std::size_t>(e) - 1];
    of_day *= whole * lying.surviving(sow_day, sow_day + e + 1);
  }
}

const TraySeen kNothingSeen;

/// The seedlings of a few days, as one: at their mean clock, their scatter about it added to that of the demand.
struct Cohort {
  float weight = 0;         ///< share of all that emerge, those alive after its last day
  int born = 0;             ///< the day after its last
  int came_up = 0;          ///< its first day
  float emerged_clock = 0;  ///< mean, at the end of the day of emergence
  float scatter = 0;        ///< variance of the clocks
};

/// One future after another, in memory that is there.
class FutureAtWork {
 public:
  FutureAtWork(const ThermalSums& sums, const SessionDays& sessions, const Looks& looks, int sow_day,
               const SeedlingsSeen* seen)
      : sums_(sums),
        sessions_(sessions),
        looks_(looks),
        sow_day_(sow_day),
        seen_(seen),
        n_(looks.day.size()),
        groups_(room()),
        by_session_(static_cast<std::size_t>(sessions.count())),
        clock_at_(static_cast<std::size_t>(sessions.count())),
        at_look_(n_ + 1),
        demand_(room() + 1),
        ready_(room() + 1),
        session_clock_(room()),
        closing_(room()),
        missed_(room()),
        weight_(room()),
        left_(seen && seen->tray ? *seen->tray : kNothingSeen) {}

  /// Fills the future's rows of the offers, which are 0.
  void fill(const Timing& timing, int season, std::size_t future, Offers& offers) {
    const std::size_t first = offers.at(static_cast<int>(future), 0);
    fill_emerged(timing, sums_.germination.season(season), sow_day_, looks_.day.back() - 1, emerged_);
    if (emerged_.empty()) return;
    const float before = seen_ ? up_by_morning(emerged_, sow_day_, seen_->up ? seen_->up_by : seen_->as_of) : 0;
    spare_by_day(timing, sums_.germination.season(season), sow_day_, lying_, emerged_);
    if (seen_) leave_what_was_seen(before);
    offers.up[future] = std::accumulate(emerged_.begin(), emerged_.end(), 0.0F);
    const float* const ripening = sums_.ripening.season(season);
    standing_.read(ripening, sums_.seedbed_frost.season(season), timing.seedlings, sow_day_, looks_.day.back());
    read_clocks(ripening);
    groups_.clear();
    const float median = std::exp(timing.ripening_log_median);
    const Ripening demands{median, 1 / (timing.ripening_spread * timing.ripening_spread), timing.window_ratio,
                           std::exp(timing.ripening_log_median - kReach * timing.ripening_spread),
                           std::exp(timing.ripening_log_median + kReach * timing.ripening_spread)};
    const float wide = kCohort * std::min(timing.ripening_spread, 0.25F * (timing.window_ratio - 1)) * median;
    cohorts_.clear();
    for (std::size_t e = 0; e < emerged_.size();) {
      const Cohort cohort = next_cohort(ripening + sow_day_ + 1, wide, e);
      if (cohort.weight > kFew) cohorts_.push_back(cohort);
    }
    if (seen_ && seen_->up) leave_those_alive(timing, ripening, future, offers);
    std::size_t from = 0;  // both only move on, as later cohorts ripen later
    std::size_t to = 0;
    for (std::size_t c = 0; c < cohorts_.size(); ++c) {
      const Cohort& cohort = cohorts_[c];
      // Only looks at which some but not all of this cohort are struck have anything to add.
      const auto demand_at = [&](std::size_t look) {
        return struck_up_to(at_look_[look], cohort.emerged_clock, timing.window_ratio, 1 / timing.window_ratio);
      };
      while (from < n_ && demand_at(from + 1) < demands.least) ++from;
      while (to < n_ && demand_at(to) < demands.most) ++to;
      if (from < to) add(c, timing, demands, from, to);
    }
    const float total = join_looks(looks_, groups_, by_session_);
    describe_groups(clock_at_.size(), timing.window_ratio, total < kWhole ? 1 : 1 / total, clock_at_.data(),
                    by_session_.share.data(), by_session_.ripeness.data(), by_session_.ripeness2.data(),
                    by_session_.left.data(), by_session_.left2.data(), &offers.offered[first], &offers.opened[first],
                    &offers.opened_sd[first], &offers.closes[first], &offers.closes_sd[first]);
  }

 private:
  [[nodiscard]] std::size_t room() const { return n_ + kLanes; }  ///< for a last run of looks that add nothing

  void read_clocks(const float* ripening) {
    for (std::size_t s = 0; s < clock_at_.size(); ++s) clock_at_[s] = ripening[sessions_.day[s]];
    const auto at_session = [&](std::size_t s) {
      const float now = clock_at_[s];
      if (s + 1 == clock_at_.size()) return StrikeAtLook{now, now, now, sessions_.strike_from[s]};
      return StrikeAtLook{now, 0.5F * (now + clock_at_[s + 1]), clock_at_[s + 1], sessions_.strike_from[s]};
    };
    const float sown = ripening[sow_day_];
    at_look_[0] = {sown, sown, sown, sessions_.strike_from[static_cast<std::size_t>(looks_.session[0])]};
    StrikeAtLook before = at_look_[0];
    for (std::size_t i = 0; i < n_; ++i) {
      const auto session = static_cast<std::size_t>(looks_.session[i]);
      if (i > 0 && looks_.session[i] != looks_.session[i - 1]) before = at_session(session - 1);
      const StrikeAtLook then = at_session(session);
      const auto between = [part = looks_.part[i]](float a, float b) { return part < 1 ? a + part * (b - a) : b; };
      at_look_[i + 1] = {ripening[looks_.day[i]], between(before.mid, then.mid), between(before.next, then.next),
                         between(before.from, then.from)};
      session_clock_[i] = then.now;
    }
    std::fill(session_clock_.begin() + static_cast<std::ptrdiff_t>(n_), session_clock_.end(), session_clock_[n_ - 1]);
  }

  /// Of the days from `e` on, whose clocks lie within `wide`; moves `e` behind them.
  [[nodiscard]] Cohort next_cohort(const float* clock_of, float wide, std::size_t& e) const {
    const float first = clock_of[e];
    std::size_t end = e;
    while (end < emerged_.size() && clock_of[end] - first <= wide) ++end;
    Cohort cohort;
    cohort.born = sow_day_ + static_cast<int>(end);
    cohort.came_up = sow_day_ + static_cast<int>(e);
    float clocks = 0;
    float squares = 0;
    for (; e < end; ++e) {
      const float of_day = emerged_[e] * standing_.surviving(sow_day_ + static_cast<int>(e) + 1, cohort.born);
      const float later = clock_of[e] - first;
      cohort.weight += of_day;
      clocks += of_day * later;
      squares += of_day * later * later;
    }
    if (!(cohort.weight > kFew)) return cohort;
    const float mean = clocks / cohort.weight;
    cohort.emerged_clock = first + mean;
    cohort.scatter = squares / cohort.weight - mean * mean;
    return cohort;
  }

  /// Of the shares of each day, those that agree with what was seen, as shares of all that do.
  void leave_what_was_seen(float before) {
    constexpr float kNone = 1e-6F;
    const int border = (seen_->up ? seen_->up_by : seen_->as_of) - sow_day_;
    const auto at = static_cast<std::ptrdiff_t>(std::clamp(border, 0, static_cast<int>(emerged_.size())));
    if (seen_->up) {
      std::fill(emerged_.begin() + at, emerged_.end(), 0.0F);
      const float all = std::accumulate(emerged_.begin(), emerged_.end(), 0.0F);
      if (all > kNone) {
        for (float& of_day : emerged_) of_day /= all;
      } else {  // hardly any should be up by then: they came up last
        std::ranges::fill(emerged_, 0.0F);
        emerged_[static_cast<std::size_t>(std::max(at, std::ptrdiff_t{1}) - 1)] = 1;
      }
      return;
    }
    std::fill(emerged_.begin(), emerged_.begin() + at, 0.0F);
    const float rest = 1 - before;
    for (float& of_day : emerged_) of_day = rest > kNone ? of_day / rest : 0;
  }

  /// From cohorts as they came up, to those alive as they were seen last, as shares of all these.
  void leave_those_alive(const Timing& timing, const float* ripening, std::size_t future, Offers& offers) {
    const bool tray = seen_->tray && !seen_->tray->looks.empty();
    if (tray) {
      left_.begin(ripening, timing);
      for (const Cohort& cohort : cohorts_) {
        left_.add(cohort.emerged_clock, spread_with(timing, scatter_of(cohort, timing)), cohort.weight);
      }
      left_.finish();
    }
    float all = 0;
    float to_come = 0;
    for (std::size_t c = 0; c < cohorts_.size(); ++c) {
      Cohort& cohort = cohorts_[c];
      const int as_of = std::max(seen_->as_of, cohort.born);
      cohort.weight *= standing_.surviving(cohort.born, as_of);
      cohort.born = as_of;
      const float there = tray ? cohort.weight * left_.left(c) : cohort.weight;
      const float age = static_cast<float>(std::max(seen_->as_of - cohort.came_up, 0));
      all += there;
      to_come += there * std::exp2(-age / static_cast<float>(seen_->loss_half_age_days));
    }
    for (Cohort& cohort : cohorts_) cohort.weight = all > 0 ? cohort.weight / all : 0;
    offers.up[future] = all > 0 ? 1 : 0;
    offers.losses_to_come[future] = all > 0 ? to_come / all : 1;
  }

  static float spread_with(const Timing& timing, float more) {
    return std::sqrt(timing.ripening_spread * timing.ripening_spread + std::max(more, 0.0F));
  }
  /// That of the clocks, as of the demand's logarithm at the start of the window.
  static float scatter_of(const Cohort& cohort, const Timing& timing) {
    return cohort.scatter * std::exp(-2 * timing.ripening_log_median);
  }

  /// What a cohort adds at the looks [from, to).
  void add(std::size_t c, const Timing& timing, const Ripening& demands, std::size_t from, std::size_t to) {
    const Cohort& cohort = cohorts_[c];
    const float per_ratio = 1 / timing.window_ratio;
    const float ripe = 1 + at_look_[(from + to + 1) / 2].from * (timing.window_ratio - 1);
    const float scatter = cohort.scatter / (demands.median * demands.median * ripe * ripe);
    const std::size_t run = (to - from + kLanes - 1) / kLanes * kLanes;
    demand_[from] = 0;
    for (std::size_t i = from; i < to; ++i) {  // whoever was struck before is not struck again
      demand_[i + 1] =
          std::max(demand_[i], struck_up_to(at_look_[i + 1], cohort.emerged_clock, timing.window_ratio, per_ratio));
    }
    std::fill(demand_.begin() + static_cast<std::ptrdiff_t>(to) + 1,
              demand_.begin() + static_cast<std::ptrdiff_t>(from + run) + 1, demand_[to]);
    // Windows that opened after the session before and have closed by this one come only where sessions are rare.
    const bool any_closed = closed_at_looks(run, cohort.emerged_clock, per_ratio, demands.least, demand_.data() + from,
                                            session_clock_.data() + from, closing_.data() + from);
    ready_[from] = 0;
    lognormal_shares({demand_.data() + from + 1, run}, timing.ripening_log_median, spread_with(timing, scatter),
                     {ready_.data() + from + 1, run});
    if (demand_[to] >= demands.most) ready_[to] = 1;
    std::fill(ready_.begin() + static_cast<std::ptrdiff_t>(to) + 1,
              ready_.begin() + static_cast<std::ptrdiff_t>(from + run) + 1, ready_[to]);
    if (any_closed) {
      lognormal_shares({closing_.data() + from, run}, timing.ripening_log_median,
                       spread_with(timing, scatter * ripe * ripe * per_ratio * per_ratio),
                       {missed_.data() + from, run});
    }
    if (seen_ && seen_->tray && !seen_->tray->looks.empty()) {
      left_.turn(c, {demand_.data() + from + 1, run}, {ready_.data() + from + 1, run});
      if (any_closed) left_.turn(c, {closing_.data() + from, run}, {missed_.data() + from, run});
    }
    for (std::size_t i = from; i < to; ++i) {
      const int day = sessions_.day[static_cast<std::size_t>(looks_.session[i])];
      weight_[i] = cohort.weight * standing_.surviving(cohort.born, day);
    }
    std::fill(weight_.begin() + static_cast<std::ptrdiff_t>(to),
              weight_.begin() + static_cast<std::ptrdiff_t>(from + run), weight_[to - 1]);
    add_cohort(run, weight_.data() + from, cohort.emerged_clock, demands,
               {demand_.data() + from, session_clock_.data() + from, ready_.data() + from,
                any_closed ? missed_.data() + from : ready_.data() + from},
               groups_.share.data() + from, groups_.ripeness.data() + from, groups_.ripeness2.data() + from,
               groups_.left.data() + from, groups_.left2.data() + from);
  }

  const ThermalSums& sums_;
  const SessionDays& sessions_;
  const Looks& looks_;
  int sow_day_;
  const SeedlingsSeen* seen_;  ///< null: nothing
  std::size_t n_;
  GroupSums groups_, by_session_;
  std::vector<float> emerged_;         ///< share of each day from sowing on
  LossClock lying_, standing_;         ///< of the seed, of the seedlings
  std::vector<float> clock_at_;        ///< of each session
  std::vector<StrikeAtLook> at_look_;  ///< before the first look, at the first, ...
  std::vector<float> demand_, ready_, session_clock_, closing_, missed_, weight_;
  std::vector<Cohort> cohorts_;
  TrayLeft left_;
};

}  // namespace

std::vector<float> emerging_by_day(const Timing& timing, const float* germination_sum, int sow_day, int last_day) {
  std::vector<float> emerging;
  LossClock lying;
  fill_emerged(timing, germination_sum, sow_day, last_day, emerging);
  spare_by_day(timing, germination_sum, sow_day, lying, emerging);
  return emerging;
}

Offers offers_of_sowing(std::span<const Timing> timings, const Futures& futures, const ThermalSums& sums,
                        const SessionDays& sessions, int sow_day, const Workers& workers, const SeedlingsSeen* seen) {
  Offers offers;
  offers.sow_day = sow_day;
  offers.sessions = sessions.count();
  const std::size_t size = static_cast<std::size_t>(futures.count()) * static_cast<std::size_t>(offers.sessions);
  for (auto* column : {&offers.offered, &offers.opened, &offers.opened_sd, &offers.closes, &offers.closes_sd}) {
    column->assign(size, 0);
  }
  offers.up.assign(static_cast<std::size_t>(futures.count()), 0);
  if (seen && seen->up) offers.losses_to_come.assign(static_cast<std::size_t>(futures.count()), 1);
  const Looks looks = looks_of(sessions, sow_day);
  if (looks.day.empty()) return offers;
  in_blocks(workers, futures.count(), [&](int begin, int end) {
    FutureAtWork at_work(sums, sessions, looks, sow_day, seen);
    for (int f = begin; f < end; ++f) {
      at_work.fill(timings[static_cast<std::size_t>(f)], futures.weather(f), static_cast<std::size_t>(f), offers);
    }
  });
  return offers;
}

}  // namespace strikebed::season

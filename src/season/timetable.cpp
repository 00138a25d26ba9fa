#include "season/timetable.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <numeric>

#include "base/random.hpp"
#include "base/whole_parts.hpp"
#include "growth/stages.hpp"
#include "season/lognormal_kernel.hpp"

namespace strikebed::season {
namespace {

constexpr int kSessionFutures = 3072;  // futures walked through, one seedling count each
constexpr int kDateFutures = 512;      // futures whose dates are looked at
constexpr int kLongWait = 10;          // days that ready seedlings wait for a session before the plan says why
constexpr double kNobody = 1e-4;       // of a seedling
constexpr double kEarly = 0.05;
constexpr double kMiddle = 0.5;
constexpr double kLate = 0.95;
constexpr double kCountedShare = 0.95;  // emergence is counted when so many of those that will come up are up

/// Weights on days; where its running total passes a share.
class DayWeights {
 public:
  explicit DayWeights(int days) : weight_(static_cast<std::size_t>(days) + 2) {}
  void add(int day, double weight) {
    weight_[static_cast<std::size_t>(std::clamp(day, 0, static_cast<int>(weight_.size()) - 1))] += weight;
  }
  [[nodiscard]] bool empty() const { return !(std::accumulate(weight_.begin(), weight_.end(), 0.0) > 0); }
  [[nodiscard]] int day_at(double share) const {
    const double total = std::accumulate(weight_.begin(), weight_.end(), 0.0);
    double running = 0;
    for (std::size_t d = 0; d < weight_.size(); ++d) {
      running += weight_[d];
      if (running >= share * total) return static_cast<int>(d);
    }
    return static_cast<int>(weight_.size()) - 1;
  }
  void add_all(const DayWeights& other, double weight) {
    for (std::size_t d = 0; d < weight_.size(); ++d) weight_[d] += weight * other.weight_[d];
  }

 private:
  std::vector<double> weight_;
};

/// Early, typical and late day of an event over the futures.
DateSpread dates_of(const std::vector<Weighed>& days, Date first) {
  const Spread spread = spread_of(days);
  const auto date = [&](double day) { return first + Days{static_cast<int>(std::lround(day))}; };
  return {date(spread.low), date(spread.typical), date(spread.high)};
}

DateSpread band_of(const DayWeights& weights, Date first) {
  return {first + Days{weights.day_at(kEarly)}, first + Days{weights.day_at(kMiddle)},
          first + Days{weights.day_at(kLate)}};
}

struct Walked {
  std::vector<std::vector<Weighed>> cut;      ///< [session][future]
  std::vector<Weighed> total;                 ///< [future]
  std::vector<std::vector<Weighed>> counted;  ///< [want][future]
};

/// A count of this mean and variance as it may fall out in one future; `which` names what is counted.
double with_luck(const Model& model, int future, std::uint64_t which, double mean, double variance, int at_most) {
  constexpr std::uint64_t kLuck = 0x10c4;  // a stream of random numbers
  const auto luck = static_cast<double>(BatchScores(model.futures().seed(), kLuck, future)(which));
  return std::clamp(std::round(mean + luck * std::sqrt(std::max(variance, 0.0))), 0.0, static_cast<double>(at_most));
}

/// Walks futures through their sessions; plants counted get their luck from a batch score of their own.
Walked walk(const Model& model, std::span<const Sowing> sowings, const Plan& plan) {
  const int futures = std::min(kSessionFutures, model.futures().count());
  const std::vector<int> split = split_seeds(plan.seeds, sowings);
  const int all_seeds = std::accumulate(split.begin(), split.end(), 0);
  Walked walked;
  for (int f = 0; f < futures; ++f) walked.total.push_back({0, model.futures().weight(f)});
  walked.cut.assign(static_cast<std::size_t>(model.sessions().count()), walked.total);
  walked.counted.assign(static_cast<std::size_t>(model.wants()), {});
  for (int f = 0; f < futures; ++f) {
    model.run_sessions(sowings, split, f, [&](const Model::Cut& cut) {
      walked.cut[static_cast<std::size_t>(cut.session)][static_cast<std::size_t>(f)].value += cut.cuttings;
      walked.total[static_cast<std::size_t>(f)].value += cut.cuttings;
    });
    const Model::Counted counted = model.counted(sowings, split, plan.shares, f);
    for (std::size_t w = 0; w < walked.counted.size(); ++w) {
      const std::uint64_t which = name_bits(model.goal().wants[w].method.id);
      const double fallen_out = with_luck(model, f, which, counted.mean[w], counted.variance[w], all_seeds);
      walked.counted[w].push_back({fallen_out, model.futures().weight(f)});
    }
  }
  return walked;
}

double sum_of(const std::vector<Weighed>& sample) {
  double sum = 0;
  for (const Weighed& one : sample) sum += one.value * one.weight;
  return sum;
}

void fill_sessions(const Model& model, const Walked& walked, Plan& plan) {
  plan.struck = spread_of(walked.total);
  std::vector<double> struck;
  for (const auto& cut : walked.cut) struck.push_back(sum_of(cut));
  const auto [begin, end] = without_tails(struck);
  for (std::size_t s = begin; s < end; ++s) {
    const Spread cuttings = spread_of(walked.cut[s]);
    if (cuttings.high < 0.5) continue;
    SessionPlan session;
    session.date = model.date(model.sessions().day[s]);
    session.cuttings = cuttings;
    for (const double share : plan.shares) session.by_want.push_back(cuttings.typical * share);
    plan.sessions.push_back(session);
  }
  plan.needs.cuttings = static_cast<int>(std::ceil(plan.struck.high));
  plan.needs.wants.resize(plan.shares.size());
  const std::vector<int> of_want = whole_parts(plan.needs.cuttings, plan.shares);
  for (std::size_t w = 0; w < of_want.size(); ++w) plan.needs.wants[w].cuttings = of_want[w];
  for (const auto& counted : walked.counted) plan.counted.push_back(spread_of(counted));
}

/// Days of one future's season, as weights of its seedlings and cuttings.
struct SeasonDays {
  DayWeights emergence, opening, closing, striking, rooting, weaning;
  explicit SeasonDays(int days)
      : emergence(days), opening(days), closing(days), striking(days), rooting(days), weaning(days) {}
};

int day_when(const float* clock, int days, float reached) {
  return static_cast<int>(std::lower_bound(clock, clock + days, reached) - clock);
}

/// When the seeds of a sowing come up in one future: shares of those that germinate in good time.
std::vector<float> emerging_by_day(const Model& model, const Sowing& sowing, int f, int last_day) {
  const float* const germination = model.sums().germination.season(model.futures().weather(f));
  return emerging_by_day(model.timing(f, sowing), germination, sowing.day(), last_day);
}

/// Seeds coming up, and seedlings coming into their windows, whether or not there is room for them then.
void add_seedlings(const Model& model, const Sowing& sowing, int seeds, int f, SeasonDays& days) {
  const ThermalSums& sums = model.sums();
  const int season = model.futures().weather(f);
  const float* ripening = sums.ripening.season(season);
  const std::vector<float> emerging = emerging_by_day(model, sowing, f, sums.days);
  for (std::size_t e = 0; e < emerging.size(); ++e) {
    days.emergence.add(sowing.day() + static_cast<int>(e), seeds * static_cast<double>(emerging[e]));
  }
  for (int s = 0; s < model.sessions().count(); ++s) {
    const std::size_t i = sowing->offers->at(f, s);
    const double accepted = seeds * static_cast<double>(sowing->accepted[i]);
    if (!(accepted > kNobody)) continue;
    days.opening.add(day_when(ripening, sums.days, sowing->offers->opened[i]), accepted);
    // A normal spread by its three Gauss-Hermite points: the late ones of a group are what the band ends with.
    constexpr float kOuterPoint = 1.7320508F;
    for (const auto& [point, weight] : {std::pair{-kOuterPoint, 1.0}, {0.0F, 4.0}, {kOuterPoint, 1.0}}) {
      const float closes = sowing->offers->closes[i] + point * sowing->offers->closes_sd[i];
      days.closing.add(day_when(ripening, sums.days, closes), accepted * weight / 6);
    }
  }
}

/// Cuttings struck at a session, and what becomes of those that root in time.
void add_cuttings(const Model& model, int session, double cuttings, int f, SeasonDays& days) {
  const Timing& timing = model.timing(f);
  const float* rooting = model.sums().rooting.season(model.futures().weather(f));
  const int struck = model.sessions().day[static_cast<std::size_t>(session)];
  days.striking.add(struck, cuttings);
  float before = 0;
  const int last = model.rooted_by(f, session);
  LossClock losses;
  model.read_losses_of_cuttings(f, struck, last, losses);
  for (int d = struck + 1; d <= last; ++d) {
    const float rooted =
        lognormal_share(rooting[d] - rooting[struck], timing.rooting_log_median, timing.rooting_spread);
    const double weight = cuttings * static_cast<double>((rooted - before) * losses.surviving(struck, d));
    days.rooting.add(d, weight);
    days.weaning.add(d + static_cast<int>(std::lround(timing.weaning_days)), weight);
    before = rooted;
    if (rooted > 0.999F) break;
  }
}

void add_future(const Model& model, std::span<const Sowing> sowings, std::span<const int> seeds, int f,
                SeasonDays& days) {
  for (std::size_t l = 0; l < sowings.size(); ++l) add_seedlings(model, sowings[l], seeds[l], f, days);
  std::vector<double> struck(static_cast<std::size_t>(model.sessions().count()));
  model.expect_sessions(sowings, seeds, f,
                        [&](const Model::Cut& cut) { struck[static_cast<std::size_t>(cut.session)] += cut.cuttings; });
  for (std::size_t s = 0; s < struck.size(); ++s) {
    if (struck[s] > kNobody) add_cuttings(model, static_cast<int>(s), struck[s], f, days);
  }
}

/// Early, middle and late of what happens in each future, and of the seedlings of all futures together.
struct SeasonDates {
  std::vector<Weighed> first_up, most_up, first_ready, first_struck, last_struck, half_rooted, all_weaned;
  SeasonDays all;
};

SeasonDates look_at_dates(const Model& model, std::span<const Sowing> sowings, std::span<const int> seeds,
                          int futures) {
  SeasonDates dates{{}, {}, {}, {}, {}, {}, {}, SeasonDays(model.sums().days)};
  for (int f = 0; f < futures; ++f) {
    SeasonDays one(model.sums().days);
    add_future(model, sowings, seeds, f, one);
    if (one.emergence.empty() || one.striking.empty() || one.rooting.empty()) continue;
    const double weight = model.futures().weight(f);
    const auto note = [&](std::vector<Weighed>& days, int day) { days.push_back({static_cast<double>(day), weight}); };
    note(dates.first_up, one.emergence.day_at(kEarly));
    note(dates.most_up, one.emergence.day_at(kCountedShare));
    note(dates.first_ready, one.opening.day_at(kEarly));
    note(dates.first_struck, one.striking.day_at(kEarly));
    note(dates.last_struck, one.striking.day_at(kLate));
    note(dates.half_rooted, one.rooting.day_at(kMiddle));
    note(dates.all_weaned, one.weaning.day_at(kLate));
    for (DayWeights SeasonDays::* band : {&SeasonDays::emergence, &SeasonDays::opening, &SeasonDays::closing,
                                          &SeasonDays::striking, &SeasonDays::rooting, &SeasonDays::weaning}) {
      (dates.all.*band).add_all(one.*band, weight);
    }
  }
  return dates;
}

/// The day after nine futures in ten have nearly all of their seedlings up.
int day_to_count(const std::vector<Weighed>& most_up) {
  constexpr double kNineInTen = 0.9;
  return static_cast<int>(point_of(most_up, kNineInTen)) + 1;
}

/// Share of the seeds that emerge which is up and alive on `day`, in one future of one sowing.
///   dying  share of the emerged that the standing losses take in the end
double alive_share(const Model& model, const Sowing& sowing, int future, double dying, int day) {
  const std::vector<float> emerging = emerging_by_day(model, sowing, future, day);
  const int sow_day = sowing.day();
  LossClock losses;
  model.read_losses_of_seedlings(future, sow_day, day, losses);
  double share = 0;
  for (std::size_t e = 0; e < emerging.size(); ++e) {
    const int born = sow_day + static_cast<int>(e) + 1;
    share += static_cast<double>(emerging[e] * losses.surviving(born, day)) *
             (1 - dying * growth::losses_by_age(day - born + 1, model.goal().species.loss_half_age_days.typical()));
  }
  return share;
}

Spread alive_on(const Model& model, std::span<const Sowing> sowings, std::span<const int> split, int futures, int day) {
  const int all_seeds = std::accumulate(split.begin(), split.end(), 0);
  std::vector<Weighed> alive;
  for (int f = 0; f < futures; ++f) {
    double count = 0;
    for (std::size_t i = 0; i < sowings.size(); ++i) {
      const auto future = static_cast<std::size_t>(f);
      const double dying = 1 - static_cast<double>(sowings[i]->standing[future]);
      count +=
          split[i] * static_cast<double>(sowings[i]->emerging[future]) * alive_share(model, sowings[i], f, dying, day);
    }
    const double variance = count * (1 - count / std::max(all_seeds, 1));
    alive.push_back({with_luck(model, f, name_bits("emerged"), count, variance, all_seeds), model.futures().weight(f)});
  }
  return spread_of(alive);
}

/// When each sowing is to be counted, and how many of it are then alive.
void fill_counts_of_sowings(const Model& model, std::span<const Sowing> sowings, std::span<const int> seeds,
                            int futures, Plan& plan) {
  if (plan.sowings.size() == 1) {
    plan.sowings.front().count_date = plan.count_date;
    plan.sowings.front().emerged = plan.emerged;
    return;
  }
  auto one = plan.sowings.begin();
  for (std::size_t i = 0; i < sowings.size(); ++i) {
    if (seeds[i] == 0) continue;
    std::vector<Weighed> first_up;
    std::vector<Weighed> most_up;
    for (int f = 0; f < futures; ++f) {
      DayWeights emergence(model.sums().days);
      const std::vector<float> emerging = emerging_by_day(model, sowings[i], f, model.sums().days);
      for (std::size_t e = 0; e < emerging.size(); ++e) {
        emergence.add(sowings[i].day() + static_cast<int>(e), static_cast<double>(emerging[e]));
      }
      if (emergence.empty()) continue;
      first_up.push_back({static_cast<double>(emergence.day_at(kEarly)), model.futures().weight(f)});
      most_up.push_back({static_cast<double>(emergence.day_at(kCountedShare)), model.futures().weight(f)});
    }
    one->up = dates_of(first_up, model.sums().first);
    const int day = most_up.empty() ? sowings[i].day() : day_to_count(most_up);
    one->count_date = model.date(day);
    one->emerged = alive_on(model, sowings.subspan(i, 1), seeds.subspan(i, 1), futures, day);
    ++one;
  }
}

/// Where the plants are lost, in the mean of the futures.
void fill_stages(const Model& model, std::span<const Sowing> sowings, std::span<const int> seeds, int futures,
                 Plan& plan) {
  const LeftAtStages mean = model.mean_left_at_stages(sowings, seeds, plan.shares, futures);
  constexpr double kHardly = 0.001;  // lost
  const Goal& goal = model.goal();
  for (const Stage stage : kStages) {
    if (stage == Stage::weaned && !goal.reaches(Rung::weaning)) continue;
    const bool meets_winter = goal.reaches(Rung::winter) || mean[Stage::wintered] < (1 - kHardly) * mean[Stage::weaned];
    if (stage == Stage::wintered && !meets_winter) continue;
    if (stage == Stage::counted && goal.controls + goal.lifted == 0 && !goal.is_before_winter_ends()) continue;
    plan.stages.push_back({stage, mean[stage]});
  }
}

/// From the first seed that goes into the cold to the last that leaves it; of the goal's own those still to be sown.
std::optional<DateSpread> chilling_of(const Goal& goal, const Plan& plan) {
  std::optional<DateSpread> days;
  for (const SowingPlan& sowing : plan.sowings) {
    if (!sowing.chill_start || (sowing.own && sowing.on < goal.today)) continue;
    if (!days) days = DateSpread{*sowing.chill_start, {}, sowing.on};
    days->early = std::min(days->early, *sowing.chill_start);
    days->late = std::max(days->late, sowing.on);
  }
  if (days) days->typical = days->early + (days->late - days->early) / 2;
  return days;
}

void fill_bands(const Goal& goal, const SeasonDays& days, Date first, Plan& plan) {
  const DateSpread opening = band_of(days.opening, first);
  const DateSpread striking = band_of(days.striking, first);
  const DateSpread closing = band_of(days.closing, first);
  if (const auto chilling = chilling_of(goal, plan)) plan.bands.push_back({BandKind::chilling, *chilling});
  plan.bands.push_back({BandKind::emergence, band_of(days.emergence, first)});
  plan.bands.push_back({BandKind::window, {opening.early, striking.typical, closing.late}});
  plan.bands.push_back({BandKind::sessions, striking});
  plan.bands.push_back({BandKind::rooting, band_of(days.rooting, first)});
  if (goal.reaches(Rung::weaning)) plan.bands.push_back({BandKind::weaning, band_of(days.weaning, first)});
}

/// The session day that lies nearest.
Date session_near(const Model& model, Date date) {
  const auto& days = model.sessions().day;
  return model.date(*std::ranges::min_element(days, {}, [&](int day) { return std::abs(day - model.day(date)); }));
}

/// First and last sessions: those of the plan, so that the calendar and the days at the bench say the same; how late
/// the first and how early the last may be is that of the first and the last twentieth of the cuttings.
std::pair<DateSpread, DateSpread> session_dates(const Model& model, const SeasonDates& dates, const Plan& plan) {
  const Date first = model.sums().first;
  const std::vector<SessionPlan>& sessions = plan.sessions;
  const auto usual = std::ranges::find_if(sessions, &SessionPlan::is_usual);
  const auto last_usual = std::find_if(sessions.rbegin(), sessions.rend(), std::mem_fn(&SessionPlan::is_usual));
  const Date begin = usual != sessions.end() ? usual->date : sessions.front().date;
  const Date end = usual != sessions.end() ? last_usual->date : sessions.back().date;
  return {
      {sessions.front().date, begin, std::max(begin, session_near(model, dates_of(dates.first_struck, first).late))},
      {std::min(end, session_near(model, dates_of(dates.last_struck, first).early)), end, sessions.back().date}};
}

/// Seedlings of the first sessions are ready by then, although nineteen in twenty may not be.
DateSpread no_later(const DateSpread& when, const DateSpread& than) {
  return {std::min(when.early, than.early), std::min(when.typical, than.typical), std::min(when.late, than.late)};
}

void fill_calendar(const Model& model, const SeasonDates& dates, Plan& plan) {
  const Goal& goal = model.goal();
  const Date first = model.sums().first;
  const auto entry = [&](CalendarKind kind, const DateSpread& when, std::optional<std::size_t> sowing = {},
                         std::optional<int> seeds = {}) { plan.calendar.push_back({kind, when, sowing, seeds}); };
  const auto fixed = [](Date date) { return DateSpread{date, date, date}; };
  for (std::size_t i = 0; i < plan.sowings.size(); ++i) {
    const SowingPlan& sowing = plan.sowings[i];
    if (sowing.chill_start >= goal.today) entry(CalendarKind::chill, fixed(*sowing.chill_start), i);
    if (sowing.on >= goal.today) entry(CalendarKind::sow, fixed(sowing.on), i);
  }
  if (plan.sowings.size() == 1) {
    entry(CalendarKind::emergence, dates_of(dates.first_up, first));
    entry(CalendarKind::count, fixed(plan.count_date));
  } else {
    for (std::size_t i = 0; i < plan.sowings.size(); ++i) {
      entry(CalendarKind::emergence, plan.sowings[i].up, i);
      entry(CalendarKind::count, fixed(plan.sowings[i].count_date), i);
    }
  }
  if (plan.sessions.empty()) {
    entry(CalendarKind::ready, dates_of(dates.first_ready, first));
  } else {
    const auto [first_sessions, last_sessions] = session_dates(model, dates, plan);
    entry(CalendarKind::ready, no_later(dates_of(dates.first_ready, first), first_sessions));
    entry(CalendarKind::first_sessions, first_sessions);
    entry(CalendarKind::last_sessions, last_sessions);
  }
  entry(CalendarKind::rooted, dates_of(dates.half_rooted, first));
  if (goal.reaches(Rung::weaning)) entry(CalendarKind::weaned, dates_of(dates.all_weaned, first));
  if (std::ranges::find(plan.stages, Stage::wintered, &StageCount::stage) != plan.stages.end()) {
    entry(CalendarKind::winter_begins, fixed(goal.winter_starts));
    entry(CalendarKind::winter_ends, fixed(goal.winter_ends));
  }
  if (!plan.sow_dates.empty() && plan.last_sowing > plan.sow_dates.back()) {
    const auto point = std::ranges::find(plan.sweep, *plan.last_sowing, &SowingPoint::sow);
    entry(CalendarKind::last_sowing, fixed(*plan.last_sowing), {},
          point != plan.sweep.end() ? point->seeds : std::nullopt);
  }
  entry(CalendarKind::goal, fixed(goal.by));
  // What was sown before may have come up, and been counted, long ago.
  if (!goal.sown.empty())
    std::erase_if(plan.calendar, [&](const CalendarEntry& one) { return one.when.late < goal.today; });
  std::ranges::stable_sort(plan.calendar, {}, [](const CalendarEntry& one) { return one.when.typical; });
}

/// Whether there are sessions between two days at which it pays to wait although a window is nearly over.
bool waits_for_warmth(const SessionDays& sessions, int from, int to) {
  constexpr float kNearlyOver = 0.9F;
  for (int s = 0; s < sessions.count(); ++s) {
    const auto session = static_cast<std::size_t>(s);
    if (sessions.day[session] >= from && sessions.day[session] < to && sessions.strike_from[session] > kNearlyOver) {
      return true;
    }
  }
  return false;
}

/// What the plan counts on, and what holds its sessions up.
void add_remarks(const Model& model, const SeasonDates& dates, Plan& plan) {
  const Goal& goal = model.goal();
  for (const SowingPlan& sowing : plan.sowings) {
    if (!sowing.chill_start || *sowing.chill_start >= goal.today || sowing.on < goal.today) continue;
    plan.remarks.push_back(
        {.kind = RemarkKind::in_the_cold, .date = *sowing.chill_start, .lot = lot_of(goal, sowing).name});
  }
  const Date first = model.sums().first;
  const Date ready = dates_of(dates.first_ready, first).typical;
  const Date struck = dates_of(dates.first_struck, first).typical;
  if (ready + Days{kLongWait} < struck && waits_for_warmth(model.sessions(), model.day(ready), model.day(struck))) {
    plan.remarks.push_back({.kind = RemarkKind::cold_bench, .date = ready, .until = struck});
  }
}

}  // namespace

std::pair<std::size_t, std::size_t> without_tails(std::span<const double> struck) {
  constexpr double kTail = 0.01;
  const double all = std::accumulate(struck.begin(), struck.end(), 0.0);
  std::size_t begin = 0;
  for (double before = 0; begin < struck.size() && before + struck[begin] < kTail * all; ++begin) {
    before += struck[begin];
  }
  std::size_t end = 0;
  for (double before = 0; end < struck.size() && before <= (1 - kTail) * all; ++end) before += struck[end];
  return {begin, end};
}

void fill_sowings(const Model& model, std::span<const Sowing> sowings, Plan& plan) {
  const Goal& goal = model.goal();
  const std::vector<int> split = split_seeds(plan.seeds, sowings);
  plan.sowings.clear();
  plan.sow_dates.clear();
  for (std::size_t i = 0; i < sowings.size(); ++i) {
    if (split[i] == 0) continue;
    SowingPlan sowing{.own = sowings[i].sown ? std::optional(i) : std::nullopt,
                      .on = model.date(sowings[i].day()),
                      .seeds = split[i],
                      .chill_start = {},
                      .up = {},
                      .count_date = {},
                      .emerged = {}};
    if (const int days = lot_of(goal, sowing).chill_days; days > 0) sowing.chill_start = sowing.on - Days{days};
    if (!sowing.own) plan.sow_dates.push_back(sowing.on);
    plan.sowings.push_back(sowing);
  }
}

void fill_timetable(const Model& model, std::span<const Sowing> sowings, Plan& plan) {
  const Goal& goal = model.goal();
  const Date first = model.sums().first;
  const Walked walked = walk(model, sowings, plan);
  fill_sessions(model, walked, plan);
  const int futures = std::min(kDateFutures, model.futures().count());
  const std::vector<int> seeds = split_seeds(plan.seeds, sowings);
  fill_stages(model, sowings, seeds, futures, plan);
  const SeasonDates dates = look_at_dates(model, sowings, seeds, futures);
  if (dates.all.striking.empty()) {
    plan.count_date = plan.sowings.front().on;
    return;
  }
  const int count_day = day_to_count(dates.most_up);
  plan.count_date = first + Days{count_day};
  plan.emerged = alive_on(model, sowings, seeds, futures, count_day);
  fill_counts_of_sowings(model, sowings, seeds, futures, plan);
  fill_bands(goal, dates.all, first, plan);
  fill_calendar(model, dates, plan);
  add_remarks(model, dates, plan);
}

}  // namespace strikebed::season

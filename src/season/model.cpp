#include "season/model.hpp"

#include <algorithm>
#include <cmath>

#include "base/random.hpp"
#include "evidence/binomial.hpp"
#include "growth/stages.hpp"
#include "season/logistic_kernel.hpp"
#include "season/lognormal_kernel.hpp"
#include "season/widest_vectors.hpp"

namespace strikebed::season {
namespace {

// Random numbers of a future's arrivals and closings are numbered with room for so many sowings and sessions.
constexpr int kLots = 16;
constexpr int kSessionsApart = 1024;
static_assert(kMostSowings <= kLots);
constexpr double kSurelyOver = 6;   // sds (and plants) over what is wanted: met, whatever comes
constexpr double kSettled = 1e-12;  // a chance this near to 0 or 1 is 0 or 1

double normal_density(double z) { return 0.39894228040143268 * std::exp(-0.5 * z * z); }

/// Where a group stands in its windows on a day: 0 as they open, 1 as they close; mean and sd.
struct Place {
  float position;
  float sd;
};
inline Place place_in_window(float now, float opened, float opened_sd, float closes, float closes_sd) {
  const float length = closes - opened > 1 ? closes - opened : 1;
  const float position = (now - opened) / length;
  return {position, (opened_sd * (1 - position) + closes_sd * position) / length};
}

/// Those of a normal population of positions that are still below 1, the end of the window: their mean and sd.
void leave_out_closed(float& position, float& sd) {
  constexpr float kAllOpen = 4;  // sds
  const float z = (1 - position) / std::max(sd, 1e-6F);
  if (z > kAllOpen) return;
  const float below = std::max(quick_normal_share(z), 1e-6F);
  const float cut = static_cast<float>(normal_density(static_cast<double>(z))) / below;
  position -= sd * cut;
  sd *= std::sqrt(std::max(1 - cut * (z + cut), 0.0F));
}

/// The log odds of take are a parabola in the position, so their mean over a group needs no more than the variance.
inline float mean_log_odds(float position, float sd, float edge_log_odds) {
  return growth::take_log_odds(position, edge_log_odds) + 4 * edge_log_odds * sd * sd;
}

/// The same for the groups of all sessions, each at its own session.
STRIKEBED_WIDEST_VECTORS
void add_log_odds(std::size_t n, const float* __restrict now, const float* __restrict opened,
                  const float* __restrict opened_sd, const float* __restrict closes, const float* __restrict closes_sd,
                  float edge_log_odds, float* __restrict log_odds) {
  for (std::size_t s = 0; s < n; ++s) {
    const auto [position, sd] = place_in_window(now[s], opened[s], opened_sd[s], closes[s], closes_sd[s]);
    log_odds[s] += mean_log_odds(position, sd, edge_log_odds);
  }
}

/// P(A and B) for two counts with chances a and b that are nearly normal with a small correlation: the first terms of
/// the tetrachoric series (Pearson 1900).
double both(double a, double b, double correlation) {
  if (a < kSettled || b < kSettled) return 0;
  if (a > 1 - kSettled || b > 1 - kSettled || correlation == 0) return a * b;
  const double x = normal_quantile(a);
  const double y = normal_quantile(b);
  const double r = correlation;
  const double series = r + r * r / 2 * x * y + r * r * r / 6 * (x * x - 1) * (y * y - 1);
  return std::clamp(a * b + normal_density(x) * normal_density(y) * series, 0.0, std::min(a, b));
}

}  // namespace

std::vector<int> split_evenly(int seeds, int sowings) {
  std::vector<int> split(static_cast<std::size_t>(sowings), seeds / sowings);
  for (int i = 0; i < seeds % sowings; ++i) ++split[static_cast<std::size_t>(i)];
  return split;
}

Model::Model(const Goal& goal, const Chain& chain, const ThermalSums& sums, SessionDays sessions, Futures futures,
             const Workers& workers)
    : goal_(goal),
      chain_(chain),
      sums_(sums),
      sessions_(std::move(sessions)),
      futures_(std::move(futures)),
      workers_(workers) {
  const std::size_t size = static_cast<std::size_t>(futures_.count()) * static_cast<std::size_t>(sessions_.count());
  usable_.resize(size);
  rooted_in_time_.resize(size);
  take_logit_.assign(goal_.wants.size(), std::vector<float>(size));
  after_.assign(goal_.wants.size(), std::vector<double>(static_cast<std::size_t>(futures_.count())));
  edge_log_odds_.resize(static_cast<std::size_t>(futures_.count()));
  in_blocks(workers_, futures_.count(), [&](int begin, int end) {
    for (int f = begin; f < end; ++f) fill_future(f);
  });
}

double Model::batch_rate(const ChainRate& rate, int future, BatchKind kind, int unit) const {
  double effect = 0;
  if (rate.batch_spread > 0) {
    const bool season_wide = rate.batch_dimension != kFixed && unit == 0;
    effect = rate.batch_spread * (season_wide ? futures_.score(rate.batch_dimension, future)
                                              : static_cast<double>(BatchScores(futures_.seed, future, kind)(unit)));
  }
  return rate.curve.rate(futures_.score(rate.dimension, future), effect);
}

double Model::emerging(int future, int sowing_index) const {
  return batch_rate(chain_.germination, future, BatchKind::germination, sowing_index);
}

double Model::standing(int future, int sowing_index) const {
  return batch_rate(chain_.standing, future, BatchKind::standing, sowing_index);
}

int Model::deadline(int future) const {
  const Date last = goal_.count_at == CountAt::established ? goal_.winter_starts : goal_.by;
  int day = static_cast<int>((last - sums_.first).count());
  if (goal_.count_at != CountAt::rooted)
    day -= static_cast<int>(std::lround(timing_of(chain_, futures_, future).weaning_days));
  return std::clamp(day, 0, sums_.days);
}

int Model::rooted_by(int future, int session) const {
  const int struck = sessions_.day[static_cast<std::size_t>(session)];
  return std::max(struck, std::min(deadline(future), struck + goal_.species.unrooted_life()));
}

void Model::fill_future(int f) {
  const Timing timing = timing_of(chain_, futures_, f);
  const auto future = static_cast<std::size_t>(f);
  edge_log_odds_[future] = timing.edge_log_odds;
  const bool through_winter = goal_.count_at == CountAt::established;
  const bool weaned = goal_.count_at != CountAt::rooted;
  const double winter = through_winter ? batch_rate(chain_.winter, f, BatchKind::weaning, 0) : 1;
  const bool winter_over = !through_winter || goal_.winter_ends <= goal_.by;
  const double used_up = goal_.controls + goal_.lifted;
  for (std::size_t w = 0; w < goal_.wants.size(); ++w) {
    after_[w][future] =
        winter_over ? winter * batch_rate(chain_.grade[w], f, BatchKind::weaning, 0) * (1 - used_up) : 0;
  }
  const float* rooting = sums_.rooting.season(futures_.weather[future]);
  const int last = deadline(f);
  const int life = goal_.species.unrooted_life();
  // A batch moves the drawn long-run rate on the logit scale; the draw is looked up once for all sessions.
  const auto by_session = [&](const ChainRate& rate, BatchKind kind) {
    return [&rate, logit = rate.curve.logit(futures_.score(rate.dimension, f)),
            scores = BatchScores(futures_.seed, f, kind)](int unit) {
      return rate.batch_spread == 0 ? logit : logit + rate.batch_spread * static_cast<double>(scores(unit));
    };
  };
  for (std::size_t w = 0; w < goal_.wants.size(); ++w) {
    const auto take = by_session(chain_.take[w], BatchKind::take);
    for (int s = 0; s < sessions_.count(); ++s) {
      take_logit_[w][at(f, s)] = static_cast<float>(take(s * wants() + static_cast<int>(w)));
    }
  }
  const auto count = static_cast<std::size_t>(sessions_.count());
  std::vector<float> warmth(count);
  for (std::size_t s = 0; s < count; ++s) {
    const int struck = sessions_.day[s];
    warmth[s] = rooting[std::max(struck, std::min(last, struck + life))] - rooting[struck];
  }
  float* const in_time = rooted_in_time_.data() + at(f, 0);
  float* const usable_at = usable_.data() + at(f, 0);
  lognormal_shares(warmth, timing.rooting_log_median, timing.rooting_spread, {in_time, count});
  for (std::size_t s = 0; s < count; ++s) in_time[s] = in_time[s] >= kWhole ? 1 : in_time[s];
  const auto each_session = [&](const ChainRate& rate, BatchKind kind, int first_unit, auto&& use) {
    if (rate.batch_spread == 0) {
      const float same = static_cast<float>(rate.curve.rate(futures_.score(rate.dimension, f), 0));
      for (std::size_t s = 0; s < count; ++s) use(s, same);
      return;
    }
    const auto drawn = by_session(rate, kind);
    for (std::size_t s = 0; s < count; ++s)
      use(s, static_cast<float>(evidence::share_of(drawn(first_unit + static_cast<int>(s)))));
  };
  if (weaned)
    each_session(chain_.weaning, BatchKind::weaning, 1, [&](std::size_t s, float share) { in_time[s] *= share; });
  each_session(chain_.usable, BatchKind::usable, 0, [&](std::size_t s, float share) { usable_at[s] = share; });
}

double Model::success(int want, int future, int session, double ripening_now, const Offers& offers,
                      std::size_t group) const {
  const auto w = static_cast<std::size_t>(want);
  const std::size_t i = at(future, session);
  double take;
  if (chain_.take[w].known()) {
    take = chain_.take[w].curve.known_share();  // known exactly: ripeness is in it
  } else {
    auto [position, sd] = place_in_window(static_cast<float>(ripening_now), offers.opened[group],
                                          offers.opened_sd[group], offers.closes[group], offers.closes_sd[group]);
    leave_out_closed(position, sd);
    const float edge = edge_log_odds_[static_cast<std::size_t>(future)];
    take = static_cast<double>(logistic_share(take_logit_[w][i] + mean_log_odds(position, sd, edge)));
  }
  return take * static_cast<double>(rooted_in_time_[i]) * after_[w][static_cast<std::size_t>(future)];
}

Sowing Model::sowing(int sow_day, int index) const {
  return sowing(offers_of_sowing(chain_, futures_, sums_, sessions_, sow_day, workers_), index);
}

Sowing Model::sowing(Offers offers, int index) const {
  Sowing sowing;
  sowing.offers = std::move(offers);
  sowing.accepted.assign(usable_.size(), 0);
  sowing.success.assign(goal_.wants.size(), std::vector<float>(usable_.size()));
  sowing.counted.assign(goal_.wants.size(), std::vector<double>(static_cast<std::size_t>(futures_.count())));
  const Offers& o = sowing.offers;
  const auto count = static_cast<std::size_t>(sessions_.count());
  in_blocks(workers_, futures_.count(), [&](int begin, int end) {
    std::vector<float> now(count);
    for (int f = begin; f < end; ++f) {
      const std::size_t first = at(f, 0);
      const auto alive = static_cast<float>(emerging(f, index) * standing(f, index));
      const float* ripening = sums_.ripening.season(futures_.weather[static_cast<std::size_t>(f)]);
      for (std::size_t s = 0; s < count; ++s) {
        now[s] = ripening[sessions_.day[s]];
        sowing.accepted[first + s] = alive * o.offered[first + s] * usable_[first + s];
      }
      for (std::size_t w = 0; w < goal_.wants.size(); ++w) {
        float* const success = sowing.success[w].data() + first;
        if (chain_.take[w].known()) {
          std::fill_n(success, count, static_cast<float>(chain_.take[w].curve.known_share()));
        } else {
          std::copy_n(take_logit_[w].data() + first, count, success);
          add_log_odds(count, now.data(), &o.opened[first], &o.opened_sd[first], &o.closes[first], &o.closes_sd[first],
                       edge_log_odds_[static_cast<std::size_t>(f)], success);
          logistic_shares({success, count});
        }
        const auto after = static_cast<float>(after_[w][static_cast<std::size_t>(f)]);
        double counted = 0;
        for (std::size_t s = 0; s < count; ++s) {
          success[s] *= rooted_in_time_[first + s] * after;
          counted += static_cast<double>(sowing.accepted[first + s]) * static_cast<double>(success[s]);
        }
        sowing.counted[w][static_cast<std::size_t>(f)] = counted;
      }
    }
  });
  return sowing;
}

double Model::still_open(const Offers& offers, int future, int group, int session) const {
  const std::size_t i = offers.at(future, group);
  const float now = sums_.ripening.season(
      futures_.weather[static_cast<std::size_t>(future)])[sessions_.day[static_cast<std::size_t>(session)]];
  return static_cast<double>(quick_normal_share((offers.closes[i] - now) / offers.closes_sd[i]));
}

void Model::run_sessions(std::span<const Sowing> sowings, std::span<const int> seeds, int future,
                         const std::function<void(const Cut&)>& on_cut) const {
  walk_sessions(sowings, seeds, future, [&](const Cut& cut) {
    on_cut(cut);
    return true;
  });
}

template <class OnCut>
void Model::walk_sessions(std::span<const Sowing> sowings, std::span<const int> seeds, int future,
                          OnCut&& on_cut) const {
  struct Waiting {
    int sowing;
    int accepted_at;  ///< session
    int count;
    int looked;        ///< the session at which they were last looked at
    double open = -1;  ///< share of their windows that were open then; below 0: not worked out yet
  };
  // First come, first struck: who has waited longest is the ripest. Only the head of the queue is looked at, and
  // arrivals are drawn only once there is room for them: the rest of the tray waits unseen, as it does on the bench.
  std::vector<Waiting> queue;
  queue.reserve(static_cast<std::size_t>(sessions_.count()));
  std::size_t head = 0;
  int drawn = 0;  // sessions whose arrivals are in the queue
  std::array<int, kMostSowings> unseen{};
  std::ranges::copy(seeds, unseen.begin());
  std::array<double, kMostSowings> seen_share{};
  const BatchScores arrivals(futures_.seed, future, BatchKind::arrival);
  const BatchScores closings(futures_.seed, future, BatchKind::closing);
  const auto draw_arrivals = [&](int s) {
    for (std::size_t l = 0; l < sowings.size(); ++l) {
      const auto share = static_cast<double>(sowings[l].accepted[at(future, s)]);
      if (!(share * unseen[l] > 1e-5)) continue;
      const double chance = std::min(share / std::max(1 - seen_share[l], share), 1.0);
      seen_share[l] += share;
      const int arrived = evidence::binomial_at_score(unseen[l], chance,
                                                      static_cast<double>(arrivals(s * kLots + static_cast<int>(l))));
      unseen[l] -= arrived;
      if (arrived > 0) queue.push_back({static_cast<int>(l), s, arrived, s});
    }
  };
  for (int s = 0; s < sessions_.count(); ++s) {
    int room = goal_.sessions.cuttings_at_most.value_or(std::numeric_limits<int>::max());
    while (room > 0) {
      if (head == queue.size()) {
        if (drawn > s) break;
        draw_arrivals(drawn++);
        continue;
      }
      Waiting& first = queue[head];
      if (first.looked < s) {
        const Offers& offers = sowings[static_cast<std::size_t>(first.sowing)].offers;
        const double before = first.open < 0 ? still_open(offers, future, first.accepted_at, first.looked) : first.open;
        first.open = still_open(offers, future, first.accepted_at, s);
        const double stays = before > 0 ? std::min(first.open / before, 1.0) : 0;
        if (stays < 1 - 1e-6) {
          const int unit = (first.accepted_at * kSessionsApart + s) * kLots + first.sowing;
          first.count = evidence::binomial_at_score(first.count, stays, static_cast<double>(closings(unit)));
        }
        first.looked = s;
      }
      const int struck = std::min(room, first.count);
      if (struck > 0 && !on_cut(Cut{first.sowing, first.accepted_at, s, struck})) return;
      room -= struck;
      first.count -= struck;
      if (first.count == 0) ++head;
    }
  }
}

Model::Counted Model::counted(std::span<const Sowing> sowings, std::span<const int> seeds,
                              std::span<const double> shares, int future, Until until) const {
  const auto n = static_cast<std::size_t>(wants());
  Counted counted;
  const auto add = [&](double tries, const double* chance) {
    for (std::size_t w = 0; w < n; ++w) {
      counted.mean[w] += tries * chance[w];
      counted.variance[w] += tries * chance[w] * (1 - chance[w]);
      for (std::size_t v = 0; v < w; ++v) counted.covariance[w][v] -= tries * chance[w] * chance[v];
    }
  };
  std::array<double, kMostWants> chance{};
  if (!goal_.sessions.cuttings_at_most || std::ranges::all_of(seeds, [&](int lot) {
        return lot * static_cast<int>(seeds.size()) <= *goal_.sessions.cuttings_at_most;
      })) {
    // Room for all: every seed is one try on its own.
    for (std::size_t l = 0; l < sowings.size(); ++l) {
      for (std::size_t w = 0; w < n; ++w)
        chance[w] = shares[w] * sowings[l].counted[w][static_cast<std::size_t>(future)];
      add(seeds[l], chance.data());
    }
    return counted;
  }
  const float* ripening = sums_.ripening.season(futures_.weather[static_cast<std::size_t>(future)]);
  walk_sessions(sowings, seeds, future, [&](const Cut& cut) {
    const Sowing& sowing = sowings[static_cast<std::size_t>(cut.sowing)];
    const std::size_t i = at(future, cut.accepted_at);
    for (int w = 0; w < static_cast<int>(n); ++w) {
      const double one =
          cut.session == cut.accepted_at
              ? static_cast<double>(sowing.success[static_cast<std::size_t>(w)][i])
              : success(w, future, cut.session,
                        static_cast<double>(ripening[sessions_.day[static_cast<std::size_t>(cut.session)]]),
                        sowing.offers, i);
      chance[static_cast<std::size_t>(w)] = shares[static_cast<std::size_t>(w)] * one;
    }
    add(cut.cuttings, chance.data());
    if (until == Until::season_over) return true;
    for (std::size_t w = 0; w < n; ++w) {
      const double over = counted.mean[w] - goal_.wants[w].count;
      if (over < kSurelyOver || over * over < kSurelyOver * kSurelyOver * counted.variance[w]) return true;
    }
    return false;
  });
  return counted;
}

Assurance Model::assurance(std::span<const Sowing> sowings, int seeds, std::span<const double> shares,
                           Precision precision) const {
  const auto n = static_cast<std::size_t>(wants());
  const std::vector<int> split = split_evenly(seeds, static_cast<int>(sowings.size()));
  const auto count = static_cast<std::size_t>(futures_.count());
  std::vector<double> all(count);
  std::vector<double> alone(count * n);
  in_blocks(workers_, futures_.count(), [&](int begin, int end) {
    for (int f = begin; f < end; ++f) {
      const Counted counts = counted(sowings, split, shares, f, Until::wants_met);
      double* chance = alone.data() + static_cast<std::size_t>(f) * n;
      double joint = 1;
      for (std::size_t w = 0; w < n; ++w) {
        const int wanted = goal_.wants[w].count;
        const double quick = evidence::quick_chance_at_least(wanted, counts.mean[w], counts.variance[w]);
        chance[w] = precision == Precision::quick || quick < kSettled || quick > 1 - kSettled
                        ? quick
                        : evidence::chance_at_least(wanted, counts.mean[w], counts.variance[w]);
        joint *= chance[w];
      }
      // Wants compete for the same seedlings: each pair's chance is a little off the product.
      for (std::size_t w = 0; w < n && joint > 0; ++w) {
        for (std::size_t v = 0; v < w; ++v) {
          if (chance[w] > 1 - kSettled || chance[v] > 1 - kSettled) continue;
          const double correlation = counts.covariance[w][v] / std::sqrt(counts.variance[w] * counts.variance[v]);
          joint *= both(chance[w], chance[v], correlation) / (chance[w] * chance[v]);
        }
      }
      all[static_cast<std::size_t>(f)] = joint;
    }
  });
  Assurance assurance;
  assurance.by_want.resize(n);
  std::vector<double> means(static_cast<std::size_t>(futures_.replicates));
  for (std::size_t f = 0; f < count; ++f) {
    means[f / static_cast<std::size_t>(futures_.points)] += all[f] / futures_.points;
    for (std::size_t w = 0; w < n; ++w) assurance.by_want[w] += alone[f * n + w] / static_cast<double>(count);
  }
  for (const double mean : means) assurance.chance += mean / futures_.replicates;
  double squares = 0;
  for (const double mean : means) squares += (mean - assurance.chance) * (mean - assurance.chance);
  if (futures_.replicates > 1) assurance.error = std::sqrt(squares / (futures_.replicates - 1) / futures_.replicates);
  return assurance;
}

}  // namespace strikebed::season

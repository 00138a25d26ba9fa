#include "season/model.hpp"

#include <algorithm>
#include <cmath>

#include "base/random.hpp"
#include "growth/stages.hpp"
#include "season/logistic_kernel.hpp"
#include "season/lognormal_kernel.hpp"
#include "season/window_place.hpp"

namespace strikebed::season {
namespace {

/// The effects of the batches of one kind, session by session: those given in advance, else drawn by the date.
class SessionEffects {
 public:
  SessionEffects(const ChainRate& rate, const Futures& futures, const Setting& setting)
      : rate_(rate), seed_(futures.seed()), kind_(bits_of(rate.batch)), scores_(futures.scores(rate.draw)) {
    for (const int session : setting.sessions.day) {
      DrawName name = rate.batch;
      name.day = setting.sums->first + Days{session};
      given_.push_back(futures.given(name));
      unit_.push_back(static_cast<std::uint64_t>(name.day.time_since_epoch().count()));
    }
  }
  /// The rate of each session in one future, on the logit scale: a batch moves the drawn long-run rate.
  void logits(int future, float* to) const {
    const double logit = rate_.curve.logit(score(scores_, future));
    if (rate_.batch_spread == 0) {
      std::fill_n(to, unit_.size(), static_cast<float>(logit));
      return;
    }
    const BatchScores drawn(seed_, kind_, future);
    for (std::size_t s = 0; s < unit_.size(); ++s) {
      const double effect = given_[s] ? score(given_[s], future) : static_cast<double>(drawn(unit_[s]));
      to[s] = static_cast<float>(logit + rate_.batch_spread * effect);
    }
  }
  /// The same as shares; exact for a rate that is known.
  void shares(int future, float* to) const {
    if (rate_.batch_spread == 0) {
      std::fill_n(to, unit_.size(), static_cast<float>(rate_.curve.rate(score(scores_, future), 0)));
      return;
    }
    logits(future, to);
    logistic_shares({to, unit_.size()});
  }

 private:
  static double score(const Scores& scores, int future) {
    return static_cast<double>((*scores)[static_cast<std::size_t>(future)]);
  }
  const ChainRate& rate_;
  std::uint64_t seed_;
  std::uint64_t kind_;
  Scores scores_;
  std::vector<Scores> given_;        ///< [session]
  std::vector<std::uint64_t> unit_;  ///< [session]
};

/// A rate with one batch effect for all of a future.
std::vector<double> rates_of(const ChainRate& rate, const DrawName& batch, const Futures& futures) {
  const Scores scores = futures.scores(rate.draw);
  const Scores effects = rate.batch_spread == 0 ? scores : futures.scores(batch);
  std::vector<double> rates(static_cast<std::size_t>(futures.count()));
  for (std::size_t f = 0; f < rates.size(); ++f) {
    rates[f] = rate.of_batch(static_cast<double>((*scores)[f]), static_cast<double>((*effects)[f]));
  }
  return rates;
}

DrawName of_day(DrawName batch, Date day) {
  batch.day = day;
  return batch;
}

}  // namespace

Model::Model(Setting setting, Futures futures, Workers workers)
    : setting_(std::move(setting)),
      futures_(std::move(futures)),
      workers_(std::move(workers)),
      tables_(std::make_shared<const Tables>(made_tables())) {}

Model Model::asked_for(Goal goal) const {
  Model asked = *this;
  asked.setting_.goal = std::move(goal);
  return asked;
}

Model Model::with_patience(double patience) const {
  Model other = *this;
  other.setting_.habit.patience = patience;
  other.setting_.sessions = season::with_patience(setting_.sessions, goal(), sums(), patience);
  return other;
}

int Model::deadline(const Timing& timing) const {
  int last_day = day(goal().ready_by());
  if (goal().reaches(Rung::weaning)) last_day -= static_cast<int>(std::lround(timing.weaning_days));
  return std::clamp(last_day, 0, sums().days);
}

int Model::rooted_by(int future, int session) const {
  const int struck = sessions().day[static_cast<std::size_t>(session)];
  return std::max(struck, std::min(deadline(timing(future)), struck + goal().species.unrooted_life()));
}

Model::Tables Model::made_tables() const {
  const auto sessions_each = static_cast<std::size_t>(sessions().count());
  const std::size_t size = static_cast<std::size_t>(futures_.count()) * sessions_each;
  const bool through_winter = goal().reaches(Rung::winter);
  const bool winter_over = !through_winter || goal().winter_ends <= goal().by;
  const double kept = winter_over ? 1 - goal().controls - goal().lifted : 0;
  Tables tables;
  tables.timings = timings_of(chain(), futures_);
  tables.wintered = rates_of(chain().shared(Rung::winter), chain().shared(Rung::winter).batch, futures_);
  if (!through_winter) std::ranges::fill(tables.wintered, 1.0);
  for (const ChainRate& grade : chain().rates[Rung::grade]) {
    tables.good.push_back(rates_of(grade, grade.batch, futures_));
    std::vector<double> after = tables.good.back();
    for (std::size_t f = 0; f < after.size(); ++f) after[f] *= tables.wintered[f] * kept;
    tables.after.push_back(std::move(after));
  }
  tables.usable.resize(size);
  tables.rooted_in_time.resize(size);
  if (goal().reaches(Rung::weaning)) tables.weaned.resize(size);
  tables.take_logit.assign(goal().wants.size(), std::vector<float>(size));
  const SessionEffects usable(chain().shared(Rung::usable), futures_, setting_);
  const SessionEffects weaning(chain().shared(Rung::weaning), futures_, setting_);
  std::vector<SessionEffects> take;
  for (const ChainRate& rate : chain().rates[Rung::take]) take.emplace_back(rate, futures_, setting_);
  in_blocks(workers_, futures_.count(), [&](int begin, int end) {
    std::vector<float> scratch(sessions_each);
    for (int f = begin; f < end; ++f) {
      const std::size_t first = at(f, 0);
      const std::span<float> in_time(tables.rooted_in_time.data() + first, sessions_each);
      usable.shares(f, tables.usable.data() + first);
      for (std::size_t w = 0; w < take.size(); ++w) take[w].logits(f, tables.take_logit[w].data() + first);
      fill_rooting(f, tables.timings[static_cast<std::size_t>(f)], scratch, in_time);
      if (tables.weaned.empty()) continue;
      weaning.shares(f, tables.weaned.data() + first);
      for (std::size_t s = 0; s < sessions_each; ++s) in_time[s] *= tables.weaned[first + s];
    }
  });
  return tables;
}

void Model::fill_rooting(int f, const Timing& timing, std::span<float> warmth, std::span<float> in_time) const {
  const float* const rooting = sums().rooting.season(futures_.weather(f));
  const int last = deadline(timing);
  const int life = goal().species.unrooted_life();
  for (std::size_t s = 0; s < in_time.size(); ++s) {
    const int struck = sessions().day[s];
    warmth[s] = rooting[std::max(struck, std::min(last, struck + life))] - rooting[struck];
  }
  lognormal_shares(warmth, timing.rooting_log_median, timing.rooting_spread, in_time);
  for (float& share : in_time) share = share >= kWhole ? 1 : share;
}

bool Model::take_is_one_number(std::size_t want, int future) const {
  return chain().of_want(Rung::take, want).known() && timing(future).edge_log_odds == 0;
}

double Model::take_in_time(int want, int future, int session, double ripening_now, const Offers& offers,
                           std::size_t group) const {
  const auto w = static_cast<std::size_t>(want);
  const std::size_t i = at(future, session);
  double take;
  if (take_is_one_number(w, future)) {
    take = chain().of_want(Rung::take, w).curve.known_share();
  } else {
    const WindowPlace place =
        leave_out_closed(place_in_window(static_cast<float>(ripening_now), offers.opened[group],
                                         offers.opened_sd[group], offers.closes[group], offers.closes_sd[group]));
    take = static_cast<double>(
        logistic_share(tables_->take_logit[w][i] + mean_log_odds(place, timing(future).edge_log_odds)));
  }
  return take * static_cast<double>(tables_->rooted_in_time[i]);
}

double Model::success(int want, int future, int session, double ripening_now, const Offers& offers,
                      std::size_t group) const {
  return take_in_time(want, future, session, ripening_now, offers, group) *
         tables_->after[static_cast<std::size_t>(want)][static_cast<std::size_t>(future)];
}

Sowing Model::sowing(int sow_day) const {
  return sowing(std::make_shared<const Offers>(
      offers_of_sowing(tables_->timings, futures_, sums(), sessions(), sow_day, workers_)));
}

Sowing Model::sowing(std::shared_ptr<const Offers> offers) const {
  SowingInFutures sowing;
  sowing.offers = std::move(offers);
  const Date sown = date(sowing.offers->sow_day);
  const auto rates_of_sowing = [&](Rung rung) {
    const ChainRate& rate = chain().shared(rung);
    return rates_of(rate, of_day(rate.batch, sown), futures_);
  };
  const auto emerging = rates_of_sowing(Rung::germination);
  const auto standing = rates_of_sowing(Rung::standing);
  sowing.emerging.assign(emerging.begin(), emerging.end());
  sowing.standing.assign(standing.begin(), standing.end());
  sowing.accepted.assign(tables_->usable.size(), 0);
  sowing.success.assign(goal().wants.size(), std::vector<float>(tables_->usable.size()));
  sowing.counted.assign(goal().wants.size(), std::vector<double>(static_cast<std::size_t>(futures_.count())));
  in_blocks(workers_, futures_.count(), [&](int begin, int end) {
    std::vector<float> now(static_cast<std::size_t>(sessions().count()));
    for (int f = begin; f < end; ++f) {
      const auto future = static_cast<std::size_t>(f);
      const auto alive = static_cast<float>(emerging[future] * standing[future]);
      for (std::size_t i = at(f, 0); i < at(f + 1, 0); ++i) {
        sowing.accepted[i] = alive * sowing.offers->offered[i] * tables_->usable[i];
      }
      fill_success(sowing, f, now);
    }
  });
  return {std::make_shared<const SowingInFutures>(std::move(sowing))};
}

void Model::fill_success(SowingInFutures& sowing, int f, std::span<float> now) const {
  const Offers& o = *sowing.offers;
  const auto count = static_cast<std::size_t>(sessions().count());
  const std::size_t first = at(f, 0);
  const float* const ripening = sums().ripening.season(futures_.weather(f));
  for (std::size_t s = 0; s < count; ++s) now[s] = ripening[sessions().day[s]];
  for (std::size_t w = 0; w < goal().wants.size(); ++w) {
    float* const success = sowing.success[w].data() + first;
    if (take_is_one_number(w, f)) {
      std::fill_n(success, count, static_cast<float>(chain().of_want(Rung::take, w).curve.known_share()));
    } else {
      std::copy_n(tables_->take_logit[w].data() + first, count, success);
      add_log_odds(count, now.data(), o.opened.data() + first, o.opened_sd.data() + first, o.closes.data() + first,
                   o.closes_sd.data() + first, timing(f).edge_log_odds, success);
      logistic_shares({success, count});
    }
    const auto after = static_cast<float>(tables_->after[w][static_cast<std::size_t>(f)]);
    double counted = 0;
    for (std::size_t s = 0; s < count; ++s) {
      success[s] *= tables_->rooted_in_time[first + s] * after;
      counted += static_cast<double>(sowing.accepted[first + s]) * static_cast<double>(success[s]);
    }
    sowing.counted[w][static_cast<std::size_t>(f)] = counted;
  }
}

}  // namespace strikebed::season

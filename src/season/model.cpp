#include "season/model.hpp"

#include <algorithm>
#include <cmath>

#include "base/random.hpp"
#include "growth/stages.hpp"
#include "season/logistic_kernel.hpp"
#include "season/lognormal_kernel.hpp"
#include "season/window_place.hpp"
#include "season/winter_ahead.hpp"

namespace strikebed::season {
namespace {

/// The effects of the batches of one kind, session by session: those given in advance, else drawn by the date.
class SessionEffects {
 public:
  SessionEffects(const ChainRate& rate, const Futures& futures, const Setting& setting)
      : rate_(rate), seed_(futures.seed()), kind_(bits_of(rate.batch)), scores_(futures.scores(rate.draw)) {
    for (const int session : setting.sessions.day) {
      const DrawName name = batch_of_day(rate, setting.sums->first + Days{session});
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

}  // namespace

struct Model::Rooting {
  Timing timing{};
  std::vector<float> warmth;
  LossClock losses;

  /// Of those that would have rooted by the morning of a day, the share that was alive as it did.
  ///   clock    of rooting, at the start of each day of the season
  ///   in_time  the share that would have
  [[nodiscard]] float share_in_cold(const float* clock, int struck, int until, float in_time) const {
    constexpr float kEarliest = 3.7F;  // sds below the middle nobody has rooted yet
    const float least = std::exp(timing.rooting_log_median - kEarliest * timing.rooting_spread);
    // Day by day, sum (rooted by d - rooted by d - 1) alive at d; in parts, only days that take some are looked at.
    float share = in_time * losses.surviving(struck, until);
    const auto first = std::lower_bound(clock + struck + 1, clock + until, clock[struck] + least) - clock;
    const std::vector<int>& days = losses.days();
    float gained = 0;
    float rooted = 0;
    float alive = losses.surviving(struck, static_cast<int>(first));
    for (auto day = std::ranges::lower_bound(days, static_cast<int>(first)); day != days.end() && *day < until; ++day) {
      if (const float now = clock[*day] - clock[struck]; now > gained) {  // in the depth of winter it stands still
        gained = now;
        rooted = lognormal_share(gained, timing.rooting_log_median, timing.rooting_spread);
      }
      const float left = losses.surviving(struck, *day + 1);
      share += rooted * (alive - left);
      alive = left;
    }
    return share;
  }
};

Model::Model(Setting setting, Futures futures, Workers workers)
    : setting_(std::move(setting)),
      futures_(std::move(futures)),
      workers_(std::move(workers)),
      tables_(std::make_shared<const Tables>(made_tables())) {}

Model Model::asked_for(Setting setting) const {
  Model asked = *this;
  asked.setting_ = std::move(setting);
  const bool waits = asked.goal().sessions.cuttings_at_most && !this->goal().sessions.cuttings_at_most;
  if (waits) asked.tables_ = std::make_shared<const Tables>(asked.made_tables());
  return asked;
}

Model Model::with_known(const DrawName& name, double score) const {
  Model other = *this;
  other.futures_ = futures_.with_known(name, score);
  const bool rooting_stays = !moves_waiting_or_rooting(name.quantity);
  other.tables_ = std::make_shared<const Tables>(other.made_tables(rooting_stays ? tables_.get() : nullptr));
  return other;
}

Model Model::with_patience(double patience) const {
  Model other = *this;
  other.setting_.habit.patience = patience;
  other.setting_.sessions = season::with_patience(setting_.sessions, goal(), sums(), patience);
  return other;
}

int Model::rooted_by(int future, int session) const {
  return rooted_by_day(goal(), sums(), timing(future), sessions().day[static_cast<std::size_t>(session)]);
}

Model::Tables Model::made_tables(const Tables* as_before) const {
  const auto sessions_each = static_cast<std::size_t>(sessions().count());
  const std::size_t size = static_cast<std::size_t>(futures_.count()) * sessions_each;
  const double not_used_up = goal().is_before_winter_ends() ? 0 : 1 - goal().controls - goal().lifted;
  Tables tables;
  tables.timings = timings_of(chain(), futures_);
  const std::vector<double> winter =
      rates_of(chain().shared(Rung::winter), chain().shared(Rung::winter).batch, futures_);
  for (const ChainRate& grade : chain().rates[Rung::grade]) {
    tables.good.push_back(rates_of(grade, grade.batch, futures_));
    tables.after.push_back(tables.good.back());
    for (double& after : tables.after.back()) after *= not_used_up;
  }
  const WinterAhead ahead(goal(), sums());
  std::vector<double> of_winter;
  for (const int session : sessions().day) of_winter.push_back(ahead.part(session));
  if (as_before) {
    tables.spared = as_before->spared;
    tables.rooted_in_time = as_before->rooted_in_time;
  } else {
    if (goal().sessions.cuttings_at_most) tables.spared.resize(size);
    tables.rooted_in_time.resize(size);
  }
  tables.usable.resize(size);
  tables.weaned.assign(size, 1);
  tables.wintered.assign(size, 1);
  tables.kept.resize(size);
  tables.take_logit.assign(goal().wants.size(), std::vector<float>(size));
  const SessionEffects usable(chain().shared(Rung::usable), futures_, setting_);
  const SessionEffects weaning(chain().shared(Rung::weaning), futures_, setting_);
  std::vector<SessionEffects> take;
  for (const ChainRate& rate : chain().rates[Rung::take]) take.emplace_back(rate, futures_, setting_);
  in_blocks(workers_, futures_.count(), [&](int begin, int end) {
    Rooting work;
    for (int f = begin; f < end; ++f) {
      const std::size_t first = at(f, 0);
      const std::span<float> in_time(tables.rooted_in_time.data() + first, sessions_each);
      usable.shares(f, tables.usable.data() + first);
      for (std::size_t w = 0; w < take.size(); ++w) take[w].logits(f, tables.take_logit[w].data() + first);
      work.timing = tables.timings[static_cast<std::size_t>(f)];
      if (!as_before && goal().sessions.cuttings_at_most) {
        fill_spared(f, work.timing, work.losses, {tables.spared.data() + first, sessions_each});
      }
      if (!as_before) fill_rooting(f, work, in_time);
      if (goal().reaches(Rung::weaning)) weaning.shares(f, tables.weaned.data() + first);
      for (std::size_t s = 0; s < sessions_each; ++s) {
        float& wintered = tables.wintered[first + s];
        const double rate = winter[static_cast<std::size_t>(f)];
        if (of_winter[s] > 0) wintered = static_cast<float>(of_winter[s] < 1 ? std::pow(rate, of_winter[s]) : rate);
        tables.kept[first + s] = in_time[s] * tables.weaned[first + s] * wintered;
      }
    }
  });
  return tables;
}

void Model::fill_spared(int f, const Timing& timing, LossClock& losses, std::span<float> spared) const {
  std::ranges::fill(spared, 1.0F);
  if (spared.empty()) return;
  read_losses_of_seedlings(f, timing, sessions().day.front(), sessions().day.back(), losses);
  if (losses.takes_none()) return;
  for (std::size_t s = 1; s < spared.size(); ++s)
    spared[s] = losses.surviving(sessions().day[s - 1], sessions().day[s]);
}

void Model::fill_rooting(int f, Rooting& work, std::span<float> in_time) const {
  constexpr float kSpared = 1 - 1e-5F;  // as good as all
  const Timing& timing = work.timing;
  const float* const rooting = sums().rooting.season(futures_.weather(f));
  const auto until = [&](int struck) { return rooted_by_day(goal(), sums(), timing, struck); };
  work.warmth.resize(in_time.size());
  for (std::size_t s = 0; s < in_time.size(); ++s) {
    const int struck = sessions().day[s];
    work.warmth[s] = rooting[until(struck)] - rooting[struck];
  }
  lognormal_shares(work.warmth, timing.rooting_log_median, timing.rooting_spread, in_time);
  for (float& share : in_time) share = share >= kWhole ? 1 : share;
  if (in_time.empty()) return;
  read_losses_of_cuttings(f, timing, sessions().day.front(), until(sessions().day.back()), work.losses);
  if (work.losses.takes_none()) return;
  for (std::size_t s = 0; s < in_time.size(); ++s) {
    const int struck = sessions().day[s];
    if (work.losses.surviving(struck, until(struck)) > kSpared) continue;
    in_time[s] = work.share_in_cold(rooting, struck, until(struck), in_time[s]);
  }
}

void Model::read_losses_of_cuttings(int future, const Timing& timing, int from, int to, LossClock& losses) const {
  const int season = futures_.weather(future);
  losses.read(sums().rooting.season(season), sums().bench_frost.season(season), timing.cuttings, from, to);
}

void Model::read_losses_of_seedlings(int future, const Timing& timing, int from, int to, LossClock& losses) const {
  const int season = futures_.weather(future);
  losses.read(sums().ripening.season(season), sums().seedbed_frost.season(season), timing.seedlings, from, to);
}

bool Model::take_is_one_number(std::size_t want, int future) const {
  return chain().of_want(Rung::take, want).known() && timing(future).edge_log_odds == 0;
}

double Model::take(int want, int future, int session, double ripening_now, const Offers& offers,
                   std::size_t group) const {
  const auto w = static_cast<std::size_t>(want);
  const std::size_t i = at(future, session);
  if (take_is_one_number(w, future)) return chain().of_want(Rung::take, w).curve.known_share();
  const WindowPlace place =
      leave_out_closed(place_in_window(static_cast<float>(ripening_now), offers.opened[group], offers.opened_sd[group],
                                       offers.closes[group], offers.closes_sd[group]));
  return static_cast<double>(
      logistic_share(tables_->take_logit[w][i] + mean_log_odds(place, timing(future).edge_log_odds)));
}

double Model::success(int want, int future, int session, double ripening_now, const Offers& offers,
                      std::size_t group) const {
  return take(want, future, session, ripening_now, offers, group) *
         static_cast<double>(tables_->kept[at(future, session)]) *
         tables_->after[static_cast<std::size_t>(want)][static_cast<std::size_t>(future)];
}

std::shared_ptr<const Offers> Model::offers_of(int sow_day, std::size_t seed, const SeedlingsSeen* seen) const {
  const Slowing& slowing = chain().slowing[seed];
  std::vector<Timing> timings;
  if (slowing != Slowing{}) {
    for (const Timing& timing : tables_->timings) timings.push_back(slowed(timing, slowing));
  }
  Offers offers = offers_of_sowing(timings.empty() ? tables_->timings : timings, futures_, sums(), sessions(), sow_day,
                                   workers_, seen);
  offers.seed = seed;
  return std::make_shared<const Offers>(std::move(offers));
}

Sowing Model::sowing(int sow_day, std::size_t seed) const { return sowing(offers_of(sow_day, seed, nullptr)); }

Sowing Model::own(std::size_t i) const {
  const OwnSeedlings& own = setting_.own[i];
  const int sow_day = day(goal().sown[own.sowing].on);
  return this->own(i, offers_of(sow_day, own.sowing + 1, own.seen ? &*own.seen : nullptr));
}

Sowing Model::own(std::size_t i, std::shared_ptr<const Offers> offers) const {
  const OwnSeedlings& own = setting_.own[i];
  Sowing made = sowing(std::move(offers), own.seen ? &*own.seen : nullptr);
  made.sown = own.number;
  made.own = i;
  return made;
}

std::vector<Sowing> Model::sown() const {
  std::vector<Sowing> sowings;
  for (std::size_t i = 0; i < setting_.own.size(); ++i) sowings.push_back(own(i));
  return sowings;
}

void Model::know_what_was_seen(const SeedlingsSeen& seen, const Offers& offers, std::vector<double>& emerging,
                               std::vector<double>& standing) const {
  for (std::size_t f = 0; f < emerging.size(); ++f) {
    if (seen.up) {
      emerging[f] = 1;
      standing[f] = std::pow(standing[f], static_cast<double>(offers.losses_to_come[f]));
      continue;
    }
    const int future = static_cast<int>(f);
    const Timing timing = slowed(tables_->timings[f], chain().slowing[offers.seed]);
    const float* const clock = sums().germination.season(futures_.weather(future));
    const float warmth = clock[seen.as_of] - clock[offers.sow_day] - timing.cover_time;
    const double before =
        static_cast<double>(lognormal_share(warmth, timing.germination_log_median, timing.germination_spread));
    emerging[f] = emerging[f] * (1 - before) / std::max(1 - emerging[f] * before, 1e-9);
  }
}

Sowing Model::sowing(std::shared_ptr<const Offers> offers, const SeedlingsSeen* seen) const {
  SowingInFutures sowing;
  sowing.offers = std::move(offers);
  const Date sown = date(sowing.offers->sow_day);
  const auto rates_of_sowing = [&](const ChainRate& rate) {
    return rates_of(rate, batch_of_sowing(rate, sowing.offers->seed, sown), futures_);
  };
  auto emerging = rates_of_sowing(chain().rates[Rung::germination][sowing.offers->seed]);
  auto standing = rates_of_sowing(chain().shared(Rung::standing));
  if (seen) know_what_was_seen(*seen, *sowing.offers, emerging, standing);
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

std::vector<Sowing> Model::sown_like(std::span<const Sowing> others) const {
  std::vector<Sowing> sowings;
  for (const Sowing& other : others) {
    sowings.push_back(other.sown ? own(other.own) : sowing(other.day(), other.seed()));
    sowings.back().part = other.part;
  }
  return sowings;
}

Model::Counted Model::in_pots(int future) const {
  Counted counted;
  if (!setting_.in_pots) return counted;
  for (std::size_t w = 0; w < goal().wants.size(); ++w) {
    counted.mean[w] = setting_.in_pots->mean[w][static_cast<std::size_t>(future)];
    counted.variance[w] = setting_.in_pots->variance[w][static_cast<std::size_t>(future)];
  }
  return counted;
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
      success[s] *= tables_->kept[first + s] * after;
      counted += static_cast<double>(sowing.accepted[first + s]) * static_cast<double>(success[s]);
    }
    sowing.counted[w][static_cast<std::size_t>(f)] = counted;
  }
}

}  // namespace strikebed::season

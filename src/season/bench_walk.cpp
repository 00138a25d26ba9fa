#include "season/bench_walk.hpp"

#include <algorithm>
#include <limits>

#include "base/random.hpp"
#include "evidence/binomial.hpp"
#include "season/lognormal_kernel.hpp"

namespace strikebed::season {
namespace {

constexpr std::uint64_t kArrivals = 0xa441;  // streams of random numbers
constexpr std::uint64_t kClosings = 0xc105;

std::uint64_t key_of(Date date) { return mixed_bits(static_cast<std::uint64_t>(date.time_since_epoch().count())); }

/// By its day, and what tells it from others of that day.
std::uint64_t key_of(const Model& model, const Sowing& sowing) {
  std::uint64_t key = mixed_bits(key_of(model.date(sowing.day())));
  if (!sowing.sown || sowing.seed() == 0) return key;
  const Lot& lot = model.goal().sown[sowing.seed() - 1].lot;
  key = mixed_bits(key ^ name_bits(lot.name) ^ static_cast<std::uint64_t>(lot.chill_days + 1));
  const OwnSeedlings& own = model.setting().own[sowing.own];
  return own.seen && own.seen->up ? mixed_bits(key) : key;
}

}  // namespace

BenchWalk::BenchWalk(const Model& model, std::span<const Sowing> sowings, std::span<const int> seeds)
    : model_(model),
      sowings_(sowings),
      seeds_(seeds),
      room_(model.goal().sessions.cuttings_at_most.value_or(std::numeric_limits<int>::max())) {
  for (const int day : model.sessions().day) session_key_.push_back(key_of(model.date(day)));
  for (const Sowing& sowing : sowings) sowing_key_.push_back(key_of(model, sowing));
}

void BenchWalk::begin(int future) {
  future_ = future;
  ripening_ = model_.sums().ripening.season(model_.futures().weather(future));
  queue_.clear();
  head_ = 0;
  drawn_ = 0;
  unseen_.assign(seeds_.begin(), seeds_.end());
  seen_share_.assign(seeds_.size(), 0.0);
}

bool BenchWalk::next(int session) {
  while (head_ == queue_.size()) {
    if (drawn_ > session) return false;
    draw_arrivals(drawn_++);
  }
  if (queue_[head_].looked < session) leave_closed(queue_[head_], session);
  return true;
}

void BenchWalk::draw_arrivals(int session) {
  constexpr double kNobody = 1e-5;
  const BatchScores luck(model_.futures().seed(), kArrivals, future_);
  for (std::size_t l = 0; l < sowings_.size(); ++l) {
    const auto share = static_cast<double>(sowings_[l]->accepted[sowings_[l]->offers->at(future_, session)]);
    if (!(share * unseen_[l] > kNobody)) continue;
    const double chance = std::min(share / std::max(1 - seen_share_[l], share), 1.0);
    seen_share_[l] += share;
    const std::uint64_t unit = session_key_[static_cast<std::size_t>(session)] ^ sowing_key_[l];
    const int arrived = evidence::binomial_at_score(unseen_[l], chance, static_cast<double>(luck(unit)));
    unseen_[l] -= arrived;
    if (arrived > 0) queue_.push_back({static_cast<int>(l), session, arrived, session});
  }
}

/// Those whose windows have closed since they were last looked at, and those that the cold has taken, are gone.
void BenchWalk::leave_closed(Waiting& first, int session) {
  constexpr double kAll = 1 - 1e-6;
  const double before = first.open < 0 ? still_open(first, first.looked) : first.open;
  first.open = still_open(first, session);
  double stays = before > 0 ? std::min(first.open / before, 1.0) : 0;
  while (first.looked < session) stays *= model_.spared_until(future_, ++first.looked);
  if (stays >= kAll) return;
  const BatchScores luck(model_.futures().seed(), kClosings, future_);
  const std::uint64_t unit = mixed_bits(session_key_[static_cast<std::size_t>(first.accepted_at)] ^
                                        sowing_key_[static_cast<std::size_t>(first.sowing)]) ^
                             session_key_[static_cast<std::size_t>(session)];
  first.count = evidence::binomial_at_score(first.count, stays, static_cast<double>(luck(unit)));
}

double BenchWalk::still_open(const Waiting& one, int session) const {
  const Offers& offers = *sowings_[static_cast<std::size_t>(one.sowing)]->offers;
  const std::size_t i = offers.at(future_, one.accepted_at);
  const float now = ripening_[model_.sessions().day[static_cast<std::size_t>(session)]];
  return static_cast<double>(quick_normal_share((offers.closes[i] - now) / offers.closes_sd[i]));
}

}  // namespace strikebed::season

#include "season/foreseen.hpp"

#include <algorithm>
#include <utility>

#include "base/random.hpp"
#include "evidence/binomial.hpp"
#include "season/seed_search.hpp"

namespace strikebed::season {
namespace {

constexpr double kNobody = 0.05;  // of a cutting

/// So many that each have a chance: as it turns out in a future.
double turned_out(int number, double chance, const Model& model, int future, std::uint64_t unit) {
  constexpr std::uint64_t kReady = 0x4ead;
  const BatchScores luck(model.futures().seed(), kReady, future);
  return evidence::binomial_at_score(number, std::clamp(chance, 0.0, 1.0), static_cast<double>(luck(unit)));
}

}  // namespace

Foreseen::Foreseen(const Model& model, std::vector<Sowing> sowings, int seeds)
    : model_(model), sowings_(std::move(sowings)), numbers_(split_seeds(seeds, sowings_)) {
  const std::vector<double> shares = fair_shares(model, sowings_, model.goal().assurance).shares;
  counts_ = model.counted(sowings_, numbers_, shares);
  sure_ = model.assurance(counts_);
}

double Foreseen::plants() const {
  double sum = 0;
  for (std::size_t f = 0; f < counts_.size(); ++f) {
    for (const double mean : counts_[f].mean) sum += model_.futures().weight(static_cast<int>(f)) * mean;
  }
  return sum / static_cast<double>(counts_.size());
}

std::vector<SessionForecast> Foreseen::sessions() const {
  const Model at_once = model_.with_patience(0);  // whoever has come into its window
  const std::vector<Sowing> opening = at_once.sown_like(sowings_);
  const auto count = static_cast<std::size_t>(model_.sessions().count());
  std::vector<std::vector<Weighed>> ready(count);
  std::vector<std::vector<Weighed>> struck(count);
  std::vector<double> mean(count);
  for (int f = 0; f < model_.futures().count(); ++f) {
    const double weight = model_.futures().weight(f);
    const std::vector<double> now = struck_at(f);
    std::vector<double> open(count);
    for (std::size_t l = 0; l < opening.size(); ++l) {
      double share = 0;
      for (std::size_t s = 0; s < count; ++s) {
        share += static_cast<double>(opening[l]->accepted[opening[l]->offers->at(f, static_cast<int>(s))]);
        open[s] += turned_out(numbers_[l], share, model_, f, l);
      }
    }
    double before = 0;
    for (std::size_t s = 0; s < count; ++s) {
      ready[s].push_back({std::max(open[s] - before, now[s]), weight});
      struck[s].push_back({now[s], weight});
      mean[s] += weight * now[s] / model_.futures().count();
      before += now[s];
    }
  }
  std::vector<SessionForecast> sessions;
  for (std::size_t s = 0; s < count; ++s) {
    if (mean[s] < kNobody) continue;
    sessions.push_back(
        {model_.date(model_.sessions().day[s]), spread_of(std::move(ready[s])), spread_of(std::move(struck[s]))});
  }
  return sessions;
}

std::vector<double> Foreseen::struck_at(int future) const {
  std::vector<double> struck(static_cast<std::size_t>(model_.sessions().count()));
  if (!model_.room_for_all(numbers_)) {
    model_.run_sessions(sowings_, numbers_, future,
                        [&](const Model::Cut& cut) { struck[static_cast<std::size_t>(cut.session)] += cut.cuttings; });
    return struck;
  }
  for (std::size_t l = 0; l < sowings_.size(); ++l) {
    double share = 0;
    double before = 0;
    for (std::size_t s = 0; s < struck.size(); ++s) {
      share += static_cast<double>(sowings_[l]->accepted[sowings_[l]->offers->at(future, static_cast<int>(s))]);
      const double until = turned_out(numbers_[l], share, model_, future, l);
      struck[s] += until - before;
      before = until;
    }
  }
  return struck;
}

}  // namespace strikebed::season

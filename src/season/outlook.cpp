#include "season/outlook.hpp"

#include <utility>

namespace strikebed::season {
namespace {

constexpr std::size_t kMostKept_bytes = std::size_t{128} * 1024 * 1024;

std::size_t bytes_of(const Sowing& sowing) {
  constexpr std::size_t kColumns = 6;  // five of the offers and the accepted, then one for each want
  return sizeof(float) * sowing->accepted.size() * (kColumns + sowing->success.size());
}

}  // namespace

Outlook::Outlook(Setting setting, Futures futures, Workers workers)
    : workers_(workers), model_(std::move(setting), std::move(futures), std::move(workers)) {}

Sowing Outlook::sowing(int sow_day) const {
  const Key key{patience(), sow_day, 0};
  if (const auto kept = sowings_.find(key); kept != sowings_.end()) return kept->second;
  const auto offers = offers_.find(key);
  return offers == offers_.end() ? model_.sowing(sow_day) : model_.sowing(offers->second);
}

Sowing Outlook::own(std::size_t i) const {
  const OwnSeedlings& own = model_.setting().own[i];
  const Key key{patience(), model_.day(model_.goal().sown[own.sowing].on), i + 1};
  if (const auto kept = sowings_.find(key); kept != sowings_.end()) {
    Sowing found = kept->second;
    found.sown = own.number;  // what becomes of one of them does not change with how many they are
    return found;
  }
  const auto offers = offers_.find(key);
  return offers == offers_.end() ? model_.own(i) : model_.own(i, offers->second);
}

std::vector<Sowing> Outlook::sowings(std::span<const int> sow_days) const {
  std::vector<Sowing> all;
  for (std::size_t i = 0; i < model_.setting().own.size(); ++i) all.push_back(own(i));
  for (const int day : sow_days) all.push_back(sowing(day));
  return all;
}

void Outlook::keep(const Sowing& sowing) {
  const std::size_t bytes = bytes_of(sowing);
  if (kept_bytes_ + bytes > kMostKept_bytes) return;
  const Key key{patience(), sowing.day(), sowing.sown ? sowing.own + 1 : 0};
  if (sowings_.emplace(key, sowing).second) kept_bytes_ += bytes;
}

void Outlook::be_patient(double patience) {
  if (patience != this->patience()) model_ = model_.with_patience(patience);
}

void Outlook::change(Setting setting) {
  const SettingChange change = change_between(model_.setting(), setting);
  if (change == SettingChange::wanted) {
    model_ = model_.asked_for(std::move(setting));
    return;
  }
  if (change == SettingChange::timing) offers_.clear();
  if (change == SettingChange::rates) {
    for (const auto& [key, sowing] : sowings_) offers_.emplace(key, sowing->offers);
  }
  sowings_.clear();
  kept_bytes_ = 0;
  model_ = Model(std::move(setting), model_.futures(), workers_);
}

void Outlook::change(Futures futures) {
  sowings_.clear();
  offers_.clear();
  kept_bytes_ = 0;
  model_ = Model(model_.setting(), std::move(futures), workers_);
}

}  // namespace strikebed::season

#pragma once
// A goal seen in so many futures, with the sowings already looked at.
#include <map>
#include <memory>
#include <span>
#include <tuple>
#include <vector>

#include "season/model.hpp"

namespace strikebed::season {

class Outlook {
 public:
  Outlook(Setting setting, Futures futures, Workers workers);

  [[nodiscard]] const Model& model() const { return model_; }
  /// Of a day; as kept, else made now. May be asked by several hands at once, while nobody keeps.
  [[nodiscard]] Sowing sowing(int sow_day) const;
  /// The goal's own sowings, and then one of its lot on each day.
  [[nodiscard]] std::vector<Sowing> sowings(std::span<const int> sow_days) const;
  /// For the next to ask, as far as there is memory.
  void keep(const Sowing& sowing);

  /// Another patience at the bench; what was kept for the one before is there when it comes back.
  void be_patient(double patience);
  [[nodiscard]] double patience() const { return model_.setting().habit.patience; }
  /// Another setting, keeps what it leaves as it is.
  void change(Setting setting);
  /// Other futures; nothing is left as it is.
  void change(Futures futures);

 private:
  [[nodiscard]] Sowing own(std::size_t i) const;  ///< of the setting's own

  Workers workers_;
  Model model_;
  using Key = std::tuple<double, int, std::size_t>;  ///< patience, day, 0 or 1 + which of the own
  std::map<Key, Sowing> sowings_;
  std::map<Key, std::shared_ptr<const Offers>> offers_;  ///< of sowings whose rates are no longer the same
  std::size_t kept_bytes_ = 0;
};

}  // namespace strikebed::season

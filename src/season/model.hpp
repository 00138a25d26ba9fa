#pragma once
// The chain of one goal in many futures: how sure a number of seeds is.
#include <array>
#include <functional>
#include <span>
#include <vector>

#include "base/workers.hpp"
#include "season/offers.hpp"

namespace strikebed::season {

/// One sowing in every future: who is offered when, who is accepted, who would be counted.
struct Sowing {
  Offers offers;
  std::vector<float> accepted;               ///< [future, session]: share of seeds accepted at their first session
  std::vector<std::vector<float>> success;   ///< [want][future, session]: chance that one struck then is counted
  std::vector<std::vector<double>> counted;  ///< [want][future]: share of seeds counted if there is always room
};

/// Seeds in one or several sowings, the first ones getting the odd seeds.
[[nodiscard]] std::vector<int> split_evenly(int seeds, int sowings);

/// Mean of a chance over the futures, its standard error from the replicates, and the chance of each want alone.
struct Assurance {
  double chance = 0;
  double error = 0;
  std::vector<double> by_want;
};

enum class Precision { quick, exact };

/// Everything about a goal and its futures that does not depend on sowing dates or seed numbers. Refers to goal, chain
/// and sums, which must outlive it.
class Model {
 public:
  Model(const Goal& goal, const Chain& chain, const ThermalSums& sums, SessionDays sessions, Futures futures,
        const Workers& workers);

  /// `index` 0, 1, ...: which of the season's sowings it is, with a batch effect of its own.
  [[nodiscard]] Sowing sowing(int sow_day, int index = 0) const;
  /// The same from offers made with the same timing, for futures that differ only in rates.
  [[nodiscard]] Sowing sowing(Offers offers, int index) const;

  /// How sure `seeds` seeds, spread evenly over the sowings, are to meet all wants.
  ///   shares  of the accepted seedlings, per want; they sum to one
  [[nodiscard]] Assurance assurance(std::span<const Sowing> sowings, int seeds, std::span<const double> shares,
                                    Precision precision = Precision::quick) const;

  /// Seedlings of one sowing, struck together.
  struct Cut {
    int sowing;
    int accepted_at;  ///< the session at which they were offered and taken
    int session;      ///< the session at which there was room for them
    int cuttings;
  };
  /// One course of a future's season at the bench, seedlings counted whole. Calls on_cut for all that is struck.
  void run_sessions(std::span<const Sowing> sowings, std::span<const int> seeds, int future,
                    const std::function<void(const Cut&)>& on_cut) const;

  /// wants_met: stop looking once every want is met beyond doubt (mean and variance are then of what came before).
  enum class Until { season_over, wants_met };

  /// Mean and variance of the counted plants of each want in one future, given what is struck, and the covariances.
  struct Counted {
    std::array<double, kMostWants> mean{}, variance{};
    std::array<std::array<double, kMostWants>, kMostWants> covariance{};  ///< [w][v] for v < w
  };
  [[nodiscard]] Counted counted(std::span<const Sowing> sowings, std::span<const int> seeds,
                                std::span<const double> shares, int future, Until until = Until::season_over) const;

  [[nodiscard]] const Goal& goal() const { return goal_; }
  [[nodiscard]] const Chain& chain() const { return chain_; }
  [[nodiscard]] const ThermalSums& sums() const { return sums_; }
  [[nodiscard]] const SessionDays& sessions() const { return sessions_; }
  [[nodiscard]] const Futures& futures() const { return futures_; }
  [[nodiscard]] int wants() const { return static_cast<int>(goal_.wants.size()); }
  /// The day by whose morning the cuttings of a session must have rooted in this future to count: in time for the goal,
  /// and while an unrooted cutting lives. The day of the session itself when it is too late.
  [[nodiscard]] int rooted_by(int future, int session) const;
  [[nodiscard]] double emerging(int future, int sowing_index) const;  ///< germination with its batch effect
  [[nodiscard]] double standing(int future, int sowing_index) const;

 private:
  [[nodiscard]] int deadline(int future) const;  ///< in time for the goal
  [[nodiscard]] std::size_t at(int future, int session) const {
    return static_cast<std::size_t>(future) * static_cast<std::size_t>(sessions_.count()) +
           static_cast<std::size_t>(session);
  }
  [[nodiscard]] double batch_rate(const ChainRate& rate, int future, BatchKind kind, int unit) const;
  template <class OnCut>
  void walk_sessions(std::span<const Sowing> sowings, std::span<const int> seeds, int future, OnCut&& on_cut) const;
  [[nodiscard]] double success(int want, int future, int session, double ripening_now, const Offers& offers,
                               std::size_t group) const;
  [[nodiscard]] double still_open(const Offers& offers, int future, int group, int session) const;
  void fill_future(int future);

  const Goal& goal_;
  const Chain& chain_;
  const ThermalSums& sums_;
  SessionDays sessions_;
  Futures futures_;
  Workers workers_;
  std::vector<float> usable_;                   ///< [future, session]
  std::vector<std::vector<float>> take_logit_;  ///< [want][future, session], in the middle of the window
  std::vector<float> rooted_in_time_;           ///< [future, session], times weaning where it counts
  std::vector<std::vector<double>> after_;      ///< [want][future]: winter, grade and what the method uses up
  std::vector<float> edge_log_odds_;            ///< [future]
};

}  // namespace strikebed::season

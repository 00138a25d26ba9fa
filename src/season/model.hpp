#pragma once
// The chain of one goal in many futures: how sure a number of seeds is.
#include <algorithm>
#include <array>
#include <functional>
#include <memory>
#include <optional>
#include <span>
#include <vector>

#include "base/workers.hpp"
#include "season/loss_clock.hpp"
#include "season/offers.hpp"
#include "season/setting.hpp"
#include "season/stage.hpp"

namespace strikebed::season {

/// One sowing in every future: who is offered when, who is accepted, who would be counted.
struct SowingInFutures {
  std::shared_ptr<const Offers> offers;
  std::vector<float> emerging, standing;     ///< [future]: the rates of this sowing, batch effects included
  std::vector<float> accepted;               ///< [future, session]: share of seeds accepted at their first session
  std::vector<std::vector<float>> success;   ///< [want][future, session]: chance that one struck then is counted
  std::vector<std::vector<double>> counted;  ///< [want][future]: share of seeds counted if there is always room
};

/// A sowing among those of a season.
struct Sowing {
  std::shared_ptr<const SowingInFutures> in_futures;
  std::optional<int> sown = {};  ///< so many seeds or seedlings are there already, whatever else is asked
  std::size_t own = 0;           ///< of those: which of the setting's own
  double part = 1;               ///< of the seeds asked about, relative to the other sowings
  [[nodiscard]] const SowingInFutures* operator->() const { return in_futures.get(); }
  [[nodiscard]] int day() const { return in_futures->offers->sow_day; }        ///< index into the thermal sums
  [[nodiscard]] std::size_t seed() const { return in_futures->offers->seed; }  ///< of the chain
};

/// `seeds` seeds over the sowings that are still to be made, by their parts: the highest averages of D'Hondt, so that
/// one seed more is one more in one sowing and none fewer in another. Seeds that are sown stand beside.
[[nodiscard]] std::vector<int> split_seeds(int seeds, std::span<const Sowing> sowings);

/// Mean of a chance over the futures, its standard error from the replicates, and the chance of each want alone.
struct Assurance {
  double chance = 0;
  double error = 0;
  std::vector<double> by_want;
};

enum class Precision { quick, exact };

class BenchWalk;

/// Everything about a setting and its futures that does not depend on sowing dates or seed numbers.
class Model {
 public:
  Model(Setting setting, Futures futures, Workers workers);
  /// The same asked for another number of plants, sureness, room or sowings of the goal's own: the change must leave
  /// rates, timing and session days as they are. Its sowings are this model's.
  [[nodiscard]] Model asked_for(Setting setting) const;
  /// The same, but one quantity is known to stand at `score` of its belief.
  [[nodiscard]] Model with_known(const DrawName& name, double score) const;
  /// The same with another patience at the bench: its sowings are others.
  [[nodiscard]] Model with_patience(double patience) const;

  /// Seeds sown on a day (index into the thermal sums): 0, of the goal's lot; i, of the i-th of its own sowings.
  [[nodiscard]] Sowing sowing(int sow_day, std::size_t seed = 0) const;
  /// One of the setting's own; of offers that were made for it with the same timing.
  [[nodiscard]] Sowing own(std::size_t i) const;
  [[nodiscard]] Sowing own(std::size_t i, std::shared_ptr<const Offers> offers) const;
  /// All of them.
  [[nodiscard]] std::vector<Sowing> sown() const;
  /// The same from offers made with the same timing, for futures that differ only in rates.
  [[nodiscard]] Sowing sowing(std::shared_ptr<const Offers> offers, const SeedlingsSeen* seen = nullptr) const;

  /// Another model's sowings as this one has them: the same days, seeds and parts.
  [[nodiscard]] std::vector<Sowing> sown_like(std::span<const Sowing> others) const;

  /// How sure `seeds` seeds, spread over the sowings by their parts, are to meet all wants.
  ///   shares  of the accepted seedlings, per want; they sum to one
  [[nodiscard]] Assurance assurance(std::span<const Sowing> sowings, int seeds, std::span<const double> shares,
                                    Precision precision = Precision::quick) const;

  /// Seedlings of one sowing, struck together.
  struct Cut {
    int sowing;
    int accepted_at;  ///< the session at which they were offered and taken
    int session;      ///< the session at which there was room for them
    double cuttings;
  };
  /// Whether no session can overflow, however many come up.
  [[nodiscard]] bool room_for_all(std::span<const int> seeds) const;
  /// One course of a future's season at the bench, seedlings counted whole. Calls on_cut for all that is struck.
  void run_sessions(std::span<const Sowing> sowings, std::span<const int> seeds, int future,
                    const std::function<void(const Cut&)>& on_cut) const;
  /// What to expect of it: where there is room for all, shares of the seeds, which know no luck; else run_sessions.
  void expect_sessions(std::span<const Sowing> sowings, std::span<const int> seeds, int future,
                       const std::function<void(const Cut&)>& on_cut) const;

  /// Mean and variance of the counted plants of each want in one future, given what is struck, and the covariances.
  struct Counted {
    std::array<double, kMostWants> mean{}, variance{};
    std::array<std::array<double, kMostWants>, kMostWants> covariance{};  ///< [w][v] for v < w
  };
  [[nodiscard]] Counted counted(std::span<const Sowing> sowings, std::span<const int> seeds,
                                std::span<const double> shares, int future) const;

  /// The same in every future.
  [[nodiscard]] std::vector<Counted> counted(std::span<const Sowing> sowings, std::span<const int> seeds,
                                             std::span<const double> shares) const;
  /// How sure all wants are to be met with these counts, future by future.
  [[nodiscard]] Assurance assurance(std::span<const Counted> counts) const;

  /// Of those in pots already in one future; nothing where there are none.
  [[nodiscard]] Counted in_pots(int future) const;

  /// How many are expected to be left at each stage in one future, given what is struck; all wants together.
  [[nodiscard]] LeftAtStages left_at_stages(std::span<const Sowing> sowings, std::span<const int> seeds,
                                            std::span<const double> shares, int future) const;
  /// The mean over the first so many futures.
  [[nodiscard]] LeftAtStages mean_left_at_stages(std::span<const Sowing> sowings, std::span<const int> seeds,
                                                 std::span<const double> shares, int futures) const;

  [[nodiscard]] const Setting& setting() const { return setting_; }
  [[nodiscard]] const Goal& goal() const { return setting_.goal; }
  [[nodiscard]] const Chain& chain() const { return *setting_.chain; }
  [[nodiscard]] const ThermalSums& sums() const { return *setting_.sums; }
  [[nodiscard]] const SessionDays& sessions() const { return setting_.sessions; }
  [[nodiscard]] const Futures& futures() const { return futures_; }
  [[nodiscard]] const Timing& timing(int future) const { return tables_->timings[static_cast<std::size_t>(future)]; }
  [[nodiscard]] Timing timing(int future, const Sowing& of) const {
    return slowed(timing(future), chain().slowing[of.seed()]);
  }
  [[nodiscard]] int wants() const { return static_cast<int>(setting_.goal.wants.size()); }
  [[nodiscard]] Date date(int day) const { return setting_.sums->first + Days{day}; }
  [[nodiscard]] int day(Date date) const { return static_cast<int>((date - setting_.sums->first).count()); }
  /// The day by whose morning the cuttings of a session must have rooted in this future to count: in time for the goal,
  /// and while an unrooted cutting lives. The day of the session itself when it is too late.
  [[nodiscard]] int rooted_by(int future, int session) const;
  /// The share of ripe seedlings that the cold spares from the session before until this one.
  [[nodiscard]] double spared_until(int future, int session) const {
    return static_cast<double>(tables_->spared[at(future, session)]);
  }
  /// What the cold takes of unrooted cuttings on the bench, and of seedlings in their bed, in one future: read into
  /// `losses`, for the days from one to another.
  void read_losses_of_cuttings(int future, int from, int to, LossClock& losses) const {
    read_losses_of_cuttings(future, timing(future), from, to, losses);
  }
  void read_losses_of_seedlings(int future, int from, int to, LossClock& losses) const {
    read_losses_of_seedlings(future, timing(future), from, to, losses);
  }

 private:
  [[nodiscard]] std::size_t at(int future, int session) const {
    return static_cast<std::size_t>(future) * static_cast<std::size_t>(sessions().count()) +
           static_cast<std::size_t>(session);
  }
  struct Rooting;  ///< memory for its work
  void read_losses_of_cuttings(int future, const Timing& timing, int from, int to, LossClock& losses) const;
  void read_losses_of_seedlings(int future, const Timing& timing, int from, int to, LossClock& losses) const;
  void fill_spared(int future, const Timing& timing, LossClock& losses, std::span<float> spared) const;
  void fill_rooting(int future, Rooting& work, std::span<float> in_time) const;
  [[nodiscard]] std::shared_ptr<const Offers> offers_of(int sow_day, std::size_t seed, const SeedlingsSeen* seen) const;
  /// From the rates of a sowing's seeds to come up, and of its seedlings to stand, to those of what was seen of it.
  void know_what_was_seen(const SeedlingsSeen& seen, const Offers& offers, std::vector<double>& emerging,
                          std::vector<double>& standing) const;
  void fill_success(SowingInFutures& sowing, int future, std::span<float> now) const;
  /// Neither batches nor ripeness move it: then it is taken exactly.
  [[nodiscard]] bool take_is_one_number(std::size_t want, int future) const;
  /// The share of cuttings of a group, struck at a session, that take, were they to have time enough.
  [[nodiscard]] double take(int want, int future, int session, double ripening_now, const Offers& offers,
                            std::size_t group) const;
  [[nodiscard]] double success(int want, int future, int session, double ripening_now, const Offers& offers,
                               std::size_t group) const;
  /// wants_met: stop looking once every want is met beyond doubt; mean and variance are then of what came before.
  enum class Until { season_over, wants_met };
  [[nodiscard]] Counted counted_in_room(Until until, std::span<const Sowing> sowings, std::span<const double> shares,
                                        int future, BenchWalk& walk) const;
  [[nodiscard]] Counted counted_with_room_for_all(std::span<const Sowing> sowings, std::span<const int> seeds,
                                                  std::span<const double> shares, int future) const;
  /// From the chances of each future, of all wants together and [future, want] of each alone.
  [[nodiscard]] Assurance mean_of(std::span<const double> all, std::span<const double> alone) const;
  [[nodiscard]] double all_met(const Counted& counts, Precision precision, std::span<double> by_want) const;

  /// What becomes of a ripe seedling and of a cutting, whatever the sowing.
  struct Tables {
    std::vector<Timing> timings;                 ///< [future]
    std::vector<float> spared;                   ///< [future, session]; empty with room for all: nobody waits
    std::vector<float> usable;                   ///< [future, session]
    std::vector<std::vector<float>> take_logit;  ///< [want][future, session], in the middle of the window
    std::vector<float> rooted_in_time;           ///< [future, session]: spared by the cold until then, and in time
    std::vector<float> weaned;                   ///< [future, session], of the rooted; 1 where it does not count
    std::vector<float> wintered;                 ///< [future, session], of those; 1 where no winter comes between
    std::vector<float> kept;                     ///< [future, session]: the three together
    std::vector<std::vector<double>> good;       ///< [want][future]: grade
    std::vector<std::vector<double>> after;      ///< [want][future]: grade and what the method uses up
  };
  /// `as_before`: tables whose shares spared and rooted in time still hold.
  [[nodiscard]] Tables made_tables(const Tables* as_before = nullptr) const;

  Setting setting_;
  Futures futures_;
  Workers workers_;
  std::shared_ptr<const Tables> tables_;
};

}  // namespace strikebed::season

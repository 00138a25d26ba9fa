#pragma once
// One future's season at the bench, session by session, when a session holds only so many: who is struck when.
#include <cstdint>
#include <span>
#include <vector>

#include "season/model.hpp"

namespace strikebed::season {

/// First come, first struck: who has waited longest is the ripest. Only the head of the queue is looked at, and
/// arrivals are drawn only once there is room for them: the rest of the tray waits unseen, as it does on the bench.
/// Keeps its memory for the next future.
class BenchWalk {
 public:
  BenchWalk(const Model& model, std::span<const Sowing> sowings, std::span<const int> seeds);

  /// Calls on_cut(Model::Cut) for all that is struck in a future, in order, until it answers false.
  template <class OnCut>
  void run(int future, OnCut&& on_cut) {
    begin(future);
    for (int s = 0; s < model_.sessions().count(); ++s) {
      int room = room_;
      while (room > 0 && next(s)) {
        Waiting& first = queue_[head_];
        const int struck = room < first.count ? room : first.count;
        if (struck > 0 && !on_cut(Model::Cut{first.sowing, first.accepted_at, s, static_cast<double>(struck)})) return;
        room -= struck;
        first.count -= struck;
        if (first.count == 0) ++head_;
      }
    }
  }

 private:
  struct Waiting {
    int sowing;
    int accepted_at;  ///< session
    int count;
    int looked;        ///< the session at which they were last looked at
    double open = -1;  ///< share of their windows that were open then; below 0: not worked out yet
  };

  void begin(int future);
  bool next(int session);  ///< whether there is a head of the queue, brought up to the session
  void draw_arrivals(int session);
  void leave_closed(Waiting& first, int session);
  [[nodiscard]] double still_open(const Waiting& one, int session) const;

  const Model& model_;
  std::span<const Sowing> sowings_;
  std::span<const int> seeds_;
  int room_;
  std::vector<std::uint64_t> session_key_;  ///< by date: which random numbers are its own
  std::vector<std::uint64_t> sowing_key_;
  int future_ = 0;
  const float* ripening_ = nullptr;
  std::vector<Waiting> queue_;
  std::size_t head_ = 0;
  int drawn_ = 0;  ///< sessions whose arrivals are in the queue
  std::vector<int> unseen_;
  std::vector<double> seen_share_;
};

}  // namespace strikebed::season

#pragma once
// What the futures make of the seedlings and plants there are, and of so many seeds more.
#include <vector>

#include "season/model.hpp"
#include "season/spread.hpp"

namespace strikebed::season {

/// A session to come, if it is held by the strike rule as far as there is room.
struct SessionForecast {
  Date date;
  Spread ready;   ///< good ones that have come into their window by then and were not struck before
  Spread struck;  ///< of these, such as the rule does not leave for later
  bool operator==(const SessionForecast&) const = default;
};

class Foreseen {
 public:
  /// The model outlives it.
  ///   sowings  the goal's own, and those of the seeds that come on top
  Foreseen(const Model& model, std::vector<Sowing> sowings, int seeds);

  [[nodiscard]] const std::vector<Sowing>& sowings() const { return sowings_; }
  [[nodiscard]] const Assurance& sure() const { return sure_; }
  [[nodiscard]] const std::vector<Model::Counted>& counts() const { return counts_; }  ///< [future]
  /// On the mean, all wants together.
  [[nodiscard]] double plants() const;
  /// Those at which something is to be expected. Few futures are enough.
  [[nodiscard]] std::vector<SessionForecast> sessions() const;

 private:
  /// [session], as it turns out in one future.
  [[nodiscard]] std::vector<double> struck_at(int future) const;

  const Model& model_;
  std::vector<Sowing> sowings_;
  std::vector<int> numbers_;  ///< of seeds, [sowing]
  std::vector<Model::Counted> counts_;
  Assurance sure_;
};

}  // namespace strikebed::season

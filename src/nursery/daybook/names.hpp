#pragma once
// What a grower calls the things in a daybook: a batch by its code or its label, a lot or a bottle by its name,
// anything by the beginning of its id.
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "daybook/fold.hpp"

namespace strikebed::nursery {

class Names {
 public:
  /// Of a daybook as it stands; it stays where it is.
  explicit Names(daybook::Fold& fold) : fold_(fold), state_(fold.state()) {}

  /// Errors: nothing is called that (with the nearest that are), or more than one thing is.
  [[nodiscard]] Result<daybook::EntryId> find(std::string_view typed, daybook::Refers what) const;
  /// Whether a batch is called that.
  [[nodiscard]] bool is_batch(std::string_view typed) const;

  [[nodiscard]] const daybook::State& state() const { return state_; }
  [[nodiscard]] daybook::Fold& fold() const { return fold_; }

 private:
  struct Named {
    daybook::EntryId id;
    std::string name;
  };
  [[nodiscard]] std::vector<Named> all(daybook::Refers what) const;
  /// Batches on whose label that stands beside the code.
  [[nodiscard]] std::vector<daybook::EntryId> labelled(std::string_view typed) const;
  [[nodiscard]] Result<daybook::EntryId> by_id(std::string_view digits) const;

  daybook::Fold& fold_;
  const daybook::State& state_;
};

}  // namespace strikebed::nursery

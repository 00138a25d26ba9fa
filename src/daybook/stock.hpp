#pragma once
// What is left of a lot of seeds, a bottle, a bag or a mixture.
#include <optional>
#include <string>
#include <vector>

#include "daybook/contradiction.hpp"
#include "daybook/mention.hpp"

namespace strikebed::daybook {

enum class StockKind { lot, bottle, mixture };

/// An amount, as it came, as it went, and as it was measured last.
struct Level {
  std::optional<double> received;  ///< nothing: not said
  double taken = 0;                ///< all that was written
  std::optional<double> left;      ///< below 0 where more was taken than was there
  bool operator==(const Level&) const = default;
};

struct SeedTest {
  EntryId entry;
  int good = 0;
  int of = 0;
  bool operator==(const SeedTest&) const = default;
};

struct Stock {
  EntryId id;
  StockKind kind = StockKind::bottle;
  std::string name;
  Moment came;
  Level seeds;  ///< of lots
  Level volume_ml;
  Level mass_g;
  std::optional<Date> use_by;
  std::vector<SeedTest> tests;
  std::vector<EntryId> entries;  ///< its history, in order
  std::vector<Contradiction> contradictions;
  bool operator==(const Stock&) const = default;
};

/// From the entries that mention it, its own first one among them: lot_received, stock_received or mixed.
[[nodiscard]] Stock fold_stock(const EntryId& id, Timeline timeline);

}  // namespace strikebed::daybook

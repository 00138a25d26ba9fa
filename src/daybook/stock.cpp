#include "daybook/stock.hpp"

#include <algorithm>

namespace strikebed::daybook {
namespace {

class StockFold {
 public:
  explicit StockFold(const EntryId& id) { stock.id = id; }

  void begin(const Entry& entry) {
    stock.came = entry.happened;
    if (const auto* lot = std::get_if<LotReceived>(&entry.body)) {
      begin(StockKind::lot, lot->name, std::nullopt, std::nullopt, lot->mass_g);
      if (lot->seeds) stock.seeds.received = stock.seeds.left = *lot->seeds;
    } else if (const auto* bottle = std::get_if<StockReceived>(&entry.body)) {
      begin(StockKind::bottle, bottle->name, bottle->use_by, bottle->volume_ml, bottle->mass_g);
    } else if (const auto* mixed = std::get_if<Mixed>(&entry.body)) {
      begin(StockKind::mixture, mixed->name, mixed->use_by, mixed->volume_ml, mixed->mass_g);
    }
  }

  void take_in(const Entry& entry) {
    stock.entries.push_back(entry.id);
    if (entry.happened.ms < stock.came.ms) {
      stock.contradictions.push_back({ContradictionKind::before_it_began, stock.id, {entry.id}});
    }
    std::visit([&](const auto& body) { apply(entry, body); }, entry.body);
  }

  Stock stock;

 private:
  void begin(StockKind kind, const std::string& name, std::optional<Date> use_by, std::optional<double> volume_ml,
             std::optional<double> mass_g) {
    stock.kind = kind;
    stock.name = name;
    stock.use_by = use_by;
    stock.volume_ml.received = stock.volume_ml.left = volume_ml;
    stock.mass_g.received = stock.mass_g.left = mass_g;
  }

  void take(const Entry& entry, Level& level, std::optional<double> amount) {
    constexpr double kRounding = 1e-9;  // of sums of decimal fractions
    if (!amount) return;
    level.taken += *amount;
    if (!level.left) return;
    const double there = std::max(*level.left, 0.0);
    if (*amount > there + kRounding * (there + *amount)) {
      stock.contradictions.push_back({ContradictionKind::more_taken_than_there, stock.id, {entry.id}, *amount, there});
    }
    *level.left -= *amount;
  }
  static void set(Level& level, std::optional<double> amount) {
    if (amount) level.left = amount;
  }

  void apply(const Entry& entry, const LotTested& test) {
    if (test.lot != stock.id) return;
    stock.tests.push_back({entry.id, test.good, test.of});
    take(entry, stock.seeds, test.of);
  }
  void apply(const Entry& entry, const BatchStarted& start) {
    if (start.lot != stock.id) return;
    take(entry, stock.seeds, start.number);
    take(entry, stock.mass_g, start.mass_g);
  }
  void apply(const Entry& entry, const Mixed& mixed) {
    for (const Used& used : mixed.used) {
      if (used.stock != stock.id) continue;
      take(entry, stock.volume_ml, used.volume_ml);
      take(entry, stock.mass_g, used.mass_g);
    }
  }
  void apply(const Entry& entry, const Fed& fed) {
    if (fed.feed == stock.id) take(entry, stock.volume_ml, fed.volume_ml);
  }
  void apply(const Entry& entry, const Potted& potted) {
    if (potted.medium == stock.id && potted.number && potted.volume_ml) {
      take(entry, stock.volume_ml, *potted.number * *potted.volume_ml);
    }
  }
  void apply(const Entry&, const StockCounted& counted) {
    if (counted.stock != stock.id) return;
    set(stock.seeds, counted.seeds);
    set(stock.volume_ml, counted.volume_ml);
    set(stock.mass_g, counted.mass_g);
  }
  /// The others take nothing that can be told.
  void apply(const Entry&, const auto&) {}
};

}  // namespace

Stock fold_stock(const EntryId& id, Timeline timeline) {
  StockFold fold(id);
  each_entry(timeline, [&](const Entry& entry) {
    if (entry.id == id) fold.begin(entry);
  });
  each_entry(timeline, [&](const Entry& entry) { fold.take_in(entry); });
  return std::move(fold.stock);
}

}  // namespace strikebed::daybook

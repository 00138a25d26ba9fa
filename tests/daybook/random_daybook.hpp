#pragma once
// A daybook of random entries, sound one by one and, now and then, not true together.
#include <cstdint>
#include <string>
#include <utility>
#include <vector>

#include "daybook/entry_json.hpp"
#include "tests/daybook/making.hpp"

namespace strikebed::daybook {

class RandomDaybook {
 public:
  explicit RandomDaybook(std::uint64_t seed) : seed_(seed) {}

  /// So many entries of three devices; those before may be named by those that follow.
  std::vector<Entry> entries(int number) {
    std::vector<Entry> all;
    for (int i = 0; i < number; ++i) all.push_back(next(all));
    return all;
  }

  std::size_t below(std::size_t end) { return static_cast<std::size_t>(random_bits(seed_, ++draws_) % end); }

  template <class T>
  void shuffle(std::vector<T>& items) {
    for (std::size_t i = items.size(); i > 1; --i) std::swap(items[i - 1], items[below(i)]);
  }

 private:
  bool one_in(std::size_t n) { return below(n) == 0; }
  int number(int end) { return static_cast<int>(below(static_cast<std::size_t>(end))); }
  EntryId any(const std::vector<Entry>& all) { return all[below(all.size())].id; }
  EntryId some(const std::vector<EntryId>& ids, const std::vector<Entry>& all) {
    if (ids.empty() || one_in(60)) return all.empty() || one_in(3) ? id(below(1000)) : any(all);
    return ids[below(ids.size())];
  }

  Entry next(const std::vector<Entry>& all) {
    const std::uint64_t own = seed_ * 1'000'000 + all.size();
    const auto at =
        static_cast<std::int64_t>(all.size()) * 7 + static_cast<std::int64_t>(below(40)) - (one_in(20) ? 300 : 0);
    Entry one = entry(own, at, Remark{"x", {}}, {}, std::string(1, static_cast<char>('a' + below(3))));
    one.written = minute(at + static_cast<std::int64_t>(below(60)));
    if (!all.empty() && one_in(25)) {  // a near-twin
      const Entry& twin = all[below(all.size())];
      one.batch = twin.batch;
      one.body = twin.body;
      one.happened = twin.happened;
      one.happened.ms += static_cast<std::int64_t>(below(800'000));
    } else if (all.size() < 4 || one_in(12)) {
      one.body = start(all);
    } else if (one_in(10)) {
      one.body = Withdrawn{any(all), ""};
    } else if (one_in(8)) {
      one.body = of_stock(all);
    } else {
      one.batch = some(batches_, all);
      one.body = of_batch(all);
    }
    if (std::holds_alternative<BatchStarted>(one.body)) batches_.push_back(one.id);
    if (std::holds_alternative<LotReceived>(one.body)) lots_.push_back(one.id);
    if (std::holds_alternative<StockReceived>(one.body) || std::holds_alternative<Mixed>(one.body)) {
      bottles_.push_back(one.id);
    }
    if (std::holds_alternative<GoalSet>(one.body)) goals_.push_back(one.id);
    return one;
  }

  Body start(const std::vector<Entry>& all) {
    const std::int64_t counter = one_in(10) ? 5 : static_cast<std::int64_t>(all.size());
    switch (below(6)) {
      case 0:
        return LotReceived{"lot", "x", "", {}, 1000, 40.5};
      case 1:
        return StockReceived{Stuff::feed, "feed", 1000, {}, "", {}};
      case 2:
        return GoalSet{"goal", "x"};
      case 3:
        if (batches_.size() > 2) {
          std::vector<FromBatch> from{{some(batches_, all), number(9)}};
          const EntryId other = some(batches_, all);
          if (other != from[0].batch) from.push_back({other, number(9)});
          return cuttings(counter, std::move(from));
        }
        [[fallthrough]];
      default:
        return seeds(20 + number(200), counter, some(lots_, all));
    }
  }

  Body of_stock(const std::vector<Entry>& all) {
    switch (below(5)) {
      case 0:
        return LotTested{some(lots_, all), number(20), 20, {}, {}};
      case 1:
        return StockCounted{some(bottles_, all), {}, 10.0 * number(100), {}};
      case 2: {
        ForecastGiven forecast;
        forecast.goal = some(goals_, all);
        return forecast;
      }
      case 3:
        return Measured{"bench", 12.5, {}, {}, {}};
      default: {
        Mixed mixed;
        mixed.name = "mix";
        mixed.volume_ml = 100;
        mixed.used = {{some(bottles_, all), 0.1 * number(300), {}}};
        return mixed;
      }
    }
  }

  Body of_batch(const std::vector<Entry>& all) {
    switch (below(9)) {
      case 0:
      case 1:
        return Lost{1 + number(4), static_cast<LossCause>(below(kLossCauseNames.size()))};
      case 2:
        return alive(number(150));
      case 3:
        return counted();
      case 4:
        return group(some(batches_, all), number(6), number(2), number(2), number(3));
      case 5:
        return Moved{one_in(2) ? "door" : "window"};
      case 6:
        return HandedOver{1 + number(3), one_in(2) ? HandedHow::given : HandedHow::sold, ""};
      case 7:
        return Graded{BaseForm::radial, number(4), 4, {}, {}};
      default:
        return Remark{"seen", any(all)};
    }
  }

  Counted counted() {
    Counted one;
    one.rooted = number(10);
    if (one_in(2)) one.undecided = number(10);
    one.of = 20 + number(30);
    one.sample = one_in(3);
    one.destructive = one_in(5);
    return one;
  }

  std::uint64_t seed_;
  std::uint64_t draws_ = 0;
  std::vector<EntryId> batches_, lots_, bottles_, goals_;
};

}  // namespace strikebed::daybook

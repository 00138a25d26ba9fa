#include "example_daybook.hpp"

#include <cstdint>
#include <optional>
#include <string>
#include <utility>

#include "base/random.hpp"
#include "daybook/batch_code.hpp"

namespace strikebed::benchmarks {
namespace {

using namespace daybook;

constexpr int kLots = 10;
constexpr int kSowings = 30;
constexpr int kSessions = 6;
constexpr int kGroups = 10;
constexpr std::int64_t kDay = 86'400'000;

class Writing {
 public:
  std::vector<Entry> all;

  EntryId write(std::int64_t at_ms, Body body, std::optional<EntryId> batch = {}) {
    Entry entry;
    const std::uint64_t number = all.size() + 1;
    entry.id = {mixed_bits(number), mixed_bits(~number)};
    entry.happened = {1'600'000'000'000 + at_ms + static_cast<std::int64_t>(number % 1000), 120};
    entry.written = entry.happened;
    entry.device = number % 3 == 0 ? "tablet" : "phone";
    entry.batch = batch;
    entry.body = std::move(body);
    all.push_back(std::move(entry));
    return all.back().id;
  }
  std::string code() { return to_text(BatchCode{7, counter_++}); }

 private:
  std::int64_t counter_ = 0;
};

BatchStarted started(std::string code, Holds holds) {
  BatchStarted start;
  start.code = std::move(code);
  start.holds = holds;
  return start;
}

Counted emerged(int number) {
  Counted counted;
  counted.emerged = number;
  return counted;
}

Counted by_sign(int left) {
  Counted counted;
  counted.green = left / 4;
  counted.turning = left / 4;
  counted.red = left / 4;
  counted.faded = left - 3 * (left / 4);
  return counted;
}

Counted rooted(int number, int undecided) {
  Counted counted;
  counted.rooted = number;
  counted.undecided = undecided;
  return counted;
}

/// Of one batch of cuttings until it is potted: counts, losses, care.
void write_cuttings(Writing& book, std::int64_t day, const EntryId& batch) {
  for (int look = 1; look <= 5; ++look) {
    book.write((day + 14 * look) * kDay, rooted(8 * look, 60 - 9 * look), batch);
    if (look < 5) book.write((day + 14 * look + 3) * kDay, Lost{1, LossCause::dried}, batch);
  }
  for (int week = 1; week <= 6; ++week) {
    Fed fed;
    fed.volume_ml = 500;
    book.write((day + 40 + 7 * week) * kDay, std::move(fed), batch);
  }
  book.write(day * kDay, Moved{"tunnel"}, batch);
  book.write((day + 45) * kDay, Moved{"frame"}, batch);
  for (const Weaning step : {Weaning::less_mist, Weaning::vented, Weaning::finished}) {
    WeaningStep one;
    one.step = step;
    book.write((day + 45 + 7 * static_cast<int>(step)) * kDay, one, batch);
  }
  Potted potted;
  potted.container = "9 cm pot";
  book.write((day + 100) * kDay, std::move(potted), batch);
  book.write((day + 101) * kDay, Graded{BaseForm::radial, 20, 36, 80, 6}, batch);
  book.write((day + 102) * kDay, Remark{"needles a little pale on the north side of the bench", {}}, batch);
}

void write_sowing(Writing& book, std::int64_t day, const EntryId& lot) {
  BatchStarted start = started(book.code(), Holds::seeds);
  start.lot = lot;
  start.number = 500;
  const EntryId batch = book.write(day * kDay, std::move(start));
  book.write(day * kDay, Chilled{45, 4}, batch);
  Sown sown;
  sown.number = 500;
  sown.bench = "heated bed";
  book.write((day + 45) * kDay, std::move(sown), batch);
  for (int look = 0; look < 6; ++look) book.write((day + 55 + 3 * look) * kDay, emerged(70 * look), batch);
  for (int week = 0; week < 4; ++week) book.write((day + 75 + 7 * week) * kDay, Lost{3, LossCause::rotted}, batch);
  int left = 400;
  for (int session = 0; session < kSessions; ++session) {
    const std::int64_t on = day + 110 + 7 * session;
    book.write(on * kDay, by_sign(left), batch);
    BatchStarted cuttings = started(book.code(), Holds::cuttings);
    cuttings.from = {{batch, 0}};
    const EntryId into = book.write(on * kDay, std::move(cuttings));
    for (int group = 0; group < kGroups; ++group) {
      Struck one;
      one.into = into;
      one.offered = 7;
      one.rejected = 1;
      one.struck = 6;
      one.soak_s = 60;
      book.write(on * kDay + group * 600'000, std::move(one), batch);
    }
    left -= kGroups * 6;
    write_cuttings(book, on, into);
  }
}

}  // namespace

std::vector<Entry> example_daybook(int seasons) {
  Writing book;
  for (int season = 0; season < seasons; ++season) {
    const std::int64_t year = 365LL * season;
    std::vector<EntryId> lots;
    for (int i = 0; i < kLots; ++i) {
      lots.push_back(book.write(year * kDay, LotReceived{"lot", "pinus-thunbergii", "", {}, 4000, {}}));
      book.write((year + 1) * kDay, LotTested{lots.back(), 41, 50, 21, {}});
    }
    for (int i = 0; i < kSowings; ++i) write_sowing(book, year + 10 + i, lots[static_cast<std::size_t>(i % kLots)]);
  }
  return std::move(book.all);
}

}  // namespace strikebed::benchmarks

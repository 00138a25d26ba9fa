#pragma once
// Entries for tests, made in a line.
#include <cstdint>
#include <optional>
#include <string>
#include <utility>

#include "base/random.hpp"
#include "daybook/batch_code.hpp"
#include "daybook/entry.hpp"

namespace strikebed::daybook {

inline EntryId id(std::uint64_t number) { return {mixed_bits(number), mixed_bits(~number)}; }

/// So many minutes after the first of the usual daybook, on a clock two hours ahead of UTC.
inline Moment minute(std::int64_t minutes) { return {1'803'000'000'000 + minutes * 60'000, 120}; }

inline Entry entry(std::uint64_t number, std::int64_t at_minute, Body body, std::optional<EntryId> batch = {},
                   std::string device = "phone") {
  return {id(number), minute(at_minute), minute(at_minute), "", std::move(device), batch, "", std::move(body)};
}

inline BatchStarted seeds(int number, std::int64_t counter, std::optional<EntryId> lot = {}) {
  return {.code = to_text(BatchCode{7, counter}),
          .label = "",
          .species = "",
          .holds = Holds::seeds,
          .lot = lot,
          .number = number,
          .mass_g = {},
          .from = {}};
}
inline BatchStarted cuttings(std::int64_t counter, std::vector<FromBatch> from) {
  return {.code = to_text(BatchCode{7, counter}),
          .label = "",
          .species = "",
          .holds = Holds::cuttings,
          .lot = {},
          .number = {},
          .mass_g = {},
          .from = std::move(from)};
}
inline Counted alive(int number) {
  Counted counted;
  counted.alive = number;
  return counted;
}
inline Struck group(const EntryId& into, int struck, int rejected = 0, int broken = 0, int left_waiting = 0) {
  Struck one;
  one.into = into;
  one.offered = struck + rejected + broken + left_waiting;
  one.rejected = rejected;
  one.broken = broken;
  one.struck = struck;
  one.left_waiting = left_waiting;
  return one;
}

}  // namespace strikebed::daybook

#pragma once
// A daybook in three copies that cannot all be true together, for tests of merging.
#include <array>
#include <cstdint>
#include <string>
#include <vector>

#include "tests/daybook/making.hpp"

namespace strikebed::daybook {

/// Three phones, their clocks off by -3 days, 0 and +2 days, 300 entries each. Two of them made the same code; a
/// withdrawal comes before its target; an entry is withdrawn by two.
inline std::array<std::vector<Entry>, 3> three_copies() {
  constexpr std::array<std::int64_t, 3> kDaysOff{-3, 0, 2};
  std::array<std::vector<Entry>, 3> copies;
  for (std::size_t phone = 0; phone < copies.size(); ++phone) {
    const std::uint64_t first = 10'000 * (phone + 1);
    for (std::uint64_t i = 0; i < 300; ++i) {
      const std::int64_t at = static_cast<std::int64_t>(i) * 30 + kDaysOff[phone] * 24 * 60;
      // The first two phones begin with one code, and all write of the batch of the second too.
      const std::int64_t counter = static_cast<std::int64_t>(phone == 2 ? 1000 : 500) + static_cast<std::int64_t>(i);
      Entry one = i == 0        ? entry(first, at, seeds(200, counter))
                  : i % 50 == 0 ? entry(first + i, at,
                                        cuttings(counter + static_cast<std::int64_t>(1000 * phone), {{id(first), 10}}))
                  : i % 7 == 0  ? entry(first + i, at, alive(200 - static_cast<int>(i / 3)), id(i % 2 ? first : 20'000))
                                : entry(first + i, at, Lost{1, LossCause::dried}, id(i % 3 ? first : 20'000));
      one.device = std::string("phone ") + static_cast<char>('A' + phone);
      copies[phone].push_back(one);
    }
  }
  // Of an entry that only the third phone has, which the first was told of; and one that two withdraw.
  copies[0][100].batch = {};
  copies[0][100].body = Withdrawn{copies[2][201].id, "told by telephone"};
  for (const std::size_t phone : {1U, 2U}) {
    copies[phone][110].batch = {};
    copies[phone][110].body = Withdrawn{copies[0][11].id, ""};
  }
  return copies;
}

}  // namespace strikebed::daybook

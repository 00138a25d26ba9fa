#include "daybook/exchange.hpp"

#include <algorithm>
#include <iterator>
#include <limits>

namespace strikebed::daybook {
namespace {

constexpr EntryId kFirst{};
constexpr EntryId kLast{std::numeric_limits<std::uint64_t>::max(), std::numeric_limits<std::uint64_t>::max()};

using Ids = std::span<const EntryId>;

Ids within(Ids ids, const EntryId& from, const EntryId& to) {
  const auto first = std::ranges::lower_bound(ids, from);
  return {first, std::ranges::upper_bound(first, ids.end(), to)};
}

EntryId after(const EntryId& id) { return {id.high + (id.low == kLast.low ? 1 : 0), id.low + 1}; }

std::vector<EntryId> without(Ids ids, Ids others) {
  std::vector<EntryId> rest;
  std::ranges::set_difference(ids, others, std::back_inserter(rest));
  return rest;
}

/// A range that two copies differ in, as one of them holds it: listed, or in parts of as many ids each.
void describe(const EntryId& from, const EntryId& to, Ids ids, std::vector<IdRange>& ranges) {
  if (ids.size() <= kListedAtMost) {
    ranges.push_back({from, to, std::vector<EntryId>(ids.begin(), ids.end())});
    return;
  }
  EntryId begin = from;
  for (std::size_t part = 0; part < kParts; ++part) {
    const std::size_t first = ids.size() * part / kParts;
    const std::size_t past = ids.size() * (part + 1) / kParts;
    const EntryId end = part + 1 == kParts ? to : ids[past - 1];
    ranges.push_back({begin, end, digest_of(ids.subspan(first, past - first))});
    begin = after(end);
  }
}

class Answer {
 public:
  Answer(Ids ids, const std::function<std::optional<Entry>(const EntryId&)>& find) : ids_(ids), find_(find) {}

  Message to(const Message& message) {
    for (const IdRange& range : message.ranges) {
      const Ids mine = within(ids_, range.from, range.to);
      if (const auto* theirs = std::get_if<std::vector<EntryId>>(&range.holds)) {
        settle(range, mine, *theirs);
      } else if (std::get<Digest>(range.holds) != digest_of(mine)) {
        describe(range.from, range.to, mine, answer_.ranges);
      }
    }
    give(message.wanted);
    join_the_last();
    return std::move(answer_);
  }

 private:
  void settle(const IdRange& range, Ids mine, Ids theirs) {
    const std::vector<EntryId> missing = without(theirs, mine);
    answer_.wanted.insert(answer_.wanted.end(), missing.begin(), missing.end());
    const std::vector<EntryId> given = without(mine, theirs);
    if (given.size() > kGivenAtMost) {
      describe(range.from, range.to, mine, answer_.ranges);
    } else if (given.size() > room_) {
      answer_.ranges.push_back({range.from, range.to, digest_of(mine)});  // for another message
    } else {
      room_ -= given.size();
      give(given);
    }
  }

  void give(Ids ids) {
    for (const EntryId& id : ids) {
      if (auto entry = find_(id)) answer_.entries.push_back(std::move(*entry));
    }
  }

  /// Those that are too many become one.
  void join_the_last() {
    std::vector<IdRange>& ranges = answer_.ranges;
    if (ranges.size() <= kRangesAtMost) return;
    const EntryId from = ranges[kRangesAtMost - 1].from;
    const EntryId to = ranges.back().to;
    ranges.resize(kRangesAtMost - 1);
    ranges.push_back({from, to, digest_of(within(ids_, from, to))});
  }

  Ids ids_;
  const std::function<std::optional<Entry>(const EntryId&)>& find_;
  std::size_t room_ = kGivenAtMost;
  Message answer_;
};

}  // namespace

Digest digest_of(Ids ids) {
  constexpr int kHighest = 56;
  std::string bytes;
  bytes.reserve(ids.size() * 16);
  for (const EntryId& id : ids) {
    for (const std::uint64_t half : {id.high, id.low}) {
      for (int shift = kHighest; shift >= 0; shift -= 8) bytes += static_cast<char>(half >> shift);
    }
  }
  return sha256(bytes);
}

Message opening(Ids ids) { return {{{kFirst, kLast, digest_of(ids)}}, {}, {}}; }

Message answer(Ids ids, const Message& message, const std::function<std::optional<Entry>(const EntryId&)>& find) {
  return Answer(ids, find).to(message);
}

}  // namespace strikebed::daybook

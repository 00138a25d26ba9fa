#pragma once
// An entry of every kind, with all of its fields filled, and one with as few as the kind allows.
#include <string>
#include <type_traits>
#include <vector>

#include "tests/daybook/making.hpp"

namespace strikebed::daybook {

/// Puts something allowed into each field; `all`: also where it may be left out. The numbers rise, so that none stands
/// for another, and are small enough for what must not be more than something else.
struct Filling {
  bool all;
  int next = 1;

  void operator()(const Field& field, int& into) {
    into = static_cast<int>(field.low);
    if (into == 0 && all && field.name != "fit" && field.name != "good") into = 1;
  }
  void operator()(const Field& field, double& into) { into = field.low + (field.high - field.low) * 0.001 * ++next; }
  void operator()(const Field& field, std::string& into) {
    if (field.low == 0 && !all) return;
    if (field.name == "code") {
      into = to_text(BatchCode{3, 9});
    } else if (field.low == field.high) {
      into = std::string(static_cast<std::size_t>(field.low), 'a');
    } else {
      into = "some \"words\", \xc3\xa4 " + std::to_string(++next);
    }
  }
  void operator()(const Field&, bool& into) { into = all; }
  void operator()(const Field&, EntryId& into) { into = id(static_cast<std::uint64_t>(++next)); }
  void operator()(const Field&, Date& into) { into = make_date(2027, 5, 1) + Days{++next}; }
  void operator()(const Field&, Moment& into) { into = minute(++next); }
  template <class Word>
    requires std::is_enum_v<Word>
  void operator()(const Field&, Word& into) {
    into = static_cast<Word>(names_of(Word{}).size() - 1);
  }
  template <class T>
  void operator()(const Field& field, std::optional<T>& into) {
    if (all) (*this)(field, into.emplace());
  }
  template <class T>
  void operator()(const Field&, std::vector<T>& into) {
    if (!all) return;
    for (int i = 0; i < 2; ++i) T::fields(into.emplace_back(), *this);
  }
};

/// Where fields that are all filled could not be true together, or too few are.
inline void mend(BatchStarted& start, bool all) {
  if (all) start.from.clear();
}
inline void mend(Counted& counted, bool all) {
  if (!all) counted.alive = 7;
  if (!all) return;
  counted.of = 9;
  counted.alive = 8;
  counted.undecided = 2;
}
inline void mend(Struck& group, bool all) {
  if (all) group.offered = 30;
}
inline void mend(StockCounted& counted, bool all) {
  if (!all) counted.mass_g = 1.5;
}
inline void mend(Measured& measured, bool all) {
  if (!all) measured.humidity_pct = 81.5;
}
inline void mend(auto&, bool) {}

template <std::size_t kKind = 0>
void add_of_each(std::vector<Entry>& all) {
  if constexpr (kKind < std::variant_size_v<Body>) {
    using B = std::variant_alternative_t<kKind, Body>;
    if constexpr (ReadBody<B>) {
      for (const bool full : {true, false}) {
        B body;
        Filling fill{full};
        B::fields(body, fill);
        mend(body, full);
        const bool of_batch = B::kAbout == About::batch || (B::kAbout == About::maybe_batch && full);
        Entry one = entry(100 + 2 * kKind + full, static_cast<std::int64_t>(kKind), std::move(body),
                          of_batch ? std::optional(id(1)) : std::nullopt);
        one.written = minute(1000);
        if (full) one.who = "Ann";
        if (full) one.typed = "as typed";
        all.push_back(std::move(one));
      }
    }
    add_of_each<kKind + 1>(all);
  }
}

inline std::vector<Entry> one_of_each() {
  std::vector<Entry> all;
  add_of_each(all);
  return all;
}

}  // namespace strikebed::daybook

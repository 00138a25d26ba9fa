#include "daybook/doubles.hpp"

#include <algorithm>
#include <bit>

#include "base/random.hpp"
#include "daybook/mention.hpp"

namespace strikebed::daybook {
namespace {

/// 64 well-mixed bits of what twins have in common. That others have the same is one chance in 10^19.
struct Content {
  std::uint64_t bits;

  void add(std::uint64_t more) { bits = mixed_bits(bits ^ more); }
  void value(int number) { add(static_cast<std::uint64_t>(number)); }
  void value(bool yes) { add(yes ? 1 : 0); }
  void value(double number) { add(std::bit_cast<std::uint64_t>(number + 0.0)); }  // -0 is 0
  void value(const std::string& text) { add(name_bits(text)); }
  void value(Date day) { add(static_cast<std::uint64_t>(day.time_since_epoch().count())); }
  void value(const Moment&) {}
  void value(const EntryId& id) {
    add(id.high);
    add(id.low);
  }
  template <class Word>
    requires std::is_enum_v<Word>
  void value(Word word) {
    add(static_cast<std::uint64_t>(word));
  }
  template <class T>
  void value(const std::optional<T>& maybe) {
    add(maybe ? 1 : 0);
    if (maybe) value(*maybe);
  }
  template <class T>
  void value(const std::vector<T>& items) {
    add(items.size());
    for (const T& item : items) body(item);
  }
  template <class B>
  void body(const B& fields) {
    B::fields(fields, [&](const Field& field, const auto& one) {
      if (!field.is_note) value(one);
    });
  }
};

std::uint64_t content_of(const Entry& entry) {
  Content content{entry.body.index()};
  content.value(entry.batch);
  std::visit(
      [&](const auto& body) {
        if constexpr (ReadBody<std::decay_t<decltype(body)>>) content.body(body);
      },
      entry.body);
  return content.bits;
}

}  // namespace

void Doubles::add(const Entry& entry) {
  if (std::holds_alternative<Unread>(entry.body) || std::holds_alternative<Withdrawn>(entry.body)) return;
  all_.push_back({0, &entry});
}

void Doubles::sort() {
  const auto before = [](const Known& a, const Known& b) {
    return a.content != b.content ? a.content < b.content : is_before(*a.entry, *b.entry);
  };
  for (std::size_t i = sorted_; i < all_.size(); ++i) all_[i].content = content_of(*all_[i].entry);
  const auto middle = all_.begin() + static_cast<std::ptrdiff_t>(sorted_);
  std::sort(middle, all_.end(), before);
  std::inplace_merge(all_.begin(), middle, all_.end(), before);
  sorted_ = all_.size();
}

void Doubles::add_runs(const std::vector<const Entry*>& alike, std::vector<PossibleDouble>& found) {
  for (auto first = alike.begin(); first != alike.end();) {
    const auto end = std::adjacent_find(first, alike.end(), [](const Entry* a, const Entry* b) {
      return b->happened.ms - a->happened.ms > kTwinsWithinMs;
    });
    const auto past = end == alike.end() ? end : end + 1;
    if (std::any_of(first, past, [&](const Entry* one) { return one->device != (*first)->device; })) {
      PossibleDouble run{(*first)->batch, {}};
      std::for_each(first, past, [&](const Entry* one) { run.entries.push_back(one->id); });
      found.push_back(std::move(run));
    }
    first = past;
  }
}

}  // namespace strikebed::daybook

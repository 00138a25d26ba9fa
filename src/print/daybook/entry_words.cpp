#include "print/daybook/entry_words.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <type_traits>
#include <variant>
#include <vector>

#include "base/shown_text.hpp"
#include "print/daybook/field_words.hpp"
#include "print/number_words.hpp"

namespace strikebed::print {
namespace {

using namespace daybook;

constexpr std::size_t kLongestText = 60;

std::string value_words(const Field&, int number, const State&) { return fmt::format("{}", number); }
std::string value_words(const Field& field, double number, const State&) {
  const FieldUnit* unit = unit_of(field.name);
  return unit ? fmt::format("{} {}", number, unit->name) : fmt::format("{}", number);
}
std::string value_words(const Field& field, const std::string& text, const State&) {
  return field.is_note ? shortened(text, kLongestText) : quoted(text, kLongestText);
}
std::string value_words(const Field&, const EntryId& id, const State& state) { return name_of(id, state); }
std::string value_words(const Field&, const Moment& moment, const State&) { return to_iso(moment).substr(11, 5); }
std::string value_words(const Field&, Date day, const State&) { return short_date(day); }
template <class Word>
  requires std::is_enum_v<Word>
std::string value_words(const Field&, Word word, const State&) {
  return spoken_choice(names_of(Word{})[static_cast<std::size_t>(word)]);
}

/// The fields that say something, each as a part of a sentence.
struct Parts {
  const State& state;
  std::vector<std::string> words = {};

  template <class T>
  void operator()(const Field& field, const std::optional<T>& value) {
    if (value) (*this)(field, *value);
  }
  void operator()(const Field& field, int count) {
    if (count != 0 || !is_left_unsaid_at_0(field.name)) add(field, count);
  }
  void operator()(const Field& field, bool yes) {
    if (yes) words.push_back(spoken_field(field.name));
  }
  template <class T>
  void operator()(const Field& field, const std::vector<T>& items) {
    for (const T& item : items) {
      std::vector<std::string> parts;
      T::fields(item, [&]<class V>(const Field& of, const V& value) {
        if constexpr (requires { value.has_value(); }) {
          if (value) parts.push_back(value_words(of, *value, state));
        } else if constexpr (std::is_same_v<V, int>) {
          if (value != 0) parts.push_back(value_words(of, value, state));
        } else {
          parts.push_back(value_words(of, value, state));
        }
      });
      words.push_back(fmt::format("{} {}", spoken_item(field.name), fmt::join(parts, " ")));
    }
  }
  template <class T>
  void operator()(const Field& field, const T& value) {
    if constexpr (std::is_same_v<T, std::string>) {
      if (value.empty() || field.high > kLongestNote) return;  // a whole file
    }
    add(field, value);
  }

 private:
  static bool is_left_unsaid_at_0(std::string_view name) {
    return name == "rejected" || name == "broken" || name == "left_waiting";
  }
  template <class T>
  void add(const Field& field, const T& value) {
    const std::string said = value_words(field, value, state);
    if (std::is_enum_v<T> || field.name == "number" || field.name == "text" || field.name == "target") {
      words.push_back(said);
    } else if (field.name == "of" && !words.empty()) {
      words.back() += fmt::format(" of {}", said);
    } else {
      words.push_back(fmt::format("{} {}", spoken_field(field.name), said));
    }
  }
};

}  // namespace

std::string short_id(const EntryId& id) {
  constexpr std::size_t kDigits = 8;
  return fmt::format("#{}", to_text(id).substr(0, kDigits));
}

std::string name_of(const EntryId& id, const State& state) {
  if (const auto batch = state.batches.find(id); batch != state.batches.end()) return batch->second.code;
  if (const auto stock = state.stocks.find(id); stock != state.stocks.end()) return stock->second.name;
  if (const auto goal = state.goals.find(id); goal != state.goals.end()) return goal->second.name;
  return short_id(id);
}

std::string entry_words(const Entry& entry, const State& state) {
  return std::visit(
      [&]<class B>(const B& body) -> std::string {
        if constexpr (ReadBody<B>) {
          Parts parts{state};
          B::fields(body, parts);
          const std::string kind = spoken_kind(B::kKind);
          return parts.words.empty() ? kind : fmt::format("{}: {}", kind, fmt::join(parts.words, ", "));
        } else {
          return "an entry of a later version";
        }
      },
      entry.body);
}

std::string moment_words(const Moment& moment) {
  return fmt::format("{} {}", short_date(local_day(moment)), to_iso(moment).substr(11, 5));
}

}  // namespace strikebed::print

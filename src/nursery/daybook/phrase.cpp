#include "nursery/daybook/phrase.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <type_traits>
#include <variant>

#include "base/nearest.hpp"
#include "base/number.hpp"
#include "base/shown_text.hpp"
#include "base/text.hpp"
#include "print/daybook/field_words.hpp"

namespace strikebed::nursery {
namespace {

using daybook::EntryId;
using daybook::Field;
using daybook::kIsList;
using daybook::Refers;

constexpr std::size_t kShown = 40;

template <class T>
struct Optional : std::false_type {
  using Value = T;
};
template <class T>
struct Optional<std::optional<T>> : std::true_type {
  using Value = T;
};
template <class T>
using ValueOf = typename Optional<T>::Value;

template <class T>
constexpr bool kIsNumber = std::is_same_v<T, int> || std::is_same_v<T, double>;

/// What it takes to read a value.
struct Reader {
  Phrase& phrase;
  Date today;
  const Names& names;
  std::optional<Error> wrong = {};

  void fail(std::string problem, std::string allowed, std::string_view field = {}) {
    if (!wrong) {
      wrong = Error{.problem = std::move(problem), .allowed = std::move(allowed), .field = print::spoken_field(field)};
    }
  }
  std::string_view take() {
    const std::string_view word = phrase.peek();
    if (!phrase.is_over()) ++phrase.next;
    return word;
  }
};

/// A number that may be written together with its unit: "60s" is 60 and "s".
std::optional<LeadingNumber> number_at(std::string_view word) {
  const auto number = parse_leading_number(word);
  if (!number || (!number->rest.empty() && number->rest.front() == '-')) return std::nullopt;  // a day
  return number;
}
bool is_number(std::string_view word) { return number_at(word).has_value(); }

/// Without the noise of a conversion: 75.2 F is 24 C.
double to_nine_digits(double number) {
  constexpr double kNinth = 1e9;
  return std::round(number * kNinth) / kNinth;
}

/// The number in the format's own unit, from one in another.
std::optional<double> in_own_unit(double number, const print::FieldUnit& unit, std::string_view typed) {
  if (typed == unit.name) return number;
  for (const print::OtherUnit& other : unit.others) {
    if (other.name == typed) return to_nine_digits((number - other.zero) * other.factor);
  }
  return std::nullopt;
}

std::string units_words(const print::FieldUnit& unit) {
  std::string words(unit.name);
  for (const print::OtherUnit& other : unit.others) words += fmt::format(", {}", other.name);
  return words;
}

// Each takes the words of one value.

void take_value(Reader& reader, const Field& field, double& into) {
  const std::string_view word = reader.take();
  const auto found = number_at(word);
  const print::FieldUnit* unit = print::unit_of(field.name);
  const std::string allowed =
      fmt::format("a number from {} to {}{}", field.low, field.high, unit ? fmt::format(" {}", unit->name) : "");
  if (!found) return reader.fail(fmt::format("found {}", quoted(word, kShown)), allowed, field.name);
  double number = found->number;
  if (unit) {
    const bool together = !found->rest.empty();
    const std::string_view written = together ? found->rest : reader.phrase.peek();
    if (const auto own = in_own_unit(number, *unit, written)) {
      number = *own;
      if (!together) ++reader.phrase.next;
    } else if (together) {
      return reader.fail(fmt::format("found {}", quoted(word, kShown)),
                         fmt::format("a number in {}", units_words(*unit)), field.name);
    }
  } else if (!found->rest.empty()) {
    return reader.fail(fmt::format("found {}", quoted(word, kShown)), allowed, field.name);
  }
  if (!(number >= field.low && number <= field.high)) {
    return reader.fail(fmt::format("found {}", quoted(word, kShown)), allowed, field.name);
  }
  into = number;
}

void take_value(Reader& reader, const Field& field, int& into) {
  const std::string word(reader.phrase.peek());
  double number = 0;
  take_value(reader, field, number);
  if (reader.wrong) return;
  if (number != std::floor(number)) {
    return reader.fail(fmt::format("found {}", quoted(word, kShown)), "a whole number", field.name);
  }
  into = static_cast<int>(number);
}

void take_value(Reader& reader, const Field& field, std::string& into) {
  into = field.is_note ? reader.phrase.rest() : std::string(reader.take());
  if (into.empty()) return reader.fail("its value is missing", "words", field.name);
  if (static_cast<double>(into.size()) > field.high) {
    reader.fail(fmt::format("it is {} bytes long", into.size()), fmt::format("{} bytes", field.high), field.name);
  }
}

void take_value(Reader& /*reader*/, const Field& /*field*/, bool& into) {
  into = true;  // its name says it
}

void take_value(Reader& reader, const Field& field, Date& into) {
  const std::string_view word = reader.take();
  const auto day = read_day(word, reader.today);
  if (!day) {
    return reader.fail(fmt::format("found {}", quoted(word, kShown)), "a day such as 2027-04-18", field.name);
  }
  into = *day;
}

void take_value(Reader& reader, const Field& field, daybook::Moment& into) {
  const std::string_view word = reader.take();
  const auto moment = daybook::parse_iso_moment(word);
  if (!moment) {
    return reader.fail(fmt::format("found {}", quoted(word, kShown)), "a moment such as 2027-04-18T09:30:00.000+02:00",
                       field.name);
  }
  into = *moment;
}

void take_value(Reader& reader, const Field& field, EntryId& into) {
  const std::string_view word = reader.take();
  const auto found = reader.names.find(word, field.refers);
  if (!found.ok()) return reader.fail(found.error().problem, found.error().allowed, field.name);
  into = *found;
}

/// "never came up" as "never-came-up", too.
template <class Word>
std::optional<Word> choice(std::string_view typed) {
  const auto plain = [](std::string_view text) {
    std::string same = lower(text);
    std::ranges::replace(same, '-', '_');
    std::ranges::replace(same, ' ', '_');
    return same;
  };
  const auto& all = names_of(Word{});
  for (std::size_t i = 0; i < all.size(); ++i) {
    if (plain(all[i]) == plain(typed)) return static_cast<Word>(i);
  }
  return std::nullopt;
}

template <class Word>
  requires std::is_enum_v<Word>
void take_value(Reader& reader, const Field& field, Word& into) {
  const std::string_view word = reader.take();
  const auto found = choice<Word>(word);
  if (!found) {
    return reader.fail(fmt::format("found {}{}", quoted(word, kShown), did_you_mean(word, names_of(Word{}))),
                       fmt::format("{}", fmt::join(names_of(Word{}), ", ")), field.name);
  }
  into = *found;
}

template <class T>
void take_value(Reader& reader, const Field& field, std::vector<T>& into) {
  if (static_cast<double>(into.size()) >= field.high) {
    return reader.fail(fmt::format("there are more than {}", field.high), "fewer", field.name);
  }
  T& item = into.emplace_back();
  T::fields(item, [&](const Field& of, auto& value) {
    using Held = std::decay_t<decltype(value)>;
    using Value = ValueOf<Held>;
    if (reader.wrong) return;
    if constexpr (Optional<Held>::value) {  // where it is there: an amount in a unit that is this field's
      const auto number = number_at(reader.phrase.peek());
      const print::FieldUnit* unit = print::unit_of(of.name);
      if (!number || !unit) return;
      const std::string_view written = number->rest.empty() ? reader.phrase.peek(1) : number->rest;
      if (!in_own_unit(1, *unit, written)) return;
      Value taken{};
      take_value(reader, of, taken);
      value = taken;
    } else {
      take_value(reader, of, value);
    }
  });
}

template <class T>
void take_into(Reader& reader, const Field& field, T& into) {
  if constexpr (Optional<T>::value) {
    ValueOf<T> value{};
    take_value(reader, field, value);
    if (!reader.wrong) into = value;
  } else {
    take_value(reader, field, into);
  }
}

/// The names that may be typed for a field.
template <class T>
std::string typed_name(const Field& field) {
  return kIsList<T> ? print::spoken_item(field.name) : print::spoken_field(field.name);
}

/// One body on its way: what was said of it so far.
template <class B>
class BodyWords {
 public:
  BodyWords(Reader& reader, std::string_view main, B& body) : reader_(reader), main_(main), body_(body) {}

  void read() {
    while (!reader_.wrong && !reader_.phrase.is_over()) {
      if (!(take_named() || take_number() || take_choice() || take_when() || take_in_order()) && !reader_.wrong) {
        refuse();
      }
    }
  }

 private:
  /// Calls with each field that fits until one takes.
  template <class Take>
  bool first_that(const Take& take) {
    bool taken = false;
    B::fields(body_, [&](const Field& field, auto& value) {
      if (taken || reader_.wrong) return;
      taken = take(field, value);
      if (taken) said_.push_back(field.name);
    });
    return taken;
  }
  [[nodiscard]] bool is_said(const Field& field) const { return std::ranges::find(said_, field.name) != said_.end(); }

  bool take_named() {
    const std::string word = lower(reader_.phrase.peek());
    return first_that([&]<class T>(const Field& field, T& value) {
      if (word != typed_name<T>(field)) return false;
      if (is_said(field) && !kIsList<T>) {
        reader_.fail("it is there twice", "once", field.name);
        return false;
      }
      ++reader_.phrase.next;
      take_into(reader_, field, value);
      return true;
    });
  }

  /// A number: of the field whose name stands behind it, unless that has a number of its own; else the main one.
  bool take_number() {
    if (!is_number(reader_.phrase.peek())) return false;
    const std::string behind = lower(reader_.phrase.peek(1));
    const bool has_own = is_number(reader_.phrase.peek(2));
    const auto take_for = [&](const auto& wanted) {
      return first_that([&]<class T>(const Field& field, T& value) {
        if constexpr (kIsNumber<ValueOf<T>>) {
          if (!wanted(field) || is_said(field)) return false;
          take_into(reader_, field, value);
          return true;
        }
        return false;
      });
    };
    if (!has_own && take_for([&](const Field& field) { return print::spoken_field(field.name) == behind; })) {
      if (!reader_.wrong) ++reader_.phrase.next;
      return true;
    }
    return take_for([&](const Field& field) { return field.name == main_; });
  }

  bool take_choice() {
    return first_that([&]<class T>(const Field& field, T& value) {
      if constexpr (std::is_enum_v<T>) {
        const auto found = choice<T>(reader_.phrase.peek());
        if (!found || is_said(field)) return false;
        ++reader_.phrase.next;
        value = *found;
        return true;
      }
      return false;
    });
  }

  /// A day, with or without "on"; "at" a time.
  bool take_when() {
    Phrase& phrase = reader_.phrase;
    if (lower(phrase.peek()) == "at") {
      const auto time = read_time(phrase.peek(1));
      if (!time) return false;
      phrase.at_minute = time;
      phrase.next += 2;
      return true;
    }
    const bool with_on = lower(phrase.peek()) == "on";
    const std::string_view word = phrase.peek(with_on ? 1 : 0);
    const bool is_weekday = parse_weekday(word).has_value();
    const auto day = is_weekday && !with_on ? std::nullopt : read_day(word, reader_.today);
    if (!day) return false;
    phrase.on = day;
    phrase.next += with_on ? 2 : 1;
    return true;
  }

  /// The first of what must be there and is not said yet: a text, or the name of something.
  bool take_in_order() {
    return first_that([&]<class T>(const Field& field, T& value) {
      const bool must = std::is_same_v<T, EntryId> || (std::is_same_v<T, std::string> && field.low > 0);
      if (!must || is_said(field)) return false;
      take_into(reader_, field, value);
      return true;
    });
  }

  void refuse() {
    std::vector<std::string> known;
    B::fields(body_, [&]<class T>(const Field& field, const T&) {
      if constexpr (std::is_enum_v<T>) {
        for (const std::string_view one : names_of(T{})) known.emplace_back(one);
      } else {
        known.push_back(typed_name<T>(field));
      }
    });
    const std::vector<std::string_view> views(known.begin(), known.end());
    const std::string_view word = reader_.phrase.peek();
    reader_.fail(fmt::format("found {}{}", quoted(word, kShown), did_you_mean(word, views)),
                 fmt::format("{}; a day such as yesterday or 2027-04-18", fmt::join(known, ", ")));
  }

  Reader& reader_;
  std::string_view main_;
  B& body_;
  std::vector<std::string_view> said_;
};

}  // namespace

std::string Phrase::rest() {
  std::string text = fmt::format("{}", fmt::join(words.subspan(std::min(next, words.size())), " "));
  next = words.size();
  return text;
}

std::optional<Date> read_day(std::string_view typed, Date today) {
  const std::string word = lower(typed);
  if (word == "today") return today;
  if (word == "yesterday") return today - Days{1};
  if (const auto day = parse_iso_date(word)) return day;
  if (const auto weekday = parse_weekday(word)) return today - Days{(weekday_of(today) - *weekday + 7) % 7};
  return std::nullopt;
}

std::optional<int> read_time(std::string_view typed) {
  const std::size_t colon = typed.find(':');
  const auto digits = [](std::string_view text) -> std::optional<int> {
    if (text.empty() || text.size() > 2) return std::nullopt;
    int number = 0;
    for (const char c : text) {
      if (c < '0' || c > '9') return std::nullopt;
      number = number * 10 + (c - '0');
    }
    return number;
  };
  if (colon == std::string_view::npos || typed.size() - colon != 3) return std::nullopt;
  const auto hour = digits(typed.substr(0, colon));
  const auto minute = digits(typed.substr(colon + 1));
  if (!hour || !minute || *hour > 23 || *minute > 59) return std::nullopt;
  return *hour * 60 + *minute;
}

std::optional<Error> read_words(Phrase& phrase, std::string_view main, Date today, const Names& names,
                                daybook::Body& body) {
  Reader reader{phrase, today, names};
  std::visit(
      [&]<class B>(B& of) {
        if constexpr (daybook::ReadBody<B>) BodyWords<B>(reader, main, of).read();
      },
      body);
  return reader.wrong;
}

}  // namespace strikebed::nursery

#include "daybook/kept_json.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <string>
#include <type_traits>
#include <utility>

#include "base/number.hpp"
#include "daybook/entry_envelope.hpp"
#include "daybook/entry_json.hpp"

namespace strikebed::daybook {
namespace {

/// The text that is left to be read. Whatever is not just as it was written makes it unread, and no more is read then.
class Text {
 public:
  explicit Text(std::string_view rest) : rest_(rest) {}

  [[nodiscard]] bool is_read() const { return is_read_; }
  [[nodiscard]] bool at_end() const { return rest_.empty(); }
  void give_up() { is_read_ = false; }

  bool skip(std::string_view text) {
    if (!is_read_ || !rest_.starts_with(text)) return false;
    rest_.remove_prefix(text.size());
    return true;
  }
  void expect(std::string_view text) {
    if (!skip(text)) give_up();
  }
  /// A key with its colon, and the comma before it where it is not the first.
  bool skip_key(std::string_view name, bool is_first) {
    const std::size_t at = is_first ? 1 : 2;  // of the name
    if (!is_read_ || rest_.size() < at + name.size() + 2) return false;
    if (rest_.substr(at, name.size()) != name || !rest_.substr(at + name.size()).starts_with("\":")) return false;
    if (!rest_.starts_with(is_first ? "\"" : ",\"")) return false;
    rest_.remove_prefix(at + name.size() + 2);
    return true;
  }
  /// What stands in quotation marks, of plain letters only: no other needs to be looked at twice.
  std::string_view string() {
    const auto is_plain = [](char c) {
      return static_cast<unsigned char>(c) >= 0x20 && static_cast<unsigned char>(c) < 0x7f && c != '"' && c != '\\';
    };
    expect("\"");
    const auto end = std::ranges::find_if_not(rest_, is_plain);
    const std::string_view text = rest_.substr(0, static_cast<std::size_t>(end - rest_.begin()));
    rest_.remove_prefix(text.size());
    expect("\"");
    return text;
  }
  /// What stands there of a number.
  std::string_view number() {
    const std::size_t end = std::min(rest_.find_first_of(",}]"), rest_.size());
    const std::string_view text = rest_.substr(0, end);
    rest_.remove_prefix(end);
    return text;
  }

 private:
  std::string_view rest_;
  bool is_read_ = true;
};

bool is_in(double number, const Field& field) { return number >= field.low && number <= field.high; }

bool is_digit(char c) { return c >= '0' && c <= '9'; }

/// Digits, a point and digits: all numbers but the largest and smallest, and nothing that JSON has not.
bool is_plain_number(std::string_view text) {
  if (text.starts_with('-')) text.remove_prefix(1);
  const auto point = std::min(text.find('.'), text.size());
  const std::string_view whole = text.substr(0, point);
  const std::string_view behind = text.substr(point);
  return !whole.empty() && (whole.size() == 1 || whole[0] != '0') && std::ranges::all_of(whole, is_digit) &&
         behind.size() != 1 && std::ranges::all_of(behind.substr(std::min<std::size_t>(1, behind.size())), is_digit);
}

template <class T>
void read_in_order(Text& text, T& into);

void read_value(Text& text, const Field& field, double& into) {
  const std::string_view digits = text.number();
  const auto number = is_plain_number(digits) ? parse_number(digits) : std::nullopt;
  // A nought with a sign is one to some readers and none to others.
  if (!number || !is_in(*number, field) || (*number == 0 && digits[0] == '-')) return text.give_up();
  into = *number;
}
void read_value(Text& text, const Field& field, int& into) {
  double number = 0;
  read_value(text, field, number);
  if (number != std::floor(number)) return text.give_up();
  into = static_cast<int>(number);
}
void read_value(Text& text, const Field& field, std::string& into) {
  into = text.string();
  if (!is_in(static_cast<double>(into.size()), field)) text.give_up();
}
void read_value(Text& text, const Field&, bool& into) {
  text.expect("true");
  into = true;
}
template <class T>
void put(Text& text, const std::optional<T>& read, T& into) {
  read ? static_cast<void>(into = *read) : text.give_up();
}
void read_value(Text& text, const Field&, EntryId& into) { put(text, parse_entry_id(text.string()), into); }
void read_value(Text& text, const Field&, Moment& into) { put(text, parse_iso_moment(text.string()), into); }
void read_value(Text& text, const Field&, Date& into) { put(text, parse_iso_date(text.string()), into); }
template <class Word>
  requires std::is_enum_v<Word>
void read_value(Text& text, const Field&, Word& into) {
  const auto& names = names_of(Word{});
  const auto name = std::ranges::find(names, text.string());
  name == names.end() ? text.give_up() : static_cast<void>(into = static_cast<Word>(name - names.begin()));
}
template <class T>
void read_value(Text& text, const Field& field, std::vector<T>& into) {
  text.expect("[");
  do {
    read_in_order(text, into.emplace_back());
  } while (text.skip(","));
  text.expect("]");
  if (!is_in(static_cast<double>(into.size()), field)) text.give_up();
}

template <class T>
inline constexpr bool kIsOptional = false;
template <class T>
inline constexpr bool kIsOptional<std::optional<T>> = true;

/// Visits the fields of a struct.
struct InOrder {
  Text& text;
  bool is_first;

  template <class T>
  void operator()(const Field& field, T& into) {
    if (!text.is_read()) return;
    if (!text.skip_key(field.name, is_first)) {
      constexpr bool kMayLack = kIsOptional<T> || std::same_as<T, bool>;
      const bool may_be_empty = (std::same_as<T, std::string> || kIsList<T>) && field.low == 0;
      if (!kMayLack && !may_be_empty) text.give_up();
      return;
    }
    is_first = false;
    if constexpr (kIsOptional<T>) {
      read_value(text, field, into.emplace());
    } else {
      read_value(text, field, into);
    }
  }
};

template <class T>
void read_in_order(Text& text, T& into) {
  text.expect("{");
  T::fields(into, InOrder{text, true});
  text.expect("}");
  if constexpr (requires { into.disagreement(); }) {
    if (text.is_read() && into.disagreement()) text.give_up();
  }
}

template <class B>
void read_body_in_order(Text& text, Entry& entry) {
  const bool names_batch = entry.batch.has_value();
  if (B::kAbout == About::batch ? !names_batch : B::kAbout == About::other && names_batch) return text.give_up();
  read_in_order(text, entry.body.template emplace<B>());
  text.expect("}");
}

/// Readers of a body by the name of its kind.
struct Kind {
  std::string_view name;
  void (*read)(Text& text, Entry& entry);
};
template <std::size_t... kIndex>
constexpr auto kinds_of(std::index_sequence<kIndex...>) {
  return std::array{Kind{std::variant_alternative_t<kIndex, Body>::kKind,
                         read_body_in_order<std::variant_alternative_t<kIndex, Body>>}...};
}
// All but the last, which is Unread.
constexpr auto kKinds = kinds_of(std::make_index_sequence<std::variant_size_v<Body> - 1>{});

}  // namespace

Result<Entry> read_kept_entry(std::string_view json) {
  static const std::string kBegin = fmt::format("{{\"v\":{}", kFormatVersion);
  Entry entry;
  Text text(json);
  text.expect(kBegin);
  envelope(entry, About::maybe_batch, InOrder{text, false});
  if (!text.skip_key("kind", false)) text.give_up();
  const auto kind = std::ranges::find(kKinds, text.string(), &Kind::name);
  if (!text.skip_key("body", false) || kind == kKinds.end()) text.give_up();
  if (text.is_read()) kind->read(text, entry);
  if (text.is_read() && text.at_end() && json.size() <= kLargestEntry) return entry;
  return read_entry(json);
}

}  // namespace strikebed::daybook

#pragma once
// Fields as members of a JSON object, each by its C++ type. For entry_json.cpp and entry_csv.cpp.
#include <string>
#include <string_view>
#include <type_traits>

#include "daybook/entry.hpp"

namespace strikebed::daybook {

/// A finite number with as few digits as it can be told from all others, laid out as ECMAScript does: "0.1", "5",
/// "1.5e-7".
[[nodiscard]] std::string shortest(double number);
/// In quotation marks, with what JSON wants escaped.
void write_string(std::string_view text, std::string& out);

inline void write_value(int number, std::string& out) { out += std::to_string(number); }
inline void write_value(double number, std::string& out) { out += shortest(number); }
inline void write_value(const std::string& text, std::string& out) { write_string(text, out); }
inline void write_value(bool yes, std::string& out) { out += yes ? "true" : "false"; }
void write_value(const EntryId& id, std::string& out);
void write_value(const Moment& moment, std::string& out);
void write_value(Date day, std::string& out);
template <class Word>
  requires std::is_enum_v<Word>
void write_value(Word word, std::string& out) {
  write_string(names_of(Word{})[static_cast<std::size_t>(word)], out);
}
template <class T>
void write_object(const T& from, std::string& out);
template <class T>
void write_value(const std::vector<T>& items, std::string& out) {
  char before = '[';
  for (const T& item : items) {
    out += before;
    write_object(item, out);
    before = ',';
  }
  out += ']';
}

/// Whether a value is the one that stands for nothing.
template <class T>
[[nodiscard]] bool is_left_out(const T& value) {
  if constexpr (std::same_as<T, bool>) {
    return !value;
  } else if constexpr (std::same_as<T, std::string> || kIsList<T>) {
    return value.empty();
  } else {
    return false;
  }
}

/// Visits the fields of a struct.
struct WriteFields {
  std::string& out;

  template <class T>
  void operator()(const Field& field, const std::optional<T>& value) const {
    if (value) (*this)(field, *value);
  }
  template <class T>
  void operator()(const Field& field, const T& value) const {
    if (is_left_out(value)) return;
    if (out.back() != '{') out += ',';
    write_string(field.name, out);
    out += ':';
    write_value(value, out);
  }
};

template <class T>
void write_object(const T& from, std::string& out) {
  out += '{';
  T::fields(from, WriteFields{out});
  out += '}';
}

}  // namespace strikebed::daybook

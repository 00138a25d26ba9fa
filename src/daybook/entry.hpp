#pragma once
// An entry of the daybook: one thing that was done or seen. Entries are written once and never changed.
#include <concepts>
#include <optional>
#include <string>
#include <string_view>
#include <type_traits>
#include <vector>

#include "daybook/bodies.hpp"
#include "daybook/entry_id.hpp"
#include "daybook/moment.hpp"

namespace strikebed::daybook {

struct Entry {
  EntryId id;
  Moment happened;
  Moment written;
  std::string who;               ///< as they call themselves; may be empty
  std::string device;            ///< on which it was written
  std::optional<EntryId> batch;  ///< the entry that started it; none in that one, nor about lots, goals and benches
  std::string typed;             ///< what was typed, beside what it was understood to mean; may be empty
  Body body;
  bool operator==(const Entry&) const = default;
};

template <class B>
concept ReadBody = requires { B::kKind; };

/// "counted"; empty where it is unread.
[[nodiscard]] std::string_view kind_of(const Body& body);

/// Calls with every id that the entry names, the batch it is about among them, and what that id must be of:
/// visit(const EntryId&, Refers).
template <class Visit>
void each_reference(const Entry& entry, const Visit& visit);

// What stands behind it.

template <class T>
inline constexpr bool kIsList = false;
template <class T>
inline constexpr bool kIsList<std::vector<T>> = true;

template <class B, class Visit>
void each_reference_of(const B& body, const Visit& visit) {
  B::fields(body, [&](const Field& field, const auto& value) {
    using T = std::decay_t<decltype(value)>;
    if constexpr (std::same_as<T, EntryId>) {
      visit(value, field.refers);
    } else if constexpr (std::same_as<T, std::optional<EntryId>>) {
      if (value) visit(*value, field.refers);
    } else if constexpr (kIsList<T>) {
      for (const auto& item : value) each_reference_of(item, visit);
    }
  });
}

template <class Visit>
void each_reference(const Entry& entry, const Visit& visit) {
  if (entry.batch) visit(*entry.batch, Refers::batch);
  std::visit(
      [&](const auto& body) {
        if constexpr (ReadBody<std::decay_t<decltype(body)>>) each_reference_of(body, visit);
      },
      entry.body);
}

}  // namespace strikebed::daybook

#include "print/daybook/contradiction_words.hpp"

#include <fmt/format.h>

#include "print/daybook/entry_words.hpp"
#include "print/number_words.hpp"

namespace strikebed::print {

using daybook::ContradictionKind;

std::string contradiction_words(const daybook::Contradiction& one, const daybook::State& state) {
  const std::string about = name_of(one.about, state);
  const auto number = [](const std::optional<double>& value) { return value ? rounded(*value) : std::string("?"); };
  switch (one.kind) {
    case ContradictionKind::not_there:
      return fmt::format("{} is named, and is not in the daybook", about);
    case ContradictionKind::wrong_kind:
      return fmt::format("{} is named as a thing of another kind than it is", about);
    case ContradictionKind::before_it_began:
      return fmt::format("something happened to {} before it was there", about);
    case ContradictionKind::count_above_what_exists:
      return fmt::format("{} counted in {}, where {} were left", number(one.found), about, number(one.expected));
    case ContradictionKind::more_taken_than_there:
      return fmt::format("{} taken out of {}, where {} were left", number(one.found), about, number(one.expected));
    case ContradictionKind::own_ancestor:
      return fmt::format("{} and others come from each other in a ring", about);
    case ContradictionKind::same_code:
      return fmt::format("{} batches have the code {}", number(one.found), about);
    case ContradictionKind::withdrawal_ring:
      return "entries withdraw each other in a ring, and so none of them does";
    case ContradictionKind::same_id:
      return fmt::format("{} different entries came under one id, {}", number(one.found), about);
  }
  return "";
}

std::string_view contradiction_word(ContradictionKind kind) {
  switch (kind) {
    case ContradictionKind::not_there:
      return "not_there";
    case ContradictionKind::wrong_kind:
      return "wrong_kind";
    case ContradictionKind::before_it_began:
      return "before_it_began";
    case ContradictionKind::count_above_what_exists:
      return "count_above_what_exists";
    case ContradictionKind::more_taken_than_there:
      return "more_taken_than_there";
    case ContradictionKind::own_ancestor:
      return "own_ancestor";
    case ContradictionKind::same_code:
      return "same_code";
    case ContradictionKind::withdrawal_ring:
      return "withdrawal_ring";
    case ContradictionKind::same_id:
      return "same_id";
  }
  return "";
}

std::string double_words(const daybook::PossibleDouble& one, const daybook::State& state) {
  return fmt::format("{}{} entries within minutes and from several devices say the same: is it one?",
                     one.batch ? name_of(*one.batch, state) + ": " : "", one.entries.size());
}

}  // namespace strikebed::print

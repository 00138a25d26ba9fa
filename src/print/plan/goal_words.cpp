#include "print/plan/goal_words.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "print/number_words.hpp"
#include "print/text_table.hpp"

namespace strikebed::print {

std::string want_name(const season::Goal& goal, std::size_t want) {
  if (want >= goal.wants.size()) return fmt::format("want {}", want + 1);
  const season::Want& this_one = goal.wants[want];
  const auto alike = std::count_if(goal.wants.begin(), goal.wants.end(),
                                   [&](const season::Want& other) { return other.base_form == this_one.base_form; });
  return alike > 1 ? fmt::format("{} ({})", this_one.base_form, this_one.method.name) : this_one.base_form;
}

std::string counts_words(const season::Goal& goal, const std::vector<int>& counts) {
  std::vector<std::string> parts;
  for (std::size_t i = 0; i < counts.size(); ++i)
    parts.push_back(unbroken(fmt::format("{} {}", counts[i], want_name(goal, i))));
  return in_a_row(parts);
}

std::string wanted_words(const season::Goal& goal) {
  std::vector<int> counts;
  for (const season::Want& want : goal.wants) counts.push_back(want.count);
  return counts_words(goal, counts);
}

std::string state_words(season::CountAt count_at) {
  const std::string word(name_of(count_at));
  return count_at == season::CountAt::established ? word + " (through their first winter)" : word;
}

std::string in_brackets(const FieldNames& names, std::initializer_list<std::string_view> fields) {
  std::string controls;
  for (const std::string_view field : fields) {
    if (const auto name = field_name(names, field)) controls += (controls.empty() ? "" : " or ") + *name;
  }
  return controls.empty() ? controls : fmt::format(" ({})", controls);
}

}  // namespace strikebed::print

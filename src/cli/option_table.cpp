#include "cli/option_table.hpp"

#include <map>

namespace strikebed::cli {

FieldNames names_of(const std::vector<TableOption>& options) {
  std::map<std::string, std::string, std::less<>> names;
  for (const TableOption& option : options) names.emplace(option.field, option.name);
  return [names = std::move(names)](std::string_view field) {
    const auto found = names.find(field);
    return found == names.end() ? std::string() : found->second;
  };
}

}  // namespace strikebed::cli

#include "cli/help.hpp"

#include <algorithm>

#include "base/lines.hpp"

namespace strikebed::cli {
namespace {

bool is_in_columns(std::string_view line) {
  return line.starts_with("  ") && line.size() > kHelpColumn && line[kHelpColumn - 1] == ' ' &&
         line[kHelpColumn] != ' ';
}

}  // namespace

std::string fitted_help(std::string_view help, int width) {
  const std::size_t columns = lines_of(width);
  std::string fitted;
  while (!help.empty()) {
    const std::size_t end = std::min(help.find('\n'), help.size());
    const std::string_view line = help.substr(0, end);
    help.remove_prefix(std::min(end + 1, help.size()));
    if (width_of(line) <= columns) {
      fitted.append(line) += '\n';
    } else if (is_in_columns(line)) {
      fitted += paragraph(line.substr(kHelpColumn), columns, line.substr(0, kHelpColumn));
    } else {
      const bool command = line.find("strikebed ") != std::string_view::npos;
      fitted += command ? std::string(line) + '\n' : paragraph(line, columns);
    }
  }
  return fitted;
}

}  // namespace strikebed::cli

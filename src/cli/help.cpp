#include "cli/help.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <utility>
#include <vector>

#include "base/lines.hpp"

namespace strikebed::cli {
namespace {

constexpr std::size_t kWidthOfColumns = 60;  // narrower, what an option is for stands below it
constexpr char kBlankInQuotes = '\x01';
constexpr char kBlankBetween = '\x02';  // an option and its value

bool is_in_columns(std::string_view line) {
  return line.starts_with("  ") && line.size() > kHelpColumn && line[kHelpColumn - 1] == ' ' &&
         line[kHelpColumn] != ' ';
}

std::size_t indent_of(std::string_view line) { return std::min(line.find_first_not_of(' '), line.size()); }

bool shows_command(std::string_view line) {
  return line.find("strikebed ") != std::string_view::npos || line.substr(indent_of(line)).starts_with("--");
}

/// A command over several lines, as a shell takes it: broken before options, else at blanks, but never inside quotation
/// marks; each line but the last ends in a backslash.
std::string command_in_lines(std::string_view line, std::size_t columns) {
  constexpr std::string_view kGoesOn = " \\";
  const std::size_t indent = indent_of(line);
  const bool goes_on = line.ends_with(kGoesOn);
  if (goes_on) line.remove_suffix(kGoesOn.size());
  std::string words(line.substr(indent));
  bool quoted = false;
  for (std::size_t i = 0; i < words.size(); ++i) {
    if (words[i] == '"') quoted = !quoted;
    const bool before_option = words.compare(i + 1, 2, "--") == 0;
    if (words[i] == ' ' && !before_option) words[i] = quoted ? kBlankInQuotes : kBlankBetween;
  }
  const std::string further(indent < 4 ? indent + 4 : indent, ' ');
  const std::size_t room = columns - further.size() - kGoesOn.size();
  std::vector<std::string> parts;
  for (std::string& part : wrapped(words, room)) {
    if (part.size() > room) std::ranges::replace(part, kBlankBetween, ' ');
    for (std::string& piece : wrapped(part, room)) parts.push_back(std::move(piece));
  }
  std::string text =
      std::string(indent, ' ') + fmt::format("{}", fmt::join(parts, fmt::format("{}\n{}", kGoesOn, further)));
  std::ranges::replace(text, kBlankInQuotes, ' ');
  std::ranges::replace(text, kBlankBetween, ' ');
  return fmt::format("{}{}\n", text, goes_on ? kGoesOn : "");
}

}  // namespace

std::string fitted_help(std::string_view help, int width) {
  const std::size_t columns = lines_of(width);
  std::string fitted;
  while (!help.empty()) {
    const std::string_view line = help.substr(0, help.find('\n'));
    help.remove_prefix(std::min(line.size() + 1, help.size()));
    const bool both = columns >= kWidthOfColumns;
    if (is_in_columns(line) && (!both || width_of(line) > columns)) {
      const std::string_view option = line.substr(0, kHelpColumn);
      fitted += both ? paragraph(line.substr(kHelpColumn), columns, option)
                     : paragraph(option, columns, "  ") + paragraph(line.substr(kHelpColumn), columns, "      ");
    } else if (width_of(line) <= columns) {
      fitted.append(line) += '\n';
    } else {
      fitted += shows_command(line) ? command_in_lines(line, columns) : paragraph(line, columns);
    }
  }
  return fitted;
}

}  // namespace strikebed::cli

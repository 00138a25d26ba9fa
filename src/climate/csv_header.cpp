#include "climate/csv_header.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <optional>
#include <utility>

#include "base/nearest.hpp"
#include "climate/cells.hpp"
#include "climate/date_form.hpp"

namespace strikebed::climate {
namespace {

constexpr std::size_t kMostColumns = 1000;
constexpr std::size_t kLongestComparedName = 60;

using MaybeError = std::optional<Error>;

std::string list_of(const std::vector<std::string_view>& names) {
  std::string list;
  for (std::size_t i = 0; i < names.size() && i < 12; ++i) list += (i == 0 ? "" : ", ") + shown(names[i]);
  if (names.size() > 12) list += fmt::format(" and {} more", names.size() - 12);
  return list;
}

/// A line as a header: how far it was understood, what is wrong with it if it is the one, and whether it holds values.
struct Candidate {
  CsvHeader header;
  MaybeError why;
  bool holds_values = false;  ///< a number or a date among its cells: a row of data, or something about the station
};

bool is_value(std::string_view cell, char separator) {
  return read_number(cell, separator != ',').has_value() || date_form_of(cell).has_value();
}

class HeaderFinder {
 public:
  HeaderFinder(const std::string& file, const std::vector<ColumnChoice>& choices) : name_(file), choices_(choices) {}

  /// The first of the first lines that names a date and a temperature; the text then starts after it.
  Result<CsvTable> run(std::string_view text) const {
    std::string_view rest = text;
    std::vector<Candidate> candidates;
    for (int line = 1; line <= kHeaderWithin && !rest.empty(); ++line) {
      Candidate candidate = read_header(take_line(rest), line);
      CsvHeader& header = candidate.header;
      if (header.dated() && header.warm()) {
        if (candidate.why) return *candidate.why;
        find_date(header);
        const bool with_units = take_units(header, rest);
        return CsvTable{std::move(header), rest, line + (with_units ? 2 : 1)};
      }
      candidates.push_back(std::move(candidate));
    }
    if (text.starts_with("LOCATION,")) {
      return wrong("this looks like an EPW file", "read it as EPW: give it the ending .epw", 1);
    }
    return not_understood(candidates);
  }

 private:
  [[nodiscard]] Error wrong(std::string problem, std::string allowed, int line = 0, int column = 0,
                            std::string field = {}) const {
    return Error{std::move(problem), std::move(allowed), std::move(field), name_, line, column};
  }

  /// The line that was most likely meant as the header: of those without values the one that was best understood; where
  /// nothing was, the first that is as wide as the rows of values. Null where no line has several names.
  static const Candidate* likely_header(const std::vector<Candidate>& candidates) {
    const auto row = std::ranges::find_if(candidates.rbegin(), candidates.rend(),
                                          [](const Candidate& one) { return one.holds_values; });
    const auto rank = [&](const Candidate& one) {
      const bool as_wide = row != candidates.rend() && one.header.width == row->header.width;
      return std::pair(one.header.recognised, as_wide);
    };
    const Candidate* best = nullptr;
    for (const Candidate& one : candidates) {
      const auto named = std::ranges::count_if(one.header.names, [](std::string_view name) { return !name.empty(); });
      if (one.holds_values || (one.header.recognised == 0 && named < 2)) continue;
      if (best == nullptr || rank(one) > rank(*best)) best = &one;
    }
    return best;
  }

  [[nodiscard]] Error not_understood(const std::vector<Candidate>& candidates) const {
    const Candidate* likely = likely_header(candidates);
    if (likely == nullptr) {
      return wrong(fmt::format("no header line was found in the first {} lines", kHeaderWithin),
                   "a line that names the columns, separated by commas, semicolons or tabs, such as date,tmin,tmax", 1);
    }
    if (likely->why) return *likely->why;
    const CsvHeader& header = likely->header;
    if (header.recognised == 0) {
      return wrong(fmt::format("none of these columns was recognised: {}", list_of(header.names)),
                   "known names (docs/weather-files.md), such as date,tmin,tmax; or <columns.date> and so on",
                   header.line);
    }
    return wrong(fmt::format("no column with the {} was recognised in {}", header.dated() ? "temperature" : "date",
                             list_of(header.names)),
                 fmt::format("a known name (docs/weather-files.md); or <columns.{}>", header.dated() ? "tmin" : "date"),
                 header.line);
  }

  /// Some files write the units in a row of their own, below the names. Reads them and steps over the row.
  static bool take_units(CsvHeader& header, std::string_view& rest) {
    std::string_view below = rest;
    const std::string_view line = take_line(below);
    CellReader reader(line, header.separator);
    std::vector<std::string_view> cells;
    do {
      const Cell cell = reader.next();
      if (is_value(cell.text, header.separator)) return false;
      cells.push_back(cell.text);
      if (cell.ends_line) break;
    } while (cells.size() < header.width);
    std::array<const KnownUnit*, kRoles> units{};
    for (std::size_t role = 0; role < units.size(); ++role) {
      const auto column = static_cast<std::size_t>(header.column_of[role]);
      if (header.column_of[role] >= 0 && column < cells.size()) {
        units[role] = unit_named(about(static_cast<Role>(role)).family, cells[column]);
      }
    }
    if (std::ranges::none_of(units, [](const KnownUnit* unit) { return unit != nullptr; })) return false;
    for (std::size_t role = 0; role < units.size(); ++role) {
      if (units[role] != nullptr && header.cells[role].unit == nullptr) header.cells[role].unit = units[role];
    }
    rest = below;
    return true;
  }

  /// The most frequent of tab, semicolon and comma in a line, outside quotes.
  static char separator_of(std::string_view line) {
    std::array<long, kSeparators.size()> counts{};
    bool quoted = false;
    for (const char c : line) {
      if (c == '"') quoted = !quoted;
      const std::size_t which = quoted ? std::string_view::npos : kSeparators.find(c);
      if (which != std::string_view::npos) ++counts[which];
    }
    return kSeparators[static_cast<std::size_t>(std::max_element(counts.begin(), counts.end()) - counts.begin())];
  }

  /// Names of one line against the user's choices and the table.
  [[nodiscard]] Candidate read_header(std::string_view line_text, int line) const {
    Candidate candidate;
    CsvHeader& header = candidate.header;
    header.line = line;
    header.line_start = line_text.data();
    header.separator = separator_of(line_text);
    header.column_of.fill(-1);
    CellReader reader(line_text, header.separator, line);
    while (true) {
      const Cell cell = reader.next();
      if (header.names.size() == kMostColumns) {
        candidate.why = wrong(fmt::format("the line has more than {} columns", kMostColumns),
                              "a table of days or hours, one a row", line);
        ++header.recognised;
        return candidate;
      }
      header.names.push_back(cell.text);
      candidate.holds_values = candidate.holds_values || is_value(cell.text, header.separator);
      if (cell.ends_line) break;
    }
    header.width = header.names.size();
    for (std::size_t i = 0; i < header.width; ++i) name_column(header, i, candidate.why);
    for (const ColumnChoice& choice : choices_) choose_column(header, choice, candidate.why);
    return candidate;
  }

  [[nodiscard]] bool chosen(Role role) const {
    return std::any_of(choices_.begin(), choices_.end(),
                       [&](const ColumnChoice& choice) { return choice.role == role; });
  }

  void name_column(CsvHeader& header, std::size_t i, MaybeError& why) const {
    const auto cell = read_header_cell(header.names[i]);
    if (!cell || chosen(cell->role)) return;
    for (const ColumnChoice& choice : choices_) {
      if (squeezed(choice.column) == squeezed(header.names[i])) return;  // it has another role
    }
    int& column = header.column_of[static_cast<std::size_t>(cell->role)];
    if (column >= 0) {
      const std::string_view first = header.names[static_cast<std::size_t>(column)];
      if (!why) {
        why = wrong(fmt::format("two columns hold the {}: {} and {}", about(cell->role).meaning, shown(first),
                                shown(header.names[i])),
                    fmt::format("one alone; or <columns.{}>, which chooses it", about(cell->role).word), header.line,
                    column_at(header.line_start, header.names[i].data()));
      }
      return;
    }
    column = static_cast<int>(i);
    header.cells[static_cast<std::size_t>(cell->role)] = *cell;
    ++header.recognised;
    if (!cell->strange_unit.empty() && is_air_temperature(cell->role) && !why) {
      why = wrong(fmt::format("the unit {} is not known", shown(cell->strange_unit)),
                  fmt::format("{}; or <columns.{}.unit>", unit_list(about(cell->role).family), about(cell->role).word),
                  header.line, column_at(header.line_start, header.names[i].data()), shown(header.names[i]));
    }
  }

  void choose_column(CsvHeader& header, const ColumnChoice& choice, MaybeError& why) const {
    std::size_t found = header.width;
    for (std::size_t i = 0; i < header.width && found == header.width; ++i) {
      if (header.names[i] == choice.column) found = i;
    }
    for (std::size_t i = 0; i < header.width && found == header.width; ++i) {
      if (squeezed(header.names[i]) == squeezed(choice.column)) found = i;
    }
    if (found == header.width) {
      if (why) return;
      std::vector<std::string_view> candidates;
      std::copy_if(header.names.begin(), header.names.end(), std::back_inserter(candidates),
                   [](std::string_view one) { return one.size() <= kLongestComparedName; });
      const auto nearest =
          choice.column.size() <= kLongestComparedName ? nearest_word(choice.column, candidates) : std::nullopt;
      why = Error{.problem = fmt::format("there is no column {} in {}{}", shown(choice.column), name_,
                                         nearest ? fmt::format(" (did you mean {}?)", shown(*nearest)) : ""),
                  .allowed = "one of " + list_of(header.names),
                  .field = fmt::format("columns.{}", about(choice.role).word)};
      return;
    }
    const std::size_t role = static_cast<std::size_t>(choice.role);
    header.column_of[role] = static_cast<int>(found);
    header.cells[role] = read_chosen_cell(choice.role, header.names[found]);
    if (choice.unit) header.cells[role].unit = choice.unit;
    ++header.recognised;
  }

  /// The date comes from one cell, or from year, month and day, or from year and day of the year.
  static void find_date(CsvHeader& header) {
    if (header.has(Role::date)) return;
    header.dated_in_parts = (header.has(Role::year) && header.has(Role::month) && header.has(Role::day)) ||
                            (header.has(Role::year) && header.has(Role::day_of_year));
    if (header.dated_in_parts) return;
    // a column "time" or "day" on its own may hold the whole date
    const Role role = header.has(Role::time) ? Role::time : Role::day;
    header.column_of[static_cast<std::size_t>(Role::date)] = header.column(role);
    header.column_of[static_cast<std::size_t>(role)] = -1;
  }

  const std::string& name_;
  const std::vector<ColumnChoice>& choices_;
};

}  // namespace

std::string CsvHeader::name(Role role) const {
  const std::string in_quotes = shown(names[static_cast<std::size_t>(std::max(0, column(role)))]);
  return in_quotes.substr(1, in_quotes.size() - 2);
}

Result<CsvTable> find_csv_header(std::string_view text, const std::string& file,
                                 const std::vector<ColumnChoice>& choices) {
  return HeaderFinder(file, choices).run(text);
}

}  // namespace strikebed::climate

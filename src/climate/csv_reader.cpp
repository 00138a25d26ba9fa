#include "climate/csv_reader.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>
#include <limits>
#include <utility>

#include "base/nearest.hpp"
#include "climate/cells.hpp"
#include "climate/checking.hpp"

namespace strikebed::climate {
namespace {

constexpr double kNone = std::numeric_limits<double>::quiet_NaN();
constexpr int kHeaderWithin = 30;  // lines; stations write some lines about themselves first
constexpr std::size_t kMostColumns = 1000;
constexpr std::size_t kMostRows = 20'000'000;
constexpr std::size_t kLongestComparedName = 60;
constexpr double kOften = 0.05;             // of the temperatures above 60: the unit is wrong, not the thermometer
constexpr double kTooManyWords = 0.10;      // of a column's cells that are not numbers: it is the wrong column
constexpr int kFewIsNoPattern = 3;          // fewer odd values than this prove nothing, unless they are all
constexpr double kWarmestFahrenheit = 140;  // above it a number is not degrees Fahrenheit of air either
constexpr double kNightOffset = -0.9;       // MJ/m2/day (about -10 W/m2): a pyranometer's zero at night

/// Nothing can be done without these; the other measures may be missing.
bool is_air_temperature(Role role) { return role == Role::tmin || role == Role::tmax || role == Role::temperature; }

/// A column that is read: where it stands and how its numbers become SI.
struct ReadColumn {
  Role role;
  std::string name;
  const KnownUnit* unit = nullptr;
  std::optional<double> height_m;
  Limits limits{};
  bool temperature = false;
  // what was met on the way
  long numbers = 0;
  long too_hot = 0;
  double hottest = 0;
  int hot_line = 0;
  int hot_column = 0;
  long words = 0;
  Error first_word;
};

/// A header line that was understood, or how far it was.
struct Header {
  int line = 0;
  const char* line_start = nullptr;
  char separator = ',';
  std::size_t width = 0;
  std::vector<std::string_view> names;
  std::array<int, kRoles> column_of{};  ///< -1: none
  std::array<HeaderCell, kRoles> cells{};
  int recognised = 0;

  [[nodiscard]] bool has(Role role) const { return column_of[static_cast<std::size_t>(role)] >= 0; }
  [[nodiscard]] int column(Role role) const { return column_of[static_cast<std::size_t>(role)]; }
  [[nodiscard]] bool dated() const {
    return has(Role::date) || has(Role::time) || has(Role::day) || (has(Role::year) && has(Role::day_of_year));
  }
  [[nodiscard]] bool warm() const { return has(Role::tmin) || has(Role::tmax) || has(Role::temperature); }
};

std::string list_of(const std::vector<std::string_view>& names) {
  std::string list;
  for (std::size_t i = 0; i < names.size() && i < 12; ++i) list += (i == 0 ? "" : ", ") + shown(names[i]);
  if (names.size() > 12) list += fmt::format(" and {} more", names.size() - 12);
  return list;
}

class CsvWeather {
 public:
  CsvWeather(std::string_view text, std::string name, const CsvOptions& options)
      : text_(without_byte_order_mark(text)), name_(std::move(name)), options_(options) {}

  Result<WeatherRecord> run() {
    if (const auto reason = why_not_a_table(text_)) return wrong(reason->problem, reason->allowed, reason->line);
    if (const auto& height = options_.wind_height_m; height && (!(*height >= 0.5) || !(*height <= 200))) {
      return wrong(fmt::format("the wind height is {} m", *options_.wind_height_m), "0.5 to 200 m", 0, 0,
                   "--wind-height");
    }
    if (auto error = find_header()) return *error;
    if (auto error = set_columns()) return *error;
    if (auto error = read_rows()) return *error;
    if (auto error = settle_date_order()) return *error;
    for (const ReadColumn& column : columns_) {
      if (auto error = wrong_unit(column)) return *error;
      if (auto error = wrong_column(column)) return *error;
    }
    observed_.timed = timed_;
    return check_observations(std::move(observed_), std::move(notices_), std::move(name_), RecordKind::years);
  }

 private:
  using MaybeError = std::optional<Error>;

  [[nodiscard]] Error wrong(std::string problem, std::string allowed, int line = 0, int column = 0,
                            std::string field = {}) const {
    return Error{std::move(problem), std::move(allowed), std::move(field), name_, line, column};
  }

  // ---- header

  /// The most frequent of tab, semicolon and comma in a line, outside quotes.
  static char separator_of(std::string_view line) {
    std::array<long, 3> counts{};
    constexpr std::string_view kSeparators = "\t;,";
    bool quoted = false;
    for (const char c : line) {
      if (c == '"') quoted = !quoted;
      const std::size_t which = quoted ? std::string_view::npos : kSeparators.find(c);
      if (which != std::string_view::npos) ++counts[which];
    }
    return kSeparators[static_cast<std::size_t>(std::max_element(counts.begin(), counts.end()) - counts.begin())];
  }

  /// The first of the first lines that names a date and a temperature; the text then starts after it.
  MaybeError find_header() {
    std::string_view rest = text_;
    std::optional<Header> best;
    MaybeError trouble;
    for (int line = 1; line <= kHeaderWithin && !rest.empty(); ++line) {
      const std::size_t end = std::min(rest.find_first_of("\r\n"), rest.size());
      const std::string_view line_text = rest.substr(0, end);
      rest.remove_prefix(end);
      if (rest.substr(0, 2) == "\r\n") {
        rest.remove_prefix(2);
      } else if (!rest.empty()) {
        rest.remove_prefix(1);
      }
      MaybeError why;
      Header header = read_header(line_text, line, why);
      if (header.dated() && header.warm()) {
        if (why) return why;
        header_ = std::move(header);
        rows_ = rest;
        return std::nullopt;
      }
      if (!best || header.recognised > best->recognised) {
        best = std::move(header);
        trouble = std::move(why);
      }
    }
    if (trouble) return trouble;
    if (text_.substr(0, 9) == "LOCATION,") {
      return wrong("this looks like an EPW file", "read it as EPW: give it the ending .epw", 1);
    }
    if (best && best->recognised > 0) {
      const std::string_view missing = best->dated() ? "temperature" : "date";
      return wrong(
          fmt::format("no column with the {} was recognised in {}", missing, list_of(best->names)),
          fmt::format("a known name (docs/weather-files.md), or --column {}=NAME", best->dated() ? "tmin" : "date"),
          best->line);
    }
    return wrong(fmt::format("no header line was found in the first {} lines", kHeaderWithin),
                 "a line that names the columns, such as date,tmin,tmax, or --column date=NAME and so on", 1);
  }

  /// Names of one line against the user's choices and the table. `why`: what is wrong with it if it is the header.
  Header read_header(std::string_view line_text, int line, MaybeError& why) {
    Header header;
    header.line = line;
    header.line_start = line_text.data();
    header.separator = separator_of(line_text);
    header.column_of.fill(-1);
    CellReader reader(line_text, header.separator, line);
    while (true) {
      const Cell cell = reader.next();
      if (header.names.size() == kMostColumns) {
        why = wrong(fmt::format("the line has more than {} columns", kMostColumns),
                    "a table of days or hours, one a row", line);
        ++header.recognised;
        return header;
      }
      header.names.push_back(cell.text);
      if (cell.ends_line) break;
    }
    header.width = header.names.size();
    for (std::size_t i = 0; i < header.width; ++i) name_column(header, i, why);
    for (const ColumnChoice& choice : options_.columns) choose_column(header, choice, why);
    return header;
  }

  [[nodiscard]] bool chosen(Role role) const {
    return std::any_of(options_.columns.begin(), options_.columns.end(),
                       [&](const ColumnChoice& choice) { return choice.role == role; });
  }

  void name_column(Header& header, std::size_t i, MaybeError& why) {
    const auto cell = read_header_cell(header.names[i]);
    if (!cell || chosen(cell->role)) return;
    for (const ColumnChoice& choice : options_.columns) {
      if (squeezed(choice.column) == squeezed(header.names[i])) return;  // it has another role
    }
    int& column = header.column_of[static_cast<std::size_t>(cell->role)];
    if (column >= 0) {
      const std::string_view first = header.names[static_cast<std::size_t>(column)];
      if (!why) {
        why = wrong(fmt::format("two columns hold the {}: {} and {}", about(cell->role).meaning, shown(first),
                                shown(header.names[i])),
                    fmt::format("one; choose it with --column {}=NAME", about(cell->role).word), header.line,
                    position(header, i));
      }
      return;
    }
    column = static_cast<int>(i);
    header.cells[static_cast<std::size_t>(cell->role)] = *cell;
    ++header.recognised;
    if (!cell->strange_unit.empty() && is_air_temperature(cell->role) && !why) {
      why = wrong(fmt::format("the unit {} is not known", shown(cell->strange_unit)),
                  fmt::format("{}; or give it with --column {}=NAME:UNIT", unit_list(about(cell->role).family),
                              about(cell->role).word),
                  header.line, position(header, i), shown(header.names[i]));
    }
  }

  void choose_column(Header& header, const ColumnChoice& choice, MaybeError& why) {
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
      why =
          wrong(fmt::format("there is no column {}{}", shown(choice.column),
                            nearest ? fmt::format(" (did you mean {}?)", shown(*nearest)) : ""),
                "one of " + list_of(header.names), header.line, 0, fmt::format("--column {}", about(choice.role).word));
      return;
    }
    const std::size_t role = static_cast<std::size_t>(choice.role);
    header.column_of[role] = static_cast<int>(found);
    header.cells[role] = HeaderCell{choice.role, choice.unit, std::nullopt, {}};
    if (const auto read = read_header_cell(header.names[found]);
        read && about(read->role).family == about(choice.role).family) {
      if (!choice.unit) header.cells[role].unit = read->unit;
      header.cells[role].height_m = read->height_m;
    }
    ++header.recognised;
  }

  [[nodiscard]] int position(const Header& header, std::size_t i) const {
    return column_at(header.line_start, header.names[i].data());
  }

  /// What is read of each column, and the remarks that go with it.
  MaybeError set_columns() {
    slots_.assign(header_.width, kIgnored);
    decimal_comma_ = header_.separator != ',';
    for (int index = 0; index < kRoles; ++index) {
      const auto role = static_cast<Role>(index);
      if (!header_.has(role)) continue;
      const auto column = static_cast<std::size_t>(header_.column(role));
      if (about(role).family == UnitFamily::none) {
        slots_[column] = static_cast<int>(-2 - index);
        continue;
      }
      const HeaderCell& cell = header_.cells[static_cast<std::size_t>(index)];
      if (!cell.strange_unit.empty() && !cell.unit) {
        notices_.general(
            fmt::format("{}: the unit {} is not known (known: {}); the column is not read",
                        shown(header_.names[column]), shown(cell.strange_unit), unit_list(about(role).family)),
            header_.line, position(header_, column));
        continue;
      }
      ReadColumn read;
      read.role = role;
      read.name = shown(header_.names[column]);
      read.name = read.name.substr(1, read.name.size() - 2);
      read.unit = cell.unit ? cell.unit : &usual_unit(about(role).family);
      read.height_m = cell.height_m;
      read.limits = possible(role, read.unit->per_day);
      read.temperature = about(role).family == UnitFamily::temperature;
      if (!cell.unit) {
        notices_.general(
            fmt::format("{} has no unit in the header; read as {}", shown(header_.names[column]), read.unit->name),
            header_.line, position(header_, column));
      }
      slots_[column] = static_cast<int>(columns_.size());
      observed_.columns.push_back({role, read.unit});
      columns_.push_back(std::move(read));
    }
    set_wind_height();
    return set_date_columns();
  }

  void set_wind_height() {
    const auto wind = std::find_if(columns_.begin(), columns_.end(),
                                   [](const ReadColumn& column) { return column.role == Role::wind; });
    if (wind == columns_.end()) return;
    const auto height = options_.wind_height_m ? options_.wind_height_m : wind->height_m;
    if (height && *height >= 0.5) {
      if (*height == 2) return;
      observed_.wind_factor = wind_factor_to_2_m(*height);
      notices_.general(
          fmt::format("the wind was measured at {} m; multiplied by {:.3f} for 2 m above the ground (FAO-56)", *height,
                      observed_.wind_factor),
          header_.line);
    } else {
      notices_.general(
          "the height at which the wind was measured is not said; taken as 2 m (--wind-height METRES changes it)",
          header_.line);
    }
  }

  /// Which columns the date comes from: one cell, or year, month and day, or year and day of the year.
  MaybeError set_date_columns() {
    if (header_.has(Role::date)) return std::nullopt;
    if (header_.has(Role::year) && header_.has(Role::month) && header_.has(Role::day)) {
      in_parts_ = true;
      return std::nullopt;
    }
    if (header_.has(Role::year) && header_.has(Role::day_of_year)) {
      in_parts_ = true;
      by_day_of_year_ = true;
      return std::nullopt;
    }
    // a column "time" or "day" on its own may hold the whole date
    const Role role = header_.has(Role::time) ? Role::time : Role::day;
    slots_[static_cast<std::size_t>(header_.column(role))] = slot_of(Role::date);
    header_.column_of[static_cast<std::size_t>(Role::date)] = header_.column(role);
    header_.column_of[static_cast<std::size_t>(role)] = -1;
    return std::nullopt;
  }

  static constexpr int kIgnored = -1;
  static constexpr int slot_of(Role role) { return -2 - static_cast<int>(role); }

  // ---- rows

  /// What one row says of its time, before it is understood.
  struct RowParts {
    std::array<std::string_view, 6> cells{};  ///< date, time, year, month, day, day of the year
    int line = 0;
    const char* line_start = nullptr;
    [[nodiscard]] std::string_view of(Role role) const { return cells[static_cast<std::size_t>(role)]; }
  };

  MaybeError read_rows() {
    reserve();
    CellReader reader(rows_, header_.separator, header_.line + 1);
    const std::size_t measures = columns_.size();
    while (!reader.at_end()) {
      RowParts parts;
      parts.line = reader.line();
      parts.line_start = reader.line_start();
      observed_.values.resize(observed_.values.size() + measures, kNone);
      double* values = observed_.values.data() + observed_.values.size() - measures;
      std::size_t index = 0;
      bool empty = true;
      while (true) {
        const int line = reader.line();
        const char* line_start = reader.line_start();
        const Cell cell = reader.next();
        if (cell.unclosed) {
          return wrong("a quotation mark is opened here and never closed", "quotation marks in pairs", line,
                       column_at(line_start, cell.text.data()) - 1);
        }
        if (!cell.text.empty()) {
          empty = false;
          if (index >= slots_.size()) {
            return wrong(fmt::format("the row has more cells than the header ({})", header_.width),
                         decimal_comma_
                             ? "as many cells as names in the header"
                             : "as many cells as names in the header (with decimal commas: semicolons between cells)",
                         line, column_at(line_start, cell.text.data()));
          }
        }
        if (index < slots_.size()) {
          const int slot = slots_[index];
          if (slot >= 0) {
            values[slot] = read_value(columns_[static_cast<std::size_t>(slot)], cell.text, line, line_start);
          } else if (slot < kIgnored) {
            parts.cells[static_cast<std::size_t>(-2 - slot)] = cell.text;
          }
        }
        ++index;
        if (cell.ends_line) break;
      }
      reader.next_line();
      if (empty) {
        observed_.values.resize(observed_.values.size() - measures);
        continue;
      }
      if (index < header_.width) {
        notices_.note(NoticeKind::short_row, Role::date, parts.line, parts.line, [&] {
          return NoticeBook::Found{
              fmt::format("the row has {} of {} cells; the rest count as missing", index, header_.width)};
        });
      }
      if (observed_.rows.size() == kMostRows) {
        return wrong(fmt::format("the file has more than {} rows", kMostRows), "at most so many", parts.line);
      }
      if (auto error = date_row(parts)) return error;
    }
    return std::nullopt;
  }

  void reserve() {
    const std::size_t first_line = std::min(rows_.find('\n'), rows_.size()) + 1;
    const std::size_t rows = std::min(rows_.size() / first_line + 16, std::size_t{400'000});
    observed_.rows.reserve(rows);
    observed_.values.reserve(rows * columns_.size());
  }

  /// A cell as SI; NaN when it is missing or cannot be, with a notice.
  double read_value(ReadColumn& column, std::string_view cell, int line, const char* line_start) {
    const auto where = [&] { return column_at(line_start, cell.data()); };
    const auto number = read_number(cell, decimal_comma_);
    if (!number) return read_word(column, cell, line, line_start);
    if (is_missing_number(*number, column.role, *column.unit)) {
      notices_.note(NoticeKind::missing, column.role, line, line, [&] {
        return NoticeBook::Found{fmt::format("{}: missing ({})", column.name, shown(cell)), where()};
      });
      return kNone;
    }
    ++column.numbers;
    const double value = (*number - column.unit->subtract) * column.unit->factor;
    if (value >= column.limits.low && value <= column.limits.high) return value;
    if (column.role == Role::radiation && value < 0 && value * (column.unit->per_day ? 1 : 24) >= kNightOffset)
      return 0;
    if (column.temperature && value > column.limits.high) {
      if (column.too_hot++ == 0) {
        column.hot_line = line;
        column.hot_column = where();
      }
      column.hottest = std::max(column.hottest, *number);
    }
    notices_.note(NoticeKind::impossible, column.role, line, line, [&] {
      const KnownUnit& unit = *column.unit;
      return NoticeBook::Found{
          fmt::format("{}: {} cannot be (possible: {:.5g} to {:.5g} {}); taken as missing", column.name, shown(cell),
                      written_in(unit, column.limits.low), written_in(unit, column.limits.high), unit.name),
          where()};
    });
    return kNone;
  }

  double read_word(ReadColumn& column, std::string_view cell, int line, const char* line_start) {
    const auto where = [&] { return column_at(line_start, cell.data()); };
    if (is_missing_word(cell)) {
      notices_.note(NoticeKind::missing, column.role, line, line, [&] {
        return NoticeBook::Found{fmt::format("{}: missing ({})", column.name, cell.empty() ? "empty" : shown(cell)),
                                 where()};
      });
      return kNone;
    }
    if (column.role == Role::rain && (cell == "T" || cell == "t")) return 0;  // a trace: too little to measure
    if (column.words++ == 0) {
      column.first_word = wrong(fmt::format("{} is not a number", shown(cell)),
                                fmt::format("numbers in {}, or a missing marker such as NA", column.unit->name), line,
                                where(), column.name);
    }
    notices_.note(NoticeKind::not_a_number, column.role, line, line, [&] {
      return NoticeBook::Found{fmt::format("{}: {} is not a number; taken as missing", column.name, shown(cell)),
                               where()};
    });
    return kNone;
  }

  // ---- dates

  [[nodiscard]] Error bad_date(const RowParts& parts, std::string_view cell, Role role, std::string problem,
                               std::string allowed) const {
    const auto column = static_cast<std::size_t>(std::max(0, header_.column(role)));
    const int at = cell.data() ? column_at(parts.line_start, std::max(parts.line_start, cell.data())) : 0;
    std::string field = shown(header_.names[column]);
    return wrong(std::move(problem), std::move(allowed), parts.line, at, field.substr(1, field.size() - 2));
  }

  /// Appends the time of a row. Dates in digits are kept as written until the whole column has told their order.
  MaybeError date_row(const RowParts& parts) {
    RowStamp row{0, 0, parts.line};
    if (in_parts_) {
      if (auto error = date_from_parts(parts, row)) return error;
    } else if (auto error = date_from_cell(parts, row)) {
      return error;
    }
    if (header_.has(Role::time)) {
      const std::string_view cell = parts.of(Role::time);
      const auto time = read_time(cell);
      if (!time) {
        return bad_date(parts, cell, Role::time, fmt::format("{} is not a time of day", shown(cell)),
                        "such as 14:00, 2:00 PM or 14");
      }
      set_time(*time, parts, row);
    }
    observed_.rows.push_back(row);
    return std::nullopt;
  }

  void set_time(const WrittenTime& time, const RowParts& parts, RowStamp& row) {
    row.minute = time.minute;
    timed_ = true;
    if (time.zoned && !zone_noticed_) {
      zone_noticed_ = true;
      notices_.general("times carry a zone or an offset; it was left aside, days are local days as written",
                       parts.line);
    }
  }

  MaybeError date_from_parts(const RowParts& parts, RowStamp& row) {
    const auto whole = [&](Role role) -> std::optional<int> {
      const auto number = read_number(parts.of(role), decimal_comma_);
      if (!number || *number != std::floor(*number) || std::abs(*number) > 9999) return std::nullopt;
      return static_cast<int>(*number);
    };
    const Role second = by_day_of_year_ ? Role::day_of_year : Role::month;
    const auto year = whole(Role::year);
    const auto place = whole(second);  // of the day in the year, or of the month
    if (!year || !place) {
      const Role role = year ? second : Role::year;
      return bad_date(parts, parts.of(role), role,
                      fmt::format("{} is not a {}", shown(parts.of(role)), about(role).meaning), "a whole number");
    }
    std::optional<int> day;
    if (by_day_of_year_) {
      const int last = day_number(*year, 2, 29) ? 366 : 365;
      day = day_number(*year, 1, 1);
      if (*place < 1 || *place > last) day.reset();
      if (day) *day += *place - 1;
    } else {
      day = day_number(*year, *place, whole(Role::day).value_or(0));
    }
    if (!day) {
      const Role role = by_day_of_year_ ? Role::day_of_year : Role::day;
      const std::string written = by_day_of_year_
                                      ? fmt::format("day {} of {}", shown(parts.of(Role::day_of_year)), *year)
                                      : fmt::format("year {}, month {}, day {}", shown(parts.of(Role::year)),
                                                    shown(parts.of(Role::month)), shown(parts.of(Role::day)));
      return bad_date(parts, parts.of(role), role, fmt::format("there is no such day: {}", written), real_days());
    }
    row.day = *day;
    return std::nullopt;
  }

  static std::string real_days() { return fmt::format("real days of the years {} to {}", kFirstYear, kLastYear); }

  MaybeError date_from_cell(const RowParts& parts, RowStamp& row) {
    const std::string_view cell = parts.of(Role::date);
    if (!form_) {
      form_ = date_form_of(cell);
      if (!form_) {
        const std::string reason = why_no_date(cell);
        return bad_date(
            parts, cell, Role::date,
            fmt::format("{} is not a date{}{}", shown(cell), reason.empty() ? "" : ": ", reason),
            "dates such as 2027-05-01, 20270501, 1 May 2027, May 1, 2027 or 5/1/2027, years with four digits");
      }
      first_date_ = cell;
    }
    std::string_view rest;
    // most rows of an hourly file repeat the day of the row before
    if (!day_text_.empty() && cell.size() > day_text_.size() && cell.substr(0, day_text_.size()) == day_text_ &&
        (cell[day_text_.size()] == ' ' || cell[day_text_.size()] == 'T')) {
      row.day = day_of_text_;
      rest = cell.substr(day_text_.size());
    } else {
      const auto date = read_date(*form_, cell, rest);
      if (!date) return unlike_the_first(parts, cell);
      if (*form_ == DateForm::digits) {
        if (auto error = note_digits(*date, parts, cell)) return error;
        row.day = (date->year * 100 + date->first) * 100 + date->second;
      } else {
        const auto day = day_number(date->year, date->first, date->second);
        if (!day) {
          return bad_date(parts, cell, Role::date, fmt::format("there is no such day: {}", shown(cell)), real_days());
        }
        row.day = *day;
      }
      day_text_ = cell.substr(0, cell.size() - rest.size());
      day_of_text_ = row.day;
    }
    if (rest.empty() || header_.has(Role::time)) {
      if (rest.empty() || rest.find_first_not_of(" T0:.Z") == std::string_view::npos) return std::nullopt;
    }
    const auto time = read_time(rest);
    if (!time) return unlike_the_first(parts, cell);
    set_time(*time, parts, row);
    return std::nullopt;
  }

  [[nodiscard]] Error unlike_the_first(const RowParts& parts, std::string_view cell) const {
    const std::string reason = why_no_date(cell);
    return bad_date(parts, cell, Role::date,
                    fmt::format("{} is not a date{}{}", shown(cell), reason.empty() ? "" : ": ", reason),
                    fmt::format("dates written like the first one, {}", shown(first_date_)));
  }

  /// Keeps track of what dates in digits say about their order.
  MaybeError note_digits(const WrittenDate& date, const RowParts& parts, std::string_view cell) {
    const bool possible_day = date.first >= 1 && date.second >= 1 && date.first <= 31 && date.second <= 31 &&
                              (date.first <= 12 || date.second <= 12) && date.year >= kFirstYear &&
                              date.year <= kLastYear;
    if (!possible_day) {
      return bad_date(parts, cell, Role::date, fmt::format("there is no such day: {}", shown(cell)), real_days());
    }
    if (date.first > 12 && day_first_line_ == 0) day_first_line_ = parts.line;
    if (date.second > 12 && month_first_line_ == 0) month_first_line_ = parts.line;
    return std::nullopt;
  }

  /// Turns dates in digits into days, once the column (or the user) has told their order.
  MaybeError settle_date_order() {
    if (form_ != DateForm::digits || in_parts_) return std::nullopt;
    const auto column = static_cast<std::size_t>(header_.column(Role::date));
    const std::string field(header_.names[column]);
    DateOrder order = options_.date_order;
    if (order == DateOrder::unknown) {
      if (day_first_line_ > 0 && month_first_line_ > 0) {
        return wrong(fmt::format("the order of day and month changes: line {} has the day first, line {} the month",
                                 day_first_line_, month_first_line_),
                     "one order in the whole column", std::max(day_first_line_, month_first_line_), 0, field);
      }
      if (day_first_line_ == 0 && month_first_line_ == 0) {
        return wrong(fmt::format("dates like {} may mean day/month or month/day, and no row of the file tells which",
                                 shown(first_date_)),
                     "dates such as 2027-05-01, or --date-order day-first or month-first",
                     observed_.rows.empty() ? 0 : observed_.rows.front().line, 0, field);
      }
      order = day_first_line_ > 0 ? DateOrder::day_first : DateOrder::month_first;
    }
    for (RowStamp& row : observed_.rows) {
      const int year = row.day / 10000;
      const int first = row.day / 100 % 100;
      const int second = row.day % 100;
      const bool day_first = order == DateOrder::day_first;
      const auto day = day_number(year, day_first ? second : first, day_first ? first : second);
      if (!day) {
        return wrong(fmt::format("there is no such day: {}/{}/{} with the {} first", first, second, year,
                                 day_first ? "day" : "month"),
                     real_days(), row.line, 0, field);
      }
      row.day = *day;
    }
    return std::nullopt;
  }

  // ---- afterwards

  [[nodiscard]] MaybeError wrong_unit(const ReadColumn& column) const {
    const bool celsius = column.unit == &usual_unit(UnitFamily::temperature);
    if (!column.temperature || !celsius || column.too_hot == 0 || column.role == Role::tmin) return std::nullopt;
    const auto share = static_cast<double>(column.too_hot) / static_cast<double>(column.numbers);
    if (share < kOften || (column.too_hot < kFewIsNoPattern && column.too_hot < column.numbers)) return std::nullopt;
    const bool fahrenheit = column.hottest <= kWarmestFahrenheit;
    return wrong(
        fmt::format("{} of {} values are above 60 °C, the highest {}; they look like {}", column.too_hot,
                    column.numbers, column.hottest, fahrenheit ? "degrees Fahrenheit" : "kelvin or tenths of a degree"),
        fmt::format("write the unit in the header, or give --column {}=NAME:{}", about(column.role).word,
                    fahrenheit ? "F" : "UNIT (K, 0.1C)"),
        column.hot_line, column.hot_column, column.name);
  }

  [[nodiscard]] MaybeError wrong_column(const ReadColumn& column) const {
    if (column.words == 0 || !is_air_temperature(column.role)) return std::nullopt;
    const auto share = static_cast<double>(column.words) / static_cast<double>(column.words + column.numbers);
    if (share < kTooManyWords || (column.words < kFewIsNoPattern && column.numbers > 0)) return std::nullopt;
    Error error = column.first_word;
    error.problem +=
        fmt::format(", and neither are {} of the column's {} values", column.words, column.words + column.numbers);
    return error;
  }

  std::string_view text_;
  std::string name_;
  const CsvOptions& options_;

  Header header_;
  std::string_view rows_;
  std::vector<int> slots_;  // of each column: index in columns_, kIgnored, or slot_of(a date role)
  std::vector<ReadColumn> columns_;
  bool decimal_comma_ = false;
  bool in_parts_ = false;
  bool by_day_of_year_ = false;

  Observations observed_;
  NoticeBook notices_;
  std::optional<DateForm> form_;
  std::string_view first_date_;
  std::string_view day_text_;  // date part of the row before
  int day_of_text_ = 0;
  bool timed_ = false;
  bool zone_noticed_ = false;
  int day_first_line_ = 0;    // first line whose first number can only be a day
  int month_first_line_ = 0;  // first line whose second number can only be a day
};

}  // namespace

Result<WeatherRecord> read_weather_csv(std::string_view text, std::string name, const CsvOptions& options) {
  return CsvWeather(text, std::move(name), options).run();
}

}  // namespace strikebed::climate

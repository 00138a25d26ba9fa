#include "climate/csv_reader.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <limits>
#include <utility>

#include "climate/cells.hpp"
#include "climate/checking.hpp"
#include "climate/csv_dates.hpp"
#include "climate/csv_header.hpp"
#include "climate/csv_values.hpp"

namespace strikebed::climate {
namespace {

constexpr double kNone = std::numeric_limits<double>::quiet_NaN();
constexpr std::size_t kMostRows = 5'000'000;
constexpr double kLowestWind_m = 0.5;
constexpr double kHighestWind_m = 200;

using MaybeError = std::optional<Error>;

class CsvWeather {
 public:
  CsvWeather(const CsvTable& table, const std::string& name, const CsvOptions& options)
      : header_(table.header),
        rows_(table.rows),
        first_row_line_(table.first_row_line),
        name_(name),
        options_(options),
        decimal_comma_(header_.separator != ','),
        dates_(header_, name_) {}

  Result<WeatherRecord> run() {
    set_columns();
    note_unread();
    set_wind_height();
    if (auto error = read_rows()) return *error;
    if (auto error = dates_.settle(options_.date_order, observed_.rows)) return *error;
    for (const CsvColumn& column : columns_) {
      if (auto error = column.wrong(name_)) return *error;
    }
    observed_.timed = dates_.timed();
    observed_.latitude_deg = options_.latitude_deg;
    return check_observations(std::move(observed_), std::move(notices_), name_, RecordKind::years);
  }

 private:
  static constexpr int kIgnored = -1;
  static constexpr int slot_of(Role role) { return -2 - static_cast<int>(role); }

  [[nodiscard]] Error wrong(std::string problem, std::string allowed, int line, int column = 0) const {
    return Error{std::move(problem), std::move(allowed), {}, name_, line, column};
  }

  /// What is read of each column, and the notices that go with it.
  void set_columns() {
    slots_.assign(header_.width, kIgnored);
    for (int index = 0; index < kRoles; ++index) {
      const auto role = static_cast<Role>(index);
      if (!header_.has(role)) continue;
      const auto column = static_cast<std::size_t>(header_.column(role));
      if (about(role).family == UnitFamily::none) {
        slots_[column] = slot_of(role);
        continue;
      }
      const HeaderCell& cell = header_.cells[static_cast<std::size_t>(index)];
      const std::string_view written = header_.names[column];
      const int position = column_at(header_.line_start, written.data());
      if (!cell.strange_unit.empty() && !cell.unit) {
        notices_.once(NoticeKind::strange_unit, role,
                      {.name = shown(written), .cell = shown(cell.strange_unit), .column = position}, header_.line);
        continue;
      }
      const KnownUnit& unit = cell.unit ? *cell.unit : usual_unit(about(role).family);
      if (!cell.unit) {
        notices_.once(NoticeKind::no_unit, role,
                      {.name = shown(written), .low = {.unit = unit.name}, .column = position}, header_.line);
      }
      slots_[column] = static_cast<int>(columns_.size());
      observed_.columns.push_back({role, &unit});
      columns_.emplace_back(role, header_.name(role), unit);
    }
  }

  void note_unread() {
    constexpr std::size_t kNamed = 12;
    std::string names;
    std::size_t unread = 0;
    for (std::size_t i = 0; i < header_.width; ++i) {
      const int index = static_cast<int>(i);
      if (header_.names[i].empty() || std::ranges::find(header_.column_of, index) != header_.column_of.end()) continue;
      if (unread++ < kNamed) names += (names.empty() ? "" : ", ") + shown(header_.names[i]);
    }
    if (unread == 0) return;
    if (unread > kNamed) names += fmt::format(" and {} more", unread - kNamed);
    notices_.once(NoticeKind::unread, Role::date, {.name = names, .count = static_cast<int>(unread)}, header_.line);
  }

  void set_wind_height() {
    const auto is_wind = [](const CsvColumn& column) { return column.role() == Role::wind; };
    if (std::none_of(columns_.begin(), columns_.end(), is_wind)) return;
    const auto of_header = header_.cells[static_cast<std::size_t>(Role::wind)].height_m;
    const auto height = options_.wind_height_m ? options_.wind_height_m : of_header;
    if (height && *height >= kLowestWind_m) {
      if (*height == 2) return;
      observed_.wind_factor = wind_factor_to_2_m(*height);
      notices_.once(NoticeKind::wind_height, Role::wind, {.low = {*height, "m"}, .factor = observed_.wind_factor},
                    header_.line);
    } else {
      notices_.once(NoticeKind::wind_height_unknown, Role::wind, {}, header_.line);
    }
  }

  MaybeError read_rows() {
    reserve();
    CellReader reader(rows_, header_.separator, first_row_line_);
    const std::size_t measures = columns_.size();
    while (!reader.at_end()) {
      CsvRowTime time;
      time.line = reader.line();
      time.line_start = reader.line_start();
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
            values[slot] =
                columns_[static_cast<std::size_t>(slot)].read({cell.text, line, line_start}, decimal_comma_, notices_);
          } else if (slot < kIgnored) {
            time.cells[static_cast<std::size_t>(-2 - slot)] = cell.text;
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
        notices_.note(NoticeKind::short_row, Role::date, time.line, time.line,
                      [&] { return Finding{.count = static_cast<int>(index), .of = static_cast<int>(header_.width)}; });
      }
      if (observed_.rows.size() == kMostRows) {
        return wrong(fmt::format("the file has more than {} rows", kMostRows), "at most so many", time.line);
      }
      const Result<RowStamp> row = dates_.read(time, notices_);
      if (!row) return row.error();
      observed_.rows.push_back(*row);
    }
    return std::nullopt;
  }

  void reserve() {
    const std::size_t first_line = std::min(rows_.find('\n'), rows_.size()) + 1;
    const std::size_t rows = std::min(rows_.size() / first_line + 16, std::size_t{400'000});
    observed_.rows.reserve(rows);
    observed_.values.reserve(rows * columns_.size());
  }

  const CsvHeader& header_;
  std::string_view rows_;
  int first_row_line_;
  const std::string& name_;
  const CsvOptions& options_;
  bool decimal_comma_;
  CsvDates dates_;
  std::vector<int> slots_;  // of each column: index in columns_, kIgnored, or slot_of(a date role)
  std::vector<CsvColumn> columns_;
  Observations observed_;
  NoticeBook notices_;
};

}  // namespace

std::optional<Error> why_not_csv(std::string_view text, const std::string& name) {
  const auto reason = why_not_a_table(without_byte_order_mark(text));
  if (!reason) return std::nullopt;
  return Error{.problem = reason->problem, .allowed = reason->allowed, .file = name, .line = reason->line};
}

Result<WeatherRecord> read_weather_csv(std::string_view text, const std::string& name, const CsvOptions& options) {
  text = without_byte_order_mark(text);
  if (auto error = why_not_csv(text, name)) return *error;
  if (const auto& height = options.wind_height_m; height && !(*height >= kLowestWind_m && *height <= kHighestWind_m)) {
    return Error{.problem = fmt::format("the wind height is {} m", *height),
                 .allowed = fmt::format("{} to {} m", kLowestWind_m, kHighestWind_m),
                 .field = "wind_height_m"};
  }
  const Result<CsvTable> table = find_csv_header(text, name, options.columns);
  if (!table) return table.error();
  return CsvWeather(*table, name, options).run();
}

}  // namespace strikebed::climate

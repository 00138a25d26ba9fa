#include "climate/epw_reader.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <limits>
#include <optional>
#include <utility>
#include <vector>

#include "climate/cells.hpp"
#include "climate/checking.hpp"
#include "climate/date_form.hpp"

namespace strikebed::climate {
namespace {

constexpr double kNone = std::numeric_limits<double>::quiet_NaN();
constexpr std::array<std::string_view, 8> kHeaderLines = {"LOCATION",
                                                          "DESIGN CONDITIONS",
                                                          "TYPICAL/EXTREME PERIODS",
                                                          "GROUND TEMPERATURES",
                                                          "HOLIDAYS/DAYLIGHT SAVING",
                                                          "COMMENTS 1",
                                                          "COMMENTS 2",
                                                          "DATA PERIODS"};
constexpr std::size_t kLocationCells = 12;  // and some to spare
constexpr std::size_t kFields = 35;
constexpr std::size_t kFewestFields = 22;  // up to the wind speed
constexpr int kMostDays = 366;
constexpr double kWindHeightM = 10;
constexpr double kMjPerWh = 0.0036;

constexpr std::array kUsedFields = {
    EpwField{Role::temperature, "dry bulb temperature", "°C", 7, 99.9, -70, 60, 1},
    EpwField{Role::dew_point, "dew point temperature", "°C", 8, 99.9, -70, 60, 1},
    EpwField{Role::humidity, "relative humidity", "%", 9, 999, 0, 110, 1},
    EpwField{Role::radiation, "global horizontal radiation", "Wh/m2", 14, 9999, 0, 1500, kMjPerWh},
    EpwField{Role::wind, "wind speed", "m/s", 22, 999, 0, 40, 1},
    EpwField{Role::rain, "liquid precipitation depth", "mm", 34, 999, 0, 500, 1},
};

class EpwWeather {
 public:
  EpwWeather(std::string_view text, std::string name) : text_(without_byte_order_mark(text)), name_(std::move(name)) {}

  Result<WeatherRecord> run() {
    if (const auto reason = why_not_a_table(text_)) {
      return wrong(reason->problem, "an EPW file: 8 header lines, then a line an hour", reason->line);
    }
    CellReader reader(text_, ',');
    if (auto error = read_header(reader)) return *error;
    for (const EpwField& field : kUsedFields) {
      observed_.columns.push_back({field.role, &usual_unit(about(field.role).family)});
    }
    if (auto error = read_hours(reader)) return *error;
    drop_empty_rain();
    observed_.timed = true;
    observed_.latitude_deg = site_.latitude_deg;
    observed_.wind_factor = wind_factor_to_2_m(kWindHeightM);
    notices_.once(NoticeKind::typical_year, Role::date, {.count = kNominalYear});
    notices_.once(NoticeKind::wind_height_of_form, Role::wind,
                  {.low = {kWindHeightM, "m"}, .factor = observed_.wind_factor});
    auto record =
        check_observations(std::move(observed_), std::move(notices_), std::move(name_), RecordKind::typical_year);
    if (record) record.value().site = site_;
    return record;
  }

  std::optional<Site> site() {
    CellReader reader(text_, ',');
    std::vector<std::string_view> cells;
    for (bool whole = reader.at_end(); !whole && cells.size() < kLocationCells;) {
      const Cell cell = reader.next();
      cells.push_back(cell.text);
      whole = cell.ends_line || cell.unclosed;
    }
    if (cells.empty() || !starts_like(cells[0], kHeaderLines[0]) || read_location(cells)) return std::nullopt;
    return site_;
  }

 private:
  using MaybeError = std::optional<Error>;

  [[nodiscard]] Error wrong(std::string problem, std::string allowed, int line, int column = 0,
                            std::string field = {}) const {
    return Error{std::move(problem), std::move(allowed), std::move(field), name_, line, column};
  }

  static bool starts_like(std::string_view cell, std::string_view wanted) {
    return squeezed(cell.substr(0, 60)).substr(0, squeezed(wanted).size()) == squeezed(wanted);
  }

  MaybeError read_header(CellReader& reader) {
    for (std::size_t i = 0; i < kHeaderLines.size(); ++i) {
      const int line = static_cast<int>(i) + 1;
      std::vector<std::string_view> cells;
      bool whole = reader.at_end();
      while (!whole) {
        const Cell cell = reader.next();
        if (cell.unclosed)
          return wrong("a quotation mark is opened and never closed", "quotation marks in pairs", line);
        if (cells.size() < kLocationCells) cells.push_back(cell.text);
        whole = cell.ends_line;
      }
      if (cells.empty() || !starts_like(cells[0], kHeaderLines[i])) {
        return wrong(fmt::format("line {} of an EPW file is its {} line; found {}", line, kHeaderLines[i],
                                 cells.empty() ? "the end of the file" : shown(cells[0])),
                     "the eight header lines of the EPW format, in their order", line, 1);
      }
      if (i == 0) {
        if (auto error = read_location(cells)) return error;
      }
      if (i + 1 == kHeaderLines.size()) {
        if (auto error = read_periods(cells)) return error;
      }
      reader.next_line();
    }
    return std::nullopt;
  }

  MaybeError read_location(const std::vector<std::string_view>& cells) {
    struct Wanted {
      std::string_view name;
      std::size_t place;
      double low;
      double high;
    };
    constexpr std::array kWanted = {Wanted{"latitude", 6, -90, 90}, Wanted{"longitude", 7, -180, 180},
                                    Wanted{"time zone", 8, -12, 14}, Wanted{"elevation", 9, -1000, 9999.9}};
    std::array<double, 4> found{};
    for (std::size_t i = 0; i < kWanted.size(); ++i) {
      const std::string_view cell = cells.size() > kWanted[i].place ? cells[kWanted[i].place] : std::string_view{};
      const auto number = read_number(cell, false);
      if (!number || *number < kWanted[i].low || *number > kWanted[i].high) {
        return wrong(fmt::format("the {} is {}", kWanted[i].name, cell.empty() ? "not given" : shown(cell)),
                     fmt::format("a number from {} to {}", kWanted[i].low, kWanted[i].high), 1,
                     cell.data() ? column_at(text_.data(), cell.data()) : 0, "LOCATION");
      }
      found[i] = *number;
    }
    site_ = Site{found[0], found[1], found[3]};
    notices_.once(NoticeKind::place, Role::date,
                  {.name = shown(cells[1]), .cell = shown(cells[3]), .low = {found[2], "h"}}, 1);
    return std::nullopt;
  }

  MaybeError read_periods(const std::vector<std::string_view>& cells) {
    const auto an_hour = cells.size() > 2 ? read_whole(cells[2]) : std::nullopt;
    if (!an_hour || *an_hour < 1 || *an_hour > 60) {
      return wrong(fmt::format("the number of records an hour is {}", cells.size() > 2 ? shown(cells[2]) : "not given"),
                   "a whole number from 1 to 60", 8, 0, "DATA PERIODS");
    }
    an_hour_ = *an_hour;
    return std::nullopt;
  }

  MaybeError read_hours(CellReader& reader) {
    const std::size_t most_rows = std::size_t{kMostDays} * 24 * static_cast<std::size_t>(an_hour_);
    const std::size_t usual_rows = std::min(most_rows, text_.size() / 40 + 1);
    observed_.rows.reserve(usual_rows);
    observed_.values.reserve(usual_rows * kUsedFields.size());
    while (!reader.at_end()) {
      const int line = reader.line();
      const char* line_start = reader.line_start();
      std::array<std::string_view, kFields> cells{};
      std::size_t count = 0;
      bool whole = false;
      while (!whole) {
        const Cell cell = reader.next();
        if (cell.unclosed)
          return wrong("a quotation mark is opened and never closed", "quotation marks in pairs", line);
        if (count < kFields) cells[count] = cell.text;
        ++count;
        whole = cell.ends_line;
      }
      reader.next_line();
      if (count == 1 && cells[0].empty()) continue;
      if (count < kFewestFields) {
        return wrong(fmt::format("the row has {} fields", count), fmt::format("{} fields an hour", kFields), line);
      }
      if (observed_.rows.size() == most_rows) {
        return wrong("the file holds more than one year",
                     "one typical year; several years of hours belong in a CSV file", line);
      }
      if (auto error = read_hour(cells, line, line_start)) return error;
    }
    return std::nullopt;
  }

  MaybeError read_hour(const std::array<std::string_view, kFields>& cells, int line, const char* line_start) {
    struct Part {
      std::string_view name;
      std::size_t place;
      int low;
      int high;
    };
    constexpr std::array kParts = {Part{"month", 2, 1, 12}, Part{"day", 3, 1, 31}, Part{"hour", 4, 1, 24},
                                   Part{"minute", 5, 0, 60}};
    std::array<int, 4> parts{};
    for (std::size_t i = 0; i < kParts.size(); ++i) {
      const std::string_view cell = cells[kParts[i].place - 1];
      const auto number = read_number(cell, false);
      if (!number || *number < kParts[i].low || *number > kParts[i].high || *number != static_cast<int>(*number)) {
        return wrong(fmt::format("the {} is {}", kParts[i].name, cell.empty() ? "not given" : shown(cell)),
                     fmt::format("a whole number from {} to {}", kParts[i].low, kParts[i].high), line,
                     column_at(line_start, cell.data()), std::string(kParts[i].name));
      }
      parts[i] = static_cast<int>(*number);
    }
    const auto [month, day, hour, minute] = parts;
    if (month == 2 && day == 29) {
      if (leap_hours_++ == 0) notices_.once(NoticeKind::leap_day, Role::date, {}, line);
      return std::nullopt;
    }
    const auto number = day_number(kNominalYear, month, day);
    if (!number) {
      return wrong(fmt::format("there is no day {} of month {}", day, month), "real days", line,
                   column_at(line_start, cells[2].data()), "day");
    }
    // hour 1 is the one that ends at 1:00; minutes tell rows apart only where there are several an hour
    const int within = an_hour_ > 1 ? std::min(minute, 59) : 0;
    observed_.rows.push_back({*number, (hour - 1) * 60 + within, line});
    for (const EpwField& field : kUsedFields) {
      const std::string_view cell = cells[field.place - 1];
      const auto value = read_number(cell, false);
      if (!value && !cell.empty()) {
        return wrong(fmt::format("{} is not a number", shown(cell)),
                     fmt::format("a number from {} to {}", field.low, field.high), line,
                     column_at(line_start, cell.data()), std::string(field.name));
      }
      observed_.values.push_back(checked(field, value, cell, line, line_start));
    }
    return std::nullopt;
  }

  double checked(const EpwField& field, std::optional<double> value, std::string_view cell, int line,
                 const char* line_start) {
    if (!value || *value >= field.missing_from) {
      notices_.note(NoticeKind::missing, field.role, line, line, [&] {
        return Finding{.name = std::string(field.name), .cell = cell.empty() ? std::string() : shown(cell)};
      });
      return kNone;
    }
    if (*value < field.low || *value > field.high) {
      notices_.note(NoticeKind::impossible, field.role, line, line, [&] {
        return Finding{.name = std::string(field.name),
                       .cell = shown(cell),
                       .low = {field.low, field.unit},
                       .high = {field.high, field.unit},
                       .column = column_at(line_start, cell.data())};
      });
      return kNone;
    }
    if (field.role == Role::humidity) return std::min(*value, 100.0);  // the format allows up to 110
    return *value * field.factor;
  }

  /// Many files carry no rain and write 0 in every hour: a year without a drop counts as not measured.
  void drop_empty_rain() {
    const std::size_t width = kUsedFields.size();
    const std::size_t rain = width - 1;
    static_assert(kUsedFields.back().role == Role::rain);
    bool any = false;
    bool zeros = false;
    for (std::size_t i = rain; i < observed_.values.size(); i += width) {
      any = any || observed_.values[i] > 0;
      zeros = zeros || observed_.values[i] == 0;
    }
    if (any || !zeros) return;
    for (std::size_t i = rain; i < observed_.values.size(); i += width) observed_.values[i] = kNone;
    notices_.once(NoticeKind::no_rain, Role::rain, {});
  }

  std::string_view text_;
  std::string name_;
  Site site_;
  int an_hour_ = 1;
  int leap_hours_ = 0;
  Observations observed_;
  NoticeBook notices_;
};

}  // namespace

std::span<const EpwField> epw_fields() { return kUsedFields; }

bool looks_like_epw(std::string_view text) { return without_byte_order_mark(text).substr(0, 9) == "LOCATION,"; }

std::optional<Site> site_of_epw(std::string_view text) { return EpwWeather(text, "").site(); }

Result<WeatherRecord> read_weather_epw(std::string_view text, std::string name) {
  return EpwWeather(text, std::move(name)).run();
}

}  // namespace strikebed::climate

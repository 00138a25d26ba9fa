#include "climate/csv_values.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <limits>
#include <utility>

#include "climate/cells.hpp"

namespace strikebed::climate {
namespace {

constexpr double kNone = std::numeric_limits<double>::quiet_NaN();
constexpr double kOften = 0.05;             // of the temperatures above 60: the unit is wrong, not the thermometer
constexpr double kTooManyWords = 0.10;      // of a column's cells that are not numbers: it is the wrong column
constexpr int kFewIsNoPattern = 3;          // fewer odd values than this prove nothing, unless they are all
constexpr double kWarmestFahrenheit = 140;  // above it a number is not degrees Fahrenheit of air either
constexpr double kNightOffset = -0.9;       // MJ/m2/day (about -10 W/m2): a pyranometer's zero at night

int column_of(const PlacedCell& cell) { return column_at(cell.line_start, cell.text.data()); }

}  // namespace

CsvColumn::CsvColumn(Role role, std::string name, const KnownUnit& unit)
    : role_(role), name_(std::move(name)), unit_(unit), bounds_(possible(role, unit.per_day)) {}

double CsvColumn::read(const PlacedCell& cell, bool decimal_comma, NoticeBook& notices) {
  const auto number = read_number(cell.text, decimal_comma);
  if (!number) return read_word(cell, notices);
  if (is_missing_number(*number, role_, unit_)) return missing(cell, notices);
  ++numbers_;
  const double value = (*number - unit_.subtract) * unit_.factor;
  if (value >= bounds_.low && value <= bounds_.high) return value;
  if (role_ == Role::radiation && value < 0 && value * (unit_.per_day ? 1 : 24) >= kNightOffset) return 0;
  if (unit_.family == UnitFamily::temperature && value > bounds_.high) {
    if (too_hot_++ == 0) {
      hot_line_ = cell.line;
      hot_column_ = column_of(cell);
    }
    hottest_ = std::max(hottest_, *number);
  }
  notices.note(NoticeKind::impossible, role_, cell.line, cell.line, [&] {
    return Finding{.name = name_,
                   .cell = shown(cell.text),
                   .low = {written_in(unit_, bounds_.low), unit_.name},
                   .high = {written_in(unit_, bounds_.high), unit_.name},
                   .column = column_of(cell)};
  });
  return kNone;
}

double CsvColumn::missing(const PlacedCell& cell, NoticeBook& notices) const {
  notices.note(NoticeKind::missing, role_, cell.line, cell.line, [&] {
    return Finding{
        .name = name_, .cell = cell.text.empty() ? std::string() : shown(cell.text), .column = column_of(cell)};
  });
  return kNone;
}

double CsvColumn::read_word(const PlacedCell& cell, NoticeBook& notices) {
  if (is_missing_word(cell.text)) return missing(cell, notices);
  if (role_ == Role::rain && (cell.text == "T" || cell.text == "t")) return 0;  // a trace: too little to measure
  if (words_++ == 0) {
    first_word_ = {.problem = fmt::format("{} is not a number", shown(cell.text)),
                   .allowed = fmt::format("numbers in {}, or a missing marker such as NA", unit_.name),
                   .field = name_,
                   .line = cell.line,
                   .column = column_of(cell)};
  }
  notices.note(NoticeKind::not_a_number, role_, cell.line, cell.line,
               [&] { return Finding{.name = name_, .cell = shown(cell.text), .column = column_of(cell)}; });
  return kNone;
}

std::optional<Error> CsvColumn::wrong(const std::string& file) const {
  auto error = wrong_unit();
  if (!error) error = wrong_column();
  if (error) error->file = file;
  return error;
}

std::optional<Error> CsvColumn::wrong_unit() const {
  const bool celsius = &unit_ == &usual_unit(UnitFamily::temperature);
  if (!celsius || too_hot_ == 0 || role_ == Role::tmin) return std::nullopt;
  const auto share = static_cast<double>(too_hot_) / static_cast<double>(numbers_);
  if (share < kOften || (too_hot_ < kFewIsNoPattern && too_hot_ < numbers_)) return std::nullopt;
  const bool fahrenheit = hottest_ <= kWarmestFahrenheit;
  return Error{
      .problem = fmt::format("{} of {} values are above 60 °C, the highest {}; they look like {}", too_hot_, numbers_,
                             hottest_, fahrenheit ? "degrees Fahrenheit" : "kelvin or tenths of a degree"),
      .allowed = fmt::format("the unit in the header, {0}; or <columns.{1}.unit> with {0}",
                             fahrenheit ? "F" : "K or 0.1C", about(role_).word),
      .field = name_,
      .line = hot_line_,
      .column = hot_column_};
}

std::optional<Error> CsvColumn::wrong_column() const {
  if (words_ == 0 || !is_air_temperature(role_)) return std::nullopt;
  const auto share = static_cast<double>(words_) / static_cast<double>(words_ + numbers_);
  if (share < kTooManyWords || (words_ < kFewIsNoPattern && numbers_ > 0)) return std::nullopt;
  Error error = first_word_;
  error.problem += fmt::format(", and neither are {} of the column's {} values", words_, words_ + numbers_);
  return error;
}

}  // namespace strikebed::climate

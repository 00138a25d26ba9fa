#include "nursery/profiles/value_reading.hpp"

#include <fmt/format.h>

#include <array>

namespace strikebed::nursery {
namespace {

constexpr std::array<std::string_view, 3> kTrusts{"A", "B", "C"};

}  // namespace

Provenance read_provenance(const TomlTable& table, const Strictness& strict) {
  if (strict.complete) {
    table.needs("source", "where the number comes from, in words");
    table.needs("trust", listed(kTrusts));
  }
  Provenance provenance{table.text("source").value_or(strict.own_source), strict.complete ? Trust::C : Trust::B};
  if (const auto trust = table.one_of("trust", kTrusts)) provenance.trust = static_cast<Trust>(trust->front());
  return provenance;
}

void read_unit(const TomlTable& table, std::string_view unit, const Strictness& strict) {
  if (strict.complete) table.needs("unit", fmt::format("\"{}\"", unit));
  const std::array<std::string_view, 1> only_unit{unit};
  (void)table.one_of("unit", only_unit);
}

int read_counted(const TomlTable& table, const Strictness& strict) {
  constexpr int kMost = 1'000'000'000;
  return strict.complete ? 0 : table.whole("counted", 0, kMost).value_or(0);
}

std::optional<ProfileValue> read_value(const TomlTable& table, std::string_view key, std::string_view unit,
                                       double least, double most, const Strictness& strict) {
  const NumberRange range{.low = least, .high = most, .of_what = std::string(unit)};
  if (strict.complete) table.needs(key, "a table with value, low, high, unit, source and trust");
  if (!table.has(key)) return std::nullopt;
  if (!strict.complete && !table.is_table(key)) {
    const auto exactly = table.number(key, range);
    if (!exactly) return std::nullopt;
    return ProfileValue{{*exactly, *exactly, *exactly}, std::string(unit), strict.own_source, Trust::B};
  }
  const auto field = table.table(key);
  if (!field) return std::nullopt;
  read_unit(*field, unit, strict);
  const Provenance provenance = read_provenance(*field, strict);
  const int counted = read_counted(*field, strict);
  field->needs("value", range.in_words());
  const bool ranged = field->has_any({"low", "high"}) || strict.complete;
  if (ranged) {
    field->needs("low", "the 5 % point");
    field->needs("high", "the 95 % point");
  }
  const auto value = field->number("value", range);
  const auto low = field->number("low", range);
  const auto high = field->number("high", range);
  if (!value || (ranged && (!low || !high))) return std::nullopt;
  if (ranged && (*low > *value || *value > *high)) {
    table.fail(key, fmt::format("found low {}, value {}, high {}", *low, *value, *high),
               "low at most value, value at most high");
    return std::nullopt;
  }
  return ProfileValue{{*value, low.value_or(*value), high.value_or(*value)},
                      std::string(unit),
                      provenance.source,
                      provenance.trust,
                      counted};
}

}  // namespace strikebed::nursery

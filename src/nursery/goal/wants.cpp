// What is wanted: base forms, their counts, and the methods that give them.
#include <fmt/format.h>

#include "base/nearest.hpp"
#include "nursery/goal/reading.hpp"
#include "nursery/profiles/method_mixes.hpp"
#include "nursery/rate_belief.hpp"

namespace strikebed::nursery {
namespace {

using growth::Method;
using growth::Rung;
using season::Want;

std::optional<Method> read_named_method(Reading& reading, const TomlTable& table) {
  const std::vector<std::string_view> ids = ids_of(reading.library.methods);
  const std::string allowed = listed(ids) + ", or a file such as \"my-cut.toml\"";
  const auto name = table.text("method", allowed);
  if (!name) return std::nullopt;
  if (const auto shipped = reading.library.methods.find(*name); shipped != reading.library.methods.end()) {
    return reading.keep(read_method(shipped->second.text, shipped->second.file, reading.library));
  }
  if (!name->ends_with(".toml")) {
    table.fail("method", "found " + table.found("method") + did_you_mean(*name, ids), allowed);
    return std::nullopt;
  }
  const auto text = reading.own_file(table, "method", *name);
  if (!text) return std::nullopt;
  return reading.keep(read_method(text->text, text->file, reading.library));
}

/// The first shipped method (by name) that gives the base form.
std::optional<Method> method_for(Reading& reading, const std::string& base_form) {
  for (const auto& [id, shipped] : reading.library.methods) {
    auto method = reading.keep(read_method(shipped.text, shipped.file, reading.library));
    if (method && method->base_form == base_form) return method;
  }
  return std::nullopt;
}

/// What the grower's own profile says of a method stands above what the method says.
void take_own_rates(const growth::Species& species, Method& method) {
  const auto of_method = species.method_rates.find(method.id);
  if (of_method == species.method_rates.end()) return;
  for (const growth::RungRow& row : growth::kRungs) {
    if (!of_method->second[row.rung]) continue;
    method.rates[row.rung] = of_method->second[row.rung];
    method.own_rates[row.rung] = true;
    if (row.rung == Rung::take) method.reference_dip = method.dip();
  }
}

void read_want(Reading& reading, const TomlTable& table, const std::optional<Method>& usual_method,
               const WrittenRates& written) {
  Want want;
  const auto base_form = table.one_of("base_form", kBaseForms);
  const bool names_method = table.has("method");
  auto method = read_named_method(reading, table);
  if (!names_method && usual_method && (!table.has("base_form") || usual_method->base_form == base_form))
    method = usual_method;
  if (!table.has("base_form") && !names_method && !reading.root.has("method"))
    table.needs("base_form", listed(kBaseForms));
  if (!method && !names_method && base_form) {
    method = method_for(reading, *base_form);
    if (method) {
      reading.assume(
          fmt::format("The method \"{}\" for {} trees: the one shipped for this base form.", method->id, *base_form));
    } else {
      table.fail("base_form", "found " + table.found("base_form") + ", for which no method is known",
                 "a base form with a method");
    }
  }
  table.needs("count", "how many plants are wanted");
  want.count = table.whole("count", 1, kMostPlants).value_or(1);
  const auto take = read_rate(table, name_of(Rung::take));
  const auto grade = read_rate(table, name_of(Rung::grade));
  if (!method) return;  // an error is noted
  want.method = std::move(*method);
  want.base_form = want.method.base_form;
  take_own_rates(reading.goal().species, want.method);
  if (auto container = reading.keep(container_of(want.method, reading.library))) {
    want.set_in = std::move(*container);
  }
  if (base_form && *base_form != want.base_form) {
    table.fail(
        "base_form",
        fmt::format("found \"{}\", but the method \"{}\" gives \"{}\"", *base_form, want.method.id, want.base_form),
        fmt::format("\"{}\", or another method", want.base_form));
  }
  for (const Want& earlier : reading.goal().wants) {
    if (earlier.method.id != want.method.id) continue;
    table.fail("", fmt::format("a second want of {} trees by the method \"{}\"", want.base_form, want.method.id),
               "one want for each base form and method: add their counts");
  }
  const auto resolve = [&](Rung rung, const std::optional<RateBelief>& of_want, bool& own) {
    const bool of_method =
        want.method.own_rates[rung] || (want.method.rates[rung] && !reading.goal().species.is_own(name_of(rung)));
    own = of_want || (of_method && !written[rung]);
    const std::string shown = fmt::format("{} ({})", name_of(rung), want.base_form);
    const std::optional<RateBelief>& said = of_want ? of_want : written[rung];
    return said ? rate_written(reading, *said, rung, shown) : rate_left_out(reading, rung, &want.method, shown);
  };
  want.take = resolve(Rung::take, take, want.own_take);
  want.grade = resolve(Rung::grade, grade, want.own_grade);
  reading.goal().wants.push_back(std::move(want));
}

}  // namespace

void read_wants(Reading& reading, const WrittenRates& written) {
  const std::optional<Method> usual_method = read_named_method(reading, reading.root);
  if (!reading.root.needs("want", "one or more [[want]] tables with base_form and count")) return;
  const std::vector<TomlTable> tables = reading.root.tables("want");
  if (tables.size() > season::kMostWants) {
    reading.root.fail("want", fmt::format("found {} wants", tables.size()),
                      fmt::format("at most {}", season::kMostWants));
    return;
  }
  for (const TomlTable& table : tables) read_want(reading, table, usual_method, written);
}

}  // namespace strikebed::nursery

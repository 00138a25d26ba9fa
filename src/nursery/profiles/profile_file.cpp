#include "nursery/profiles/profile_file.hpp"

#include <fmt/format.h>

#include <array>
#include <cmath>
#include <set>

#include "base/nearest.hpp"
#include "nursery/profiles/method_mixes.hpp"
#include "nursery/profiles/value_reading.hpp"
#include "nursery/rate_belief.hpp"
#include "nursery/toml_file.hpp"

namespace strikebed::nursery {
namespace {

using growth::Cardinal;
using growth::Method;
using growth::RateValue;
using growth::Rung;
using growth::RungRow;
using growth::Species;

/// One number of a profile: its key, where it stands, its only unit, and what it may be.
template <class Owner>
struct Field {
  std::string_view key;
  ProfileValue Owner::* place;
  std::string_view unit;
  double least;
  double most;
};

constexpr std::array<Field<Species>, 24> kSpeciesFields{{
    {"seeds_per_gram", &Species::seeds_per_gram, "seeds/g", 0.1, 100'000},
    {"sowing_depth_mm", &Species::sowing_depth_mm, "mm", 1, 100},
    {"chill_days", &Species::chill_days, "d", 0, 365},
    {"unchilled_time_factor", &Species::unchilled_time_factor, "ratio", 1, 10},
    {"unchilled_spread_factor", &Species::unchilled_spread_factor, "ratio", 1, 10},
    {"germination_time", &Species::germination_time, "°C d", 1, 5'000},
    {"germination_spread", &Species::germination_spread, "ln", 0.01, 2},
    {"cover_time", &Species::cover_time, "°C d", 1, 2'000},
    {"loss_half_age_days", &Species::loss_half_age_days, "d", 0.5, 365},
    {"ripening_time", &Species::ripening_time, "°C d", 1, 10'000},
    {"ripening_spread", &Species::ripening_spread, "ln", 0.01, 2},
    {"window_end_time", &Species::window_end_time, "°C d", 1, 20'000},
    {"edge_odds", &Species::edge_odds, "ratio", 0.01, 1},
    {"rooting_time", &Species::rooting_time, "°C d", 1, 10'000},
    {"rooting_spread", &Species::rooting_spread, "ln", 0.01, 2},
    {"unrooted_life_days", &Species::unrooted_life_days, "d", 1, 1'000},
    {"failure_half_life_days", &Species::failure_half_life_days, "d", 1, 1'000},
    {"weaning_days", &Species::weaning_days, "d", 1, 365},
    {"shortest_day_h", &Species::shortest_day_h, "h", 0.1, 24},
    {"standstill_day_h", &Species::standstill_day_h, "h", 0.1, 24},
    {"cold_seed_loss", &Species::cold_seed_loss, "share/week", 0, 0.9},
    {"idle_loss", &Species::idle_loss, "share/week", 0, 0.9},
    {"seedling_frost_c", &Species::seedling_frost_c, "°C", -60, -0.5},
    {"cutting_frost_c", &Species::cutting_frost_c, "°C", -60, -0.5},
}};

constexpr std::array<Field<Method>, 15> kMethodFields{{
    {"auxin_ppm", &Method::auxin_ppm, "ppm", 1, 50'000},
    {"stem_length_mm", &Method::stem_length_mm, "mm", 1, 200},
    {"cut_angle_deg", &Method::cut_angle_deg, "deg", 5, 90},
    {"group", &Method::group, "cuttings", 1, 1'000},
    {"cutting_seconds", &Method::cutting_seconds, "s", 1, 86'400},
    {"soak_seconds", &Method::soak_seconds, "s", 1, 172'800},
    {"setting_seconds", &Method::setting_seconds, "s", 1, 86'400},
    {"pocket_width_mm", &Method::pocket_width_mm, "mm", 1, 500},
    {"pocket_depth_mm", &Method::pocket_depth_mm, "mm", 1, 500},
    {"container_top_mm", &Method::container_top_mm, "mm", 5, 2'000},
    {"container_bottom_mm", &Method::container_bottom_mm, "mm", 5, 2'000},
    {"container_height_mm", &Method::container_height_mm, "mm", 5, 600},
    {"cuttings_per_container", &Method::cuttings_per_container, "cuttings", 1, 10'000},
    {"solution_ml_per_fill", &Method::solution_ml_per_fill, "ml", 0.1, 100'000},
    {"cuttings_per_fill", &Method::cuttings_per_fill, "cuttings", 1, 100'000},
}};
constexpr std::array<std::string_view, 2> kShapes{"round", "square"};

struct NamedCardinal {
  std::string_view key;
  Cardinal Species::* place;
};
constexpr std::array<NamedCardinal, 3> kCardinals{{
    {"germination_temperature", &Species::germination_temperature},
    {"ripening_temperature", &Species::ripening_temperature},
    {"rooting_temperature", &Species::rooting_temperature},
}};

/// The batch spread stays empty when it is not written.
std::optional<RateValue> read_rate_value(const TomlTable& table, std::string_view key, const Strictness& strict) {
  if (!table.has(key)) return std::nullopt;
  if (strict.complete && !table.is_table(key)) {
    table.fail(key, "found " + table.found(key), "a table with value, low, high, batch_spread, unit, source and trust");
    return std::nullopt;
  }
  Provenance provenance{strict.own_source, Trust::B};
  int counted = 0;
  if (table.is_table(key)) {
    const TomlTable field = *table.table(key);
    counted = read_counted(field, strict);
    read_unit(field, "share", strict);
    provenance = read_provenance(field, strict);
    if (strict.complete) {
      field.needs("value", "the median, a number between low and high");
      field.needs("batch_spread", "standard deviation between batches, logit scale");
    }
  }
  const auto belief = read_rate(table, key);
  if (!belief) return std::nullopt;
  return RateValue{*belief, provenance.source, provenance.trust, counted};
}

void read_cardinal(const TomlTable& root, const NamedCardinal& named, Species& species, const Strictness& strict,
                   std::set<std::string, std::less<>>& own) {
  const std::string key(named.key);
  if (strict.complete && !root.needs(key, "a table with base, optimum and ceiling")) return;
  const auto table = root.table(key);
  if (!table) return;
  Cardinal& cardinal = species.*named.place;
  const auto read = [&](std::string_view part, double& place) {
    if (const auto value = read_value(*table, part, "°C", -10, 60, strict)) {
      place = value->quantity.value;
      own.insert(key);
    }
  };
  read("base", cardinal.base_c);
  read("optimum", cardinal.optimum_c);
  read("ceiling", cardinal.ceiling_c);
  if (!root.sound({named.key})) return;
  constexpr double kApart_c = 1;  // nearer ones would make steps of the slopes between them
  if (cardinal.base_c + kApart_c <= cardinal.optimum_c && cardinal.optimum_c + kApart_c <= cardinal.ceiling_c) return;
  root.fail(
      key,
      fmt::format("found base {}, optimum {}, ceiling {}", cardinal.base_c, cardinal.optimum_c, cardinal.ceiling_c),
      "base at least 1 °C below optimum, optimum at least 1 °C below ceiling");
}

/// Lays the file over `species`; the names of what was read go into `own`.
void read_species_table(const TomlTable& root, Species& species, const Strictness& strict,
                        std::set<std::string, std::less<>>& own) {
  if (strict.complete) {
    root.needs("id", "the name of the file without .toml");
    root.needs("name", "the plain name of the species");
    root.needs("rates", "a table with the seven rates");
  }
  species.id = root.text("id").value_or(species.id);
  species.name = root.text("name").value_or(species.name);
  for (const auto& field : kSpeciesFields) {
    if (auto value = read_value(root, field.key, field.unit, field.least, field.most, strict)) {
      species.*field.place = std::move(*value);
      own.emplace(field.key);
    }
  }
  for (const NamedCardinal& named : kCardinals) read_cardinal(root, named, species, strict, own);
  if (const auto rates = root.table("rates")) {
    for (const RungRow& row : growth::kRungs) {
      if (strict.complete)
        rates->needs(row.name, "a table with value, low, high, batch_spread, unit, source and trust");
      RateValue& place = species.rates[row.rung];
      if (auto rate = read_rate_value(*rates, row.name, strict)) {
        rate->belief = with_batch_spread(rate->belief, place.belief.batch_spread.value_or(0));
        place = std::move(*rate);
        own.emplace(row.name);
      }
    }
  }
  if (!root.sound({"window_end_time", "ripening_time"})) return;
  const double opens = species.ripening_time.typical();
  const double closes = species.window_end_time.typical();
  if (opens < closes) return;
  const std::string allowed = "a window that ends after it starts";
  if (root.has("window_end_time")) {
    root.fail("window_end_time", fmt::format("found {} with ripening_time {}", closes, opens), allowed);
  } else {
    root.fail("ripening_time", fmt::format("found {} with window_end_time {}", opens, closes), allowed);
  }
}

/// Rates of single methods.
void read_method_rates(const TomlTable& root, Species& species, const Strictness& strict) {
  for (const TomlTable& table : root.tables("method")) {
    table.needs("id", "the name of a method, as \"square-cut\"");
    const auto id = table.text("id");
    for (const RungRow& row : growth::kRungs) {
      if (!row.is_of_method()) continue;
      auto rate = read_rate_value(table, row.name, strict);
      if (!rate || !id) continue;
      rate->belief = with_batch_spread(rate->belief, species.rates[row.rung].belief.batch_spread.value_or(0));
      species.method_rates[*id][row.rung] = std::move(*rate);
    }
  }
}

std::optional<growth::Absorbed> read_absorbed(const TomlTable& root) {
  const auto table = root.table("absorbed");
  if (!table) return std::nullopt;
  const auto day = [&](std::string_view key) -> std::optional<Date> {
    const std::string allowed = "a day with its year, as 2027-10-01";
    if (!table->needs(key, allowed)) return std::nullopt;
    const auto written = table->day(key);
    if (written && !written->year) table->fail(key, "found a day without a year", allowed);
    return written && written->year ? std::optional(written->in_year(*written->year)) : std::nullopt;
  };
  constexpr int kMostEntries = 100'000'000;
  const auto until = day("seasons_until");
  const auto noted_before = day("noted_before");
  table->needs("entries", "how many");
  table->needs("digest", "of the entries' ids, as it was saved");
  const auto entries = table->whole("entries", 0, kMostEntries);
  const auto digest = table->text("digest");
  if (!until || !noted_before || !entries || !digest) return std::nullopt;
  return growth::Absorbed{*until, *noted_before, *entries, *digest};
}

/// A seed is as wide as the cube root of its weight, and lies under cover in proportion.
void set_depth_by_weight(Species& species, const Species& shipped) {
  const double wider = std::cbrt(shipped.seeds_per_gram.typical() / species.seeds_per_gram.typical());
  ProfileValue& depth = species.sowing_depth_mm;
  for (double Quantity::* point : {&Quantity::value, &Quantity::low, &Quantity::high}) {
    depth.quantity.*point = std::round(depth.quantity.*point * wider);
  }
  depth.source = "that of " + shipped.name + ", with the cube root of the seed's weight";
  depth.trust = Trust::C;
}

/// A place for every value, so that a file with an error in one field can be read to its end.
Species blank_species() {
  Species species{};
  for (const NamedCardinal& named : kCardinals) species.*named.place = {0, 1, 2};
  species.window_end_time.quantity = {2, 2, 2};
  species.ripening_time.quantity = {1, 1, 1};
  return species;
}

}  // namespace

Result<Species> read_species(std::string_view text, const std::string& file) {
  const Result<TomlFile> toml = TomlFile::parse(text, file);
  if (!toml) return toml.error();
  Species species = blank_species();
  std::set<std::string, std::less<>> read;
  read_species_table(toml->root(), species, {.complete = true, .own_source = ""}, read);
  if (const auto error = toml->finish()) return *error;
  return species;
}

Result<Species> read_own_profile(std::string_view text, const std::string& file, const Species& shipped) {
  const Result<TomlFile> toml = TomlFile::parse(text, file);
  if (!toml) return toml.error();
  Species species = shipped;
  growth::OwnOver own{.file = file, .values = {}, .shipped_id = shipped.id, .shipped_name = shipped.name};
  read_species_table(toml->root(), species, {.complete = false, .own_source = "the grower's own " + file}, own.values);
  read_method_rates(toml->root(), species, {.complete = false, .own_source = "the grower's own " + file});
  own.absorbed = read_absorbed(toml->root());
  if (const auto error = toml->finish()) return *error;
  own.depth_by_weight = own.values.contains("seeds_per_gram") && !own.values.contains("sowing_depth_mm");
  if (own.depth_by_weight) set_depth_by_weight(species, shipped);
  species.own = std::move(own);
  return species;
}

std::string own_profile_text(const Species& species) {
  std::string text;
  text += fmt::format("name = {}\n", toml_text(species.name));
  const auto tail = [](std::string_view unit, Trust trust, int counted, const std::string& source) {
    const std::string by = counted > 0 ? fmt::format(", counted = {}", counted) : "";
    return fmt::format("unit = {}, trust = \"{}\"{}, source = {} }}\n", toml_text(unit), letter(trust), by,
                       toml_text(source));
  };
  const auto is_own = [&](std::string_view key, int counted) { return counted > 0 || species.is_own(key); };
  for (const auto& field : kSpeciesFields) {
    const ProfileValue& value = species.*field.place;
    if (!is_own(field.key, value.counted)) continue;
    const Quantity& q = value.quantity;
    text += fmt::format("{} = {{ value = {}, low = {}, high = {}, ", field.key, q.value, q.low, q.high) +
            tail(field.unit, value.trust, value.counted, value.source);
  }
  if (species.own && species.own->absorbed) {
    const growth::Absorbed& absorbed = *species.own->absorbed;
    text += fmt::format(
        "\n# These entries are in the values already: a forecast does not read them again.\n[absorbed]\n"
        "seasons_until = {}\nnoted_before = {}\nentries = {}\ndigest = {}\n",
        to_iso(absorbed.until), to_iso(absorbed.noted_before), absorbed.entries, toml_text(absorbed.digest));
  }
  for (const NamedCardinal& named : kCardinals) {
    if (!species.is_own(named.key)) continue;
    const Cardinal& cardinal = species.*named.place;
    text += fmt::format("\n[{}]\nbase = {}\noptimum = {}\nceiling = {}\n", named.key, cardinal.base_c,
                        cardinal.optimum_c, cardinal.ceiling_c);
  }
  const auto rate_line = [&](std::string_view key, const RateValue& value) {
    return fmt::format("{} = {{ {}, ", key, rate_text(value.belief)) +
           tail("share", value.trust, value.counted, value.source);
  };
  std::string rates;
  for (const RungRow& row : growth::kRungs) {
    const RateValue& value = species.rates[row.rung];
    if (is_own(row.name, value.counted)) rates += rate_line(row.name, value);
  }
  if (!rates.empty()) text += "\n[rates]\n" + rates;
  for (const auto& [id, of_method] : species.method_rates) {
    text += fmt::format("\n[[method]]\nid = {}\n", toml_text(id));
    for (const RungRow& row : growth::kRungs) {
      if (of_method[row.rung]) text += rate_line(row.name, *of_method[row.rung]);
    }
  }
  return text;
}

Result<Method> read_method(std::string_view text, const std::string& file, const Library& library) {
  const Result<TomlFile> toml = TomlFile::parse(text, file);
  if (!toml) return toml.error();
  const TomlTable root = toml->root();
  Method method{};
  Strictness strict{.complete = true, .own_source = ""};
  if (root.has("based_on")) {
    strict = {.complete = false, .own_source = "the grower's own " + file};
    const std::vector<std::string_view> ids = ids_of(library.methods);
    if (const auto base_id = root.one_of("based_on", ids)) {
      const Text& base_text = library.methods.find(*base_id)->second;
      Library alone = library;
      alone.methods.clear();
      Result<Method> base = read_method(base_text.text, base_text.file, alone);  // a shipped method stands alone
      if (!base) return base.error();
      method = std::move(*base);
      method.id = id_of_file(file);
    }
  } else {
    for (const std::string_view key : {"id", "name", "base_form", "solution", "medium", "pocket_sand", "container"}) {
      root.needs(key, "a text");
    }
  }
  method.id = root.text("id").value_or(method.id);
  method.name = root.text("name").value_or(method.name);
  method.base_form = root.one_of("base_form", kBaseForms).value_or(method.base_form);
  method.solution = root.text("solution").value_or(method.solution);
  method.medium = root.text("medium").value_or(method.medium);
  method.pocket_sand = root.text("pocket_sand").value_or(method.pocket_sand);
  if (const auto shape = root.one_of("container", kShapes)) {
    method.container = *shape == "round" ? growth::ContainerShape::round : growth::ContainerShape::square;
  }
  for (const auto& field : kMethodFields) {
    if (auto value = read_value(root, field.key, field.unit, field.least, field.most, strict)) {
      method.*field.place = std::move(*value);
    }
  }
  const Strictness optional{.complete = false, .own_source = strict.own_source};
  if (const auto controls = read_value(root, "controls", "share", 0, 0.9, optional))
    method.controls = controls->typical();
  if (const auto lifted = read_value(root, "lifted", "share", 0, 0.9, optional)) method.lifted = lifted->typical();
  if (const auto rates = root.table("rates")) {
    for (const RungRow& row : growth::kRungs) {
      if (!row.is_of_method()) continue;
      auto rate = read_rate_value(*rates, row.name, strict);
      if (!rate) continue;
      if (row.rung == Rung::take) method.reference_dip = method.dip();
      method.rates[row.rung] = std::move(*rate);
    }
  }
  if (strict.complete) method.reference_dip = method.dip();
  if (const auto error = toml->finish()) return *error;
  const auto container = container_of(method, library);
  if (container) return method;
  const Error& error = container.error();
  root.fail(error.field, error.problem, error.allowed);
  return *toml->finish();
}

Result<Method> find_method(const Library& library, const std::string& name, const std::string& field) {
  if (const auto shipped = library.methods.find(name); shipped != library.methods.end()) {
    return read_method(shipped->second.text, shipped->second.file, library);
  }
  if (name.ends_with(".toml")) {
    const Result<Text> own = library.own(name);
    if (!own) return own.error();
    return read_method(own->text, own->file, library);
  }
  const std::vector<std::string_view> ids = ids_of(library.methods);
  return Error{.problem = fmt::format("there is no method \"{}\"{}", name, did_you_mean(name, ids)),
               .allowed = listed(ids) + ", or a .toml file of your own",
               .field = field};
}

}  // namespace strikebed::nursery

#include "climate/columns.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <iterator>
#include <utility>

#include "base/nearest.hpp"
#include "climate/cells.hpp"

namespace strikebed::climate {
namespace {

constexpr std::size_t kLongestHeaderCell = 200;

constexpr KnownRole kKnownRoles[] = {
    {Role::date, "date", "date", UnitFamily::none,
     "date, datetime, date time, timestamp, date local, local date, observation date, obs date"},
    {Role::time, "time", "time of day", UnitFamily::none, "time, hour, hr, hh, hh:mm, local time, time local"},
    {Role::year, "year", "year", UnitFamily::none, "year, yr, yyyy"},
    {Role::month, "month", "month", UnitFamily::none, "month, mo, mon, mm"},
    {Role::day, "day", "day of the month", UnitFamily::none, "day, dy, da, dd, day of month"},
    {Role::day_of_year, "day-of-year", "day of the year", UnitFamily::none, "day of year, doy, yday, julian day"},
    {Role::tmin, "tmin", "minimum temperature", UnitFamily::temperature,
     "tmin, temp min, min temp, temperature min, min temperature, minimum temperature, temperature minimum, tn, tmn, "
     "low, temp low, low temp, temperature low, low temperature, daily low, air temp min, min air temp, "
     "air temperature min, min air temperature, tasmin"},
    {Role::tmax, "tmax", "maximum temperature", UnitFamily::temperature,
     "tmax, temp max, max temp, temperature max, max temperature, maximum temperature, temperature maximum, tx, tmx, "
     "high, temp high, high temp, temperature high, high temperature, daily high, air temp max, max air temp, "
     "air temperature max, max air temperature, tasmax"},
    {Role::temperature, "temperature", "temperature", UnitFamily::temperature,
     "temperature, temp, t, tmean, tavg, mean temp, temp mean, avg temp, temp avg, mean temperature, "
     "temperature mean, average temperature, tair, air temp, air temperature, dry bulb, dry bulb temperature, tas"},
    {Role::rain, "rain", "rain", UnitFamily::depth,
     "precipitation, precip, prcp, pcp, ppt, rain, rainfall, precipitation sum, total precipitation, prectotcorr, pr"},
    {Role::humidity, "humidity", "relative humidity", UnitFamily::share,
     "humidity, rh, relative humidity, relhum, hum, rh mean, mean rh, rh avg, humidity mean, mean humidity, "
     "humidity avg, avg humidity, relative humidity mean, mean relative humidity"},
    {Role::humidity_min, "humidity-min", "lowest relative humidity", UnitFamily::share,
     "rh min, min rh, humidity min, min humidity, relative humidity min, minimum relative humidity, humidity low"},
    {Role::humidity_max, "humidity-max", "highest relative humidity", UnitFamily::share,
     "rh max, max rh, humidity max, max humidity, relative humidity max, maximum relative humidity, humidity high"},
    {Role::dew_point, "dew-point", "dew point", UnitFamily::temperature,
     "dew point, dew, dewp, tdew, td, dpt, dew point temperature, dew point mean, mean dew point, t2mdew"},
    {Role::wind, "wind", "wind", UnitFamily::speed,
     "wind, wind speed, ws, wspd, awnd, wind mean, mean wind, wind avg, avg wind, wind speed mean, mean wind speed, "
     "wind speed avg, avg wind speed, average wind speed, u2"},
    {Role::radiation, "radiation", "solar radiation", UnitFamily::radiation,
     "radiation, solar radiation, srad, rs, solar, solar rad, global radiation, global horizontal radiation, ghi, "
     "shortwave radiation, shortwave radiation sum, allsky sfc sw dwn, rsds"},
};
static_assert(std::size(kKnownRoles) == kRoles);

// Factors: inch 25.4 mm, mile 1609.344 m, nautical mile 1852 m (exact by definition); langley 41840 J/m2 (NIST SP 811).
constexpr KnownUnit kKnownUnits[] = {
    {UnitFamily::temperature, "°C", "C, deg C, celsius, degrees C, degree C, degrees celsius", 0, 1, false, false},
    {UnitFamily::temperature, "°F", "F, deg F, fahrenheit, degrees F, degree F, degrees fahrenheit", 32, 5.0 / 9, false,
     false},
    {UnitFamily::temperature, "K", "K, kelvin, deg K", 273.15, 1, false, false},
    {UnitFamily::temperature, "0.1 °C", "0.1 C, tenths C, tenths of C, tenths deg C", 0, 0.1, false, true},
    {UnitFamily::depth, "mm", "mm, millimetres, millimeters, L/m2, kg/m2", 0, 1, false, false},
    {UnitFamily::depth, "inch", "in, inch, inches", 0, 25.4, false, false},
    {UnitFamily::depth, "cm", "cm", 0, 10, false, false},
    {UnitFamily::depth, "0.1 mm", "0.1 mm, tenths mm, tenths of mm", 0, 0.1, false, true},
    {UnitFamily::depth, "mm/day", "mm/day, mm/d, mm d-1", 0, 1, true, false},
    {UnitFamily::depth, "mm/h", "mm/h, mm/hr, mm h-1", 0, 24, true, false},
    {UnitFamily::share, "%", "%, percent, pct", 0, 1, false, false},
    {UnitFamily::share, "fraction", "fraction, 0-1", 0, 100, false, false},
    {UnitFamily::speed, "m/s", "m/s, ms, m s-1, mps, metres per second, meters per second, m/sec", 0, 1, false, false},
    {UnitFamily::speed, "km/h", "km/h, kmh, kph, km/hr, km h-1, kilometres per hour, kilometers per hour", 0, 1 / 3.6,
     false, false},
    {UnitFamily::speed, "mph", "mph, mi/h, mi/hr, miles per hour, miles/hour", 0, 0.44704, false, false},
    {UnitFamily::speed, "knots", "knots, knot, kn, kt, kts", 0, 1852.0 / 3600, false, false},
    {UnitFamily::speed, "0.1 m/s", "0.1 m/s, tenths m/s, tenths of m/s", 0, 0.1, false, true},
    {UnitFamily::radiation, "MJ/m2", "MJ/m2, MJ m-2, megajoules/m2", 0, 1, false, false},
    {UnitFamily::radiation, "MJ/m2/day", "MJ/m2/day, MJ/m2/d, MJ m-2 d-1, MJ m-2 day-1", 0, 1, true, false},
    {UnitFamily::radiation, "W/m2", "W/m2, W m-2, watts/m2, watt/m2, watts per square metre, watts per square meter", 0,
     0.0864, true, false},
    {UnitFamily::radiation, "kWh/m2", "kWh/m2, kWh m-2, kW-hr/m2", 0, 3.6, false, false},
    {UnitFamily::radiation, "kWh/m2/day", "kWh/m2/day, kWh/m2/d, kWh m-2 d-1, kW-hr/m2/day", 0, 3.6, true, false},
    {UnitFamily::radiation, "Wh/m2", "Wh/m2, Wh m-2", 0, 0.0036, false, false},
    {UnitFamily::radiation, "langley", "langley, langleys, ly, cal/cm2", 0, 0.04184, false, false},
    {UnitFamily::radiation, "langley/day", "langley/day, langleys/day, ly/day, ly/d, cal/cm2/day", 0, 0.04184, true,
     false},
    {UnitFamily::radiation, "J/cm2", "J/cm2", 0, 0.01, false, false},
    {UnitFamily::radiation, "kJ/m2", "kJ/m2, kJ m-2", 0, 0.001, false, false},
    {UnitFamily::radiation, "J/m2", "J/m2, J m-2", 0, 1e-6, false, false},
};

constexpr std::string_view kMissingWords[] = {"",   "NA",  "N/A", "NaN", "null", "nil",     "none",    "-",
                                              "--", "---", ".",   "?",   "M",    "missing", "no data", "#N/A"};
constexpr double kMissingNumbers[] = {-99,     -99.9,  -99.99, -999,  -999.9, -999.99, -9999,
                                      -9999.9, -32768, 999,    999.9, 9999,   9999.9,  99999};

template <class Use>
void each_of(std::string_view list, Use use) {
  while (!list.empty()) {
    const std::size_t comma = list.find(", ");
    use(list.substr(0, comma));
    list.remove_prefix(comma == std::string_view::npos ? list.size() : comma + 2);
  }
}

/// Squeezed names, sorted, with what each stands for.
template <class What>
using Index = std::vector<std::pair<std::string, What>>;

const Index<Role>& role_index() {
  static const Index<Role> index = [] {
    Index<Role> made;
    for (const KnownRole& known : kKnownRoles) {
      each_of(known.names, [&](std::string_view name) { made.emplace_back(squeezed(name), known.role); });
    }
    std::sort(made.begin(), made.end());
    return made;
  }();
  return index;
}

const Index<const KnownUnit*>& unit_index() {
  static const Index<const KnownUnit*> index = [] {
    Index<const KnownUnit*> made;
    for (const KnownUnit& known : kKnownUnits) {
      each_of(known.spellings, [&](std::string_view name) { made.emplace_back(squeezed(name), &known); });
    }
    std::sort(made.begin(), made.end());
    return made;
  }();
  return index;
}

template <class What>
auto entries_of(const Index<What>& index, const std::string& name) {
  const auto first =
      std::lower_bound(index.begin(), index.end(), name,
                       [](const auto& entry, const std::string& wanted) { return entry.first < wanted; });
  auto last = first;
  while (last != index.end() && last->first == name) ++last;
  return std::pair{first, last};
}

std::optional<Role> role_of(const std::string& name) {
  const auto [first, last] = entries_of(role_index(), name);
  if (first == last) return std::nullopt;
  return first->second;
}

/// Takes a trailing height off a squeezed word: "10m" and "ws10m" leave "" and "ws".
std::optional<double> take_height(std::string& word) {
  if (word.size() < 2 || word.back() != 'm') return std::nullopt;
  std::size_t digits = word.size() - 1;
  while (digits > 0 && word[digits - 1] >= '0' && word[digits - 1] <= '9') --digits;
  const std::size_t count = word.size() - 1 - digits;
  if (count == 0 || count > 2) return std::nullopt;
  double height = 0;
  for (std::size_t i = digits; i + 1 < word.size(); ++i) height = height * 10 + (word[i] - '0');
  word.resize(digits);
  return height;
}

std::vector<std::string> words_of(std::string_view text) {
  std::vector<std::string> words;
  while (!text.empty()) {
    const std::size_t end = text.find_first_of(" _-.\t");
    std::string word = squeezed(text.substr(0, end));
    if (!word.empty()) words.push_back(std::move(word));
    text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
  }
  return words;
}

struct NamedRole {
  Role role;
  std::optional<double> height_m;
};

/// The role of the first `count` words, as they stand or without heights.
std::optional<NamedRole> role_of_words(const std::vector<std::string>& words, std::size_t count) {
  std::string whole;
  std::string without_height;
  std::optional<double> height;
  for (std::size_t i = 0; i < count; ++i) {
    whole += words[i];
    std::string word = words[i];
    if (const auto found = take_height(word)) height = found;
    without_height += word;
  }
  if (const auto role = role_of(whole)) return NamedRole{*role, std::nullopt};
  if (const auto role = role_of(without_height)) return NamedRole{*role, height};
  return std::nullopt;
}

}  // namespace

std::string squeezed(std::string_view text) {
  std::string out;
  out.reserve(text.size());
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    const auto byte = static_cast<unsigned char>(c);
    if ((c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '%') {
      out += c;
    } else if (c >= 'A' && c <= 'Z') {
      out += static_cast<char>(c - 'A' + 'a');
    } else if (byte == 0xB2) {  // superscript two, in Latin-1 and as the last byte of its UTF-8 form
      out += '2';
    } else if (text.substr(i, 3) == "\u2103" || text.substr(i, 3) == "\u2109") {  // one-character degree C and F
      out += text.substr(i, 3) == "\u2103" ? 'c' : 'f';
      i += 2;
    }
  }
  return out;
}

std::span<const KnownRole> known_roles() { return kKnownRoles; }
std::span<const KnownUnit> known_units() { return kKnownUnits; }
const KnownRole& about(Role role) { return kKnownRoles[static_cast<std::size_t>(role)]; }

const KnownUnit* unit_named(UnitFamily family, std::string_view spelling) {
  if (spelling.size() > kLongestHeaderCell) return nullptr;
  const auto [first, last] = entries_of(unit_index(), squeezed(spelling));
  const auto found = std::find_if(first, last, [&](const auto& entry) { return entry.second->family == family; });
  return found == last ? nullptr : found->second;
}

const KnownUnit& usual_unit(UnitFamily family) {
  return *std::find_if(std::begin(kKnownUnits), std::end(kKnownUnits),
                       [&](const KnownUnit& unit) { return unit.family == family; });
}

std::string unit_list(UnitFamily family) {
  std::string list;
  for (const KnownUnit& unit : kKnownUnits) {
    if (unit.family != family) continue;
    if (!list.empty()) list += ", ";
    list += unit.name;
  }
  return list;
}

std::span<const std::string_view> missing_words() { return kMissingWords; }
std::span<const double> missing_numbers() { return kMissingNumbers; }

bool is_missing_word(std::string_view cell) {
  const auto lower = [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; };
  return std::any_of(std::begin(kMissingWords), std::end(kMissingWords), [&](std::string_view word) {
    return word.size() == cell.size() &&
           std::equal(word.begin(), word.end(), cell.begin(), [&](char a, char b) { return lower(a) == lower(b); });
  });
}

bool is_missing_number(double written, Role role, const KnownUnit& unit) {
  if (written > -99 && written < 999) return false;
  if (written > 0 && role == Role::radiation) return false;
  if (unit.tenths && written > -999) return false;
  return std::find(std::begin(kMissingNumbers), std::end(kMissingNumbers), written) != std::end(kMissingNumbers);
}

bool is_air_temperature(Role role) { return role == Role::tmin || role == Role::tmax || role == Role::temperature; }

double written_in(const KnownUnit& unit, double si) { return si / unit.factor + unit.subtract; }

Bounds possible(Role role, bool per_day) {
  switch (about(role).family) {
    case UnitFamily::temperature:
      return {-90, 60};
    case UnitFamily::share:
      return {0, 100};
    case UnitFamily::depth:
      return {0, 2000};
    case UnitFamily::speed:
      return {0, 120};
    case UnitFamily::radiation:
      return {0, per_day ? 130.0 : 50.0};
    case UnitFamily::none:
      break;
  }
  return {0, 0};
}

std::optional<HeaderCell> read_header_cell(std::string_view cell) {
  if (cell.size() > kLongestHeaderCell) return std::nullopt;
  const std::size_t open = cell.find_last_of("([");
  const bool bracketed = open != std::string_view::npos && open > 0 && (cell.back() == ')' || cell.back() == ']');
  if (bracketed) {
    const std::string_view inside = cell.substr(open + 1, cell.size() - open - 2);
    const auto words = words_of(cell.substr(0, open));
    if (const auto named = role_of_words(words, words.size())) {
      const UnitFamily family = about(named->role).family;
      if (family == UnitFamily::none) return HeaderCell{named->role, nullptr, named->height_m, {}};
      if (const KnownUnit* unit = unit_named(family, inside)) return HeaderCell{named->role, unit, named->height_m, {}};
      // "temp (max)": what is in the brackets belongs to the name
      if (const auto whole = role_of(squeezed(cell))) return HeaderCell{*whole, nullptr, std::nullopt, {}};
      return HeaderCell{named->role, nullptr, named->height_m, inside};
    }
    if (const auto whole = role_of(squeezed(cell))) return HeaderCell{*whole, nullptr, std::nullopt, {}};
    return std::nullopt;
  }
  const auto words = words_of(cell);
  if (const auto named = role_of_words(words, words.size()))
    return HeaderCell{named->role, nullptr, named->height_m, {}};
  std::string unit_text;
  for (std::size_t kept = words.size(); kept-- > 1;) {  // the last words as a unit: "TMAX_F", "srad MJ m-2 d-1"
    unit_text.insert(0, words[kept]);
    const auto named = role_of_words(words, kept);
    if (!named) continue;
    if (const KnownUnit* unit = unit_named(about(named->role).family, unit_text)) {
      return HeaderCell{named->role, unit, named->height_m, {}};
    }
  }
  return std::nullopt;
}

HeaderCell read_chosen_cell(Role role, std::string_view cell) {
  HeaderCell chosen{role, nullptr, std::nullopt, {}};
  if (cell.size() > kLongestHeaderCell) return chosen;
  const UnitFamily family = about(role).family;
  if (const auto known = read_header_cell(cell); known && about(known->role).family == family) {
    chosen.unit = known->unit;
    chosen.height_m = known->height_m;
    return chosen;
  }
  const auto read_unit = [&](std::string_view text) {
    if (squeezed(text).size() < 2) return;
    if (const KnownUnit* unit = unit_named(family, text)) chosen.unit = unit;
  };
  const std::size_t open = cell.find_last_of("([");
  if (open != std::string_view::npos && (cell.back() == ')' || cell.back() == ']')) {
    read_unit(cell.substr(open + 1, cell.size() - open - 2));
    cell = cell.substr(0, open);
  }
  const std::vector<std::string> words = words_of(cell);
  std::string last_words;
  for (std::size_t kept = words.size(); kept-- > 1 && !chosen.unit;) {
    last_words.insert(0, words[kept]);
    read_unit(last_words);
  }
  for (std::string word : words) {
    if (const auto height = take_height(word); height && family == UnitFamily::speed) chosen.height_m = height;
  }
  return chosen;
}

Result<ColumnChoice> parse_column_choice(std::string_view text) {
  const std::string_view how = "WORD=NAME or WORD=NAME:UNIT, such as tmax=HIGH:F";
  const auto wrong = [&](std::string problem, std::string allowed) {
    return Error{std::move(problem), std::move(allowed), "columns", {}, 0, 0};
  };
  const std::size_t equals = text.find('=');
  if (equals == std::string_view::npos || equals == 0 || equals + 1 == text.size()) {
    return wrong(fmt::format("{} is not a choice of column", shown(text)), std::string(how));
  }
  const std::string_view word = text.substr(0, equals);
  const auto known = std::find_if(std::begin(kKnownRoles), std::end(kKnownRoles),
                                  [&](const KnownRole& role) { return squeezed(role.word) == squeezed(word); });
  if (known == std::end(kKnownRoles)) {
    std::vector<std::string_view> words;
    std::string list;
    for (const KnownRole& role : kKnownRoles) {
      words.push_back(role.word);
      list += (list.empty() ? "" : ", ") + std::string(role.word);
    }
    const auto nearest = word.size() <= kLongestHeaderCell ? nearest_word(word, words) : std::nullopt;
    return wrong(fmt::format("{} is not a kind of column{}", shown(word),
                             nearest ? fmt::format(" (did you mean {}?)", *nearest) : ""),
                 list);
  }
  ColumnChoice choice{known->role, std::string(text.substr(equals + 1)), nullptr};
  if (const std::size_t colon = choice.column.rfind(':'); colon != std::string::npos && colon > 0) {
    choice.unit = unit_named(known->family, std::string_view(choice.column).substr(colon + 1));
    if (!choice.unit) {
      return wrong(fmt::format("{} is not a known unit of {}", shown(choice.column.substr(colon + 1)), known->meaning),
                   known->family == UnitFamily::none ? "no unit here" : unit_list(known->family));
    }
    choice.column.resize(colon);
  }
  return choice;
}

}  // namespace strikebed::climate

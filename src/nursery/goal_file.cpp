#include "nursery/goal_file.hpp"

#include <date/tz.h>
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <filesystem>
#include <set>

#include "nursery/files.hpp"
#include "nursery/method_mixes.hpp"
#include "nursery/rate_belief.hpp"
#include "nursery/toml_file.hpp"
#include "season/needs.hpp"

namespace strikebed::nursery {
namespace {

using growth::Method;
using growth::RateValue;
using season::CountAt;
using season::Want;

constexpr std::array<std::string_view, 3> kCountAt{"rooted", "weaned", "established"};
constexpr std::array<std::string_view, 2> kAirs{"outdoor", "fixed"};
constexpr std::array<std::string_view, 7> kWeekdays{"Monday", "Tuesday",  "Wednesday", "Thursday",
                                                    "Friday", "Saturday", "Sunday"};
constexpr double kUsualAssurance = 0.9;
constexpr Days kShortestSeason{150};  ///< a yearly `by` nearer than this means next year's
constexpr Days kLongestSeason{730};
constexpr int kMostWants = 8;
constexpr int kMostPlants = 1'000'000;
constexpr shelter::Position kUsualBench{.offset_c = 2, .at_least_c = 3, .fixed_c = std::nullopt};

/// What the parts of a goal file share while it is read.
struct Reading {
  TomlTable root;
  Date today;
  const ProfileLibrary& library;
  GoalFile file;
  std::set<std::string, std::less<>> own_rates;  ///< rates of the grower's own profile
  std::vector<std::string> without_spread;       ///< rates written without their batch spread
  std::optional<Error> elsewhere;                ///< the first error in another file that the goal names

  season::Goal& goal() { return file.goal; }
  void assume(std::string sentence) { file.assumed.push_back(std::move(sentence)); }

  /// The value, or nothing with the error kept.
  template <class T>
  std::optional<T> keep(Result<T> result) {
    if (result) return std::move(*result);
    if (!elsewhere) elsewhere = result.error();
    return std::nullopt;
  }
  std::optional<ProfileText> own_file(const TomlTable& table, std::string_view key, const std::string& path) {
    Result<ProfileText> text = library.own_file ? library.own_file(path) : Error{.problem = "it cannot be read here"};
    if (text) return std::move(*text);
    table.fail(key, fmt::format("found \"{}\", but {}", path, text.error().problem),
               "the name of a file beside the goal file");
    return std::nullopt;
  }
};

std::vector<std::string_view> ids_of(const std::map<std::string, ProfileText, std::less<>>& profiles) {
  std::vector<std::string_view> ids;
  ids.reserve(profiles.size());
  for (const auto& [id, text] : profiles) ids.push_back(id);
  return ids;
}

std::string in_words(const RateBelief& belief) {
  if (const auto* known = std::get_if<Known>(&belief.belief)) return fmt::format("{:.2f} exactly", known->share);
  if (const auto* test = std::get_if<Tested>(&belief.belief)) return fmt::format("{} of {}", test->good, test->of);
  const auto& range = std::get<Ranged>(belief.belief);
  if (range.about) return fmt::format("about {:.2f} ({:.2f} to {:.2f})", *range.about, range.low, range.high);
  return fmt::format("{:.2f} to {:.2f}", range.low, range.high);
}

char letter(growth::Trust trust) { return trust == growth::Trust::A ? 'A' : trust == growth::Trust::B ? 'B' : 'C'; }

// ---- species, lot, rates

void read_species_and_lot(Reading& reading) {
  const TomlTable& root = reading.root;
  season::Goal& goal = reading.goal();
  const std::vector<std::string_view> ids = ids_of(reading.library.species);
  root.needs("species", listed(ids));
  if (const auto id = root.one_of("species", ids)) {
    const ProfileText& shipped = reading.library.species.find(*id)->second;
    if (auto species = reading.keep(read_species(shipped.text, shipped.file))) goal.species = std::move(*species);
  }
  if (const auto path = root.text("profile", "the name of your own profile, such as \"my-pines.toml\"")) {
    if (const auto text = reading.own_file(root, "profile", *path)) {
      if (auto own = reading.keep(read_own_profile(text->text, text->file, goal.species))) {
        goal.species = std::move(own->species);
        std::set<std::string, std::less<>> set = own->fields;
        set.insert(own->rates.begin(), own->rates.end());
        reading.assume(fmt::format("Your own profile {} sets {}.", *path, fmt::join(set, ", ")));
        reading.own_rates = std::move(own->rates);
      }
    }
  }
  const auto lot = root.table("lot");
  const bool fresh = lot && lot->yes_no("fresh").value_or(false);
  std::optional<int> chill_days;
  const NumberRange seeds_per_gram{.low = 0, .high = 100'000, .low_excluded = true, .of_what = "seeds in a gram"};
  if (lot) {
    chill_days = lot->whole("chill_days", 0, 365);
    goal.seeds_per_gram_of_lot = lot->number("seeds_per_gram", seeds_per_gram);
  }
  const int full_chill = static_cast<int>(std::lround(goal.species.chill_days.typical()));
  if (fresh) goal.species.chill_days.quantity = {0, 0, 0};  // fresh seed is not slowed for want of chilling
  goal.chill_days = chill_days.value_or(fresh ? 0 : full_chill);
  if (fresh && !chill_days) reading.assume("No chilling before sowing: the lot is fresh.");
  if (!fresh && !chill_days) {
    reading.assume(fmt::format("{} days of cold, moist chilling before sowing: the profile of {} for stored seed.",
                               full_chill, goal.species.name));
  }
  if (!goal.seeds_per_gram_of_lot) {
    reading.assume(fmt::format("{:.4g} seeds in a gram: the profile of {}.", goal.species.seeds_per_gram.typical(),
                               goal.species.name));
  }
}

/// The rate of the species (or of the grower's own profile, or of the method) when nothing is written in the goal file.
RateBelief rate_left_out(Reading& reading, std::string_view name, const RateValue& of_species, const Method* method,
                         const std::string& shown) {
  const RateValue* value = &of_species;
  std::string from = "the profile of " + reading.goal().species.name;
  if (reading.own_rates.contains(name)) {
    from = "your own profile";
  } else if (method) {
    for (const auto& [rate_name, rate] : method->rates) {
      if (rate_name != name) continue;
      value = &rate;
      from = "the method \"" + method->id + "\"";
    }
  }
  RateBelief belief = value->belief;
  reading.assume(fmt::format("{} {}: {}, trust {}.", shown, in_words(belief), from, letter(value->trust)));
  if (name == "take" && method && method->dip() != method->reference_dip && !reading.own_rates.contains(name)) {
    const Method::Dip& known = method->reference_dip;
    const mix::DipComparison dip =
        mix::compare_dip(method->dip().auxin_ppm, method->dip().seconds, known.auxin_ppm, known.seconds);
    belief = at_another_dip(belief, dip);
    reading.assume(fmt::format(
        "{} {} with {:.4g} ppm for {:.4g} s instead of {:.4g} ppm for {:.4g} s: {:.2f} times as many root ({:.2f} to "
        "{:.2f}), a prior of trust C, not a measurement.",
        shown, in_words(belief), method->dip().auxin_ppm, method->dip().seconds, known.auxin_ppm, known.seconds,
        dip.ratio, dip.ratio_low, dip.ratio_high));
  }
  return with_batch_spread(belief, of_species.belief.batch_spread.value_or(0));
}

RateBelief rate_written(Reading& reading, const RateBelief& belief, const RateValue& of_species,
                        const std::string& shown) {
  if (!belief.batch_spread && !std::holds_alternative<Known>(belief.belief)) reading.without_spread.push_back(shown);
  return with_batch_spread(belief, of_species.belief.batch_spread.value_or(0));
}

/// [rates], by name; nothing where it is left out.
struct WrittenRates {
  std::map<std::string_view, RateBelief> by_name;

  [[nodiscard]] const RateBelief* find(std::string_view name) const {
    const auto at = by_name.find(name);
    return at == by_name.end() ? nullptr : &at->second;
  }
};

WrittenRates read_written_rates(const Reading& reading) {
  WrittenRates written;
  if (const auto table = reading.root.table("rates")) {
    for (const NamedRate& rate : chain_rates()) {
      if (const auto belief = read_rate(*table, rate.name)) written.by_name.emplace(rate.name, *belief);
    }
  }
  return written;
}

void resolve_chain_rates(Reading& reading, const WrittenRates& written) {
  struct Shared {
    std::string_view name;
    RateBelief season::ChainRates::* place;
  };
  using season::ChainRates;
  constexpr std::array<Shared, 5> kShared{{{"germination", &ChainRates::germination},
                                           {"standing", &ChainRates::standing},
                                           {"usable", &ChainRates::usable},
                                           {"weaning", &ChainRates::weaning},
                                           {"winter", &ChainRates::winter}}};
  season::Goal& goal = reading.goal();
  for (const Shared& shared : kShared) {
    const bool only_later = (shared.name == "winter" && goal.count_at != CountAt::established) ||
                            (shared.name == "weaning" && goal.count_at == CountAt::rooted);
    const auto named = std::find_if(chain_rates().begin(), chain_rates().end(),
                                    [&](const NamedRate& rate) { return rate.name == shared.name; });
    const RateValue& of_species = goal.species.rates.*named->place;
    const std::string shown(shared.name);
    const std::size_t said = reading.file.assumed.size();
    const RateBelief* belief = written.find(shared.name);
    goal.rates.*shared.place = belief ? rate_written(reading, *belief, of_species, shown)
                                      : rate_left_out(reading, shared.name, of_species, nullptr, shown);
    if (only_later) reading.file.assumed.resize(said);  // this goal does not reach that rung
  }
}

// ---- wants and methods

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

void read_want(Reading& reading, const TomlTable& table, const std::optional<Method>& usual_method,
               const WrittenRates& written) {
  Want want;
  const auto base_form = table.one_of("base_form", kBaseForms);
  const bool names_method = table.has("method");
  auto method = read_named_method(reading, table);
  if (!names_method && usual_method && (!table.has("base_form") || usual_method->base_form == base_form))
    method = usual_method;
  if (!table.has("base_form") && !names_method && !usual_method) table.needs("base_form", listed(kBaseForms));
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
  const auto take = read_rate(table, "take");
  const auto grade = read_rate(table, "grade");
  if (!method) return;  // an error is noted
  want.method = std::move(*method);
  want.base_form = want.method.base_form;
  if (auto container = reading.keep(container_of(want.method, reading.library.materials))) {
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
  const growth::Rates& species = reading.goal().species.rates;
  const auto resolve = [&](std::string_view name, const std::optional<RateBelief>& of_want,
                           const RateValue& of_species) {
    const std::string shown = fmt::format("{} ({})", name, want.base_form);
    if (of_want) return rate_written(reading, *of_want, of_species, shown);
    if (const RateBelief* general = written.find(name)) return rate_written(reading, *general, of_species, shown);
    return rate_left_out(reading, name, of_species, &want.method, shown);
  };
  want.take = resolve("take", take, species.take);
  want.grade = resolve("grade", grade, species.grade);
  reading.goal().wants.push_back(std::move(want));
}

void read_wants(Reading& reading, const WrittenRates& written) {
  const std::optional<Method> usual_method = read_named_method(reading, reading.root);
  if (!reading.root.needs("want", "one or more [[want]] tables with base_form and count")) return;
  const std::vector<TomlTable> tables = reading.root.tables("want");
  if (tables.size() > kMostWants) {
    reading.root.fail("want", fmt::format("found {} wants", tables.size()), fmt::format("at most {}", kMostWants));
    return;
  }
  for (const TomlTable& table : tables) read_want(reading, table, usual_method, written);
}

// ---- dates

void read_target(Reading& reading) {
  const TomlTable& root = reading.root;
  season::Goal& goal = reading.goal();
  goal.by = reading.today + kShortestSeason;
  root.needs("by", R"(a date such as 2027-10-01, or a month and day such as "10-01")");
  if (const auto by = root.day("by")) {
    goal.by = by->on_or_after(reading.today + (by->year ? Days{0} : kShortestSeason));
    const std::string allowed =
        fmt::format("a date from {} to {}", to_iso(reading.today + Days{1}), to_iso(reading.today + kLongestSeason));
    if (goal.by <= reading.today) {
      root.fail("by", fmt::format("found {}, which is not after today, {}", to_iso(goal.by), to_iso(reading.today)),
                allowed);
    } else if (goal.by > reading.today + kLongestSeason) {
      root.fail("by",
                fmt::format("found {}, more than two years from today, {}", to_iso(goal.by), to_iso(reading.today)),
                allowed);
    }
    if (!by->year) {
      reading.assume(fmt::format("By {}: the next such day at least {} days from today.", to_words(goal.by),
                                 kShortestSeason.count()));
    }
  }
  const auto count_at = root.one_of("count_at", kCountAt);
  if (count_at == "rooted") goal.count_at = CountAt::rooted;
  if (count_at == "established") goal.count_at = CountAt::established;
  if (!root.has("count_at")) reading.assume("Plants are counted when weaned: count_at is left out.");
  const NumberRange assurance{
      .low = 0, .high = 1, .low_excluded = true, .high_excluded = true, .of_what = "a share: 0.90 is 90 % sure"};
  goal.assurance = root.number("assurance", assurance).value_or(kUsualAssurance);
  if (!root.has("assurance")) reading.assume("90 % sure: assurance is left out.");
}

void read_sowing(Reading& reading) {
  const auto table = reading.root.table("sowing");
  if (!table) return;
  season::Goal& goal = reading.goal();
  if (const auto day = table->day("not_before")) goal.sow_not_before = day->on_or_after(reading.today);
  if (const auto day = table->day("on")) {
    goal.sow_on = day->on_or_after(reading.today);
    if (*goal.sow_on < reading.today || *goal.sow_on >= goal.by) {
      table->fail(
          "on",
          fmt::format("found {} with today {} and by {}", to_iso(*goal.sow_on), to_iso(reading.today), to_iso(goal.by)),
          "a date from today to the day before `by`");
    }
  }
  if (goal.sow_not_before && *goal.sow_not_before >= goal.by) {
    table->fail("not_before", fmt::format("found {} with by {}", to_iso(*goal.sow_not_before), to_iso(goal.by)),
                "a date before `by`");
  }
  if (goal.sow_on && goal.sow_not_before && *goal.sow_on < *goal.sow_not_before) {
    table->fail("on", fmt::format("found {} with not_before {}", to_iso(*goal.sow_on), to_iso(*goal.sow_not_before)),
                "a date on or after not_before");
  }
}

/// Every day meant between today's year and the end of the season, in order.
std::vector<Date> days_of_season(const std::vector<WrittenDay>& written, Date today, Date by) {
  std::vector<Date> days;
  for (const WrittenDay& day : written) {
    if (day.year) {
      days.push_back(day.in_year(*day.year));
      continue;
    }
    for (int year = year_of(today); year <= year_of(by) + 1; ++year) days.push_back(day.in_year(year));
  }
  std::sort(days.begin(), days.end());
  days.erase(std::unique(days.begin(), days.end()), days.end());
  return days;
}

void read_room(Reading& reading, const TomlTable& table) {
  season::Goal& goal = reading.goal();
  const bool both = table.has_all({"cuttings_at_most", "hours_at_most"});
  goal.sessions.cuttings_at_most = table.whole("cuttings_at_most", 1, kMostPlants);
  const NumberRange hours_a_day{.low = 0, .high = 24, .low_excluded = true, .of_what = "hours"};
  const auto hours = table.number("hours_at_most", hours_a_day);
  if (both) {
    table.fail("hours_at_most", "found beside cuttings_at_most", "one of the two");
  } else if (hours && !goal.wants.empty()) {
    const auto slower = [](const Want& a, const Want& b) {
      return season::seconds_per_cutting(a.method) < season::seconds_per_cutting(b.method);
    };
    const Want& slowest = *std::max_element(goal.wants.begin(), goal.wants.end(), slower);
    const double seconds = season::seconds_per_cutting(slowest.method);
    const int cuttings = static_cast<int>(std::min(std::floor(*hours * 3600 / seconds), double{kMostPlants}));
    if (cuttings < 1) {
      table.fail("hours_at_most", "found " + table.found("hours_at_most"),
                 fmt::format("at least the {:.0f} seconds that one cutting takes", std::ceil(seconds)));
    } else {
      goal.sessions.cuttings_at_most = cuttings;
      reading.assume(fmt::format("{} cuttings in a session of {:.3g} hours: {:.0f} seconds each by the method \"{}\".",
                                 cuttings, *hours, seconds, slowest.method.id));
    }
  }
}

/// Shares of the struck cuttings that the method itself uses up; the largest of the wanted methods when left out.
void read_used_up(Reading& reading, const std::optional<TomlTable>& table) {
  season::Goal& goal = reading.goal();
  for (const Want& want : goal.wants) {
    goal.controls = std::max(goal.controls, want.method.controls);
    goal.lifted = std::max(goal.lifted, want.method.lifted);
  }
  if (!table) return;
  const NumberRange share{.low = 0, .high = 0.9, .of_what = "a share of the cuttings struck"};
  goal.controls = table->number("controls", share).value_or(goal.controls);
  goal.lifted = table->number("lifted", share).value_or(goal.lifted);
  if (goal.controls + goal.lifted > share.high) {
    table->fail("", fmt::format("controls {} and lifted {} leave too few to count", goal.controls, goal.lifted),
                fmt::format("together at most {}", share.high));
  }
}

void read_sessions(Reading& reading) {
  const auto table = reading.root.table("sessions");
  read_used_up(reading, table);
  if (!table) {
    reading.assume("A session on any day, with room for all that are ready: [sessions] is left out.");
    return;
  }
  season::Sessions& sessions = reading.goal().sessions;
  if (const auto names = table->texts("weekdays")) {
    sessions.weekdays.fill(false);
    for (const std::string& name : *names) {
      if (const auto day = parse_weekday(name)) {
        sessions.weekdays.at(static_cast<std::size_t>(*day - 1)) = true;
      } else {
        table->fail("weekdays", fmt::format("found \"{}\"{}", name, did_you_mean(name, kWeekdays)), listed(kWeekdays));
      }
    }
  }
  const Date by = reading.goal().by;
  if (const auto written = table->days("dates")) {
    std::vector<Date> dates = days_of_season(*written, reading.today, by);
    std::erase_if(dates, [&](Date day) { return day < reading.today; });
    if (dates.empty()) {
      table->fail("dates", "found no date that is still to come",
                  "one or more dates from " + to_iso(reading.today) + " on");
    }
    sessions.dates = std::move(dates);
  }
  if (table->has_all({"weekdays", "dates"})) table->fail("dates", "found beside weekdays", "one of the two");
  if (const auto written = table->days("not_on")) sessions.not_on = days_of_season(*written, reading.today, by);
  sessions.sowings_at_most = table->whole("sowings_at_most", 1, 12).value_or(1);
  read_room(reading, *table);
  if (!table->has_any({"weekdays", "dates"})) reading.assume("A session on any day: weekdays and dates are left out.");
}

// ---- place

std::optional<climate::MonthlyNormals> read_normals(const TomlTable& place) {
  const auto table = place.table("normals");
  if (!table) return std::nullopt;
  const NumberRange temperature{.low = -60, .high = 55, .of_what = "°C"};
  const NumberRange deviation{.low = 0, .high = 20, .low_excluded = true, .of_what = "°C"};
  climate::MonthlyNormals normals;
  const auto read = [&](std::string_view key, const NumberRange& range, std::array<double, 12>& months) {
    if (!table->needs(key, fmt::format("a list of 12 numbers, January first, each {}", range.in_words()))) return;
    if (const auto numbers = table->numbers(key, months.size(), range))
      std::copy(numbers->begin(), numbers->end(), months.begin());
  };
  read("tmin", temperature, normals.tmin_c);
  read("tmax", temperature, normals.tmax_c);
  read("tmin_sd", deviation, normals.tmin_sd_c);
  read("tmax_sd", deviation, normals.tmax_sd_c);
  for (std::size_t month = 0; month < normals.tmin_c.size(); ++month) {
    if (normals.tmin_c[month] <= normals.tmax_c[month]) continue;
    table->fail("tmin",
                fmt::format("found {} for {}, above its tmax {}", normals.tmin_c[month],
                            month_name(static_cast<int>(month) + 1), normals.tmax_c[month]),
                "tmin at most tmax in every month");
    break;
  }
  return normals;
}

/// A zone without summer time, by the longitude alone; the database counts these westward.
std::string zone_of_longitude(double longitude_deg) {
  const int hours = static_cast<int>(std::lround(longitude_deg / 15));
  return hours == 0 ? "Etc/GMT" : fmt::format("Etc/GMT{:+}", -hours);
}

void check_time_zone(const TomlTable& place, const std::string& name) {
  try {
    const date::tzdb& database = date::get_tzdb();
    const auto known = [&](const auto& zone) { return zone.name() == name; };
    if (std::any_of(database.zones.begin(), database.zones.end(), known)) return;
    std::vector<std::string_view> names;
    names.reserve(database.zones.size());
    for (const date::time_zone& zone : database.zones) names.emplace_back(zone.name());
    place.fail("time_zone", fmt::format("found {}{}", place.found("time_zone"), did_you_mean(name, names)),
               "a name of the time-zone database, such as \"Europe/Berlin\"");
  } catch (const std::exception&) {
    place.fail("time_zone", "the time-zone database is not on this machine", "install the package tzdata");
  }
}

/// The first winter that a plant weaned by `by` has to live through: the last one that is over by then and still ahead
/// of today, else the next one (then the plan says that it comes too late).
void resolve_winter(season::Goal& goal, const WrittenDay& starts, const WrittenDay& ends) {
  const auto end_of = [&](Date start) { return ends.on_or_after(start + Days{1}); };
  Date start = starts.on_or_after(goal.today + Days{1});
  for (Date next = starts.on_or_after(start + Days{1}); end_of(next) <= goal.by;
       next = starts.on_or_after(next + Days{1})) {
    start = next;
  }
  goal.winter_starts = start;
  goal.winter_ends = end_of(start);
}

void read_winter(Reading& reading, const std::optional<TomlTable>& place) {
  season::Goal& goal = reading.goal();
  const bool north = goal.site.latitude_deg >= 0;
  WrittenDay starts{std::nullopt, north ? 11 : 5, 1};
  WrittenDay ends{std::nullopt, north ? 4 : 10, 1};
  bool said = false;
  if (place) {
    said = place->has_all({"winter_starts", "winter_ends"});
    starts = place->month_day("winter_starts").value_or(starts);
    ends = place->month_day("winter_ends").value_or(ends);
    if (starts.month == ends.month && starts.day == ends.day) {
      place->fail("winter_ends", "found the day on which winter starts", "another day");
    }
  }
  resolve_winter(goal, starts, ends);
  if (!said && goal.count_at == CountAt::established) {
    reading.assume(fmt::format("Winter from {} to {}: usual in the {} half of the world.", to_words(goal.winter_starts),
                               to_words(goal.winter_ends), north ? "northern" : "southern"));
  }
}

void read_weather(Reading& reading, const TomlTable& place, const GoalOverrides& overrides) {
  const bool weather_written = place.has("weather");
  const bool normals_written = place.has("normals");
  const auto weather = place.text("weather", "the name of a weather file, such as \"weather.csv\"");
  auto normals = read_normals(place);
  if (weather_written && normals_written) {
    place.fail("weather", "found beside normals", "a weather file or [place.normals], one of the two");
  }
  if (overrides.weather_path) {
    reading.file.weather_path = overrides.weather_path;
  } else if (weather) {
    reading.file.weather_path = (std::filesystem::path(reading.file.path).parent_path() / *weather).string();
  } else {
    reading.file.normals = normals;
    if (!weather_written && !normals_written) {
      place.fail("weather", "is missing", "the name of a weather file, or a table [place.normals]");
    }
  }
}

void read_place(Reading& reading, const GoalOverrides& overrides) {
  season::Goal& goal = reading.goal();
  reading.root.needs("place", "a table [place] with latitude, longitude and weather");
  const auto place = reading.root.table("place");
  if (place) {
    const NumberRange latitude{.low = -90, .high = 90, .of_what = "degrees, south negative"};
    const NumberRange longitude{.low = -180, .high = 180, .of_what = "degrees, west negative"};
    const NumberRange elevation{.low = -450, .high = 9000, .of_what = "m"};
    place->needs("latitude", latitude.in_words());
    place->needs("longitude", longitude.in_words());
    goal.site.latitude_deg = place->number("latitude", latitude).value_or(0);
    goal.site.longitude_deg = place->number("longitude", longitude).value_or(0);
    goal.site.elevation_m = place->number("elevation_m", elevation).value_or(0);
    if (!place->has("elevation_m")) reading.assume("At sea level: elevation_m is left out.");
    reading.file.time_zone = zone_of_longitude(goal.site.longitude_deg);
    if (const auto zone = place->text("time_zone", "a name of the time-zone database, such as \"Europe/Berlin\"")) {
      reading.file.time_zone = *zone;
      check_time_zone(*place, *zone);
    }
    if (!place->has("time_zone")) {
      reading.assume(fmt::format("Time zone {}: by the longitude, without summer time.", reading.file.time_zone));
    }
    read_weather(reading, *place, overrides);
  }
  read_winter(reading, place);
}

shelter::Position read_position(const TomlTable& table) {
  const NumberRange temperature{.low = -10, .high = 45, .of_what = "°C"};
  const NumberRange difference{.low = -20, .high = 30, .of_what = "°C warmer than outdoors"};
  const auto air = table.one_of("air", kAirs);
  const bool fixed = table.has("fixed");
  const bool follows = table.has_any({"offset", "at_least"});
  const shelter::Position position{.offset_c = table.number("offset", difference).value_or(0),
                                   .at_least_c = table.number("at_least", temperature),
                                   .fixed_c = table.number("fixed", temperature)};
  if (air == "fixed") table.needs("fixed", temperature.in_words());
  if (air == "outdoor" && fixed)
    table.fail("fixed", "found with air = \"outdoor\"", "air = \"fixed\", or offset and at_least");
  if (fixed && follows) table.fail("fixed", "found beside offset or at_least", "fixed alone, or offset and at_least");
  return position;
}

void read_positions(Reading& reading) {
  season::Goal& goal = reading.goal();
  if (const auto table = reading.root.table("seedbed")) {
    goal.seedbed = read_position(*table);
    goal.seedbed_lit = table->yes_no("lit").value_or(false);
  } else {
    reading.assume("Seedbed in outdoor air, unheated and unlit: [seedbed] is left out.");
  }
  if (const auto table = reading.root.table("bench")) {
    goal.bench = read_position(*table);
  } else {
    goal.bench = kUsualBench;
    reading.assume(
        "Bench in a closed, shaded frame, 2 °C warmer than outdoors and never below 3 °C: [bench] is left out.");
  }
}

void read_prices(Reading& reading) {
  const auto table = reading.root.table("prices");
  if (!table) return;
  const NumberRange price{.low = 0, .high = 1'000'000, .of_what = "any currency"};
  season::Prices& prices = reading.goal().prices;
  prices.seed_per_gram = table->number("seed_per_gram", price);
  prices.container = table->number("container", price);
  prices.medium_per_litre = table->number("medium_per_litre", price);
  prices.sand_per_litre = table->number("sand_per_litre", price);
  prices.solution_per_litre = table->number("solution_per_litre", price);
  prices.hour = table->number("hour", price);
}

/// [solution]: what the grower has to make the dip from.
void read_solution(Reading& reading) {
  const auto table = reading.root.table("solution");
  if (!table) return;
  table->needs("from", R"(a stock such as "1 % IBA + 0.5 % NAA" or "K-IBA powder")");
  const auto from = table->text("from");
  const auto solvent_words = table->text("solvent");
  const auto refuse = [&](const char* key, const Error& error) { table->fail(key, error.problem, error.allowed); };
  mix::Solvent solvent;
  if (solvent_words) {
    const auto read = mix::parse_solvent(*solvent_words, "");
    if (!read) return refuse("solvent", read.error());
    solvent = *read;
  }
  if (!from) return;
  const auto stock = mix::parse_stock(*from, solvent, "");
  if (!stock) return refuse("from", stock.error());
  for (Want& want : reading.goal().wants) {
    want.dip = filling_of(want.method, *stock);
    const auto mixed = mix::mix_solution(*want.dip);
    if (!mixed) {
      table->fail("from", fmt::format("found \"{}\", but {}", *from, mixed.error().problem),
                  fmt::format("a liquid or powder stronger than the {:.4g} ppm of the method \"{}\"",
                              want.method.auxin_ppm.typical(), want.method.id));
      return;
    }
    if (mixed->warnings.empty()) continue;
    std::string warning = fmt::format(
        "{} remark{} on the rooting solution. To read {}: strikebed mix solution --from \"{}\"{} --target \"{:.4g} ppm "
        "total\" --made-up-to \"{:.4g} mL\"",
        mixed->warnings.size(), mixed->warnings.size() == 1 ? "" : "s", mixed->warnings.size() == 1 ? "it" : "them",
        *from, solvent_words ? fmt::format(" --solvent \"{}\"", *solvent_words) : "", want.method.auxin_ppm.typical(),
        want.method.solution_ml_per_fill.typical());
    std::vector<std::string>& warnings = reading.file.warnings;
    if (std::ranges::find(warnings, warning) == warnings.end()) warnings.push_back(std::move(warning));
  }
}

void say_spreads(Reading& reading) {
  if (reading.without_spread.empty()) return;
  reading.assume(fmt::format("How much batches differ in {}: the profile of {}.",
                             fmt::join(reading.without_spread, ", "), reading.goal().species.name));
}

}  // namespace

Result<GoalFile> parse_goal(std::string_view text, const std::string& name, Date today, const ProfileLibrary& library,
                            const GoalOverrides& overrides) {
  const Result<TomlFile> toml = TomlFile::parse(text, name);
  if (!toml) return toml.error();
  Reading reading{.root = toml->root(),
                  .today = today,
                  .library = library,
                  .file = {},
                  .own_rates = {},
                  .without_spread = {},
                  .elsewhere = std::nullopt};
  reading.file.path = name;
  reading.goal().today = today;
  read_target(reading);
  read_species_and_lot(reading);
  const WrittenRates written = read_written_rates(reading);
  read_wants(reading, written);
  resolve_chain_rates(reading, written);
  read_place(reading, overrides);
  read_positions(reading);
  read_sessions(reading);
  read_sowing(reading);
  read_prices(reading);
  read_solution(reading);
  say_spreads(reading);
  reading.goal().seeds_in_hand = overrides.seeds_in_hand;
  if (const auto error = toml->finish()) return *error;
  if (reading.elsewhere) return *reading.elsewhere;
  return std::move(reading.file);
}

Result<GoalFile> read_goal_file(const std::string& path, Date today, const GoalOverrides& overrides) {
  const Result<std::string> text = read_file(path, kLargestTomlFile);
  if (!text) return text.error();
  Result<ProfileLibrary> library = load_profiles(overrides.profiles_folder.value_or(profiles_folder()));
  if (!library) return library.error();
  library->own_file = [folder =
                           std::filesystem::path(path).parent_path()](const std::string& own) -> Result<ProfileText> {
    const std::string own_path = (folder / own).string();
    Result<std::string> own_text = read_file(own_path, kLargestTomlFile);
    if (!own_text) return own_text.error();
    return ProfileText{own_path, std::move(*own_text)};
  };
  library->materials.own_file = [own_file = library->own_file](const std::string& own) -> Result<std::string> {
    Result<ProfileText> read = own_file(own);
    if (!read) return read.error();
    return std::move(read->text);
  };
  return parse_goal(*text, path, today, *library, overrides);
}

}  // namespace strikebed::nursery

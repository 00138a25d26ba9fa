#include "nursery/profiles/feed_file.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <set>
#include <utility>
#include <vector>

#include "base/nearest.hpp"
#include "nursery/profiles/value_reading.hpp"
#include "nursery/toml_file.hpp"

namespace strikebed::nursery {
namespace {

const NumberRange kPpm{.low = 0, .high = 1000, .of_what = "ppm"};
const NumberRange kDsM{.low = 0, .high = 20, .of_what = "dS/m"};

void needs_all(const TomlTable& table, std::initializer_list<std::pair<std::string_view, std::string>> keys) {
  for (const auto& [key, allowed] : keys) table.needs(key, allowed);
}

void read_phase(const TomlTable& table, const Strictness& strict, bool is_new, mix::Phase& phase) {
  if (is_new) {
    needs_all(table, {{"begins", "what is seen when the phase begins, in words"},
                      {"n_ppm", "a table with value, low and high (ppm)"},
                      {"p_ppm", kPpm.in_words()},
                      {"k_ppm", kPpm.in_words()},
                      {"ec_ds_m", "a table with low and high (dS/m)"},
                      {"leachate_ds_m", kDsM.in_words()}});
  }
  const Provenance provenance = read_provenance(table, strict);
  phase.source = provenance.source;
  phase.trust = provenance.trust;
  phase.stage = table.text("begins").value_or(phase.stage);
  if (!strict.complete && table.has("n_ppm") && !table.is_table("n_ppm")) {
    // A bare number of the grower's own is meant as it stands.
    phase.ppm[0] = phase.n_low = phase.n_high = table.number("n_ppm", kPpm).value_or(0);
  } else if (const auto n = table.table("n_ppm")) {
    needs_all(*n, {{"value", kPpm.in_words()}, {"low", kPpm.in_words()}, {"high", kPpm.in_words()}});
    phase.ppm[0] = n->number("value", kPpm).value_or(0);
    phase.n_low = n->number("low", kPpm).value_or(0);
    phase.n_high = n->number("high", kPpm).value_or(0);
    if (phase.n_low > phase.ppm[0] || phase.ppm[0] > phase.n_high) {
      table.fail("n_ppm", fmt::format("found low {}, value {}, high {}", phase.n_low, phase.ppm[0], phase.n_high),
                 "low at most value, value at most high");
    }
  }
  phase.ppm[1] = table.number("p_ppm", kPpm).value_or(phase.ppm[1]);
  phase.ppm[2] = table.number("k_ppm", kPpm).value_or(phase.ppm[2]);
  if (const auto ec = table.table("ec_ds_m")) {
    needs_all(*ec, {{"low", kDsM.in_words()}, {"high", kDsM.in_words()}});
    phase.ec_low = ec->number("low", kDsM).value_or(0);
    phase.ec_high = ec->number("high", kDsM).value_or(0);
    if (phase.ec_low > phase.ec_high)
      table.fail("ec_ds_m", fmt::format("found low {}, high {}", phase.ec_low, phase.ec_high), "low at most high");
  }
  phase.leachate_limit = table.number("leachate_ds_m", kDsM).value_or(phase.leachate_limit);
}

Result<mix::FeedSchedule> read_over(std::string_view text, const std::string& file, mix::FeedSchedule schedule,
                                    bool own) {
  auto toml = TomlFile::parse(text, file);
  if (!toml) return toml.error();
  const TomlTable root = toml->root();
  const Strictness strict{.complete = !own, .own_source = "your own, " + file};
  if (!own) root.needs("flush_ds_m", kDsM.in_words());
  if (!own || root.has_any({"flush_ds_m", "source", "trust"})) {
    const Provenance provenance = read_provenance(root, strict);
    schedule.flush_source = provenance.source;
    schedule.flush_trust = provenance.trust;
  }
  schedule.flush_ds_m = root.number("flush_ds_m", kDsM).value_or(schedule.flush_ds_m);
  std::set<std::string> seen;
  for (const TomlTable& table : root.tables("phase")) {
    table.needs("name", "a word of its own, such as \"growth\"");
    const std::string name = table.text("name").value_or("");
    if (!seen.insert(name).second)
      table.fail("name", fmt::format("\"{}\" stands there twice", name), "a name of its own");
    const auto known = std::find_if(schedule.phases.begin(), schedule.phases.end(),
                                    [&](const mix::Phase& p) { return p.name == name; });
    if (known != schedule.phases.end()) {
      read_phase(table, strict, false, *known);
    } else if (own && !name.empty() && !table.has("begins")) {
      std::vector<std::string_view> names;
      for (const mix::Phase& phase : schedule.phases) names.push_back(phase.name);
      table.fail("name", fmt::format("there is no phase \"{}\"{}", name, did_you_mean(name, names)),
                 listed(names) + ", or a new one with begins, n_ppm, p_ppm, k_ppm, ec_ds_m and leachate_ds_m");
      (void)table.has_any({"n_ppm", "p_ppm", "k_ppm", "ec_ds_m", "leachate_ds_m", "source", "trust"});
    } else {
      schedule.phases.push_back({.name = name});
      read_phase(table, strict, true, schedule.phases.back());
    }
  }
  if (schedule.phases.empty()) root.fail("", "there is no phase", "one [[phase]] or more");
  if (const auto error = toml->finish()) return *error;
  return schedule;
}

}  // namespace

Result<mix::FeedSchedule> read_feed_schedule(std::string_view text, const std::string& file) {
  return read_over(text, file, {}, false);
}

Result<mix::FeedSchedule> read_own_feed_schedule(std::string_view text, const std::string& file,
                                                 mix::FeedSchedule shipped) {
  return read_over(text, file, std::move(shipped), true);
}

Result<mix::FeedSchedule> feed_schedule(const Library& library, const std::string& own_path) {
  const auto text = library.feed.find("season");
  if (text == library.feed.end()) return Error{.problem = "the phases of feeding are not here", .field = "season"};
  auto shipped = read_feed_schedule(text->second.text, text->second.file);
  if (!shipped || own_path.empty()) return shipped;
  const auto own = library.own(own_path);
  if (!own) return own.error();
  return read_own_feed_schedule(own->text, own->file, std::move(*shipped));
}

}  // namespace strikebed::nursery

// The seed: of which lots, which of it the grower sows on a day of his own, and what the plan sows from.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "base/text.hpp"
#include "nursery/goal/reading.hpp"
#include "nursery/rate_belief.hpp"
#include "print/number_words.hpp"
#include "print/text_table.hpp"

namespace strikebed::nursery {
namespace {

using season::Lot;
using season::Sown;

constexpr std::size_t kMostLots = 12;
constexpr std::size_t kLongestName = 40;
constexpr std::string_view kWhatIsSown =
    "both, where it is sown on a day of your own; neither, where the plan is to say";

/// One table, as written.
struct WrittenLot {
  TomlTable table;
  std::string name = {};
  std::optional<RateBelief> germination = {};
  std::optional<int> chill_days = {};
  std::optional<bool> fresh = {};
  std::optional<double> seeds_per_gram = {};
  std::optional<Date> sow_on = {};
  std::optional<int> seeds = {};
};

std::string read_name(const TomlTable& table, bool must) {
  if (must && !table.needs("name", "a name, such as \"from the old tree\": there are several lots")) return {};
  const std::string name(trimmed(table.text("name", "a name").value_or("")));
  if (name.size() > kLongestName) {
    table.fail("name", fmt::format("found {} letters", name.size()), fmt::format("at most {}", kLongestName));
  } else if (name.empty() && table.sound({"name"}) && table.has("name")) {
    table.fail("name", "found blanks alone", "a name");
  }
  return name;
}

/// Neither, or both.
void read_own_sowing(const Reading& reading, WrittenLot& lot) {
  const TomlTable& table = lot.table;
  const auto day = table.day("sow_on");
  lot.seeds = table.whole("seeds", 1, season::kMostSeeds);
  if (table.has("sow_on") && !table.has("seeds")) {
    table.fail("sow_on", "found without seeds", std::string(kWhatIsSown));
  } else if (table.has("seeds") && !table.has("sow_on")) {
    table.fail("seeds", "found without sow_on", std::string(kWhatIsSown));
  }
  if (!day) return;
  lot.sow_on = day->on_or_after(reading.today);
  if (const auto wrong = out_of_season(reading, *lot.sow_on)) table.fail("sow_on", wrong->problem, wrong->allowed);
}

WrittenLot read_lot(const Reading& reading, const TomlTable& table, bool several) {
  const NumberRange seeds_per_gram{.low = 0.1, .high = 100'000, .of_what = "seeds in a gram"};
  WrittenLot lot{.table = table,
                 .name = read_name(table, several),
                 .germination = read_rate(table, name_of(growth::Rung::germination)),
                 .chill_days = table.whole("chill_days", 0, 365),
                 .fresh = table.yes_no("fresh"),
                 .seeds_per_gram = table.number("seeds_per_gram", seeds_per_gram)};
  read_own_sowing(reading, lot);
  return lot;
}

/// What is said of a lot in one of its tables holds in all, and where two say it they must say the same; what may
/// differ holds in those that follow.
template <class T>
void say_alike(std::vector<WrittenLot>& lots, std::optional<T> WrittenLot::* said, const char* key, bool may_differ) {
  for (std::size_t i = 0; i < lots.size(); ++i) {
    for (std::size_t j = 0; j < lots.size(); ++j) {
      if (lots[i].name != lots[j].name || !(lots[i].*said)) continue;
      if (may_differ && j < i) continue;
      if (!(lots[j].*said)) {
        lots[j].*said = lots[i].*said;
      } else if (j > i && lots[j].*said != lots[i].*said && !may_differ) {
        lots[j].table.fail(key, fmt::format("found other than in the table before of lot \"{}\"", lots[j].name),
                           "the same, or another name: it is another lot");
        lots[j].*said = lots[i].*said;
      }
    }
  }
}

std::vector<WrittenLot> read_written_lots(const Reading& reading) {
  const TomlTable& root = reading.root;
  std::vector<WrittenLot> lots;
  if (!root.has("lot")) return lots;
  const std::vector<TomlTable> tables = root.is_table("lot") ? std::vector{*root.table("lot")} : root.tables("lot");
  if (tables.size() > kMostLots) {
    root.fail("lot", fmt::format("found {} lots", tables.size()), fmt::format("at most {}", kMostLots));
  }
  for (std::size_t i = 0; i < std::min(tables.size(), kMostLots); ++i) {
    lots.push_back(read_lot(reading, tables[i], tables.size() > 1));
  }
  say_alike(lots, &WrittenLot::germination, "germination", false);
  say_alike(lots, &WrittenLot::fresh, "fresh", false);
  say_alike(lots, &WrittenLot::seeds_per_gram, "seeds_per_gram", false);
  say_alike(lots, &WrittenLot::chill_days, "chill_days", true);
  return lots;
}

/// What was left out of the lots, each thing once for all of which it is true: "Lots A and B: 45 days of ...".
class LeftOut {
 public:
  void note(const std::string& lot, std::string sentence) {
    auto at = std::ranges::find(said_, sentence, &Said::first);
    if (at == said_.end()) at = said_.insert(at, {std::move(sentence), {}});
    if (std::ranges::find(at->second, lot) == at->second.end()) at->second.push_back(lot);
  }
  void say(Reading& reading) const {
    for (const auto& [sentence, lots] : said_) reading.assume(of_lots(lots) + sentence);
  }

 private:
  using Said = std::pair<std::string, std::vector<std::string>>;
  static std::string of_lots(const std::vector<std::string>& lots) {
    if (lots.front().empty()) return "";
    return fmt::format("{} {}: ", lots.size() > 1 ? "Lots" : "Lot", print::plain_spaces(print::in_a_row(lots)));
  }
  std::vector<Said> said_;
};

Lot resolved(const Reading& reading, const WrittenLot& written, LeftOut& left_out) {
  const growth::Species& species = reading.file.goal.species;
  const int full_chill = static_cast<int>(std::lround(species.chill_days.typical()));
  Lot lot{.name = written.name,
          .chill_days = 0,
          .fresh = written.fresh.value_or(false),
          .seeds_per_gram = written.seeds_per_gram};
  lot.chill_days = written.chill_days.value_or(lot.fresh ? 0 : full_chill);
  if (!written.chill_days) {
    left_out.note(lot.name, lot.fresh
                                ? "No chilling before sowing: the lot is fresh."
                                : fmt::format("{} days of cold, moist chilling before sowing: {} for stored seed.",
                                              full_chill, from_profile(species, "chill_days")));
  }
  if (!lot.seeds_per_gram) {
    left_out.note(lot.name, fmt::format("{:.4g} seeds in a gram: {}.", species.seeds_per_gram.typical(),
                                        from_profile(species, "seeds_per_gram")));
  }
  return lot;
}

/// One sowing for what is one lot, chilled alike and sown on one day.
void add_sown(season::Goal& goal, Sown sown) {
  const auto same = [&](const Sown& other) { return other.lot == sown.lot && other.on == sown.on; };
  const auto at = std::ranges::find_if(goal.sown, same);
  if (at == goal.sown.end()) {
    goal.sown.push_back(std::move(sown));
  } else {
    at->seeds += sown.seeds;
  }
}

/// The lot that the plan sows from: the one of which nothing else is said. Nothing: all have their own day.
std::optional<std::size_t> planned_from(const std::vector<WrittenLot>& lots) {
  std::optional<std::size_t> planned;
  for (std::size_t i = 0; i < lots.size(); ++i) {
    if (lots[i].table.has_any({"sow_on", "seeds"})) continue;
    if (planned) {
      lots[i].table.fail("", "a second lot without sow_on and seeds", "one at most: it is what the plan sows from");
    } else {
      planned = i;
    }
  }
  return planned;
}

}  // namespace

void read_lots(Reading& reading) {
  season::Goal& goal = reading.goal();
  std::vector<WrittenLot> lots = read_written_lots(reading);
  LeftOut left_out;
  const std::optional<std::size_t> planned = planned_from(lots);
  reading.lot_is_open = !planned && lots.size() > 1;
  if (lots.empty()) goal.lot = resolved(reading, {.table = reading.root}, left_out);
  for (std::size_t i = 0; i < lots.size(); ++i) {
    const WrittenLot& written = lots[i];
    const Lot lot = resolved(reading, written, left_out);
    if (i == planned.value_or(0)) goal.lot = lot;
    if (written.germination) reading.germination_of_lots[lot.name] = *written.germination;
    if (written.sow_on && written.seeds) add_sown(goal, {*written.sow_on, *written.seeds, lot, {}});
  }
  left_out.say(reading);
  for (const Sown& sown : goal.sown) {
    if (sown.on >= reading.today) continue;
    reading.assume(fmt::format("{}own on {}: how many are up is not used yet.",
                               sown.lot.name.empty() ? "S" : fmt::format("Lot {}, s", sown.lot.name),
                               to_words(sown.on)));
  }
}

}  // namespace strikebed::nursery

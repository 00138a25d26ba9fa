// Rates: those written in the goal file, and where the others come from.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "evidence/beta.hpp"
#include "nursery/goal/reading.hpp"
#include "nursery/rate_belief.hpp"
#include "print/number_words.hpp"
#include "print/rung_words.hpp"
#include "print/text_table.hpp"
#include "print/trust_words.hpp"

namespace strikebed::nursery {
namespace {

using growth::Method;
using growth::RateValue;
using growth::Rung;
using growth::RungRow;

/// How much batches differ, where nothing closer to the grower says so.
double usual_spread(const Reading& reading, Rung rung) {
  return reading.file.goal.species.rates[rung].belief.batch_spread.value_or(0);
}

/// "66 (37 to 89) %": the median and the range of what is computed with, as everywhere in a plan.
std::string in_words(const RateBelief& belief) {
  if (const auto* known = std::get_if<Known>(&belief.belief))
    return fmt::format("{:.0f} % exactly", 100 * known->share);
  const auto beta = evidence::beta_of(belief);
  if (!beta) return "unknown";
  return print::plain_spaces(print::share_range_words(beta->quantile(0.5), beta->quantile(0.05), beta->quantile(0.95)));
}

}  // namespace

RateBelief rate_left_out(Reading& reading, Rung rung, const Method* method, const std::string& shown) {
  const RateValue* value = &reading.goal().species.rates[rung];
  const growth::Species& species = reading.goal().species;
  std::string from = from_profile(species, name_of(rung));
  const bool own_of_method = method && method->own_rates[rung];
  const bool own = species.is_own(name_of(rung)) || own_of_method;
  if (own_of_method || (!own && method && method->rates[rung])) {
    value = &*method->rates[rung];
    from = own_of_method ? fmt::format("your own profile, of the method \"{}\"", method->id)
                         : fmt::format("the method \"{}\"", method->id);
  }
  RateBelief belief = value->belief;
  reading.assume(fmt::format("{}: {} {}; {}, {}.", shown, in_words(belief), print::rung_words(rung), from,
                             print::trust_words(value->trust)));
  if (rung == Rung::take && method && method->dip() != method->reference_dip && !own) {
    const Method::Dip& known = method->reference_dip;
    const mix::DipComparison dip =
        mix::compare_dip(method->dip().auxin_ppm, method->dip().seconds, known.auxin_ppm, known.seconds);
    belief = at_another_dip(belief, dip);
    reading.assume(fmt::format(
        "{}: {} {} with {:.4g} ppm for {:.4g} s instead of {:.4g} ppm for {:.4g} s, {:.2f} times as many ({:.2f} to "
        "{:.2f}): a guess, not a measurement.",
        shown, in_words(belief), print::rung_words(rung), method->dip().auxin_ppm, method->dip().seconds,
        known.auxin_ppm, known.seconds, dip.ratio, dip.ratio_low, dip.ratio_high));
  }
  return with_batch_spread(belief, usual_spread(reading, rung));
}

RateBelief rate_written(Reading& reading, const RateBelief& belief, Rung rung, const std::string& shown) {
  if (!belief.batch_spread && !std::holds_alternative<Known>(belief.belief)) {
    reading.without_spread[from_profile(reading.goal().species, name_of(rung))].push_back(shown);
  }
  return with_batch_spread(belief, usual_spread(reading, rung));
}

WrittenRates read_written_rates(const Reading& reading) {
  WrittenRates written;
  if (const auto table = reading.root.table("rates")) {
    for (const RungRow& row : growth::kRungs) written[row.rung] = read_rate(*table, row.name);
  }
  return written;
}

namespace {

double mean_of(const RateBelief& belief) {
  if (const auto* known = std::get_if<Known>(&belief.belief)) return known->share;
  const auto beta = evidence::beta_of(belief);
  return beta ? beta->a / (beta->a + beta->b) : 0;
}

void sow_from_the_best(Reading& reading) {
  season::Goal& goal = reading.goal();
  const auto best =
      std::ranges::max_element(goal.sown, {}, [](const season::Sown& sown) { return mean_of(sown.germination); });
  goal.lot = best->lot;
  goal.rates[Rung::germination] = best->germination;
  reading.assume(fmt::format(
      "What is sown on top is of lot {}: each of the lots has its own sow_on, and of none more of the seeds come up.",
      goal.lot.name));
}

/// Of each lot once, by its name: its own, else [rates], else further down.
void resolve_germination(Reading& reading, const std::optional<RateBelief>& written) {
  season::Goal& goal = reading.goal();
  std::map<std::string, RateBelief> of_lots;
  std::vector<std::string> as_all;
  const auto of = [&](const season::Lot& lot) {
    const auto known = of_lots.find(lot.name);
    if (known != of_lots.end()) return known->second;
    const auto own = reading.germination_of_lots.find(lot.name);
    const std::string shown = lot.name.empty() ? "germination" : fmt::format("germination (lot {})", lot.name);
    const bool has_own = own != reading.germination_of_lots.end();
    const std::optional<RateBelief> said = has_own ? own->second : written;
    if (!has_own && written) as_all.push_back(lot.name);
    return of_lots[lot.name] = said ? rate_written(reading, *said, Rung::germination, shown)
                                    : rate_left_out(reading, Rung::germination, nullptr, shown);
  };
  goal.rates[Rung::germination] = of(goal.lot);
  for (season::Sown& sown : goal.sown) sown.germination = of(sown.lot);
  if (reading.lot_is_open && of_lots.size() > 1) sow_from_the_best(reading);
  if (of_lots.size() > 1 && !as_all.empty()) {
    reading.assume(fmt::format("Germination in [rates] is believed of lot{} {}{}: no test of {} own is given.",
                               as_all.size() > 1 ? "s" : "", print::plain_spaces(print::in_a_row(as_all)),
                               as_all.size() > 1 ? ", of each by itself" : "", as_all.size() > 1 ? "their" : "its"));
  }
}

}  // namespace

void resolve_chain_rates(Reading& reading, const WrittenRates& written) {
  season::Goal& goal = reading.goal();
  for (const RungRow& row : growth::kRungs) {
    if (row.is_of_method()) continue;
    if (row.rung == Rung::germination) {
      resolve_germination(reading, written[row.rung]);
      continue;
    }
    const std::string shown(row.name);
    const std::size_t said = reading.file.assumed.size();
    const std::optional<RateBelief>& belief = written[row.rung];
    goal.rates[row.rung] =
        belief ? rate_written(reading, *belief, row.rung, shown) : rate_left_out(reading, row.rung, nullptr, shown);
    if (!goal.matters(row.rung)) reading.file.assumed.resize(said);  // nobody needs to know
  }
}

void say_spreads(Reading& reading) {
  for (const auto& [whose, rates] : reading.without_spread) {
    reading.assume(fmt::format("How much batches differ in {}: {}.", fmt::join(rates, ", "), whose));
  }
}

}  // namespace strikebed::nursery

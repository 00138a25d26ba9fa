// Rates: those written in the goal file, and where the others come from.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>

#include "nursery/goal/reading.hpp"
#include "nursery/rate_belief.hpp"

namespace strikebed::nursery {
namespace {

using growth::Method;
using growth::RateValue;
using season::CountAt;

std::string in_words(const RateBelief& belief) {
  if (const auto* known = std::get_if<Known>(&belief.belief)) return fmt::format("{:.2f} exactly", known->share);
  if (const auto* test = std::get_if<Tested>(&belief.belief)) return fmt::format("{} of {}", test->good, test->of);
  const auto& range = std::get<Ranged>(belief.belief);
  if (range.about) return fmt::format("about {:.2f} ({:.2f} to {:.2f})", *range.about, range.low, range.high);
  return fmt::format("{:.2f} to {:.2f}", range.low, range.high);
}

}  // namespace

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

void say_spreads(Reading& reading) {
  if (reading.without_spread.empty()) return;
  reading.assume(fmt::format("How much batches differ in {}: the profile of {}.",
                             fmt::join(reading.without_spread, ", "), reading.goal().species.name));
}

}  // namespace strikebed::nursery

#include "mix/disinfectant.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "base/nearest.hpp"
#include "base/number.hpp"
#include "base/text.hpp"
#include "mix/alcohol.hpp"

namespace strikebed::mix {
namespace {

Error wrong(std::string problem, std::string allowed, std::string field = "") {
  return {.problem = std::move(problem), .allowed = std::move(allowed), .field = std::move(field)};
}

std::string_view agent_words(Agent agent) {
  return agent == Agent::ethanol ? "ethanol" : agent == Agent::isopropyl ? "isopropyl alcohol" : "available chlorine";
}

std::string strength_words(Agent agent, double strength) {
  return agent == Agent::chlorine ? fmt::format("{} ppm available chlorine", figures(strength, 4))
                                  : fmt::format("{} % v/v {}", figures(strength, 4), agent_words(agent));
}

/// g/mL of household bleach by its share of hypochlorite by mass: 1.08 at 5 %, 1.20 at 12.5 % (from memory).
double bleach_density_g_ml(double mass_pct) { return 1 + 0.016 * mass_pct; }

std::optional<Error> wrong_amount(const std::optional<Amount>& amount, std::string_view field) {
  return amount ? not_above_zero(*amount, to_text(*amount), Dimension::volume, field) : std::nullopt;
}

std::optional<Error> wrong_request(const DisinfectantRequest& r) {
  for (const auto& [amount, field] : {std::pair{&r.make, "make"}, {&r.stock, "stock"}, {&r.water, "water"}}) {
    if (const auto error = wrong_amount(*amount, field)) return error;
  }
  const int amounts = r.make.has_value() + r.stock.has_value() + r.water.has_value();
  const std::string ways =
      "<target> or <ratio> with one of <make>, <stock> and <water>; or two of these without a target";
  const bool aimed = r.target || r.ratio;
  if (r.target && r.ratio) return wrong("both a target and a ratio are given", "one of them", "ratio");
  if (amounts < (aimed ? 1 : 2)) return wrong("too little is given", ways);
  if (amounts > (aimed ? 1 : 2)) return wrong("too much is given", ways);
  if (r.ratio && !r.ratio->plus && r.ratio->n <= 1) return wrong("1 in 1 is the stock itself", "more than 1", "ratio");
  if (r.ratio && r.ratio->plus && r.from.agent == Agent::isopropyl) {
    return wrong("how much isopropyl alcohol and water shrink together is not known here",
                 "\"1 in 2\": one part, and water up to the mark of two", "ratio");
  }
  if (r.make && r.stock && r.stock->base() >= r.make->base())
    return wrong(fmt::format("{} of the stock fill all of {}", to_text(*r.stock), to_text(*r.make)), "less stock",
                 "stock");
  if (r.make && r.water && r.water->base() >= r.make->base())
    return wrong(fmt::format("{} of water fill all of {}", to_text(*r.water), to_text(*r.make)), "less water", "water");
  if (r.target && r.target->agent != r.from.agent) {
    return wrong(
        fmt::format("the stock is {}, and the target is {}", agent_words(r.from.agent), agent_words(r.target->agent)),
        "the same of both", "target");
  }
  if (r.target && r.target->strength.u > 0) {
    return wrong(fmt::format("the limits of \"{}\" are not reckoned with: it is what is wanted", r.target->words),
                 "the strength alone", "target");
  }
  if (r.target && r.target->strength.value >= r.from.strength.value) {
    return wrong(fmt::format("the target, {}, is not weaker than the stock, {}",
                             strength_words(r.from.agent, r.target->strength.value),
                             strength_words(r.from.agent, r.from.strength.value)),
                 "below " + strength_words(r.from.agent, r.from.strength.value), "target");
  }
  if (r.from.agent == Agent::isopropyl && r.water) {
    return wrong("how much isopropyl alcohol and water shrink together is not known here",
                 "<make>: measure the alcohol, then fill up to the mark with water", "water");
  }
  return std::nullopt;
}

/// The request with each "alcohol" as the one that the other strength names, else ethanol.
DisinfectantRequest with_alcohols(DisinfectantRequest r) {
  if (!r.target) return r;
  if (r.from.any_alcohol && r.target->agent != Agent::chlorine) r.from.agent = r.target->agent;
  if (r.target->any_alcohol && r.from.agent != Agent::chlorine) r.target->agent = r.from.agent;
  return r;
}

/// The request with the strength that its ratio comes to as its target.
DisinfectantRequest with_ratio(DisinfectantRequest r) {
  if (!r.ratio) return r;
  const double from = r.from.strength.value;
  const bool shrinks = r.ratio->plus && r.from.agent == Agent::ethanol;
  const double strength =
      shrinks ? add_water_to_ethanol(1, from, r.ratio->n).volume_pct : from / (r.ratio->n + (r.ratio->plus ? 1 : 0));
  r.target.emplace();
  r.target->agent = r.from.agent;
  r.target->strength = {strength, 0};
  r.target->words = to_text(*r.ratio);
  return r;
}

/// Stock, water and total, mL.
struct Volumes {
  double stock = 0;
  std::optional<double> water;
  double total = 0;
};

/// To the strength `to`; one of make, stock and water is given.
Volumes with_target(const DisinfectantRequest& r, double to) {
  const double from = r.from.strength.value;
  const double share = to / from;  // of stock in what is made up to the mark: exact for % v/v and for mg/L alike
  const bool ethanol = r.from.agent == Agent::ethanol;
  Volumes v;
  if (r.make) v.stock = r.make->base() * share;
  if (r.stock) v.stock = r.stock->base();
  if (r.water) v.stock = r.water->base() / (ethanol ? water_for_ethanol_ml(1, from, to) : 1 / share - 1);
  v.total = v.stock / share;
  if (ethanol) v.water = water_for_ethanol_ml(v.stock, from, to);
  if (r.from.agent == Agent::chlorine) v.water = v.total - v.stock;
  return v;
}

/// What is measured, mL: two of the three.
struct Amounts {
  std::optional<double> stock;
  std::optional<double> water;
  std::optional<double> total;
};

Volumes from_two(Agent agent, double from, const Amounts& amounts) {
  const bool ethanol = agent == Agent::ethanol;
  Volumes v{amounts.stock.value_or(0), amounts.water, amounts.total.value_or(0)};
  if (!amounts.water) {
    if (ethanol) v.water = water_for_ethanol_ml(v.stock, from, from * v.stock / v.total);
    if (agent == Agent::chlorine) v.water = v.total - v.stock;
  } else if (!amounts.total) {
    v.total = ethanol ? add_water_to_ethanol(v.stock, from, *v.water).volume_ml : v.stock + *v.water;
  } else {
    v.stock = v.total - *v.water;
    if (!ethanol) return v;
    // A little more than the difference: what shrinks makes room.
    double low = v.stock;
    double high = v.total;
    for (int i = 0; i < 60; ++i) {
      const double middle = (low + high) / 2;
      (add_water_to_ethanol(middle, from, *v.water).volume_ml < v.total ? low : high) = middle;
    }
    v.stock = (low + high) / 2;
  }
  return v;
}

/// With the stock's own error where none was written. A bare % of bleach may be of the weight: limits that reach to
/// that reading as well.
Measured strength_of(const AgentStrength& stock) {
  Measured from = stock.strength;
  if (from.u == 0)
    from.u = (stock.agent == Agent::chlorine ? kBleachTolerance : kAlcoholTolerance) * from.value / std::sqrt(3.0);
  if (stock.if_by_weight) from.u = std::hypot(from.u, (*stock.if_by_weight - from.value) / std::sqrt(3.0));
  return from;
}

/// Obtained from the two amounts that are measured: the stock in whole marks where it is not given, and what is.
Measured strength_obtained(const DisinfectantRequest& r, const Volumes& v, const Measured& stock_out) {
  const auto given = [](const std::optional<Amount>& amount) {
    return amount ? std::optional(measured_volume(*amount)) : std::nullopt;
  };
  std::optional<Measured> stock = given(r.stock);
  if (r.stock && r.instrument && r.stock->plus_minus == 0) stock = stock_out;
  if (!stock && r.target) stock = stock_out;
  const std::optional<Measured> water = given(r.water);
  std::optional<Measured> total = given(r.make);
  if (!water && !total) total = jug_ml(v.total);
  const Measured nothing;
  const double from = r.from.strength.value;
  return propagated(
      std::array{strength_of(r.from), stock.value_or(nothing), water.value_or(nothing), total.value_or(nothing)},
      [&](const auto& x) {
        const auto taken = [&](const std::optional<Measured>& amount, std::size_t at) {
          return amount ? std::optional(x[at]) : std::nullopt;
        };
        if (!water) return x[0] * x[1] / x[3];
        const Volumes mixed = from_two(r.from.agent, from, {taken(stock, 1), taken(water, 2), taken(total, 3)});
        return x[0] * mixed.stock / mixed.total;
      });
}

Contact contact_of(Agent agent, double strength) {
  if (agent != Agent::chlorine) return Contact::wiped;
  return strength >= 4500 ? Contact::ten_minutes : strength >= 900 ? Contact::half_an_hour : Contact::by_the_label;
}

std::vector<DisinfectantRemark> remarks_of(const Disinfectant& d, bool to_the_mark) {
  std::vector<DisinfectantRemark> remarks;
  const bool chlorine = d.agent == Agent::chlorine;
  if (!chlorine && (d.strength.value < kWeakestUseful_pct || d.strength.value > kStrongestUseful_pct))
    remarks.push_back(DisinfectantRemark::outside_useful);
  if (to_the_mark && d.stock_out.steps < kFairSteps) remarks.push_back(DisinfectantRemark::few_steps);
  if (chlorine) remarks.push_back(DisinfectantRemark::ageing);
  return remarks;
}

std::vector<DisinfectantAssumption> assumptions_of(const DisinfectantRequest& request) {
  using enum DisinfectantAssumption;
  const AgentStrength& from = request.from;
  std::vector<DisinfectantAssumption> assumed;
  if (!request.bottle_words.empty()) assumed.push_back(share_of_bottle);
  const bool said = request.target && !request.ratio && !request.target->any_alcohol;
  if (from.any_alcohol && !said) assumed.push_back(alcohol_as_ethanol);
  if (from.strength.u == 0) assumed.push_back(stock_tolerance);
  if (from.if_by_weight) assumed.push_back(percent_by_volume);
  assumed.push_back(from.agent == Agent::chlorine ? chlorine_units : alcohol_units);
  if (from.agent == Agent::isopropyl) assumed.push_back(unknown_shrinking);
  return assumed;
}

constexpr std::string_view kAgentForm =
    "a strength and ethanol, isopropyl, alcohol, hypochlorite or chlorine (available), such as 96 % ethanol";

Result<Agent> agent_named(const std::string& name, std::string_view field) {
  constexpr std::array<std::string_view, 7> kNames = {"ethanol",  "alcohol",      "isopropyl", "isopropanol",
                                                      "chlorine", "hypochlorite", "bleach"};
  constexpr std::array<Agent, 7> kAgents = {Agent::ethanol,  Agent::ethanol,  Agent::isopropyl, Agent::isopropyl,
                                            Agent::chlorine, Agent::chlorine, Agent::chlorine};
  if (name == "bleach") {
    return wrong("labels of bleach give one of two figures that are 5 % apart",
                 field == "from"
                     ? "\"5 % hypochlorite\" (sodium hypochlorite) or \"5 % chlorine\" (available or active "
                       "chlorine); or, where a tenth of it shall be bleach, <target> as \"10 % bleach\""
                     : "\"5 % hypochlorite\" (sodium hypochlorite) or \"5 % chlorine\" (available or active "
                       "chlorine)",
                 std::string(field));
  }
  const auto found = std::find(kNames.begin(), kNames.end(), name);
  if (found != kNames.end()) return kAgents[static_cast<std::size_t>(found - kNames.begin())];
  const auto nearest = nearest_word(name, kNames);
  return wrong(fmt::format("the disinfectant \"{}\" is not known{}", name,
                           nearest ? fmt::format("; did you mean {}?", *nearest) : std::string()),
               std::string(kAgentForm), std::string(field));
}

/// % v/v of an alcohol; ppm, g/L, % w/v or % w/w of chlorine.
Result<Amount> agent_amount(const std::string& written, bool chlorine, std::string_view field) {
  auto amount = chlorine ? parse_amount(written, field, {Dimension::strength, Dimension::share_by_mass})
                         : parse_amount(written, field, {Dimension::share_by_volume});
  if (!amount) return amount;
  const Dimension dimension = amount->dimension();
  const bool fits = chlorine ? dimension == Dimension::strength || dimension == Dimension::share_by_mass
                             : dimension == Dimension::share_by_volume;
  if (fits) return amount;
  return wrong(fmt::format("\"{}\" is {}", written, dimension_words(dimension)),
               chlorine ? "ppm, g/L, % w/v or % w/w" : "% v/v", std::string(field));
}

}  // namespace

std::optional<Ratio> share_of_bottle(std::string_view text) {
  constexpr std::string_view kBleach = "bleach";
  const std::string written = lower(trimmed(text));
  std::string_view share = written;
  if (!share.ends_with(kBleach)) return std::nullopt;
  share = trimmed(share.substr(0, share.size() - kBleach.size()));
  if (!share.ends_with('%')) return std::nullopt;
  const auto percent = parse_number(trimmed(share.substr(0, share.size() - 1)));
  constexpr double kLeastPercent = 0.01;
  if (!percent || *percent < kLeastPercent || *percent >= 100) return std::nullopt;
  return Ratio{.plus = false, .n = 100 / *percent};
}

Result<AgentStrength> parse_agent(std::string_view text, std::string_view field) {
  const std::string_view whole = trimmed(text);
  const std::size_t space = whole.rfind(' ');
  const std::string name = lower(space == std::string_view::npos ? whole : whole.substr(space + 1));
  // A strength in ppm alone can only be chlorine's.
  if (name == "ppm") return parse_agent(std::string(whole) + " chlorine", field);
  const auto agent = agent_named(name, field);
  if (!agent) return agent.error();
  const bool chlorine = *agent == Agent::chlorine;
  std::string written(space == std::string_view::npos ? std::string_view() : whole.substr(0, space));
  if (written.empty())
    return wrong(fmt::format("\"{}\" has no strength", whole), std::string(kAgentForm), std::string(field));
  const bool bare = written.back() == '%';
  const auto amount = agent_amount(bare ? written + (chlorine ? " w/v" : " v/v") : written, chlorine, field);
  if (!amount) return amount.error();
  if (!(amount->number > 0))
    return wrong(fmt::format("\"{}\" is not above 0", whole), "a strength above 0", std::string(field));
  if (const auto error = too_wide(*amount, whole, field)) return *error;
  AgentStrength result;
  result.agent = *agent;
  result.words = std::string(whole);
  result.any_alcohol = name == "alcohol";
  double factor = name == "hypochlorite" ? kChlorineInHypochlorite : 1;
  if (amount->dimension() == Dimension::share_by_mass) factor *= 10000 * bleach_density_g_ml(amount->base());
  if (chlorine && bare) result.if_by_weight = amount->base() * factor * bleach_density_g_ml(amount->number);
  result.strength = {measured(*amount).value * factor, measured(*amount).u * factor};
  if (result.strength.value > (chlorine ? 200000 : 100)) {
    return wrong(fmt::format("\"{}\" is more than there can be", whole),
                 chlorine ? "up to 20 % available chlorine" : "up to 100 % v/v", std::string(field));
  }
  return result;
}

double water_for_ethanol_ml(double stock_ml, double from_pct, double to_pct) {
  const double total_ml = stock_ml * from_pct / to_pct;
  const double total_g = total_ml * ethanol_density_g_ml(ethanol_mass_share(to_pct));
  const double stock_g = stock_ml * ethanol_density_g_ml(ethanol_mass_share(from_pct));
  return (total_g - stock_g) / kWaterDensity_g_ml;
}

DilutedEthanol add_water_to_ethanol(double stock_ml, double from_pct, double water_ml) {
  const double share = ethanol_mass_share(from_pct);
  const double stock_g = stock_ml * ethanol_density_g_ml(share);
  const double total_g = stock_g + water_ml * kWaterDensity_g_ml;
  const double diluted = share * stock_g / total_g;
  return {ethanol_volume_pct(diluted), total_g / ethanol_density_g_ml(diluted)};
}

Result<Disinfectant> mix_disinfectant(const DisinfectantRequest& asked) {
  const DisinfectantRequest written = with_alcohols(asked);
  if (const auto error = wrong_request(written)) return *error;
  const DisinfectantRequest request = with_ratio(written);
  const auto base = [](const std::optional<Amount>& amount) {
    return amount ? std::optional(amount->base()) : std::nullopt;
  };
  const Volumes v = request.target ? with_target(request, request.target->strength.value)
                                   : from_two(request.from.agent, request.from.strength.value,
                                              {base(request.stock), base(request.water), base(request.make)});
  Disinfectant d;
  d.agent = request.from.agent;
  d.stock_ml = v.stock;
  d.water_ml = v.water;
  d.total_ml = v.total;
  if (request.from.agent == Agent::ethanol) d.shrinks_ml = v.stock + v.water.value_or(0) - v.total;

  const Instrument instrument = request.instrument ? *request.instrument : usual_marks(v.stock);
  if (instrument.kind != Instrument::Kind::marks)
    return wrong(fmt::format("{} do not measure this", instrument_words(instrument)), "a syringe or a cylinder",
                 "instrument");
  const bool to_the_mark = request.target && !request.stock;  // else it is given, or what is left
  const auto too_little = too_little_to_measure(v.stock, instrument, {});
  if (to_the_mark && too_little) {
    return wrong(*too_little, "more at a time, finer marks, or in two steps: thin the stock first",
                 request.make ? "make" : "water");
  }
  d.stock_out = measure_out(v.stock, instrument, {});
  if (!to_the_mark) d.stock_out.amount.value = v.stock;
  d.strength = strength_obtained(request, v, d.stock_out.amount);

  d.contact = contact_of(d.agent, d.strength.value);
  d.use_by = request.made + Days(d.agent == Agent::chlorine ? 1 : 365);
  d.remarks = remarks_of(d, to_the_mark);
  d.assumed = assumptions_of(request);
  return d;
}

}  // namespace strikebed::mix

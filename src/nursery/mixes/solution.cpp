#include "nursery/mixes/solution.hpp"

#include <fmt/format.h>

#include <charconv>
#include <cmath>
#include <optional>
#include <string_view>
#include <tuple>

#include "base/number.hpp"
#include "nursery/mixes/words.hpp"
#include "nursery/profiles/profile_file.hpp"

namespace strikebed::nursery {
namespace {

Result<double> positive_number(const std::string& text, double most, const char* field) {
  const auto number = parse_number(text);
  if (number && *number > 0 && *number <= most) return *number;
  return Error{.problem = fmt::format("\"{}\" is not allowed", text),
               .allowed = fmt::format("a number above 0, at most {:g}", most),
               .field = field};
}

Result<int> positive_count(const std::string& text, int most, const char* field) {
  int number = 0;
  const char* end = text.data() + text.size();
  const auto [at, failed] = std::from_chars(text.data(), end, number);
  if (failed == std::errc{} && at == end && number > 0 && number <= most) return number;
  return Error{.problem = fmt::format("\"{}\" is not allowed", text),
               .allowed = fmt::format("a whole number from 1 to {}", most),
               .field = field};
}

Result<mix::Bath> read_bath(const std::string& text, mix::Filling filling, bool talc, const char* field) {
  const auto wanted = talc ? mix::Dimension::mass : mix::Dimension::volume;
  const auto amount = mix::parse_above_zero(text, wanted, field);
  if (!amount) return amount.error();
  return mix::Bath{filling, talc ? mix::measured(*amount) : mix::measured_volume(*amount), mix::to_text(*amount), talc};
}

Result<mix::CupDip> read_cup(const SolutionWords& words) {
  mix::CupDip cup;
  if (words.cuttings.empty() || words.cup_width.empty() || words.cup_depth.empty()) {
    return Error{.problem = "cuttings, the width of the cup and the depth of the liquid go together",
                 .allowed = "<cuttings> 48, <cup_width> \"40 mm\" and <cup_depth> \"15 mm\"",
                 .field = "cuttings"};
  }
  const auto cuttings = positive_count(words.cuttings, 1'000'000, "cuttings");
  if (!cuttings) return cuttings.error();
  const auto width = mix::parse_positive(words.cup_width, mix::Dimension::length, "cup_width");
  if (!width) return width.error();
  const auto depth = mix::parse_positive(words.cup_depth, mix::Dimension::length, "cup_depth");
  if (!depth) return depth.error();
  cup.cuttings = *cuttings;
  cup.width_mm = *width;
  cup.depth_mm = *depth;
  if (!words.per_fill.empty()) {
    const auto per_fill = positive_count(words.per_fill, 1'000'000, "per_fill");
    if (!per_fill) return per_fill.error();
    cup.per_fill = *per_fill;
  }
  return cup;
}

Result<mix::SoakTime> read_soak(const SolutionWords& words, const mix::Stock& stock) {
  constexpr double kMostSeconds = 7 * 86400;
  mix::SoakTime soak;
  const auto seconds = positive_number(words.seconds, kMostSeconds, "seconds");
  if (!seconds) return seconds.error();
  soak.seconds = *seconds;
  if (!words.reference.empty()) {
    // The reference dip is a strength of all auxin together, whatever the stock holds.
    const auto target = mix::parse_auxin_target(words.reference + " total", stock, false, "reference");
    if (!target) return target.error();
    if (target->mmol_u > 0) {
      return Error{.problem = fmt::format("the limits of \"{}\" are not reckoned with", words.reference),
                   .allowed = "the strength alone",
                   .field = "reference"};
    }
    soak.reference_ppm = mix::ppm_from_mm(target->mmol, mix::auxin_of(mix::Acid::iba));
  }
  if (!words.reference_seconds.empty()) {
    const auto reference = positive_number(words.reference_seconds, kMostSeconds, "reference_seconds");
    if (!reference) return reference.error();
    soak.reference_seconds = *reference;
  }
  return soak;
}

/// The method's dip as the reference, and its seconds where none are given.
Result<SolutionWords> with_dip_of_method(SolutionWords words, const Library& library) {
  if (words.method.empty()) return words;
  if (!words.reference.empty() || !words.reference_seconds.empty()) {
    return Error{.problem = "two reference dips",
                 .allowed = "<method>, or <reference> with <reference_seconds>",
                 .field = "method"};
  }
  const auto method = find_method(library, words.method, "method");
  if (!method) return method.error();
  words.reference = fmt::format("{} ppm", method->auxin_ppm.typical());
  words.reference_seconds = fmt::format("{}", method->soak_seconds.typical());
  if (words.seconds.empty()) words.seconds = words.reference_seconds;
  return words;
}

std::optional<Error> conflicting(const SolutionWords& words) {
  if (words.stock.empty()) {
    return Error{
        .problem = "the stock is missing",
        .allowed = "a strength and an auxin, such as \"1 % IBA + 0.5 % NAA\", \"K-IBA powder\" or \"0.3 % IBA talc\"",
        .field = "stock"};
  }
  if (!words.made_up_to.empty() + !words.added_to.empty() + !words.talc.empty() > 1) {
    return Error{.problem = "one mixture has one volume",
                 .allowed = "one of <made_up_to> (so much in the end), <added_to> (so much water) and <talc>"};
  }
  if (words.seconds.empty() && !(words.reference.empty() && words.reference_seconds.empty())) {
    return Error{.problem = "a reference dip needs the seconds of your own dip to be compared with",
                 .allowed = "<seconds> 10",
                 .field = "reference"};
  }
  return std::nullopt;
}

/// What the stock goes into: so much liquid or talc, or a cup.
void read_vessel(const SolutionWords& words, mix::SolutionRequest& request, Readings& reading) {
  const auto bath = [](mix::Filling filling, bool talc, const char* field) {
    return [=](const std::string& text) { return read_bath(text, filling, talc, field); };
  };
  reading.take_given(words.made_up_to, bath(mix::Filling::made_up_to, false, "made_up_to"), request.bath);
  reading.take_given(words.added_to, bath(mix::Filling::added_to, false, "added_to"), request.bath);
  reading.take_given(words.talc, bath(mix::Filling::made_up_to, true, "talc"), request.bath);
  if (!words.cuttings.empty() || !words.cup_width.empty() || !words.cup_depth.empty() || !words.per_fill.empty())
    reading.take(read_cup(words), request.cup);
}

Result<mix::SolutionRequest> read_request(const SolutionWords& words) {
  using mix::Dimension;
  if (const auto wrong = conflicting(words)) return *wrong;
  mix::Solvent solvent;
  if (!words.solvent.empty()) {
    const auto read = mix::parse_solvent(words.solvent, "solvent");
    if (!read) return read.error();
    solvent = *read;
  }
  const auto stock = mix::parse_stock(words.stock, solvent, "stock", mix::StockStrength::may_be_asked);
  if (!stock) return stock.error();
  mix::SolutionRequest request;
  request.keep = words.keep;
  request.made = words.today;
  request.stock = *stock;
  const bool dry = !words.talc.empty() || stock->form == mix::Form::talc;
  Readings reading;
  reading.take_given(words.into, [](const auto& text) { return mix::parse_solvent(text, "into"); }, request.into);
  reading.take_given(
      words.target, [&](const auto& text) { return mix::parse_auxin_target(text, *stock, dry, "target"); },
      request.target);
  read_vessel(words, request, reading);
  reading.take_given(
      words.dose,
      [](const auto& text) {
        return mix::parse_amount(text, "dose", {Dimension::volume, Dimension::drops, Dimension::mass});
      },
      request.dose);
  reading.take_given(words.ratio, [](const auto& text) { return mix::parse_ratio(text, "ratio"); }, request.ratio);
  for (const std::string& text : words.instruments)
    reading.take(mix::parse_instrument(text, "instruments"), request.instruments.emplace_back());
  reading.take_given(
      words.calibration, [](const auto& text) { return mix::parse_calibration(text, "calibration"); },
      request.calibration);
  if (!words.seconds.empty()) reading.take(read_soak(words, *stock), request.soak);
  if (const auto& wrong = reading.error()) return *wrong;
  return request;
}

}  // namespace

WordFields fields_of(DisinfectantWords& words) {
  return {{"from", &words.from},   {"target", &words.target}, {"ratio", &words.ratio},           {"make", &words.make},
          {"stock", &words.stock}, {"water", &words.water},   {"instrument", &words.instrument}, {"show", &words.show},
          {"today", &words.today}};
}

WordFields fields_of(SolutionWords& words) {
  return {{"stock", &words.stock},
          {"solvent", &words.solvent},
          {"into", &words.into},
          {"target", &words.target},
          {"made_up_to", &words.made_up_to},
          {"added_to", &words.added_to},
          {"talc", &words.talc},
          {"cuttings", &words.cuttings},
          {"cup_width", &words.cup_width},
          {"cup_depth", &words.cup_depth},
          {"per_fill", &words.per_fill},
          {"dose", &words.dose},
          {"ratio", &words.ratio},
          {"instruments", &words.instruments},
          {"calibration", &words.calibration},
          {"seconds", &words.seconds},
          {"method", &words.method},
          {"reference", &words.reference},
          {"reference_seconds", &words.reference_seconds},
          {"show", &words.show},
          {"keep", &words.keep},
          {"today", &words.today}};
}

Result<SolutionAnswer> mix_solution(const SolutionWords& words, const Library& library) {
  const auto beside = read_beside(words.show, "show");
  if (!beside) return beside.error();
  const auto complete = with_dip_of_method(words, library);
  if (!complete) return complete.error();
  const auto request = read_request(*complete);
  if (!request) return request.error();
  const auto solution = mix::mix_solution(*request);
  if (!solution) return solution.error();
  return SolutionAnswer{*beside, *request, *solution};
}

Result<DisinfectantAnswer> mix_disinfectant(const DisinfectantWords& words) {
  DisinfectantAnswer answer;
  mix::DisinfectantRequest& request = answer.request;
  request.made = words.today;
  if (words.from.empty()) {
    return Error{.problem = "the stock is missing",
                 .allowed = "a strength and a name, such as \"96 % ethanol\" or \"5 % hypochlorite\"",
                 .field = "from"};
  }
  const auto from = mix::parse_agent(words.from, "from");
  if (!from) return from.error();
  request.from = *from;
  if (!words.ratio.empty()) {
    const auto ratio = mix::parse_ratio(words.ratio, "ratio");
    if (!ratio) return ratio.error();
    request.ratio = *ratio;
  }
  const auto of_bottle = mix::share_of_bottle(words.target);
  if (of_bottle && from->agent == mix::Agent::chlorine && !request.ratio) {
    request.ratio = of_bottle;
    request.bottle_words = words.target;
  } else if (!words.target.empty()) {
    const auto target = mix::parse_agent(words.target, "target");
    if (!target) return target.error();
    request.target = *target;
  }
  for (const auto& [text, into, field] : {std::tuple{&words.make, &request.make, "make"},
                                          {&words.stock, &request.stock, "stock"},
                                          {&words.water, &request.water, "water"}}) {
    if (text->empty()) continue;
    const auto amount = mix::parse_above_zero(*text, mix::Dimension::volume, field);
    if (!amount) return amount.error();
    *into = *amount;
  }
  if (!words.instrument.empty()) {
    const auto instrument = mix::parse_instrument(words.instrument, "instrument");
    if (!instrument) return instrument.error();
    request.instrument = *instrument;
  }
  const auto beside = read_beside(words.show, "show");
  if (!beside) return beside.error();
  answer.beside = *beside;
  const auto mixed = mix::mix_disinfectant(request);
  if (!mixed) return mixed.error();
  answer.disinfectant = *mixed;
  return answer;
}

}  // namespace strikebed::nursery

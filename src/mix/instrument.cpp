#include "mix/instrument.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "base/nearest.hpp"

namespace strikebed::mix {

Result<Instrument> parse_instrument(std::string_view text, std::string_view field) {
  using Kind = Instrument::Kind;
  constexpr std::array<std::string_view, 4> kNames = {"drops", "syringe", "cylinder", "scale"};
  const std::size_t space = std::min(text.find(' '), text.size());
  const std::string_view name = text.substr(0, space);
  const std::string_view step = text.substr(std::min(space + 1, text.size()));
  const std::string allowed = "drops, syringe 0.02 mL, cylinder 1 mL or scale 1 mg (with its own marks or last digit)";
  if (std::find(kNames.begin(), kNames.end(), name) == kNames.end()) {
    const auto nearest = nearest_word(name, kNames);
    return Error{.problem = fmt::format("\"{}\" is nothing to measure with{}", text,
                                        nearest ? fmt::format("; did you mean {}?", *nearest) : std::string()),
                 .allowed = allowed,
                 .field = std::string(field)};
  }
  if (name == "drops") {
    if (step.empty()) return Instrument{Kind::drops, 1};
    return Error{.problem = fmt::format("\"{}\" says more than drops", text),
                 .allowed = "drops alone; their size goes to <calibration>",
                 .field = std::string(field)};
  }
  if (step.empty()) {
    return Error{
        .problem = fmt::format("\"{}\" lacks how fine it is", text), .allowed = allowed, .field = std::string(field)};
  }
  const bool scale = name == "scale";
  const auto size = parse_positive(step, scale ? Dimension::mass : Dimension::volume, field);
  if (!size) return size.error();
  return Instrument{scale ? Kind::scale : Kind::marks, *size};
}

std::string instrument_words(const Instrument& instrument) {
  switch (instrument.kind) {
    case Instrument::Kind::drops:
      return "drops";
    case Instrument::Kind::marks:
      return fmt::format("marks every {} mL", figures(instrument.step, 3));
    case Instrument::Kind::scale:
      return instrument.step < 0.1 ? fmt::format("scale to {} mg", figures(instrument.step * 1000, 3))
                                   : fmt::format("scale to {} g", figures(instrument.step, 3));
  }
  return "";
}

Instrument usual_marks(double ml) {
  using Kind = Instrument::Kind;
  if (ml < 2) return {Kind::marks, 0.02};
  if (ml < 4) return {Kind::marks, 0.1};
  if (ml < 20) return {Kind::marks, 0.2};
  if (ml < 100) return {Kind::marks, 1};
  return {Kind::marks, std::pow(10.0, std::floor(std::log10(ml))) / 20};
}

Instrument usual_scale(double g) { return {Instrument::Kind::scale, g < 20 ? 0.001 : 0.1}; }

std::optional<std::string> too_little_to_measure(double amount, const Instrument& instrument, const DropSize& drop) {
  const bool drops = instrument.kind == Instrument::Kind::drops;
  if (amount >= (drops ? drop.ml.value : instrument.step) / 2) return std::nullopt;
  return fmt::format("{} {} is less than half a step of what measures it ({})", figures(amount, 2),
                     instrument.kind == Instrument::Kind::scale ? "g" : "mL", instrument_words(instrument));
}

MeasuredOut measure_out(double amount, const Instrument& instrument, const DropSize& drop) {
  MeasuredOut out;
  out.instrument = instrument;
  const bool drops = instrument.kind == Instrument::Kind::drops;
  const double step = drops ? drop.ml.value : instrument.step;
  out.steps = std::max(1.0, std::round(amount / step));
  if (drops) {
    out.amount = counted_drops_ml(out.steps, drop);
    const bool known = drop.basis == DropSize::Basis::calibrated;
    out.steps_low = known ? out.steps : std::max(1.0, std::round(amount * drop.per_ml_low));
    out.steps_high = known ? out.steps : std::max(1.0, std::round(amount * drop.per_ml_high));
  } else {
    const double reading = step / std::sqrt(12.0);
    const bool scale = instrument.kind == Instrument::Kind::scale;
    out.amount = {out.steps * step, scale ? reading * std::sqrt(2.0) : reading};
    out.steps_low = out.steps_high = out.steps;
  }
  return out;
}

}  // namespace strikebed::mix

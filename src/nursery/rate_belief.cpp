#include "nursery/rate_belief.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "evidence/beta.hpp"

namespace strikebed::nursery {
namespace {

const NumberRange kShare{.low = 0, .high = 1, .of_what = "a share: 0.88 is 88 %"};
const NumberRange kInnerShare{.low = evidence::kLeastRate, .high = evidence::kMostRate, .of_what = "a share"};
const NumberRange kBatchSpread{.low = 0, .high = 3, .of_what = "standard deviation between batches, logit scale"};
constexpr std::string_view kForms =
    "a number from 0 to 1, { good = 41, of = 50 }, { low = 0.3, high = 0.9 }, "
    "{ about = 0.65, low = 0.3, high = 0.9 } or { exactly = 0.88 }, each table with or without batch_spread";
constexpr int kLargestTest = 1'000'000;

std::optional<Tested> read_test(const TomlTable& belief) {
  belief.needs("good", "how many were good in the test");
  belief.needs("of", "how many were tested");
  const auto good = belief.whole("good", 0, kLargestTest);
  const auto of = belief.whole("of", 1, kLargestTest);
  if (!good || !of) return std::nullopt;
  if (*good > *of) {
    belief.fail("good", fmt::format("found {} good of {}", *good, *of), "no more good ones than were tested");
    return std::nullopt;
  }
  return Tested{static_cast<double>(*good), static_cast<double>(*of)};
}

std::optional<Ranged> read_range(const TomlTable& belief, std::string_view middle_key) {
  belief.needs("low", "the rate that yours exceeds with 95 % chance");
  belief.needs("high", "the rate that yours stays below with 95 % chance");
  const auto low = belief.number("low", kInnerShare);
  const auto high = belief.number("high", kInnerShare);
  const bool has_middle = belief.has(middle_key);
  const auto middle = belief.number(middle_key, kInnerShare);
  if (!low || !high || (has_middle && !middle)) return std::nullopt;
  if (*low >= *high) {
    belief.fail("low", fmt::format("found low {} and high {}", *low, *high), "low below high");
    return std::nullopt;
  }
  if (evidence::wrong_range(*low, *high)) {
    belief.fail("low", fmt::format("found low {} and high {}, almost the same", *low, *high),
                fmt::format("low at least {:.5f} below high, or a rate known exactly, such as {}",
                            evidence::kNarrowestRange, *low));
    return std::nullopt;
  }
  if (middle && (*middle <= *low || *middle >= *high)) {
    belief.fail(middle_key, fmt::format("found {} with low {} and high {}", *middle, *low, *high),
                "a number between low and high");
    return std::nullopt;
  }
  return Ranged{*low, *high, middle};
}

}  // namespace

std::optional<RateBelief> read_rate(const TomlTable& table, std::string_view key) {
  if (!table.has(key)) return std::nullopt;
  if (!table.is_table(key)) {
    const auto share = table.number(key, kShare);
    if (!share) return std::nullopt;
    return RateBelief{Known{*share}, std::nullopt};
  }
  const TomlTable belief = *table.table(key);
  const bool exact = belief.has("exactly");
  const bool test = belief.has_any({"good", "of"});
  const bool about = belief.has("about");
  const bool range = belief.has_any({"low", "high", "about"});
  const bool valued = belief.has("value");
  const auto spread = belief.number("batch_spread", kBatchSpread);
  if (belief.has("batch_spread") && !spread) return std::nullopt;
  if (exact + test + (range || valued) != 1 || (about && valued)) {
    table.fail(key, "this is no belief of a rate, or more than one", std::string(kForms));
    return std::nullopt;
  }
  if (exact || (valued && !range)) {
    const auto share = belief.number(exact ? "exactly" : "value", kShare);
    if (!share) return std::nullopt;
    return RateBelief{Known{*share}, spread};
  }
  if (test) {
    const auto counts = read_test(belief);
    if (!counts) return std::nullopt;
    return RateBelief{*counts, spread};
  }
  const auto points = read_range(belief, valued ? "value" : "about");
  if (!points) return std::nullopt;
  return RateBelief{*points, spread};
}

std::string rate_text(const RateBelief& belief) {
  std::string text;
  if (const auto* known = std::get_if<Known>(&belief.belief)) {
    text = fmt::format("exactly = {}", known->share);
  } else if (const auto* test = std::get_if<Tested>(&belief.belief)) {
    text = fmt::format("good = {}, of = {}", test->good, test->of);
  } else {
    const auto& range = std::get<Ranged>(belief.belief);
    if (range.about) text = fmt::format("value = {}, ", *range.about);
    text += fmt::format("low = {}, high = {}", range.low, range.high);
  }
  return belief.batch_spread ? fmt::format("{}, batch_spread = {}", text, *belief.batch_spread) : text;
}

RateBelief with_batch_spread(RateBelief belief, double usual) {
  if (!belief.batch_spread) belief.batch_spread = std::holds_alternative<Known>(belief.belief) ? 0 : usual;
  return belief;
}

RateBelief at_another_dip(RateBelief belief, const mix::DipComparison& dip) {
  auto* range = std::get_if<Ranged>(&belief.belief);
  if (!range || !range->about) return belief;
  constexpr double kLeastShare = 10 * evidence::kLeastRate;  // leaves room for a range around it
  constexpr double kMostShare = 0.995;
  const auto logit = [](double share) { return std::log(share / (1 - share)); };
  const auto share = [](double logits) { return 1 / (1 + std::exp(-logits)); };
  const auto logit_at = [&](double ratio) { return logit(std::clamp(*range->about * ratio, kLeastShare, kMostShare)); };
  const double middle = logit_at(dip.ratio);
  const double below = std::hypot(logit(*range->about) - logit(range->low), middle - logit_at(dip.ratio_low));
  const double above = std::hypot(logit(range->high) - logit(*range->about), logit_at(dip.ratio_high) - middle);
  const double about = share(middle);
  *range = {.low = std::clamp(share(middle - below), evidence::kLeastRate, about - evidence::kNarrowestRange),
            .high = std::clamp(share(middle + above), about + evidence::kNarrowestRange, evidence::kMostRate),
            .about = about};
  return belief;
}

}  // namespace strikebed::nursery

#include "mix/feed.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <Eigen/Core>
#include <algorithm>
#include <cmath>
#include <utility>

#include "base/nearest.hpp"
#include "base/number.hpp"
#include "base/text.hpp"
#include "evidence/small_matrix.hpp"
#include "mix/limits.hpp"

namespace strikebed::mix {
namespace {

constexpr double kMostPpm = 100'000;
constexpr double kMostDsM = 50;
constexpr double kPpmOfPercent = 10;  // 1 g/L of a fertiliser with 1 % is 10 mg/L

Error wrong(std::string_view field, std::string problem, std::string allowed) {
  return {.problem = std::move(problem), .allowed = std::move(allowed), .field = std::string(field)};
}

std::vector<std::string_view> words_of(std::string_view text, std::string_view separators) {
  std::vector<std::string_view> words;
  while (true) {
    const std::size_t start = text.find_first_not_of(separators);
    if (start == std::string_view::npos) return words;
    text.remove_prefix(start);
    const std::size_t end = text.find_first_of(separators);
    words.push_back(text.substr(0, end));
    if (end == std::string_view::npos) return words;
    text.remove_prefix(end);
  }
}

/// The last digit of a plain number as written: 1 of "20", 0.1 of "7.5".
double last_digit_of(std::string_view word) {
  const std::size_t point = word.find('.');
  if (point == std::string_view::npos) return 1;
  const std::size_t end = std::min(word.find_first_not_of("0123456789", point + 1), word.size());
  return std::pow(10.0, -static_cast<double>(end - point - 1));
}

/// Standard uncertainty of what is known to its last digit, or read to half a step.
double half_a_step_u(double step) { return step / 2 / std::sqrt(3.0); }

/// The first nutrient a fertiliser has, N before P before K: what its EC is stated against.
std::size_t leading_nutrient(const Nutrients& percent) {
  std::size_t lead = 0;
  while (lead + 1 < percent.size() && percent[lead] <= 0) ++lead;
  return lead;
}

Target target_of(const FeedRequest& request) {
  if (request.target) return *request.target;
  Target target;
  if (request.phase) {
    target.ppm[0] = request.phase->ppm[0];
    // One fertiliser can be right in one nutrient only; several are blended for all three.
    if (request.fertilisers.size() > 1) {
      target.ppm[1] = request.phase->ppm[1];
      target.ppm[2] = request.phase->ppm[2];
    }
  }
  return target;
}

std::optional<Error> wrong_request(const FeedRequest& request) {
  if (request.fertilisers.empty()) return wrong("fertilisers", "there is none", "one or more, as 20-10-20");
  if (!(request.volume_l > 0)) return wrong("volume", fmt::format("found {} L", request.volume_l), "above 0");
  if (!(request.scale_g > 0)) return wrong("scale", fmt::format("found {} g", request.scale_g), "above 0");
  const bool weighed = !request.grams.empty();
  for (const double grams : request.grams) {
    if (!(grams > 0)) return wrong("grams", fmt::format("found {} g", grams), "above 0");
  }
  if (weighed && request.grams.size() != request.fertilisers.size()) {
    return wrong("grams",
                 fmt::format("{} given for {} fertiliser{}", request.grams.size(), request.fertilisers.size(),
                             request.fertilisers.size() == 1 ? "" : "s"),
                 "one weight for each fertiliser, in the same order");
  }
  if (weighed && request.target &&
      std::ranges::count_if(request.target->ppm, [](const auto& ppm) { return ppm.has_value(); }) > 1) {
    return wrong("target", "one weight can be right in one nutrient only", "one nutrient, such as \"100 N\"");
  }
  if (!weighed && !request.target && !request.phase) {
    return wrong("target", "neither a strength nor an amount is given", "a target, a phase or grams");
  }
  const Target target = target_of(request);
  if (weighed && !request.target) return std::nullopt;
  for (std::size_t i = 0; i < target.ppm.size(); ++i) {
    const double wanted = target.ppm[i].value_or(0);
    if (wanted <= 0) continue;
    const bool held = std::ranges::any_of(request.fertilisers,
                                          [i](const Fertiliser& one) { return elements_percent(one.label)[i] > 0; });
    if (!held) {
      return wrong("target",
                   fmt::format("{} ppm {} is wanted, but no fertiliser given holds any", wanted, kNutrientNames[i]),
                   fmt::format("a fertiliser with {}, or a target without it", kNutrientNames[i]));
    }
  }
  return std::nullopt;
}

/// ppm of each nutrient in the feed from grams a litre of feed.
Nutrients ppm_of(std::span<const Nutrients> percents, std::span<const double> grams) {
  Nutrients ppm{};
  for (std::size_t f = 0; f < percents.size(); ++f) {
    for (std::size_t i = 0; i < ppm.size(); ++i) ppm[i] += ppm_from_grams(grams[f], percents[f][i]);
  }
  return ppm;
}

double misfit_scale(const Target& target, std::size_t nutrient) {
  double largest = 0;
  for (const auto& ppm : target.ppm) largest = std::max(largest, ppm.value_or(0));
  const double own = target.ppm[nutrient].value_or(0);
  return own > 0 ? own : largest;
}

std::optional<Error> out_of_reach(const FeedRequest& request, const Target& target, const Nutrients& best) {
  std::vector<std::string> got;
  bool too_far = false;
  for (std::size_t i = 0; i < best.size(); ++i) {
    const auto& wanted = target.ppm[i];
    if (!wanted) continue;
    too_far = too_far || std::fabs(best[i] - *wanted) > request.misfit_allowed * misfit_scale(target, i);
    got.push_back(fmt::format("{:.3g} ppm {} for {:.3g}", best[i], kNutrientNames[i], *wanted));
  }
  if (!too_far) return std::nullopt;
  return wrong("target", fmt::format("these fertilisers cannot reach it; the nearest is {}", fmt::join(got, ", ")),
               fmt::format("a target within {:.3g} % of what they can give, other fertilisers, or a larger misfit",
                           100 * request.misfit_allowed));
}

/// Feed made by a litre of what is weighed into.
double dilution(const FeedRequest& request) { return request.injector ? request.injector->mixture_per_part() : 1; }

/// Litres of what is weighed into, so that the weights given make the one nutrient of the target.
double litres_for(const FeedRequest& request) {
  double litres = 0;
  for (std::size_t i = 0; i < request.target->ppm.size(); ++i) {
    if (!request.target->ppm[i]) continue;
    double mg = 0;
    for (std::size_t f = 0; f < request.grams.size(); ++f)
      mg += request.grams[f] * kPpmOfPercent * elements_percent(request.fertilisers[f].label)[i];
    litres = mg / *request.target->ppm[i];
  }
  return litres / dilution(request);
}

/// What fertiliser f gives of a nutrient, ppm; as sure as its label's last digit and its weight, the can apart.
Measured from_one(const FeedRequest& request, const std::vector<Weighed>& weigh, std::size_t f, std::size_t nutrient) {
  const Weighed& one = weigh[f];
  if (one.grams <= 0) return {};  // left out: not weighed
  const double percent = elements_percent(one.label)[nutrient];
  const double printed = std::array{one.label.n, one.label.p2o5, one.label.k2o}[nutrient];
  const double weight_u =
      f < request.grams_u.size() && request.grams_u[f] > 0 ? request.grams_u[f] : half_a_step_u(request.scale_g);
  const double per_gram = kPpmOfPercent * percent / (request.volume_l * dilution(request));
  const double label_error = printed > 0 ? half_a_step_u(one.label.last_digit[nutrient]) / printed : 0;
  return {one.grams * per_gram, per_gram * std::hypot(weight_u, label_error * one.grams)};
}

Measured obtained(const FeedRequest& request, const std::vector<Weighed>& weigh, std::size_t nutrient) {
  Measured result;
  for (std::size_t f = 0; f < weigh.size(); ++f) {
    const Measured one = from_one(request, weigh, f, nutrient);
    result = {result.value + one.value, std::hypot(result.u, one.u)};
  }
  result.u = std::hypot(result.u, request.volume_error * result.value);
  return result;
}

std::optional<Measured> ec_of(const FeedRequest& request, const std::vector<Weighed>& weigh) {
  Measured salt;
  for (std::size_t f = 0; f < weigh.size(); ++f) {
    if (weigh[f].grams <= 0) continue;
    const auto& known = request.fertilisers[f].conductivity;
    if (!known) return std::nullopt;
    const Measured ppm = from_one(request, weigh, f, leading_nutrient(elements_percent(weigh[f].label)));
    const double ec = known->ds_m * ppm.value / known->at_ppm;
    const double label_error = half_a_step_u(known->last_digit) / known->ds_m;
    salt = {salt.value + ec, std::hypot(salt.u, ec * std::hypot(label_error, ppm.relative()))};
  }
  return Measured{request.water_ec + salt.value, std::hypot(salt.u, request.volume_error * salt.value)};
}

bool is_off(const FeedRequest& request, const NutrientAnswer& nutrient) {
  return nutrient.misfit && std::fabs(*nutrient.misfit) > request.misfit_allowed;
}

/// What whole steps of the scale do to the strength. Errors: what cannot be weighed is missed.
std::optional<Error> remark_on_rounding(FeedAnswer& answer) {
  const FeedRequest& asked = answer.asked;
  if (!asked.grams.empty()) return std::nullopt;  // weighed already
  const bool off =
      std::ranges::any_of(answer.nutrients, [&](const NutrientAnswer& nutrient) { return is_off(asked, nutrient); });
  const bool nothing = std::ranges::none_of(answer.weigh, [](const Weighed& one) { return one.grams > 0; });
  for (std::size_t f = 0; f < answer.weigh.size(); ++f) {
    const Weighed& one = answer.weigh[f];
    if (one.grams_exact <= 0 || one.grams > 0) continue;
    if (off || nothing) {
      return wrong("scale",
                   fmt::format("{:.2g} g of {} is less than half a step of the scale ({} g)", one.grams_exact,
                               to_text(one.label), asked.scale_g),
                   "a finer scale, or a larger volume: make a stock and dilute it");
    }
    answer.remarks.push_back({.kind = FeedRemarkKind::left_out, .index = f});
  }
  for (std::size_t i = 0; i < answer.nutrients.size(); ++i) {
    if (is_off(asked, answer.nutrients[i]))
      answer.remarks.push_back({.kind = FeedRemarkKind::coarse_scale, .index = i});
  }
  return std::nullopt;
}

void remark_on_strength(FeedAnswer& answer) {
  const FeedRequest& asked = answer.asked;
  double most_n = asked.phase ? asked.phase->n_high : 0;
  double most_ec = asked.phase ? asked.phase->ec_high : 0;
  if (!asked.phase) {
    for (const Phase& phase : asked.schedule.phases) {
      most_n = std::max(most_n, phase.n_high);
      most_ec = std::max(most_ec, phase.ec_high);
    }
  }
  const bool limited = asked.phase || most_n > 0;
  // Half a ppm over is the scale's doing.
  if (limited && answer.nutrients[0].obtained.value > most_n + 0.5)
    answer.remarks.push_back({.kind = FeedRemarkKind::strong, .limit = most_n});
  if (answer.feed_ec && (asked.phase || most_ec > 0) && *answer.feed_ec > most_ec)
    answer.remarks.push_back({.kind = FeedRemarkKind::salty, .limit = most_ec});
}

void remark_on_stock(FeedAnswer& answer) {
  if (!answer.asked.injector) return;
  for (std::size_t f = 0; f < answer.weigh.size(); ++f) {
    if (answer.weigh[f].grams_per_litre > kRichStock_g_l)
      answer.remarks.push_back({.kind = FeedRemarkKind::rich_stock, .index = f});
  }
}

bool asks_for_something(const Target& target) {
  return std::ranges::any_of(target.ppm, [](const auto& ppm) { return ppm.value_or(0) > 0; });
}

/// Grams of each fertiliser in a litre of feed. Errors: a blend too far from the target.
Result<std::vector<double>> grams_in_a_litre(const FeedRequest& request, const Target& target, double feed_l) {
  std::vector<double> grams;
  for (const double weighed : request.grams) grams.push_back(weighed / feed_l);
  if (!grams.empty()) return grams;
  if (!asks_for_something(target)) return std::vector<double>(request.fertilisers.size(), 0.0);
  std::vector<Nutrients> percents;
  percents.reserve(request.fertilisers.size());
  for (const Fertiliser& one : request.fertilisers) percents.push_back(elements_percent(one.label));
  grams = blend(percents, target);
  if (const auto error = out_of_reach(request, target, ppm_of(percents, grams))) return *error;
  return grams;
}

}  // namespace

Result<Label> parse_label(std::string_view text, std::string_view field) {
  const std::vector<std::string_view> words = words_of(text, "- ");
  const std::string form = "N-P2O5-K2O in per cent, such as 20-10-20";
  if (words.size() != 3) return wrong(field, fmt::format("\"{}\" is no label", text), form);
  std::array<double, 3> percent{};
  std::array<double, 3> last_digit{};
  for (std::size_t i = 0; i < percent.size(); ++i) {
    const auto number = parse_number(words[i]);
    if (!number || *number < 0) return wrong(field, fmt::format("\"{}\" is no label", text), form);
    percent[i] = *number;
    last_digit[i] = last_digit_of(words[i]);
  }
  const double sum = percent[0] + percent[1] + percent[2];
  if (sum > 100) return wrong(field, fmt::format("{} adds up to {:.4g} %", text, sum), "at most 100 %");
  if (sum <= 0) return wrong(field, fmt::format("{} holds no N, P or K", text), "at least one above 0");
  return Label{percent[0], percent[1], percent[2], last_digit};
}

std::string to_text(const Label& label) { return fmt::format("{}-{}-{}", label.n, label.p2o5, label.k2o); }

Nutrients elements_percent(const Label& label) {
  return {label.n, label.p2o5 * kPhosphorusInOxide, label.k2o * kPotassiumInOxide};
}

Result<Target> parse_target(std::string_view text, std::string_view field) {
  const std::string form = "ppm of N, P or K between commas, such as \"100 N\" or \"150 N, 60 P, 150 K\"";
  struct Name {
    std::string_view written;
    std::size_t nutrient;
    double in_element;
  };
  constexpr std::array<Name, 5> names{
      {{"n", 0, 1}, {"p", 1, 1}, {"k", 2, 1}, {"p2o5", 1, kPhosphorusInOxide}, {"k2o", 2, kPotassiumInOxide}}};
  Target target;
  bool any = false;
  for (const std::string_view part : words_of(text, ",")) {
    std::vector<std::string_view> words = words_of(part, " ");
    std::erase_if(words, [](std::string_view word) { return lower(word) == "ppm"; });
    const auto number = words.size() == 2 ? parse_number(words[0]) : std::nullopt;
    const auto name = std::ranges::find_if(
        names, [&](const Name& one) { return words.size() == 2 && lower(words[1]) == one.written; });
    if (!number || name == names.end() || *number < 0) {
      return wrong(field, fmt::format("\"{}\" is no strength", part), form);
    }
    if (*number > kMostPpm) return wrong(field, fmt::format("found {}", part), fmt::format("at most {} ppm", kMostPpm));
    auto& place = target.ppm[name->nutrient];
    if (place) return wrong(field, fmt::format("{} is given twice", kNutrientNames[name->nutrient]), "once each");
    place = *number * name->in_element;
    any = any || *number > 0;
  }
  if (!any) return wrong(field, fmt::format("\"{}\" asks for nothing", text), form);
  return target;
}

double grams_per_litre(double ppm, double percent) { return ppm / (kPpmOfPercent * percent); }
double ppm_from_grams(double grams_per_litre, double percent) { return grams_per_litre * percent * kPpmOfPercent; }

namespace {

/// The smallest of those that come nearest, A' (A A')+ b: fertilisers that are multiples of each other are taken in its
/// stride.
Eigen::VectorXd least_squares(const Eigen::MatrixXd& columns, const Eigen::VectorXd& wanted) {
  constexpr double kNoDirection = 1e-13;  // of the largest
  evidence::SmallMatrix square(3);
  for (std::size_t i = 0; i < 3; ++i) {
    for (std::size_t j = 0; j < 3; ++j) {
      square(i, j) = columns.row(static_cast<Eigen::Index>(i)).dot(columns.row(static_cast<Eigen::Index>(j)));
    }
  }
  const evidence::SymmetricEigen eigen = evidence::eigen_of(std::move(square));
  const double least = kNoDirection * *std::ranges::max_element(eigen.values);
  const auto inverse = eigen.function([least](double value) { return value > least ? 1 / value : 0; });
  const std::vector<double> weights = inverse.times({wanted.data(), 3});
  return columns.transpose() * Eigen::Vector3d(weights[0], weights[1], weights[2]);
}

}  // namespace

std::vector<double> blend(std::span<const Nutrients> percents, const Target& target) {
  const auto columns = static_cast<Eigen::Index>(percents.size());
  Eigen::MatrixXd per_gram = Eigen::MatrixXd::Zero(3, columns);
  Eigen::VectorXd wanted = Eigen::VectorXd::Zero(3);
  for (std::size_t i = 0; i < 3; ++i) {
    const double scale = misfit_scale(target, i);
    const auto& ppm = target.ppm[i];
    if (!ppm || scale <= 0) continue;
    const auto row = static_cast<Eigen::Index>(i);
    wanted[row] = *ppm / scale;
    for (Eigen::Index f = 0; f < columns; ++f) {
      per_gram(row, f) = ppm_from_grams(1, percents[static_cast<std::size_t>(f)][i]) / scale;
    }
  }

  // Lawson & Hanson: let in the fertiliser that helps most; when the least squares of those let in would take a
  // negative amount of one, go only as far as the first that reaches nothing and leave it out.
  constexpr double kNoMoreHelp = 1e-12;
  const Eigen::Index most_rounds = 30 * (columns + 1);
  Eigen::VectorXd grams = Eigen::VectorXd::Zero(columns);
  std::vector<bool> used(percents.size(), false);
  for (Eigen::Index round = 0; round < most_rounds; ++round) {
    const Eigen::VectorXd help = per_gram.transpose() * (wanted - per_gram * grams);
    Eigen::Index best = -1;
    for (Eigen::Index f = 0; f < columns; ++f) {
      if (!used[static_cast<std::size_t>(f)] && help[f] > kNoMoreHelp && (best < 0 || help[f] > help[best])) best = f;
    }
    if (best < 0) break;
    used[static_cast<std::size_t>(best)] = true;
    while (true) {
      std::vector<Eigen::Index> in;
      for (Eigen::Index f = 0; f < columns; ++f) {
        if (used[static_cast<std::size_t>(f)]) in.push_back(f);
      }
      if (in.empty()) break;
      const Eigen::VectorXd free = least_squares(per_gram(Eigen::all, in), wanted);
      double step = 1;
      for (std::size_t k = 0; k < in.size(); ++k) {
        const double now = grams[in[k]];
        const double then = free[static_cast<Eigen::Index>(k)];
        if (then <= 0) step = std::min(step, now / (now - then));
      }
      for (std::size_t k = 0; k < in.size(); ++k) {
        grams[in[k]] += step * (free[static_cast<Eigen::Index>(k)] - grams[in[k]]);
      }
      if (step >= 1) break;
      for (const Eigen::Index f : in) {
        if (grams[f] > kNoMoreHelp) continue;
        grams[f] = 0;
        used[static_cast<std::size_t>(f)] = false;
      }
    }
  }
  return {grams.data(), grams.data() + columns};
}

Result<Conductivity> parse_conductivity(std::string_view text, std::string_view field) {
  const std::string form = "dS/m at ppm N as on the label, such as \"1.48 at 200\"";
  std::vector<std::string_view> words = words_of(text, " ");
  std::erase_if(
      words, [](std::string_view word) { return lower(word) == "ds/m" || lower(word) == "ppm" || lower(word) == "n"; });
  std::optional<double> ds_m;
  std::optional<double> ppm;
  if (words.size() == 3 && lower(words[1]) == "at") {
    ds_m = parse_number(words[0]);
    ppm = parse_number(words[2]);
  }
  if (!ds_m || !ppm) return wrong(field, fmt::format("\"{}\" is no conductivity", text), form);
  if (!above_zero_to(*ds_m, kMostDsM) || !above_zero_to(*ppm, kMostPpm)) {
    return wrong(field, fmt::format("found {} dS/m at {} ppm", *ds_m, *ppm),
                 fmt::format("above 0, at most {} dS/m and {} ppm", kMostDsM, kMostPpm));
  }
  return Conductivity{*ds_m, *ppm, last_digit_of(words[0])};
}

Result<Phase> find_phase(const FeedSchedule& schedule, std::string_view name, std::string_view field) {
  std::vector<std::string_view> names;
  for (const Phase& phase : schedule.phases) {
    if (lower(phase.name) == lower(name)) return phase;
    names.push_back(phase.name);
  }
  return wrong(field, fmt::format("there is no phase \"{}\"{}", name, did_you_mean(lower(name), names)),
               fmt::format("{}", fmt::join(names, ", ")));
}

Result<FeedAnswer> make_feed(const FeedRequest& asked) {
  if (const auto error = wrong_request(asked)) return *error;
  FeedRequest request = asked;
  if (!asked.grams.empty() && asked.target) request.volume_l = litres_for(asked);
  FeedAnswer answer;
  answer.asked = request;
  answer.feed_l = request.volume_l * dilution(request);

  const bool weighed = !request.grams.empty();
  const Target target = target_of(request);
  const auto grams = grams_in_a_litre(request, target, answer.feed_l);
  if (!grams) return grams.error();
  for (std::size_t f = 0; f < grams->size(); ++f) {
    Weighed one;
    one.label = request.fertilisers[f].label;
    one.grams_exact = (*grams)[f] * answer.feed_l;
    one.grams = weighed ? one.grams_exact : std::round(one.grams_exact / request.scale_g) * request.scale_g;
    one.grams_per_litre = one.grams / request.volume_l;
    answer.weigh.push_back(one);
  }
  for (std::size_t i = 0; i < answer.nutrients.size(); ++i) {
    NutrientAnswer& nutrient = answer.nutrients[i];
    if (!weighed || request.target) nutrient.wanted = target.ppm[i];
    nutrient.obtained = obtained(request, answer.weigh, i);
    if (nutrient.wanted && misfit_scale(target, i) > 0) {
      nutrient.misfit = (nutrient.obtained.value - *nutrient.wanted) / misfit_scale(target, i);
    }
  }
  answer.p2o5_ppm = answer.nutrients[1].obtained.value / kPhosphorusInOxide;
  answer.k2o_ppm = answer.nutrients[2].obtained.value / kPotassiumInOxide;
  if (!weighed && !asks_for_something(target)) answer.remarks.push_back({.kind = FeedRemarkKind::nothing_fed});
  if (const auto error = remark_on_rounding(answer)) return *error;
  const bool anything = std::ranges::any_of(answer.weigh, [](const Weighed& one) { return one.grams > 0; });
  if (const auto ec = anything ? ec_of(request, answer.weigh) : std::nullopt) {
    answer.feed_ec = ec->value;
    answer.feed_ec_u = ec->u;
  }
  remark_on_strength(answer);
  remark_on_stock(answer);
  return answer;
}

}  // namespace strikebed::mix

#include "nursery/mixes/feed.hpp"

#include <fmt/format.h>

#include "nursery/mixes/words.hpp"
#include "nursery/profiles/feed_file.hpp"

namespace strikebed::nursery {
namespace {

constexpr double kMlPerL = 1000;

using MaybeError = std::optional<Error>;

MaybeError conflicting(const FeedWords& words) {
  if (words.fertilisers.empty()) {
    return Error{
        .problem = "the fertiliser is missing", .allowed = "its label, such as 20-10-20", .field = "fertilisers"};
  }
  if (words.conductivity.size() > words.fertilisers.size()) {
    return Error{
        .problem = fmt::format("{} are given for {} fertilisers", words.conductivity.size(), words.fertilisers.size()),
        .allowed = "one for each fertiliser, in the same order",
        .field = "conductivity"};
  }
  if (!words.target.empty() && !words.grams.empty() && !words.volume.empty()) {
    return Error{
        .problem = "a target, weights and a volume are too many", .allowed = "two of the three", .field = "volume"};
  }
  if (words.target.empty() && words.grams.empty() && words.phase.empty()) {
    return Error{.problem = "no strength is asked",
                 .allowed = "<target> \"100 N\" (ppm), <phase> growth, or <grams> with the weight that went in",
                 .field = "target"};
  }
  return std::nullopt;
}

MaybeError read_fertilisers(const FeedWords& words, mix::FeedRequest& request) {
  for (std::size_t i = 0; i < words.fertilisers.size(); ++i) {
    const auto label = mix::parse_label(words.fertilisers[i], "fertilisers");
    if (!label) return label.error();
    mix::Fertiliser one{*label, std::nullopt};
    if (i < words.conductivity.size()) {
      const auto conductivity = mix::parse_conductivity(words.conductivity[i], "conductivity");
      if (!conductivity) return conductivity.error();
      one.conductivity = *conductivity;
    }
    request.fertilisers.push_back(one);
  }
  return std::nullopt;
}

/// A target, a phase or weights.
MaybeError read_strength(const FeedWords& words, mix::FeedRequest& request) {
  if (!words.phase.empty()) {
    const auto phase = mix::find_phase(request.schedule, words.phase, "phase");
    if (!phase) return phase.error();
    request.phase = *phase;
  }
  if (!words.target.empty()) {
    const auto target = mix::parse_target(words.target, "target");
    if (!target) return target.error();
    request.target = *target;
  }
  for (const std::string& weight : words.grams) {
    const auto grams = mix::parse_above_zero(weight, mix::Dimension::mass, "grams");
    if (!grams) return grams.error();
    request.grams.push_back(grams->base());
    request.grams_u.push_back(mix::measured(*grams).u);
  }
  return std::nullopt;
}

/// The can and the injector; where a target and weights are given, the volume is the answer.
MaybeError read_volume(const FeedWords& words, mix::FeedRequest& request) {
  if (!words.volume.empty()) {
    const auto volume = mix::parse_above_zero(words.volume, mix::Dimension::volume, "volume");
    if (!volume) return volume.error();
    const mix::Measured ml = mix::measured_volume(*volume);
    request.volume_l = ml.value / kMlPerL;
    request.volume_error = ml.relative();
  } else if (words.target.empty() || words.grams.empty()) {
    request.assumed.push_back(mix::FeedAssumption::one_litre);
  }
  if (!words.injector.empty()) {
    const auto ratio = mix::parse_ratio(words.injector, "injector");
    if (!ratio) return ratio.error();
    request.injector = *ratio;
  }
  return std::nullopt;
}

MaybeError read_limits(const FeedWords& words, mix::FeedRequest& request) {
  if (words.scale.empty()) {
    request.assumed.push_back(mix::FeedAssumption::usual_scale);
  } else {
    const auto step = mix::parse_positive(words.scale, mix::Dimension::mass, "scale");
    if (!step) return step.error();
    request.scale_g = *step;
  }
  if (!words.water_ec.empty()) {
    const auto ec = read_number(words.water_ec, 0, 20, "water_ec");
    if (!ec) return ec.error();
    request.water_ec = *ec;
  }
  if (!words.misfit.empty()) {
    const auto percent = read_number(words.misfit, 0, 1000, "misfit");
    if (!percent) return percent.error();
    request.misfit_allowed = *percent / 100;
  }
  return std::nullopt;
}

}  // namespace

WordFields fields_of(FeedWords& words) {
  return {{"fertilisers", &words.fertilisers},
          {"conductivity", &words.conductivity},
          {"target", &words.target},
          {"phase", &words.phase},
          {"grams", &words.grams},
          {"volume", &words.volume},
          {"injector", &words.injector},
          {"scale", &words.scale},
          {"water_ec", &words.water_ec},
          {"misfit", &words.misfit},
          {"show", &words.show},
          {"phases_from", &words.phases_from}};
}

Result<mix::FeedRequest> read_feed_words(const FeedWords& words, const mix::FeedSchedule& schedule) {
  mix::FeedRequest request;
  request.schedule = schedule;
  if (const auto wrong = conflicting(words)) return *wrong;
  for (const auto read : {read_fertilisers, read_strength, read_volume, read_limits}) {
    if (const auto wrong = read(words, request)) return *wrong;
  }
  return request;
}

Result<FeedMixed> mix_feed(const FeedWords& words, const Library& library) {
  const auto schedule = feed_schedule(library, words.phases_from);
  if (!schedule) return schedule.error();
  const auto beside = read_beside(words.show, "show");
  if (!beside) return beside.error();
  const auto request = read_feed_words(words, *schedule);
  if (!request) return request.error();
  auto feed = mix::make_feed(*request);
  if (!feed) return feed.error();
  return FeedMixed{*beside, std::move(*feed)};
}

}  // namespace strikebed::nursery

#include "nursery/mixes/feed.hpp"

#include <fmt/format.h>

#include "nursery/mixes/words.hpp"
#include "nursery/profiles/feed_file.hpp"
#include "print/feed_text.hpp"

namespace strikebed::nursery {

Result<FeedReading> read_feed_words(const FeedWords& words, const mix::FeedSeason& season) {
  constexpr double kMlPerL = 1000;
  FeedReading result;
  mix::FeedRequest& request = result.request;
  request.season = season;
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
  if (!words.phase.empty()) {
    const auto phase = mix::find_phase(season, words.phase, "phase");
    if (!phase) return phase.error();
    request.phase = *phase;
  }
  const bool asks_volume = !words.target.empty() && !words.grams.empty();
  if (asks_volume && !words.volume.empty()) {
    return Error{
        .problem = "a target, weights and a volume are too many", .allowed = "two of the three", .field = "volume"};
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
  if (words.target.empty() && words.grams.empty() && words.phase.empty()) {
    return Error{.problem = "no strength is asked",
                 .allowed = "<target> \"100 N\" (ppm), <phase> growth, or <grams> with the weight that went in",
                 .field = "target"};
  }
  if (asks_volume) {
    // The volume is the answer.
  } else if (words.volume.empty()) {
    result.assumed.emplace_back("1 L (--for)");
  } else {
    const auto volume = mix::parse_above_zero(words.volume, mix::Dimension::volume, "volume");
    if (!volume) return volume.error();
    const mix::Measured ml = mix::measured_volume(*volume);
    request.volume_l = ml.value / kMlPerL;
    request.volume_error = ml.relative();
  }
  if (!words.injector.empty()) {
    const auto ratio = mix::parse_ratio(words.injector, "injector");
    if (!ratio) return ratio.error();
    request.injector = *ratio;
  }
  if (words.scale.empty()) {
    result.assumed.push_back(fmt::format("a scale that shows {} g (--scale)", request.scale_g));
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
  return result;
}

Result<std::string> mix_feed(const FeedWords& words, const Library& library, bool json) {
  const auto season = feed_season(library, words.phases_from);
  if (!season) return season.error();
  if (words.phases) return json ? print::phases_json(*season) : print::phases_text(*season);
  const auto beside = read_beside(words.show, "show");
  if (!beside) return beside.error();
  const auto reading = read_feed_words(words, *season);
  if (!reading) return reading.error();
  const auto answer = mix::make_feed(reading->request);
  if (!answer) return answer.error();
  return json ? print::feed_json(*answer, reading->assumed) : print::feed_text(*answer, reading->assumed, *beside);
}

}  // namespace strikebed::nursery

#include "nursery/mixes/medium.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <utility>

namespace strikebed::nursery {
namespace {

constexpr double kMmPerCm = 10;
constexpr double kMlPerL = 1000;
constexpr double kGramsPerKg = 1000;
constexpr int kMostPots = 100'000;
constexpr double kUsualHoleWidthCm = 1.5;
constexpr double kUsualHoleDepthCm = 3;

Result<double> length_cm(const std::string& text, const std::string& field) {
  const auto mm = mix::parse_positive(text, mix::Dimension::length, field);
  if (!mm) return mm.error();
  return *mm / kMmPerCm;
}

Result<double> litres(const std::string& text, const std::string& field) {
  const auto ml = mix::parse_positive(text, mix::Dimension::volume, field);
  if (!ml) return ml.error();
  return *ml / kMlPerL;
}

Result<double> kilos(const std::string& text, const std::string& field) {
  const auto g = mix::parse_positive(text, mix::Dimension::mass, field);
  if (!g) return g.error();
  return *g / kGramsPerKg;
}

/// What of the grower's words the mix floor read into a field of its request.
std::string field_of_words(const std::string& field) {
  constexpr std::array<std::pair<std::string_view, std::string_view>, 13> kFields{{
      {"container.base_cm", "across"},
      {"container.top_cm", "across"},
      {"container.height_cm", "height"},
      {"container.fill_cm", "fill"},
      {"pocket.width_cm", "hole"},
      {"pocket.depth_cm", "hole"},
      {"stem_depth_cm", "stem"},
      {"pockets", "cuttings"},
      {"containers", "pots"},
      {"jug_l", "jug"},
      {"bag_l", "bag"},
      {"bag_kg", "bag"},
      {"stored", "have"},
  }};
  for (const auto& [of_mix, of_words] : kFields) {
    if (of_mix == field) return std::string(of_words);
  }
  return field;
}

Result<mix::Container> read_container(const MediumWords& words, std::vector<mix::MediumAssumption>& assumed) {
  mix::Container container;
  if (words.square) container.section = mix::CrossSection::square;
  if (words.across.empty()) {
    return Error{.problem = "the pots' width is missing",
                 .allowed = "the inner width: \"9 cm\", or \"8-9 cm\" where it is 8 at the bottom and 9 at the top",
                 .field = "across"};
  }
  const auto across = read_lengths(words.across, '-', true, "across");
  if (!across) return across.error();
  container.base_cm = std::min(across->first_cm, across->second_cm);
  container.top_cm = std::max(across->first_cm, across->second_cm);
  Readings reading;
  if (words.height.empty()) {
    container.height_cm = container.top_cm;
    assumed.push_back(mix::MediumAssumption::as_tall_as_wide);
  } else {
    reading.take(length_cm(words.height, "height"), container.height_cm);
  }
  if (words.fill.empty()) {
    container.fill_cm = mix::usual_fill_cm(container.height_cm);
    assumed.push_back(mix::MediumAssumption::usual_fill);
  } else {
    reading.take(length_cm(words.fill, "fill"), container.fill_cm);
  }
  if (const auto& wrong = reading.error()) return *wrong;
  auto checked = mix::checked(container);
  if (checked) return checked;
  Error error = checked.error();
  error.field = field_of_words(error.field);
  return error;
}

/// "20 L, 12 kg": volumes or weights between commas.
Result<std::vector<mix::Stored>> read_stored(const std::string& text, std::size_t parts) {
  std::vector<mix::Stored> stored;
  for (std::size_t start = 0; start <= text.size();) {
    const std::size_t end = std::min(text.find(',', start), text.size());
    const std::string one = text.substr(start, end - start);
    const auto amount = mix::parse_amount(one, "have", {mix::Dimension::volume, mix::Dimension::mass});
    if (!amount) return amount.error();
    const bool by_weight = amount->dimension() == mix::Dimension::mass;
    if (!by_weight && amount->dimension() != mix::Dimension::volume) {
      return Error{
          .problem = fmt::format("\"{}\" is {}", mix::to_text(*amount), mix::dimension_words(amount->dimension())),
          .allowed = "a volume or a weight, such as \"20 L, 12 kg\"",
          .field = "have"};
    }
    const auto there = mix::parse_above_zero(one, by_weight ? mix::Dimension::mass : mix::Dimension::volume, "have");
    if (!there) return there.error();
    const double unit = by_weight ? kGramsPerKg : kMlPerL;
    stored.push_back({there->base() / unit, by_weight, there->plus_minus_base() / unit});
    start = end + 1;
  }
  if (stored.size() == parts) return stored;
  return Error{.problem = fmt::format("{} amount{} for {} part{} of the recipe", stored.size(),
                                      stored.size() == 1 ? "" : "s", parts, parts == 1 ? "" : "s"),
               .allowed = "one for each part, in the order of the recipe, such as \"20 L, 12 kg\"",
               .field = "have"};
}

/// A size alone ("0.3 mm") is sand of that size; "sand 0.3 mm" and "fine-sand" are read as in a recipe.
Result<mix::Material> read_sand(const std::string& text, const Library& library) {
  const bool size_alone = !text.empty() && std::isdigit(static_cast<unsigned char>(text.front())) != 0;
  const auto part = size_alone ? mix::parse_recipe("1 sand " + text, "sand") : mix::parse_recipe("1 " + text, "sand");
  if (!part) return part.error();
  return find_material(library, part->front().material, part->front().grains, "sand");
}

Result<mix::PocketPlan> read_pocket(const MediumWords& words, const Library& library,
                                    std::vector<mix::MediumAssumption>& assumed) {
  mix::PocketPlan plan;
  auto sand = read_sand(words.sand, library);
  if (!sand) return sand.error();
  plan.sand = std::move(*sand);
  plan.pocket = {kUsualHoleWidthCm, kUsualHoleDepthCm};
  if (words.hole.empty()) {
    assumed.push_back(mix::MediumAssumption::usual_pocket);
  } else {
    const auto hole = read_lengths(words.hole, 'x', false, "hole");
    if (!hole) return hole.error();
    plan.pocket = {hole->first_cm, hole->second_cm};
  }
  if (words.cuttings.empty()) {
    assumed.push_back(mix::MediumAssumption::one_pocket);
  } else {
    const auto cuttings = read_whole(words.cuttings, 1, 1000, "cuttings");
    if (!cuttings) return cuttings.error();
    plan.per_container = *cuttings;
  }
  return plan;
}

std::optional<Error> conflicting(const MediumWords& words) {
  if (words.recipe.empty()) {
    return Error{.problem = "the recipe is missing",
                 .allowed = "parts and materials, such as \"2 grit 3-4 mm, 1 fired-clay 2-4 mm\"",
                 .field = "recipe"};
  }
  for (const auto& [text, field] : {std::pair{&words.hole, "hole"}, {&words.cuttings, "cuttings"}}) {
    if (words.sand.empty() && !text->empty()) {
      return Error{
          .problem = "a pocket without its sand", .allowed = "<sand> beside it, such as 0.8-1.2mm", .field = field};
    }
  }
  if (!words.pots.empty() && !words.have.empty()) {
    return Error{.problem = "both the pots and what is there are given",
                 .allowed = "one of <pots> (what do they take?) and <have> (how many pots does it fill?)",
                 .field = "have"};
  }
  return std::nullopt;
}

Result<std::vector<mix::Part>> read_parts(const std::string& text, const Library& library) {
  const auto recipe = mix::parse_recipe(text, "recipe");
  if (!recipe) return recipe.error();
  std::vector<mix::Part> parts;
  for (const mix::NamedPart& named : *recipe) {
    auto material = find_material(library, named.material, named.grains, "recipe");
    if (!material) return material.error();
    parts.push_back({named.parts, std::move(*material), named.lost});
  }
  return parts;
}

/// A volume or, for bags that are sold by it, a weight.
void read_bag(const std::string& text, mix::MediumRequest& request, Readings& reading) {
  const auto bag = mix::parse_amount(text, "bag", {mix::Dimension::volume, mix::Dimension::mass});
  if (bag && bag->dimension() == mix::Dimension::mass) {
    request.bag_kg = 0;
    reading.take(kilos(text, "bag"), *request.bag_kg);
  } else {
    reading.take(litres(text, "bag"), request.bag_l);
  }
}

/// The usual depth, half-way down in a shallow cell, and not below the pocket.
void assume_stem_depth(mix::MediumRequest& request) {
  request.stem_depth_cm = std::min(request.stem_depth_cm, request.container.fill_cm / 2);
  if (request.pockets) request.stem_depth_cm = std::min(request.stem_depth_cm, request.pockets->pocket.depth_cm);
  request.assumed.push_back(mix::MediumAssumption::usual_stem_depth);
}

}  // namespace

WordFields fields_of(MediumWords& words) {
  return {{"recipe", &words.recipe}, {"pots", &words.pots}, {"have", &words.have},         {"across", &words.across},
          {"height", &words.height}, {"fill", &words.fill}, {"square", &words.square},     {"tray", &words.tray},
          {"sand", &words.sand},     {"hole", &words.hole}, {"cuttings", &words.cuttings}, {"stem", &words.stem},
          {"spare", &words.spare},   {"jug", &words.jug},   {"bag", &words.bag},           {"lift", &words.lift},
          {"show", &words.show}};
}

Result<mix::MediumRequest> read_medium_words(const MediumWords& words, const Library& library) {
  if (const auto wrong = conflicting(words)) return *wrong;
  mix::MediumRequest request;
  auto parts = read_parts(words.recipe, library);
  if (!parts) return parts.error();
  request.recipe = std::move(*parts);
  Readings reading;
  reading.take(read_container(words, request.assumed), request.container);
  if (!words.sand.empty()) reading.take(read_pocket(words, library, request.assumed), request.pockets);
  if (!words.have.empty()) reading.take(read_stored(words.have, request.recipe.size()), request.stored);
  if (std::ranges::any_of(request.stored, &mix::Stored::by_weight))
    request.assumed.push_back(mix::MediumAssumption::weighed_dry);
  if (!words.pots.empty()) reading.take(read_whole(words.pots, 1, kMostPots, "pots"), request.containers);
  if (!words.tray.empty()) reading.take(read_whole(words.tray, 1, 10'000, "tray"), request.per_tray);
  if (!words.stem.empty()) reading.take(length_cm(words.stem, "stem"), request.stem_depth_cm);
  if (!words.spare.empty()) {
    double percent = 0;
    reading.take(read_number(words.spare, 0, 100, "spare"), percent);
    request.spare = percent / 100;
  }
  if (!words.jug.empty()) reading.take(litres(words.jug, "jug"), request.jug_l);
  if (!words.bag.empty()) read_bag(words.bag, request, reading);
  if (!words.lift.empty()) reading.take(kilos(words.lift, "lift"), request.lift_limit_kg);
  if (const auto& wrong = reading.error()) return *wrong;
  if (words.stem.empty()) assume_stem_depth(request);
  return request;
}

Result<MediumMixed> mix_medium(const MediumWords& words, const Library& library) {
  const auto beside = read_beside(words.show, "show");
  if (!beside) return beside.error();
  const auto request = read_medium_words(words, library);
  if (!request) return request.error();
  auto medium = mix::make_medium(*request);
  if (medium) return MediumMixed{*beside, std::move(*medium)};
  Error error = medium.error();
  error.field = field_of_words(error.field);
  return error;
}

}  // namespace strikebed::nursery

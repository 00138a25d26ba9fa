#include "browser/engine.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <limits>
#include <nlohmann/json.hpp>
#include <utility>

#include "base/nearest.hpp"
#include "base/random.hpp"
#include "nursery/checks/run_checks.hpp"
#include "nursery/choices.hpp"
#include "nursery/daybook/batches.hpp"
#include "nursery/daybook/phrase.hpp"
#include "nursery/daybook/plan_noted.hpp"
#include "nursery/daybook/typed_words.hpp"
#include "nursery/mixes/feed.hpp"
#include "nursery/mixes/medium.hpp"
#include "nursery/mixes/solution.hpp"
#include "nursery/own_profile.hpp"
#include "nursery/printed.hpp"
#include "nursery/profiles/feed_file.hpp"
#include "nursery/read_weather.hpp"
#include "nursery/today.hpp"

namespace strikebed::browser {
namespace {

using Json = nlohmann::ordered_json;

/// Texts of the grower's own may be broken UTF-8, JSON must not be.
std::string document_of(const Json& json) { return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n"; }

Json text_or_null(const std::string& text) { return text.empty() ? Json(nullptr) : Json(text); }
Json place_or_null(int place) { return place > 0 ? Json(place) : Json(nullptr); }

Json error_json(const Error& error, const FieldNames& names) {
  Error alone = error;
  alone.others.clear();
  Json json = {{"message", named(std::move(alone), names).message()},
               {"problem", error.problem},
               {"allowed", text_or_null(error.allowed)},
               {"field", text_or_null(error.field)},
               {"file", text_or_null(error.file)},
               {"line", place_or_null(error.line)},
               {"column", place_or_null(error.column)},
               {"others", Json::array()}};
  for (const Error& other : error.others) json["others"].push_back(error_json(other, names));
  return json;
}

nursery::ReadText reader_of(const TextsByName& files) {
  return [&files](const std::string& path) -> Result<nursery::Text> {
    if (const auto found = files.find(path); found != files.end()) return nursery::Text{path, found->second};
    return Error{.problem = "there is no such file", .allowed = "a file that was given before", .file = path};
  };
}

/// The answer of a use case in the form that was asked for.
template <class Answer>
Result<std::string> printed(const Answer& answer, const Request& request) {
  if (request.as() == As::json) return nursery::json_of(answer);
  if constexpr (requires { nursery::page_of(answer, request.names()); }) {
    if (request.as() == As::page) return nursery::page_of(answer, request.names());
  } else if (request.as() == As::page) {
    return Error{.problem = "there is no page of this", .allowed = R"("json" or "words")", .field = "as"};
  }
  if constexpr (requires { nursery::words_of(answer, request.names()); }) {
    return nursery::words_of(answer, request.names());
  } else if constexpr (requires { nursery::words_of(answer, kUsualWidth); }) {
    return nursery::words_of(answer, kUsualWidth);
  } else {
    return nursery::words_of(answer);
  }
}
template <class Answer>
Result<std::string> printed(const Result<Answer>& answer, const Request& request) {
  return answer ? printed(*answer, request) : answer.error();
}

/// Reads the words and mixes by them.
template <class Words, class Mix>
Result<std::string> mixed(Request& request, const TextsByName& kept, const Mix& mix) {
  Words words;
  if (auto wrong = request.read(fields_of(nursery::fields_of(words)), kept)) return *wrong;
  return printed(mix(words), request);
}

/// In JSON.
std::string_view stage_word(season::PlanStage stage) {
  switch (stage) {
    case season::PlanStage::none:
      return "null";
    case season::PlanStage::quick:
      return "\"quick\"";
    case season::PlanStage::number:
      return "\"number\"";
    case season::PlanStage::dates:
      return "\"dates\"";
    case season::PlanStage::whole:
      return "\"whole\"";
  }
  return "null";
}

/// Random bits that came with a request, word by word.
class RandomWords {
 public:
  static constexpr std::size_t kDigits = 1024;
  explicit RandomWords(std::string_view digits) : digits_(digits) {}
  [[nodiscard]] bool enough() const {
    return digits_.size() >= kDigits && digits_.find_first_not_of("0123456789abcdefABCDEF") == std::string_view::npos;
  }
  /// Once all are used they are mixed anew.
  std::uint64_t next() {
    constexpr std::size_t kWord = 16;
    const std::size_t words = digits_.size() / kWord;
    std::uint64_t word = 0;
    const std::string_view part = digits_.substr(used_ % words * kWord, kWord);
    std::from_chars(part.data(), part.data() + part.size(), word, 16);
    const std::size_t round = used_++ / words;
    return round == 0 ? word : mixed_bits(word + round);
  }

 private:
  std::string_view digits_;
  std::size_t used_ = 0;
};

Field number_field(std::string name, FieldTarget into, const nursery::Bounds& bounds) {
  return {std::move(name), into, bounds.low, bounds.high};
}

}  // namespace

Engine::Engine(nursery::Library library) : library_(std::move(library)), planner_(library_) {
  library_.own_file = reader_of(kept_);
}

const std::vector<Engine::UseCase>& Engine::use_cases() {
  static const std::vector<UseCase> all = {{"keep", &Engine::keep},
                                           {"choices", &Engine::choices},
                                           {"plan", &Engine::plan},
                                           {"weather", &Engine::weather},
                                           {"mix solution", &Engine::solution},
                                           {"mix disinfectant", &Engine::disinfectant},
                                           {"mix medium", &Engine::medium},
                                           {"mix feed", &Engine::feed},
                                           {"feed phases", &Engine::feed_phases},
                                           {"daybook", &Engine::take_entries},
                                           {"note", &Engine::note},
                                           {"note plan", &Engine::note_plan},
                                           {"exchange", &Engine::exchange},
                                           {"batches", &Engine::batches},
                                           {"today", &Engine::today},
                                           {"forecast", &Engine::forecast},
                                           {"profile", &Engine::profile},
                                           {"checks", &Engine::checks}};
  return all;
}

Status Engine::begin(std::string_view use_case, std::string_view request) {
  stop();
  const auto& all = use_cases();
  const auto found = std::find_if(all.begin(), all.end(), [&](const UseCase& one) { return one.name == use_case; });
  if (found == all.end()) {
    std::vector<std::string_view> names;
    for (const UseCase& one : all) names.push_back(one.name);
    const std::string_view asked = use_case.substr(0, 60);
    return say(Error{.problem = fmt::format("there is no use case \"{}\"{}", asked, did_you_mean(asked, names)),
                     .allowed = fmt::format("{}", fmt::join(names, ", "))},
               {});
  }
  auto read = Request::parse(request);
  if (!read) return say(read.error(), {});
  const Answer answer = (this->*found->answering)(*read);
  if (foretelling_) {
    constexpr double kHalf = 0.5;
    return say_going(kHalf, "what can still be done", "\"number\"",
                     nursery::json_of(foretelling_->forecaster.answer()));
  }
  return steps_ ? say_progress() : say(answer, read->names());
}

Status Engine::step() {
  if (auto foretelling = std::exchange(foretelling_, std::nullopt)) {
    foretelling->forecaster.look_further();
    return say(printed(foretelling->forecaster.answer(), foretelling->request), foretelling->request.names());
  }
  if (!steps_)
    return say(Error{.problem = "there is nothing to go on with", .allowed = "a use case that was begun"}, {});
  if (steps_->next()) return say_progress();
  steps_.reset();
  return say(printed(planner_.answer(), *planned_), planned_->names());
}

void Engine::stop() {
  foretelling_.reset();
  if (steps_) planned_.reset();
  steps_.reset();
}

Status Engine::say(const Answer& answer, const FieldNames& names) {
  document_ = answer ? *answer : document_of({{"error", error_json(answer.error(), names)}});
  return answer ? Status::done : Status::wrong;
}

Status Engine::say_progress() {
  const nursery::PlanAnswer& answer = planner_.answer();
  const bool further = answer.plan.stage != shown_;
  shown_ = answer.plan.stage;
  return say_going(steps_->said().done, nursery::words_of(steps_->said().part), stage_word(shown_),
                   further ? nursery::json_of(answer) : "null");
}

Status Engine::say_going(double done, std::string_view what, std::string_view stage, const std::string& so_far) {
  document_ =
      fmt::format("{{\"done\": {:.4f}, \"what\": \"{}\", \"stage\": {}, \"so_far\": {}}}\n", done, what, stage, so_far);
  return Status::going;
}

Engine::Answer Engine::keep(Request& request) {
  std::vector<std::string> time_zones = library_.time_zones;
  TextsByName files = kept_;
  if (auto wrong = request.read({{"files", &files}, {"time_zones", &time_zones}}, kept_)) return *wrong;
  planned_.reset();
  library_.time_zones = std::move(time_zones);
  kept_ = std::move(files);
  Json names = Json::array();
  for (const auto& [name, text] : kept_) names.push_back(name);
  return document_of({{"files", names}, {"time_zones", library_.time_zones.size()}});
}

Engine::Answer Engine::choices(Request& request) {
  if (auto wrong = request.read({}, kept_)) return *wrong;
  return nursery::choices_json(library_);
}

Engine::Answer Engine::plan(Request& request) {
  nursery::PlanRequest asked;
  const auto most = static_cast<double>(std::numeric_limits<std::int64_t>::max());
  if (auto wrong = request.read({{"goal", &asked.goal},
                                 {"weather", &asked.weather},
                                 {"seeds", &asked.seeds, 1, nursery::kMostSeeds},
                                 {"today", &asked.today},
                                 {"random_seed", &asked.random_seed, 0, most}},
                                kept_)) {
    return *wrong;
  }
  if (planned_ && planned_->asks_the_same(request)) return printed(planner_.answer(), request);
  planned_.reset();
  if (auto wrong = planner_.ask(asked)) return *wrong;
  planned_goal_ = asked.goal;
  steps_.emplace(planner_.work());
  planned_ = request;
  shown_ = planner_.answer().plan.stage;
  return std::string();
}

Engine::Answer Engine::weather(Request& request) {
  nursery::SummaryRequest asked;
  if (auto wrong = request.read({{"weather", &asked.weather.source},
                                 {"columns", &asked.weather.columns},
                                 {"date_order", &asked.weather.date_order},
                                 number_field("wind_height_m", &asked.weather.wind_height_m, nursery::kWindHeights_m),
                                 number_field("latitude_deg", &asked.latitude_deg, nursery::kLatitudes_deg),
                                 number_field("longitude_deg", &asked.longitude_deg, nursery::kLongitudes_deg),
                                 number_field("elevation_m", &asked.elevation_m, nursery::kElevations_m),
                                 number_field("bases_c", &asked.bases_c, nursery::kDegreeDayBases_c),
                                 {"on_coast", &asked.on_coast}},
                                kept_)) {
    return *wrong;
  }
  return printed(nursery::summarise_weather(asked), request);
}

Engine::Answer Engine::solution(Request& request) {
  return mixed<nursery::SolutionWords>(request, kept_,
                                       [&](const auto& words) { return nursery::mix_solution(words, library_); });
}
Engine::Answer Engine::disinfectant(Request& request) {
  return mixed<nursery::DisinfectantWords>(request, kept_, nursery::mix_disinfectant);
}
Engine::Answer Engine::medium(Request& request) {
  return mixed<nursery::MediumWords>(request, kept_,
                                     [&](const auto& words) { return nursery::mix_medium(words, library_); });
}
Engine::Answer Engine::feed(Request& request) {
  return mixed<nursery::FeedWords>(request, kept_,
                                   [&](const auto& words) { return nursery::mix_feed(words, library_); });
}

Engine::Answer Engine::feed_phases(Request& request) {
  std::string own;
  if (auto wrong = request.read({{"phases_from", &own}}, kept_)) return *wrong;
  return printed(nursery::feed_schedule(library_, own), request);
}

Engine::Answer Engine::take_entries(Request& request) {
  std::string document;
  std::vector<std::string> entries;
  bool anew = false;
  if (auto wrong = request.read({{"document", &document}, {"entries", &entries}, {"anew", &anew}}, kept_))
    return *wrong;
  nursery::DaybookCopy fresh;
  nursery::DaybookCopy& copy = anew ? fresh : daybook_;
  std::vector<std::string> kept;
  if (!document.empty()) {
    auto taken = copy.take(document);
    if (!taken) return taken.error();
    kept = std::move(*taken);
  }
  const auto taken = copy.take(entries);
  if (!taken) return taken.error();
  if (anew) daybook_ = std::move(fresh);
  return document_of({{"new", kept.size() + *taken}, {"entries", daybook_.entries()}, {"kept", kept}});
}

namespace {
/// Who notes something, when, and the random bits for it, as every request that notes has them.
struct Noting {
  nursery::NoteRequest by;
  std::string now, random;

  [[nodiscard]] Fields fields() {
    return {{"who", &by.who}, {"device", &by.device}, {"now", &now}, {"random", &random}};
  }
  /// Errors: nobody says on which device; too few random bits; no moment.
  ///   words  of `random`; they outlive the means
  [[nodiscard]] Result<nursery::NoteMeans> means(RandomWords& words, const nursery::Library& library) const {
    if (by.device.empty()) {
      return Error{.problem = "nobody says on which device", .allowed = "a name", .field = "device"};
    }
    if (!words.enough()) {
      return Error{.problem = "these are too few random bits, or no hexadecimal digits",
                   .allowed = fmt::format("{} digits or more, other ones each time", RandomWords::kDigits),
                   .field = "random"};
    }
    auto means = nursery::means_at(
        now, [&] { return words.next(); },
        [&](const std::string& path) -> Result<std::string> {
          auto text = library.own(path);
          if (!text) return text.error();
          return std::move(text->text);
        });
    if (means) return std::move(*means);
    return Error{.problem = fmt::format("\"{}\" is no moment", now.substr(0, 60)),
                 .allowed = "as 2027-04-18T09:30:00.000+02:00",
                 .field = "now"};
  }
};
}  // namespace

Engine::Answer Engine::noted(const Request& request, const nursery::Noted& noted) {
  daybook_.fold().add(noted.entries);
  if (request.as() == As::words) return nursery::words_of(noted, daybook_.fold(), kUsualWidth);
  return nursery::json_of(noted, daybook_.fold());
}

Engine::Answer Engine::note(Request& request) {
  Noting noting;
  nursery::NoteRequest& asked = noting.by;
  std::string line;
  std::string on;
  std::optional<int> at_minute;
  bool undo = false;
  constexpr int kMinutesOfDay = 24 * 60;
  Fields fields = noting.fields();
  fields.insert(fields.end(), {{"words", &asked.words},
                               {"line", &line},
                               {"on", &on},
                               {"at_minute", &at_minute, 0, kMinutesOfDay - 1},
                               {"anyway", &asked.anyway},
                               {"undo", &undo}});
  if (auto wrong = request.read(std::move(fields), kept_)) return *wrong;
  if (!line.empty()) {
    auto words = nursery::typed_words(line);
    if (!words) return words.error();
    asked.words.insert(asked.words.end(), words->begin(), words->end());
  }
  RandomWords words(noting.random);
  const auto means = noting.means(words, library_);
  if (!means) return means.error();
  asked.at_minute = at_minute;
  if (!on.empty()) {
    asked.on = nursery::read_day(on, local_day(means->now));
    if (!asked.on) {
      return Error{.problem = fmt::format("\"{}\" is no day", on.substr(0, 60)),
                   .allowed = "today, yesterday, a weekday or a day such as 2027-04-18",
                   .field = "on"};
    }
  }
  const auto made = (undo ? nursery::undo : nursery::note)(asked, *means, daybook_.fold());
  return made ? noted(request, *made) : made.error();
}

Engine::Answer Engine::note_plan(Request& request) {
  Noting noting;
  std::string name;
  Fields fields = noting.fields();
  fields.push_back({"name", &name});
  if (auto wrong = request.read(std::move(fields), kept_)) return *wrong;
  RandomWords words(noting.random);
  const auto means = noting.means(words, library_);
  if (!means) return means.error();
  if (!planned_) return Error{.problem = "there is no plan to note", .allowed = "a plan that was asked to its end"};
  if (planner_.answer().plan.sow_dates.empty()) {
    return Error{.problem = "the goal cannot be met as it stands: no sowing is planned", .allowed = "another goal"};
  }
  nursery::Text goal = planned_goal_;
  if (!name.empty()) goal.file = std::move(name);
  return noted(request, {.entries = nursery::entries_of_plan(goal, planner_.answer(), noting.by, *means, means->now,
                                                             daybook_.fold()),
                         .attachments = {}});
}

Engine::Answer Engine::exchange(Request& request) {
  std::string message;
  if (auto wrong = request.read({{"message", &message}}, kept_)) return *wrong;
  const auto exchanged = daybook_.exchange(message);
  if (!exchanged) return exchanged.error();
  return document_of({{"message", exchanged->message ? Json(*exchanged->message) : Json(nullptr)},
                      {"new", exchanged->added.size()},
                      {"kept", exchanged->added}});
}

Engine::Answer Engine::batches(Request& request) {
  std::string code;
  if (auto wrong = request.read({{"code", &code}}, kept_)) return *wrong;
  if (request.as() == As::words) return nursery::batches_words(daybook_.fold(), code, kUsualWidth);
  return nursery::batches_json(daybook_.fold(), code);
}

namespace {
Result<nursery::DaybookRequest> read_daybook_request(Request& request, const TextsByName& kept) {
  nursery::DaybookRequest asked;
  const auto most = static_cast<double>(std::numeric_limits<std::int64_t>::max());
  if (auto wrong = request.read({{"goal", &asked.goal},
                                 {"weather", &asked.weather},
                                 {"today", &asked.today},
                                 {"random_seed", &asked.random_seed, 0, most}},
                                kept)) {
    return *wrong;
  }
  return asked;
}
/// What is asked about a goal and the daybook.
template <class Ask>
Result<std::string> asked_of_daybook(Request& request, const TextsByName& kept, const Ask& ask) {
  const auto asked = read_daybook_request(request, kept);
  return asked ? printed(ask(*asked), request) : asked.error();
}
}  // namespace

Engine::Answer Engine::today(Request& request) {
  return asked_of_daybook(request, kept_,
                          [&](const auto& asked) { return nursery::today(asked, daybook_.fold(), library_); });
}
Engine::Answer Engine::forecast(Request& request) {
  const auto asked = read_daybook_request(request, kept_);
  if (!asked) return asked.error();
  auto forecaster = nursery::Forecaster::of(*asked, daybook_.fold(), library_);
  if (!forecaster) return forecaster.error();
  if (forecaster->answer().forecast.met) return printed(forecaster->answer(), request);
  foretelling_.emplace(std::move(*forecaster), request);
  return std::string();
}
Engine::Answer Engine::profile(Request& request) {
  return asked_of_daybook(request, kept_,
                          [&](const auto& asked) { return nursery::own_profile(asked, daybook_.fold(), library_); });
}

Engine::Answer Engine::checks(Request& request) {
  constexpr std::string_view kTopic = ".json";
  TextsByName files;
  if (auto wrong = request.read({{"files", &files}}, kept_)) return *wrong;
  nursery::CheckFiles asked{.topics = {}, .beside = reader_of(files)};
  for (const auto& [path, text] : files) {
    if (path.ends_with(kTopic)) asked.topics[nursery::id_of_file(path)] = {path, text};
  }
  if (asked.topics.empty()) {
    return Error{
        .problem = "there are no checks in it", .allowed = "what is in strikebed-checks.json", .field = "files"};
  }
  return printed(nursery::run_checks(asked), request);
}

}  // namespace strikebed::browser

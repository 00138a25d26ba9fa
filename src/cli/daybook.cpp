#include "cli/daybook.hpp"

#include <fmt/format.h>

#include <string>
#include <string_view>
#include <utility>

#include "cli/commands.hpp"
#include "cli/output.hpp"
#include "host/clock.hpp"
#include "host/files.hpp"
#include "host/library.hpp"
#include "host/store/daybook_store.hpp"
#include "host/store/portable.hpp"
#include "host/this_machine.hpp"
#include "host/worker_threads.hpp"
#include "nursery/daybook/batches.hpp"
#include "nursery/daybook/note.hpp"
#include "nursery/daybook/phrase.hpp"
#include "nursery/daybook/plan_noted.hpp"
#include "nursery/forecast.hpp"
#include "nursery/own_profile.hpp"
#include "nursery/today.hpp"
#include "nursery/toml_file.hpp"

namespace strikebed::cli {
namespace {

using host::Access;
using host::DaybookStore;

/// What is wrong is in the daybook or in a note, and not in how the command was called.
int refuse(const Error& error, const FieldNames& options = {}) {
  complain(error, options);
  return kInputWrong;
}

/// What a note calls a field of its request; others are words of its own.
std::string note_options(std::string_view field) { return field == "anyway" ? "--anyway" : std::string(field); }

/// A daybook that is open, and what stands in it.
struct OpenDaybook {
  DaybookStore store;
  daybook::Fold fold;
};
Result<OpenDaybook> open_and_read(const DaybookArguments& arguments, Access access) {
  auto store = DaybookStore::open(where_of(arguments), access);
  if (!store.ok()) return store.error();
  OpenDaybook open{std::move(*store), {}};
  const auto failed = open.store.each_entry([&](daybook::Entry entry) { open.fold.add(std::move(entry)); });
  if (failed) return *failed;
  return open;
}

/// The one that is named, else this one.
std::string device_of(const std::string& named = "") {
  if (!named.empty()) return named;
  return host::environment("STRIKEBED_DEVICE").value_or(host::machine_name());
}

nursery::NoteMeans means_of(const std::optional<Date>& today) {
  constexpr int kNoon = 12 * 60;
  const auto now = host::now();
  return {.now = today ? host::wall_clock(*today, kNoon) : now,
          .written = now,
          .wall_clock = host::wall_clock,
          .random_bits = host::random_bits,
          .read_file = [](const std::string& path) { return host::read_file(path); }};
}

Result<nursery::NoteRequest> request_of(const NoteArguments& arguments, const nursery::NoteMeans& means) {
  nursery::NoteRequest request{.words = arguments.words,
                               .who = arguments.who,
                               .device = device_of(arguments.device),
                               .on = {},
                               .at_minute = {},
                               .anyway = arguments.anyway};
  if (!arguments.on.empty()) {
    request.on = nursery::read_day(arguments.on, local_day(means.now));
    if (!request.on) {
      return Error{.problem = fmt::format("\"{}\" is no day", arguments.on),
                   .allowed = "today, yesterday, a weekday or a day such as 2027-04-18",
                   .field = "--on"};
    }
  }
  if (!arguments.at.empty()) {
    request.at_minute = nursery::read_time(arguments.at);
    if (!request.at_minute) {
      return Error{.problem = fmt::format("\"{}\" is no time", arguments.at), .allowed = "9:30", .field = "--at"};
    }
  }
  return request;
}

/// Who notes what was answered.
nursery::NoteRequest this_device() {
  return {.words = {}, .who = {}, .device = device_of(), .on = {}, .at_minute = {}};
}
/// An answer of today is of now; another of that evening.
daybook::Moment happened_on(Date day, const nursery::NoteMeans& means) {
  constexpr int kEvening = 23 * 60;
  return day == host::today() ? means.now : host::wall_clock(day, kEvening);
}

struct Asked {
  nursery::DaybookRequest request;
  nursery::Library library;
};
/// What a forecast and a profile are asked with.
Result<Asked> ask(const SeasonArguments& arguments) {
  Asked asked{.request = {.goal = {},
                          .weather = {},
                          .today = arguments.today,
                          .workers = host::worker_threads(arguments.threads)},
              .library = {}};
  if (!arguments.goal.empty()) {
    auto goal = host::read_text(arguments.goal, nursery::kLargestTomlFile);
    if (!goal.ok()) return goal.error();
    asked.request.goal = std::move(*goal);
  }
  if (arguments.weather) {
    auto weather = host::read_weather_text(*arguments.weather);
    if (!weather.ok()) return weather.error();
    asked.request.weather = std::move(*weather);
  }
  // What a goal in the daybook names lies beside the daybook.
  auto library = host::load_library(arguments.goal.empty() ? where_of(arguments.daybook) : arguments.goal);
  if (!library.ok()) return library.error();
  asked.library = std::move(*library);
  return asked;
}

/// The text of an export, part by part, to wherever it goes.
std::optional<Error> export_to(DaybookStore& store, bool csv, const host::TakePart& take) {
  if (!csv) return host::export_json(store, take);
  const auto text = host::export_csv(store);
  return text.ok() ? take(*text) : text.error();
}

std::string entries_words(std::size_t count) { return fmt::format("{} {}", count, count == 1 ? "entry" : "entries"); }

std::string added_words(const host::Added& added) {
  return entries_words(added.entries) +
         (added.attachments > 0 ? fmt::format(" and {} pictures", added.attachments) : "");
}

}  // namespace

std::string where_of(const DaybookArguments& arguments) {
  if (arguments.where) return *arguments.where;
  return host::environment("STRIKEBED_DAYBOOK").value_or(kUsualDaybook);
}

std::string note_examples() {
  std::string text;
  for (const nursery::NoteForm& form : nursery::note_forms()) {
    text += fmt::format("  {:26}{}\n", form.word, form.says);
  }
  text += "\nExamples:\n";
  for (const nursery::NoteForm& form : nursery::note_forms())
    text += fmt::format("  strikebed note {}\n", form.example);
  return text;
}

int answer_note(const NoteArguments& arguments) {
  if (arguments.words.empty() && !arguments.undo) {
    complain({.problem = "say what to note", .allowed = "such as: count K427T emerged 41 of 50"});
    point_to_help("note");
    return kCommandLineWrong;
  }
  const nursery::NoteMeans means = means_of(arguments.today);
  const auto request = request_of(arguments, means);
  if (!request.ok()) return complain(request.error());
  auto open = open_and_read(arguments.daybook, Access::create);
  if (!open.ok()) return refuse(open.error());
  const auto noted = (arguments.undo ? nursery::undo : nursery::note)(*request, means, open->fold);
  if (!noted.ok()) return refuse(noted.error(), note_options);
  if (const auto added = open->store.add(noted->entries, noted->attachments); !added.ok()) return refuse(added.error());
  if (open->fold.size() == 0) say(fmt::format("A new daybook was begun: {}", open->store.name()));
  open->fold.add(noted->entries);
  return print_answer(arguments.daybook.json ? nursery::json_of(*noted, open->fold)
                                             : nursery::words_of(*noted, open->fold, answer_width()));
}

int answer_batches(const BatchesArguments& arguments) {
  auto open = open_and_read(arguments.daybook, Access::read);
  if (!open.ok()) return refuse(open.error());
  const auto text = arguments.daybook.json ? nursery::batches_json(open->fold, arguments.code)
                                           : nursery::batches_words(open->fold, arguments.code, answer_width());
  return text.ok() ? print_answer(*text) : refuse(text.error());
}

int note_plan(const std::optional<std::string>& where, const nursery::Text& goal, const nursery::PlanAnswer& answer) {
  if (answer.plan.sow_dates.empty()) {
    say("Nothing is noted: the goal cannot be met as it stands.");
    return kAnswered;
  }
  auto open = open_and_read({.where = where}, Access::create);
  if (!open.ok()) return refuse(open.error());
  const nursery::NoteMeans means = means_of(std::nullopt);
  const auto entries =
      nursery::entries_of_plan(goal, answer, this_device(), means, happened_on(answer.goal.today, means), open->fold);
  if (const auto added = open->store.add(entries, {}); !added.ok()) return refuse(added.error());
  if (open->fold.size() == 0) say(fmt::format("A new daybook was begun: {}", open->store.name()));
  say(entries.size() > 1 ? "The goal and the plan are noted."
      : entries.empty()  ? "The plan is in the daybook already."
                         : "The plan is noted.");
  return kAnswered;
}

int answer_forecast(const ForecastArguments& arguments) {
  if (arguments.note && !arguments.goal.empty()) {
    return refuse({.problem = "a forecast is noted of a goal in the daybook, and this one is from a file",
                   .allowed = "--note without a file; strikebed plan FILE --note puts a goal into the daybook"});
  }
  auto open = open_and_read(arguments.daybook, arguments.note ? Access::write : Access::read);
  if (!open.ok()) return refuse(open.error());
  const auto asked = ask(arguments);
  if (!asked.ok()) return refuse(asked.error());
  const auto answer = nursery::forecast(asked->request, open->fold, asked->library);
  if (!answer.ok()) return refuse(answer.error());
  const int printed =
      print_answer(arguments.daybook.json ? nursery::json_of(*answer) : nursery::words_of(*answer, answer_width()));
  if (!arguments.note || printed != kAnswered) return printed;
  const nursery::NoteMeans means = means_of(std::nullopt);
  const auto added = open->store.add({nursery::new_entry(this_device(), means, happened_on(arguments.today, means),
                                                         nursery::given_of(*answer).value())},
                                     {});
  if (!added.ok()) return refuse(added.error());
  say("The forecast is noted.");
  return kAnswered;
}

int answer_today(const SeasonArguments& arguments) {
  auto open = open_and_read(arguments.daybook, Access::read);
  if (!open.ok()) return refuse(open.error());
  const auto asked = ask(arguments);
  if (!asked.ok()) return refuse(asked.error());
  const auto answer = nursery::today(asked->request, open->fold, asked->library);
  if (!answer.ok()) return refuse(answer.error());
  return print_answer(arguments.daybook.json ? nursery::json_of(*answer) : nursery::words_of(*answer, answer_width()));
}

int answer_profile(const ProfileArguments& arguments) {
  constexpr host::FileKind kOwnProfile{nursery::kOwnProfileBegins, "profile learnt from a daybook"};
  if (arguments.save) {
    if (const auto wrong = host::wrong_place_for(kOwnProfile, *arguments.save)) return refuse(*wrong);
  }
  auto open = open_and_read(arguments.daybook, Access::read);
  if (!open.ok()) return refuse(open.error());
  const auto asked = ask(arguments);
  if (!asked.ok()) return refuse(asked.error());
  const auto answer = nursery::own_profile(asked->request, open->fold, asked->library);
  if (!answer.ok()) return refuse(answer.error());
  if (arguments.save) {
    if (const auto failed = host::write_file(*arguments.save, nursery::profile_of(*answer))) return refuse(*failed);
    say(fmt::format("The profile is in {}: name it in the goal, profile = \"...\", in place of rates of its own.",
                    *arguments.save));
  }
  return print_answer(arguments.daybook.json ? nursery::json_of(*answer) : nursery::words_of(*answer, answer_width()));
}

int answer_export(const CarryArguments& arguments) {
  auto store = DaybookStore::open(where_of(arguments.daybook), Access::read);
  if (!store.ok()) return refuse(store.error());
  if (arguments.file.empty()) {
    std::string text;
    const auto failed = export_to(*store, arguments.csv, [&](std::string_view part) -> std::optional<Error> {
      text += part;
      return std::nullopt;
    });
    return failed ? refuse(*failed) : print_exact(text);
  }
  auto file = host::FileInTheMaking::begin(arguments.file);
  if (!file.ok()) return refuse(file.error());
  if (const auto failed = export_to(*store, arguments.csv, [&](std::string_view part) { return file->write(part); })) {
    return refuse(*failed);
  }
  if (const auto failed = file->finish()) return refuse(*failed);
  say("The daybook is in " + arguments.file);
  return kAnswered;
}

int answer_import(const CarryArguments& arguments) {
  auto store = DaybookStore::open(where_of(arguments.daybook), Access::create);
  if (!store.ok()) return refuse(store.error());
  const auto added = host::import_file(*store, arguments.file);
  if (!added.ok()) return refuse(added.error());
  return print_answer(arguments.daybook.json ? fmt::format("{{\"entries\": {}, \"attachments\": {}}}\n", added->entries,
                                                           added->attachments)
                                             : fmt::format("New in {}: {}\n", store->name(), added_words(*added)));
}

int answer_backup(const CarryArguments& arguments) {
  auto store = DaybookStore::open(where_of(arguments.daybook), Access::read);
  if (!store.ok()) return refuse(store.error());
  if (const auto failed = store->backup(arguments.file)) return refuse(*failed);
  say(fmt::format("A backup of {} is in {}", store->name(), arguments.file));
  return kAnswered;
}

int answer_sync(const CarryArguments& arguments) {
  auto here = DaybookStore::open(where_of(arguments.daybook), Access::create);
  if (!here.ok()) return refuse(here.error());
  auto there = DaybookStore::open(arguments.with, Access::create);
  if (!there.ok()) return refuse(there.error());
  const auto exchanged = host::exchange(*here, *there);
  if (!exchanged.ok()) return refuse(exchanged.error());
  if (arguments.daybook.json) {
    return print_answer(fmt::format(
        "{{\"here\": {{\"entries\": {}, \"attachments\": {}}}, \"there\": {{\"entries\": {}, \"attachments\": {}}}}}\n",
        exchanged->here.entries, exchanged->here.attachments, exchanged->there.entries, exchanged->there.attachments));
  }
  return print_answer(fmt::format("New in {}: {}\nNew in {}: {}\n", here->name(), added_words(exchanged->here),
                                  there->name(), added_words(exchanged->there)));
}

}  // namespace strikebed::cli

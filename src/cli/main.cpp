// Reads the command line and hands each command its arguments. Nothing is computed here.
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <cstdint>
#include <exception>
#include <functional>
#include <limits>
#include <memory>
#include <new>
#include <sstream>
#include <stdexcept>
#include <string>
#include <string_view>
#include <type_traits>
#include <utility>
#include <variant>
#include <vector>

#include "base/nearest.hpp"
#include "cli/commands.hpp"
#include "cli/daybook.hpp"
#include "cli/help.hpp"
#include "cli/mix.hpp"
#include "cli/output.hpp"
#include "cli/serve.hpp"
#include "host/clock.hpp"
#include "host/standard_streams.hpp"
#include "host/worker_threads.hpp"
#include "nursery/make_plan.hpp"
#include "nursery/read_weather.hpp"

namespace strikebed::cli {
namespace {

constexpr int kMostThreads = 256;

/// A command as the user types it, and what answers it.
struct Command {
  CLI::App* parser;
  std::function<int()> answer;
};

/// "mix solution": all the words that lead to a command.
std::string full_name(const CLI::App* command) {
  const CLI::App* above = command->get_parent();
  const bool nested = above != nullptr && above->get_parent() != nullptr;
  return (nested ? above->get_name() + " " : "") + command->get_name();
}

/// A number within limits, or a message in plain words.
template <class Number>
CLI::Validator between(Number low, Number high) {
  const auto check = [low, high](const std::string& text) -> std::string {
    Number number{};
    if (CLI::detail::lexical_cast(text, number) && number >= low && number <= high) return {};
    return fmt::format("\"{}\" is not allowed; allowed: a {}number from {} to {}", text,
                       std::is_integral_v<Number> ? "whole " : "", low, high);
  };
  return CLI::Validator(check, "", "between");
}
CLI::Validator between(const nursery::Bounds& limits) { return between(limits.low, limits.high); }

void add_json(CLI::App* command, bool& json) {
  command->add_flag("--json", json, "Print one JSON document (docs/json.md) instead of text")->disable_flag_override();
}

/// An option that may be given again, each time with one value: the help must not look like several behind one flag.
void may_be_repeated(CLI::Option* option, const std::string& value) {
  option->option_text(value + " (repeat)")->allow_extra_args(false);
}

/// Into a date, or one that may be left out.
void add_date(CLI::App* command, const std::string& name, auto& date, const std::string& help) {
  const auto read = [name, &date](const std::string& text) {
    const auto given = parse_iso_date(text);
    if (!given) throw CLI::ValidationError(name, "\"" + text + "\" is no date; allowed: a day such as 2027-03-01");
    date = *given;
  };
  command->add_option_function<std::string>(name, read, help)->type_name("DATE");
}

/// A record instead of the goal's own.
void add_weather_file(CLI::App* command, std::optional<std::string>& file) {
  command->add_option("--weather", file, "A weather record instead of the one the goal names (CSV or EPW)")
      ->type_name("FILE");
}

/// `what` is the same with any number.
void add_threads(CLI::App* command, int& threads, const std::string& what) {
  threads = std::min(host::threads_of_machine(), kMostThreads);
  command->add_option("--threads", threads, "Threads to work with; the " + what + " is the same with any number")
      ->check(between(1, kMostThreads))
      ->type_name("N");
}

void add_where(CLI::App* command, std::optional<std::string>& where) {
  command
      ->add_option(
          "--daybook", where,
          fmt::format("Where it is kept: a file, or \"postgresql://...\" (STRIKEBED_DAYBOOK, else {})", kUsualDaybook))
      ->type_name("WHERE");
}

Command add_plan(CLI::App& app, PlanArguments& arguments) {
  CLI::App* command =
      app.add_subcommand("plan", "How many seeds, when to sow and to cut, what it needs, how sure it is");
  command->add_option("GOAL", arguments.goal, "The goal, a TOML file (docs/goal-file.md)")->required()->type_name("");
  add_weather_file(command, arguments.weather);
  command
      ->add_option("--seeds", arguments.seeds, "How sure the goal is with so many seeds, instead of the fewest seeds")
      ->check(between(1, nursery::kMostSeeds))
      ->type_name("N");
  arguments.today = host::today();
  add_date(command, "--today", arguments.today, "Plan as if today were this day");
  command->add_option("--report", arguments.report, "Also write the plan as one page with pictures, an HTML file")
      ->type_name("FILE");
  command
      ->add_option("--random-seed", arguments.random_seed,
                   "Start of the random numbers (1 if left out); the same gives the same plan")
      ->check(between<std::int64_t>(0, std::numeric_limits<std::int64_t>::max()))
      ->type_name("N");
  command->add_flag("--note", arguments.note, "Also note the goal and this plan in the daybook, for today and forecast")
      ->disable_flag_override();
  add_threads(command, arguments.threads, "plan");
  add_where(command, arguments.daybook);
  add_json(command, arguments.json);
  command->footer(
      "Example: strikebed plan my-goal.toml --report plan.html\n"
      "A goal that cannot be met is an answer too: it says what limits it and what could be met.");
  return {command, [&arguments] { return answer_plan(arguments); }};
}

Command add_weather(CLI::App& app, WeatherArguments& arguments) {
  CLI::App* command = app.add_subcommand("weather", "Read, check and sum up a weather record");
  command->add_option("FILE", arguments.file, "Daily or hourly CSV with a header, or EPW (docs/weather-files.md)")
      ->required()
      ->type_name("");
  command->add_option("--latitude", arguments.latitude, "Of the place, degrees, south negative")
      ->check(between(nursery::kLatitudes_deg))
      ->type_name("DEGREES");
  command->add_option("--longitude", arguments.longitude, "Of the place, degrees, west negative")
      ->check(between(nursery::kLongitudes_deg))
      ->type_name("DEGREES");
  command->add_option("--elevation", arguments.elevation_m, "Of the place, metres above the sea")
      ->check(between(nursery::kElevations_m))
      ->type_name("METRES");
  CLI::Option* columns =
      command
          ->add_option("--column", arguments.columns,
                       "What a column holds, when its name does not say: --column tmax=HIGH:F --column tmin=LOW:F")
          ->check(CLI::Validator(
              [](const std::string& text) -> std::string {
                const auto wrong = nursery::wrong_column_choice(text);
                return wrong ? wrong->problem + "; allowed: " + wrong->allowed : "";
              },
              "", "column"));
  may_be_repeated(columns, "ROLE=NAME:UNIT");
  command
      ->add_option("--date-order", arguments.date_order,
                   "Whether 03/04/2020 is the third of April (day-first) or March the fourth (month-first)")
      ->check(CLI::Validator(
          [](const std::string& text) -> std::string {
            return text == "day-first" || text == "month-first"
                       ? ""
                       : "\"" + text + "\" is not allowed; allowed: day-first or month-first";
          },
          "", "date order"))
      ->type_name("ORDER");
  command
      ->add_option("--wind-height", arguments.wind_height_m,
                   "Height at which the wind of a CSV file was measured, metres (as its header says, else 2)")
      ->check(between(nursery::kWindHeights_m))
      ->type_name("METRES");
  command
      ->add_flag("--coast", arguments.on_coast, "The place lies on a coast (for sunshine estimated from temperature)")
      ->disable_flag_override();
  CLI::Option* bases = command
                           ->add_option("--base", arguments.bases_c,
                                        "Base of the degree-days, degrees Celsius (5 if left out): --base 0 --base 5")
                           ->check(between(nursery::kDegreeDayBases_c));
  may_be_repeated(bases, "DEGREES");
  add_json(command, arguments.json);
  command->footer(
      "Example: strikebed weather weather.csv --latitude 47.6 --base 5 \\\n"
      "    --column tmax=HIGH:F --column tmin=LOW:F");
  return {command, [&arguments] { return answer_weather(arguments); }};
}

Command add_checks(CLI::App& app, ChecksArguments& arguments) {
  CLI::App* command = app.add_subcommand("checks", "Compare what the program computes with published numbers");
  command->add_option("--topic", arguments.topic, "Only the checks of this topic")->type_name("TOPIC");
  add_json(command, arguments.json);
  command->footer("Example: strikebed checks --topic sun\nThe exit code is 1 when a check does not hold.");
  return {command, [&arguments] { return answer_checks(arguments); }};
}

void add_daybook(CLI::App* command, DaybookArguments& arguments, bool with_json = true) {
  add_where(command, arguments.where);
  if (with_json) add_json(command, arguments.json);
}

Command add_note(CLI::App& app, NoteArguments& arguments) {
  CLI::App* command = app.add_subcommand("note", "Note in the daybook what was done or seen: strikebed note WORDS");
  command->allow_extras();  // the words, in their order, minus signs and all
  command->add_option("--on", arguments.on, "The day, where it does not stand among the words")->type_name("DAY");
  command->add_option("--at", arguments.at, "The time of day")->type_name("H:MM");
  command->add_option("--who", arguments.who, "Who did or saw it")->type_name("NAME");
  command->add_option("--device", arguments.device, "Where it is written (STRIKEBED_DEVICE, else this machine's name)")
      ->type_name("NAME");
  command->add_flag("--anyway", arguments.anyway, "Also where it contradicts the daybook")->disable_flag_override();
  command
      ->add_flag("--undo", arguments.undo, "Withdraw the last note from here, or the entry that is named (#3f0c9f6c)")
      ->disable_flag_override();
  add_date(command, "--today", arguments.today, "Note as if today were this day");
  add_daybook(command, arguments.daybook);
  command->footer("Words: what is noted, its batch, lot or bottle, then fields by their names (docs/daybook.md)\n" +
                  note_examples());
  return {command, [&arguments, command] {
            arguments.words = command->remaining();
            return answer_note(arguments);
          }};
}

Command add_batches(CLI::App& app, BatchesArguments& arguments) {
  CLI::App* command = app.add_subcommand("batches", "What stands where; or one batch with its counts and its history");
  command->add_option("CODE", arguments.code, "Of one batch")->type_name("");
  add_daybook(command, arguments.daybook);
  command->footer("Example: strikebed batches K427T");
  return {command, [&arguments] { return answer_batches(arguments); }};
}

/// What is asked of a goal's season so far.
void add_season(CLI::App* command, SeasonArguments& arguments) {
  command->add_option("GOAL", arguments.goal, "The goal, a TOML file, instead of the last one in the daybook")
      ->type_name("");
  add_weather_file(command, arguments.weather);
  arguments.today = host::today();
  add_date(command, "--today", arguments.today, "As if today were this day: what was noted before it is known");
  add_threads(command, arguments.threads, "answer");
  add_daybook(command, arguments.daybook);
}

Command add_today(CLI::App& app, SeasonArguments& arguments) {
  CLI::App* command = app.add_subcommand("today", "What falls due now and in the next seven days, batch by batch");
  add_season(command, arguments);
  command->footer("Example: strikebed today --today 2027-06-12");
  return {command, [&arguments] { return answer_today(arguments); }};
}

Command add_forecast(CLI::App& app, ForecastArguments& arguments) {
  CLI::App* command =
      app.add_subcommand("forecast", "Will there be enough, given what the daybook says; what can still be done");
  command
      ->add_flag("--note", arguments.note,
                 "Also note the forecast in the daybook, so that it can be held against what comes")
      ->disable_flag_override();
  add_season(command, arguments);
  command->footer("Example: strikebed forecast --today 2027-06-12");
  return {command, [&arguments] { return answer_forecast(arguments); }};
}

Command add_profile(CLI::App& app, ProfileArguments& arguments) {
  CLI::App* command =
      app.add_subcommand("profile", "What your own seasons have taught, and a profile of your own made of it");
  command->add_option("--save", arguments.save, "Make it a file, to be named in a goal: profile = \"FILE\"")
      ->type_name("FILE");
  add_season(command, arguments);
  command->footer("Example: strikebed profile --save my-pines.toml");
  return {command, [&arguments] { return answer_profile(arguments); }};
}

Command add_export(CLI::App& app, CarryArguments& arguments) {
  CLI::App* command = app.add_subcommand("export", "The whole daybook as one JSON document, or its entries as CSV");
  command->add_option("FILE", arguments.file, "Where to; left out, it is printed")->type_name("");
  command->add_flag("--csv", arguments.csv, "As CSV, for spreadsheets, without pictures")->disable_flag_override();
  add_daybook(command, arguments.daybook, false);
  command->footer("Example: strikebed export daybook.json");
  return {command, [&arguments] { return answer_export(arguments); }};
}

Command add_import(CLI::App& app, CarryArguments& arguments) {
  CLI::App* command =
      app.add_subcommand("import", "Add an exported daybook: all of it or, where a line is wrong, nothing");
  command->add_option("FILE", arguments.file, "JSON or CSV, as export writes it")->required()->type_name("");
  add_daybook(command, arguments.daybook);
  command->footer("Example: strikebed import daybook.json");
  return {command, [&arguments] { return answer_import(arguments); }};
}

Command add_backup(CLI::App& app, CarryArguments& arguments) {
  CLI::App* command = app.add_subcommand("backup", "Copy the daybook into a file, while notes may go on being taken");
  command->add_option("FILE", arguments.file, "The copy, a daybook of its own")->required()->type_name("");
  add_daybook(command, arguments.daybook, false);
  command->footer("Example: strikebed backup 2027-04-18.strikebed");
  return {command, [&arguments] { return answer_backup(arguments); }};
}

Command add_sync(CLI::App& app, CarryArguments& arguments) {
  CLI::App* command = app.add_subcommand("sync", "Make two daybooks hold the same entries and pictures");
  command->add_option("--with", arguments.with, "The other: a file, or \"postgresql://...\"")
      ->required()
      ->type_name("WHERE");
  add_daybook(command, arguments.daybook);
  command->footer("Example: strikebed sync --with /media/stick/daybook.strikebed");
  return {command, [&arguments] { return answer_sync(arguments); }};
}

Command add_serve(CLI::App& app, ServeArguments& arguments) {
  constexpr int kLastPort = 65535;
  CLI::App* command =
      app.add_subcommand("serve", "Give the page to a browser on this machine, and exchange entries with it");
  command
      ->add_option("--port", arguments.port,
                   fmt::format("Where it listens ({} if left out); 0: any that is free", kUsualPort))
      ->check(between(0, kLastPort))
      ->type_name("N");
  command->add_option("--page", arguments.page, "The folder of the built page (STRIKEBED_PAGE, else the program's own)")
      ->type_name("FOLDER");
  CLI::Option* names =
      command
          ->add_option("--host", arguments.names, "A name that it is reached by through a proxy: --host tray.example")
          ->check(CLI::Validator(
              [](const std::string& text) -> std::string {
                return is_host_name(text)
                           ? ""
                           : "\"" + text + "\" is no name of a machine; allowed: one such as tray.example";
              },
              "", "name"));
  may_be_repeated(names, "NAME");
  add_daybook(command, arguments.daybook);
  command->footer(
      "Example: strikebed serve --port 0 --daybook pines.strikebed\n"
      "It prints its address and answers until it is stopped (Ctrl-C). Only this machine reaches it (docs/http.md).");
  return {command, [&arguments] { return answer_serve(arguments); }};
}

void add_table_option(CLI::App* command, const TableOption& option, const nursery::WordFields& fields) {
  const auto field =
      std::find_if(fields.begin(), fields.end(), [&](const auto& one) { return one.name == option.field; });
  if (field == fields.end()) throw std::logic_error(option.name + " fills no field");
  if (bool* const* flag = std::get_if<bool*>(&field->into)) {
    command->add_flag(option.name, **flag, option.help)->disable_flag_override();
  } else if (Date* const* date = std::get_if<Date*>(&field->into)) {
    add_date(command, option.name, **date, option.help);
  } else if (std::string* const* text = std::get_if<std::string*>(&field->into)) {
    command->add_option(option.name, **text, option.help)->type_name(option.type_name);
  } else {
    may_be_repeated(command->add_option(option.name, *std::get<std::vector<std::string>*>(field->into), option.help),
                    option.type_name);
  }
}

Command add_table(CLI::App& above, const CommandTable& table) {
  CLI::App* command = above.add_subcommand(table.name, table.summary);
  for (const TableOption& option : table.options) add_table_option(command, option, table.fields);
  const auto json = std::make_shared<bool>(false);
  add_json(command, *json);
  command->footer(table.footer);
  return {command, [answer = table.answer, names = names_of(table.options), json] {
            const Result<std::string> text = answer(*json, names);
            return text ? print_answer(*text) : complain(text.error(), names);
          }};
}

/// A command that only leads to others, such as `strikebed mix`, followed by those it leads to.
std::vector<Command> add_family(CLI::App& app, const std::string& name, const std::string& summary,
                                const std::vector<CommandTable>& members) {
  CLI::App* family = app.add_subcommand(name, summary);
  family->require_subcommand(0, 1);
  std::vector<std::string> names;
  std::vector<Command> commands = {{family, {}}};
  for (const CommandTable& member : members) {
    names.push_back(member.name);
    commands.push_back(add_table(*family, member));
    commands.back().parser->group("Commands");
  }
  family->footer(fmt::format("Each command explains itself: strikebed {} {} --help", name, names.front()));
  const std::string choices = fmt::format("{}", fmt::join(names, ", "));
  commands.front().answer = [name, choices] {
    complain({.problem = fmt::format("say what to {}", name), .allowed = choices});
    point_to_help(name);
    return kCommandLineWrong;
  };
  return commands;
}

/// What was wrong with the command line, in plain words. `asked`: the command, or null.
Error wrong_words(const CLI::App& app, const CLI::App* asked, const CLI::ParseError& wrong) {
  Error error;
  error.problem = wrong.what();
  if (dynamic_cast<const CLI::ArgumentMismatch*>(&wrong) != nullptr) {
    const std::string name = error.problem.substr(0, error.problem.find(':'));
    const CLI::Option* option = asked ? asked->get_option_no_throw(name) : nullptr;
    const std::size_t values = option ? option->count() : 0;
    error.problem = name + (values > 1 ? fmt::format(": is there {} times", values) : ": its value is missing");
    if (values > 1) error.allowed = "once";
  }
  const std::vector<std::string> unknown = app.remaining(true);
  if (dynamic_cast<const CLI::ExtrasError*>(&wrong) == nullptr || unknown.empty()) return error;

  const CLI::App& here = asked ? *asked : app;
  std::vector<std::string> names;
  for (const CLI::App* command : here.get_subcommands([](const CLI::App*) { return true; })) {
    names.push_back(command->get_name());
  }
  const bool leads_on = !names.empty();
  for (const CLI::Option* option : here.get_options()) {
    if (!option->get_positional()) names.push_back("--" + option->get_lnames().front());
  }
  const std::vector<std::string_view> known(names.begin(), names.end());
  error.problem = fmt::format("\"{}\" is not known here", unknown.front());
  if (const auto nearest = nearest_word(unknown.front(), known)) {
    error.problem += fmt::format("; did you mean {}?", *nearest);
  } else if (leads_on) {
    error.allowed = fmt::format("{}", fmt::join(names, ", "));
  }
  return error;
}

int run(int count, char** words) {
  CLI::App app(
      "Strikebed plans a season of seedling cuttings: how many seeds, when to sow, when to cut, how sure it is.",
      "strikebed");
  app.set_version_flag("--version", "strikebed " STRIKEBED_VERSION, "Print the version");
  app.set_help_flag("-h,--help", "Print this help");
  app.require_subcommand(0, 1);  // none is answered below, in plainer words
  const auto layout = app.get_formatter();
  layout->column_width(kHelpColumn);
  layout->label("SUBCOMMAND", "COMMAND");
  layout->label("OPTIONS", "options");
  layout->label("Positionals", "Given");
  layout->label("REQUIRED", "");
  app.footer("Example: strikebed plan demo/goal.toml\nEach command explains itself: strikebed plan --help");

  PlanArguments plan;
  WeatherArguments weather;
  ChecksArguments checks;
  NoteArguments note;
  BatchesArguments batches;
  ForecastArguments forecast;
  SeasonArguments today;
  ProfileArguments profile;
  CarryArguments carry;
  ServeArguments serve;
  std::vector<Command> commands = {add_plan(app, plan), add_weather(app, weather)};
  for (Command& command : add_family(app, "mix", "Measure out a rooting solution, a medium, a feed or a disinfectant",
                                     {mix_solution(), mix_medium(), mix_feed(), mix_disinfectant()})) {
    commands.push_back(std::move(command));
  }
  for (Command& command : std::vector<Command>{add_note(app, note), add_batches(app, batches), add_today(app, today),
                                               add_forecast(app, forecast), add_profile(app, profile),
                                               add_export(app, carry), add_import(app, carry), add_backup(app, carry),
                                               add_sync(app, carry), add_serve(app, serve)}) {
    commands.push_back(std::move(command));
  }
  commands.push_back(add_checks(app, checks));
  for (const Command& command : commands) command.parser->group("Commands");

  const auto asked = [&] {  // the innermost: those a command leads to stand behind it
    const auto found =
        std::find_if(commands.rbegin(), commands.rend(), [](const Command& c) { return c.parser->parsed(); });
    return found == commands.rend() ? nullptr : &*found;
  };
  const auto refuse = [&](const Error& error) {
    complain(error);
    point_to_help(asked() ? full_name(asked()->parser) : "");
    return kCommandLineWrong;
  };
  try {
    app.parse(count, words);
  } catch (const CLI::Success& help) {  // --help and --version end the reading too
    std::ostringstream text;
    app.exit(help, text);
    return print_answer(fitted_help(text.str(), answer_width()));
  } catch (const CLI::ParseError& wrong) {
    return refuse(wrong_words(app, asked() ? asked()->parser : nullptr, wrong));
  }
  if (!asked())
    return refuse({.problem = "say what to do: plan, weather, mix, note, batches, today, forecast, profile or checks"});
  return asked()->answer();
}

}  // namespace
}  // namespace strikebed::cli

int main(int count, char** words) {
  strikebed::host::fill_closed_streams();
  try {
    return strikebed::cli::run(count, words);
  } catch (const std::bad_alloc&) {
    strikebed::cli::complain({.problem = "there is not enough memory for this"});
  } catch (const std::exception& mistake) {
    strikebed::cli::complain({.problem = std::string("a mistake in the program, please report it: ") + mistake.what()});
  }
  return strikebed::cli::kInputWrong;
}

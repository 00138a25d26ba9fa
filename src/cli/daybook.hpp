#pragma once
// The commands that keep and read the daybook.
#include <optional>
#include <string>
#include <vector>

#include "base/date.hpp"
#include "nursery/make_plan.hpp"

namespace strikebed::cli {

/// Where a daybook is kept that nobody named: a file in the folder that one works in.
inline constexpr const char* kUsualDaybook = "daybook.strikebed";

struct DaybookArguments {
  std::optional<std::string> where;  ///< a file or a connection string; nothing: as the environment says, or the usual
  bool json = false;
};

/// As named, else as the environment says, else the usual.
[[nodiscard]] std::string where_of(const DaybookArguments& arguments);

struct NoteArguments {
  DaybookArguments daybook;
  std::vector<std::string> words;
  std::optional<Date> today;
  std::string on;
  std::string at;
  std::string who;
  std::string device;
  bool anyway = false;
  bool undo = false;
};
int answer_note(const NoteArguments& arguments);
/// The kinds of notes with an example each, for the help.
[[nodiscard]] std::string note_examples();

struct BatchesArguments {
  DaybookArguments daybook;
  std::string code;  ///< empty: all
};
int answer_batches(const BatchesArguments& arguments);

/// Of a goal's season so far.
struct SeasonArguments {
  DaybookArguments daybook;
  std::string goal;  ///< a file; empty: the last one in the daybook
  std::optional<std::string> weather;
  Date today;
  int threads = 1;
};
int answer_today(const SeasonArguments& arguments);

struct ForecastArguments : SeasonArguments {
  bool note = false;  ///< what was foretold, so that it can be scored
};
int answer_forecast(const ForecastArguments& arguments);

struct ProfileArguments : SeasonArguments {
  std::optional<std::string> save;  ///< the file that it becomes
};
int answer_profile(const ProfileArguments& arguments);

/// Notes a plan that was answered, and its goal.
int note_plan(const std::optional<std::string>& where, const nursery::Text& goal, const nursery::PlanAnswer& answer);

struct CarryArguments {
  DaybookArguments daybook;
  std::string file;  ///< of an export: empty, to standard output
  std::string with;  ///< the other daybook
  bool csv = false;
};
int answer_export(const CarryArguments& arguments);
int answer_import(const CarryArguments& arguments);
int answer_backup(const CarryArguments& arguments);
int answer_sync(const CarryArguments& arguments);

}  // namespace strikebed::cli

#pragma once
// The parts of a plan that a wall sheet, a page and a picture share: which rows they show, in which order and words.
#include <optional>
#include <string>
#include <vector>

#include "season/goal.hpp"
#include "season/plan.hpp"

namespace strikebed::print {

/// Sessions in which at least one cutting is at all likely (95 % point of half a cutting or more).
[[nodiscard]] std::vector<season::SessionPlan> likely_sessions(const season::Plan& plan);
/// The likely sessions a table and its picture show, and those that would only fill it: where more than 24 are likely,
/// the ones with nothing to strike in a typical season are spare.
struct BenchDays {
  std::vector<season::SessionPlan> shown;
  std::vector<season::SessionPlan> spare;
};
[[nodiscard]] BenchDays bench_days(const season::Plan& plan);
/// One sentence for the spare days; nothing where there are none.
[[nodiscard]] std::string spare_days_words(const BenchDays& days);
/// A line of the table of days at the bench, in words.
struct BenchRow {
  Date date;  ///< not set: all sessions together, the last line where there are several
  std::string low, typical, high;
  std::vector<std::string> by_want;  ///< adds up to `typical`; empty where there is one want
  std::string time;                  ///< for the typical number
};
[[nodiscard]] std::vector<BenchRow> bench_rows(const season::Goal& goal, const season::Plan& plan);
/// What its numbers are.
[[nodiscard]] std::string bench_note(const season::Goal& goal, const season::Plan& plan);
/// The smallest number of seeds for the chosen sowing date, from the sweep.
[[nodiscard]] std::optional<int> fewest_seeds(const season::Plan& plan);
/// "chosen", "last that can do it" or nothing.
[[nodiscard]] std::string sowing_remark(const season::Plan& plan, const season::SowingPoint& point);
/// No sowing date of the sweep meets the goal: it then tells how sure each would be at best, not how many seeds.
[[nodiscard]] bool out_of_reach(const season::Plan& plan);
/// The sweep without the dates more than three weeks before the first or after the last on which the goal can be met,
/// or, where none can meet it, on which there is a chance of half a percent.
[[nodiscard]] std::vector<season::SowingPoint> telling_sweep(const season::Plan& plan);
[[nodiscard]] std::string sweep_sentence(const season::Goal& goal, const season::Plan& plan);
/// Seeds at which a picture of the sweep is cut off, so that a few hopeless dates do not flatten the rest: four times
/// the smallest. 0: no date can do it.
[[nodiscard]] int sweep_ceiling(const season::Plan& plan);
struct Need {
  std::string what;
  std::string amount;
  std::string note;
};
[[nodiscard]] std::vector<Need> need_list(const season::Goal& goal, const season::Plan& plan);
[[nodiscard]] std::string origin_words(const climate::SeasonsOrigin& origin);  ///< one sentence
[[nodiscard]] std::string weather_words(const season::Plan& plan);             ///< nothing for a plan that was not made

}  // namespace strikebed::print

#pragma once
// The sowings of a plan, the goal's own and those that it asks for, by their lots.
#include <string>
#include <string_view>
#include <vector>

#include "base/field_names.hpp"
#include "season/goal.hpp"
#include "season/plan.hpp"

namespace strikebed::print {

[[nodiscard]] std::string of_lot(std::string_view name);  ///< " of lot A"; nothing for one without a name
/// "412 seeds of lot A (5.9 g)": as a kitchen scale weighs them out, never short; without the weight where it is not
/// known.
[[nodiscard]] std::string weighed(const season::Goal& goal, const season::Lot& lot, int seeds);
[[nodiscard]] std::string on_top(const season::Goal& goal);  ///< " on top" of the goal's own sowings; nothing without
/// "about 410 seeds on top", "no more seed"
[[nodiscard]] std::string about_on_top(const season::Goal& goal, int seeds);
/// "put to chill on", or what is the same of the past.
[[nodiscard]] std::string_view chilled_words(const season::Goal& goal, const season::SowingPlan& sowing);

/// Those that the plan asks for.
[[nodiscard]] std::vector<season::SowingPlan> planned_sowings(const season::Plan& plan);

/// A line of the table of sowings, in words; by date.
struct SowingRow {
  std::string lot;  ///< empty in all where no lot has a name
  std::string sown, seeds, chilled, alive;
};
/// Nothing where the plan asks for one sowing alone: the calendar says it all.
[[nodiscard]] std::vector<SowingRow> sowing_rows(const season::Goal& goal, const season::Plan& plan);
[[nodiscard]] std::string_view sowings_note();  ///< what its columns are

/// "none", "sowing day", "room", ...: one word for files.
[[nodiscard]] std::string_view stagger_word(season::Stagger::Why why);
/// Why there are not as many sowings as the goal allows; nothing where there are.
[[nodiscard]] std::string stagger_words(const season::Goal& goal, const season::Plan& plan, const FieldNames& names);

}  // namespace strikebed::print

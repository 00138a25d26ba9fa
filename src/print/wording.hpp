#pragma once
// The plan in words, made once for the wall sheet and the page: how numbers are rounded, the answer as a sentence, what
// is needed, what limits, what to take care of.
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "season/goal.hpp"
#include "season/plan.hpp"

namespace strikebed::print {

/// A stretch of a sentence; `strong`: a number or date the grower acts on.
struct Words {
  std::string text;
  bool strong = false;
};
using Sentence = std::vector<Words>;
[[nodiscard]] std::string plain(const std::vector<Sentence>& sentences);  ///< joined by spaces, without the stress

// Numbers. A number that is not finite reads "unknown"; spaces inside are non-breaking.
[[nodiscard]] bool is_set(Date date);                 ///< false for the Date{} of a field that was not filled
[[nodiscard]] std::string date_words(Date date);      ///< "Sat 3 Apr 2027"
[[nodiscard]] std::string day_words(Date date);       ///< "Sat 3 Apr"
[[nodiscard]] std::string short_day(Date date);       ///< "3 Apr"
[[nodiscard]] std::string whole(double number);       ///< "412"
[[nodiscard]] std::string seeds_words(int seeds);     ///< "412 seeds", "1 seed"
[[nodiscard]] std::string hours_words(double hours);  ///< "0.8"; a few minutes are "0.1", none "0"
[[nodiscard]] std::string rounded(double number);     ///< three figures at most: "0.35", "5.5", "350"
[[nodiscard]] std::string rounded_up(double number);  ///< the same steps, never less than needed
[[nodiscard]] std::string percent(double share);      ///< "90 %", "99.4 %", "under 1 %", "over 99.9 %"
/// The percent of `share` with as many decimals as it takes not to read like `asked` when it is not.
[[nodiscard]] std::string percent_beside(double share, double asked);
[[nodiscard]] std::string error_words(double standard_error);               ///< "±0.3 %"
[[nodiscard]] std::string in_a_row(const std::vector<std::string>& parts);  ///< "a, b and c"

// The goal and its answer.
[[nodiscard]] std::string want_name(const season::Goal& goal,
                                    std::size_t want);  ///< "radial"; with the method if two are alike
[[nodiscard]] std::string counts_words(const season::Goal& goal, const std::vector<int>& counts);
[[nodiscard]] std::string wanted_words(const season::Goal& goal);  ///< "60 radial and 8 single-root"
[[nodiscard]] std::string state_words(season::CountAt count_at);   ///< "weaned"
/// The answer to the goal in two to four sentences.
[[nodiscard]] std::vector<Sentence> answer(const season::Goal& goal, const season::Plan& plan);
/// Sentences on the nearest goals that can be met.
[[nodiscard]] std::vector<std::string> nearest_words(const season::Goal& goal, const season::Plan& plan);
[[nodiscard]] std::string_view trust_words();                                      ///< what trust A, B and C mean
[[nodiscard]] std::string_view limit_word(season::LimitKind kind);                 ///< "date", "window", "room", ...
[[nodiscard]] std::vector<std::string> limit_sentences(const season::Plan& plan);  ///< each starts with its kind

// Parts of the plan, in the order and form in which they are shown.
/// Sessions in which at least one cutting is at all likely (95 % point of half a cutting or more).
[[nodiscard]] std::vector<season::SessionPlan> likely_sessions(const season::Plan& plan);
/// The smallest number of seeds for the chosen sowing date, from the sweep.
[[nodiscard]] std::optional<int> fewest_seeds(const season::Plan& plan);
/// "chosen", "last that can do it" or nothing.
[[nodiscard]] std::string sowing_remark(const season::Plan& plan, const season::SowingPoint& point);
/// The sweep without the dates more than three weeks before the first or after the last on which the goal can be met.
/// All of it when there is none.
[[nodiscard]] std::vector<season::SowingPoint> telling_sweep(const season::Plan& plan);
[[nodiscard]] std::string sweep_sentence(const season::Goal& goal, const season::Plan& plan);
/// Seeds at which a picture of the sweep is cut off, so that a few hopeless dates do not flatten the rest: four times
/// the smallest. 0: no date can do it.
[[nodiscard]] int sweep_ceiling(const season::Plan& plan);
[[nodiscard]] std::vector<season::Unknown> unknowns_by_worth(const season::Plan& plan);  ///< most seeds saved first
/// Whether knowing it would save one seed in a hundred or more, or tell whether the goal can be reached at all.
[[nodiscard]] bool worth_knowing(const season::Plan& plan, const season::Unknown& unknown);
/// What the small tests are and what the belief leaves out of reach, a sentence each, for those worth knowing; then one
/// sentence that names the rest.
[[nodiscard]] std::vector<std::string> unknown_notes(const season::Plan& plan);
[[nodiscard]] std::string belief_words(const season::Unknown& unknown);  ///< "65 (30 to 90) %"
[[nodiscard]] std::string worth_words(const season::Unknown& unknown);   ///< "96 seeds"
struct Need {
  std::string what;
  std::string amount;
  std::string note;
};
[[nodiscard]] std::vector<Need> need_list(const season::Goal& goal, const season::Plan& plan);
[[nodiscard]] std::string weather_words(const season::Plan& plan);

/// The usual cautions of this work. They defer to labels, local codes and licensed practice.
[[nodiscard]] const std::vector<std::string>& cautions();

[[nodiscard]] Date month_after(Date month);  ///< first day of the month after the one `month` is in

/// The season on one time line, for the text chart and the picture.
struct SeasonRow {
  std::string name;
  std::optional<season::DateSpread> band;
  std::vector<Date> marks;  ///< single days
};
struct SeasonChart {
  Date from;  ///< first day of a month
  Date to;    ///< first day of the month after the last
  std::vector<SeasonRow> rows;
  std::vector<Date> months;  ///< first days of the months from `from`
};
[[nodiscard]] SeasonChart season_chart(const season::Goal& goal, const season::Plan& plan);

}  // namespace strikebed::print

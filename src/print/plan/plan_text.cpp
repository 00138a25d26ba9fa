#include "print/plan/plan_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "print/cautions.hpp"
#include "print/number_words.hpp"
#include "print/plan/answer_words.hpp"
#include "print/plan/bench_words.hpp"
#include "print/plan/calendar_words.hpp"
#include "print/plan/goal_words.hpp"
#include "print/plan/limit_words.hpp"
#include "print/plan/plan_parts.hpp"
#include "print/plan/remark_words.hpp"
#include "print/plan/season_chart.hpp"
#include "print/plan/stage_words.hpp"
#include "print/plan/unknown_words.hpp"
#include "print/text_table.hpp"

namespace strikebed::print {
namespace {

using season::Goal;
using season::Plan;
using Rows = std::vector<std::vector<std::string>>;

constexpr std::size_t kBarCells = 20;

std::string heading(std::string_view title, std::size_t width) {
  std::string line = fmt::format("\n── {} ", title);
  for (std::size_t at = width_of(line) - 1; at < width; ++at) line += "─";
  return line + "\n";
}

std::string section(std::string_view title, const std::string& body, std::size_t width) {
  return body.empty() ? std::string() : heading(title, width) + body;
}

std::string bullets(const std::vector<std::string>& sentences, std::size_t width) {
  std::string text;
  for (const auto& sentence : sentences) text += paragraph(sentence, width, "  - ");
  return text;
}

std::string title(const Goal& goal, std::size_t width) {
  return paragraph(fmt::format("SEASON PLAN: {}, {} {} by {}", goal.species.name, wanted_words(goal),
                               state_words(goal.count_at), date_words(goal.by)),
                   width) +
         paragraph(fmt::format("Made on {}.", date_words(goal.today)), width) + "\n";
}

std::string limits_text(const Goal& goal, const Plan& plan, const FieldNames& names, std::size_t width) {
  std::string text = bullets(limit_sentences(goal, plan, names), width);
  const auto nearest = nearest_words(goal, plan);
  if (!nearest.empty()) {
    text += "  What can be met instead:\n";
    text += bullets(nearest, width);
  }
  return text;
}

std::string calendar_text(const Goal& goal, const Plan& plan, std::size_t width) {
  Rows rows;
  int year = 0;
  for (const auto& entry : plan.calendar) {
    const auto& when = entry.when;
    if (year_of(when.typical) != year) {
      year = year_of(when.typical);
      rows.push_back({"", fmt::format("{}", year), "", ""});
    }
    const bool fixed = when.early == when.late;
    rows.push_back({fixed ? "" : day_words(when.early), day_words(when.typical), fixed ? "" : day_words(when.late),
                    "[ ] " + calendar_words(goal, plan, entry)});
  }
  return table({{"Early"}, {"Typical"}, {"Late"}, {"What to do"}}, rows, width);
}

std::string rhythms_text(const Goal& goal, const Plan& plan, std::size_t width) {
  Rows rows;
  for (const RhythmRow& row : rhythm_rows(goal, plan)) {
    rows.push_back({row.name, row.days, row.seeds, row.chosen ? "◄ this plan" : ""});
  }
  if (rows.empty()) return {};
  return "\n" + paragraph(rhythm_sentence(plan), width, "  ") +
         table({{"Sessions"}, {"Days", true}, {"Seeds", true}, {""}}, rows, width);
}

std::string sessions_text(const Goal& goal, const Plan& plan, std::size_t width) {
  const bool several = goal.wants.size() > 1;
  std::vector<Column> columns = {{"Session"}, {"Low", true}, {"Typical", true}, {"High", true}};
  if (several) {
    for (std::size_t i = 0; i < goal.wants.size(); ++i) columns.push_back({want_name(goal, i), true});
  }
  columns.push_back({"Hours", true});
  Rows rows;
  const BenchDays days = bench_days(plan);
  for (const auto& session : days.shown) {
    std::vector<std::string> row = {date_words(session.date), whole(session.cuttings.low),
                                    whole(session.cuttings.typical), whole(session.cuttings.high)};
    for (std::size_t i = 0; several && i < goal.wants.size(); ++i) {
      row.push_back(i < session.by_want.size() ? whole(session.by_want[i]) : "");
    }
    row.push_back(hours_words(session.hours));
    rows.push_back(std::move(row));
  }
  std::string text = table(columns, rows, width);
  std::string spare = paragraph(spare_days_words(days), width, "  ");
  if (text.empty()) return spare;
  std::string note = "Cuttings struck: in nine seasons of ten between low and high.";
  if (several) note += " By kind and hours: for the typical number.";
  if (goal.sessions.cuttings_at_most) note += fmt::format(" At most {} in a session.", *goal.sessions.cuttings_at_most);
  return paragraph(strike_rule(plan), width, "  ") + text + spare + paragraph(note, width, "  ") +
         rhythms_text(goal, plan, width);
}

std::string chart_text(const Goal& goal, const Plan& plan, std::size_t width) {
  const SeasonChart chart = season_chart(goal, plan);
  if (chart.rows.empty()) return {};
  std::size_t names = 0;
  for (const auto& row : chart.rows) names = std::max(names, width_of(row.name));
  const std::size_t left = names + 4;
  const std::size_t cells = width > left + 20 ? width - left : 20;
  const auto days = static_cast<std::size_t>((chart.to - chart.from).count());
  const auto cell_of = [&](Date date) {
    const auto day = static_cast<std::size_t>(std::max<std::int64_t>(0, (date - chart.from).count()));
    return std::min(cells - 1, day * cells / days);
  };
  const auto line = [&](const std::string& name, const std::vector<std::string>& marks) {
    std::string text = "  " + name + std::string(names - width_of(name) + 2, ' ');
    for (const auto& mark : marks) text += mark;
    text.erase(text.find_last_not_of(' ') + 1);
    return text + "\n";
  };
  const auto write = [&](std::vector<std::string>& marks, std::size_t at, const std::string& word) {
    for (std::size_t i = 0; i < word.size() && at + i < cells; ++i) marks[at + i] = std::string(1, word[i]);
  };

  const std::vector<std::string> blank(cells, " ");
  auto years = blank;
  auto months = blank;
  const std::size_t month_cells = std::max<std::size_t>(1, cells / chart.months.size());
  const std::size_t every = (4 + month_cells - 1) / month_cells;
  for (std::size_t i = 0; i < chart.months.size(); ++i) {
    const Date month = chart.months[i];
    if (i == 0 || (month_of(month) == 1 && cell_of(month) >= 5))
      write(years, cell_of(month), fmt::format("{}", year_of(month)));
    if (i % every == 0) write(months, cell_of(month), std::string(month_name(month_of(month)).substr(0, 3)));
  }
  std::string text = line("", years) + line("", months);
  for (const auto& row : chart.rows) {
    auto marks = blank;
    for (const Date month : chart.months) marks[cell_of(month)] = "·";
    marks[cell_of(goal.by)] = "│";
    if (row.runs.empty() && row.band) {
      for (std::size_t i = cell_of(row.band->days.early); i <= cell_of(row.band_end); ++i) marks[i] = "━";
      if (row.band->days.typical <= row.band_end) marks[cell_of(row.band->days.typical)] = "●";
    }
    for (const bool usual : {false, true}) {  // a cell that holds both shows the usual day
      for (const DayRun& run : row.runs) {
        if (run.usual != usual) continue;
        for (std::size_t i = cell_of(run.first); i <= cell_of(run.last); ++i) marks[i] = usual ? "■" : "□";
      }
    }
    text += line(row.name, marks);
  }
  auto foot = blank;
  const std::string by = plain_spaces("by " + short_day(goal.by));
  const std::size_t at = cell_of(goal.by);
  write(foot, at + by.size() <= cells ? at : cells - std::min(cells, by.size()), by);
  return text + line("", foot) +
         paragraph(
             "━ from the early to the late ones (5 to 95 % of the plants), ● the middle one, ■ a sowing or a day at "
             "the "
             "bench, □ one with something to strike only in an early or late season, │ the date to meet.",
             width, "  ");
}

std::string expected_text(const Goal& goal, const Plan& plan, std::size_t width) {
  Rows rows;
  const auto spread = [](const season::Spread& s) {
    return std::vector<std::string>{whole(s.low), whole(s.typical), whole(s.high)};
  };
  const auto add = [&](std::string what, std::string asked, const season::Spread& s) {
    const auto numbers = spread(s);
    rows.push_back({std::move(what), std::move(asked), numbers[0], numbers[1], numbers[2]});
  };
  if (is_set(plan.count_date)) add("seedlings up on " + day_words(plan.count_date), "", plan.emerged);
  for (std::size_t i = 0; i < plan.counted.size(); ++i) {
    add(fmt::format("{} {} by {}", want_name(goal, i),
                    goal.count_at == season::CountAt::established ? "established" : state_words(goal.count_at),
                    day_words(goal.by)),
        i < goal.wants.size() ? fmt::format("{}", goal.wants[i].count) : "", plan.counted[i]);
  }
  std::string text =
      table({{"Counted"}, {"Asked", true}, {"Low", true}, {"Typical", true}, {"High", true}}, rows, width);
  if (text.empty()) return text;
  text += paragraph("In nine seasons of ten the count falls between low and high.", width, "  ");
  if (plan.shares.size() > 1) {
    std::vector<std::string> parts;
    for (std::size_t i = 0; i < plan.shares.size(); ++i)
      parts.push_back(percent(plan.shares[i]) + " " + want_name(goal, i));
    text += paragraph("Share the good seedlings out: " + in_a_row(parts) + ".", width, "  ");
  }
  return text;
}

std::string stages_text(const Goal& goal, const Plan& plan, std::size_t width) {
  if (plan.stages.empty() || !(plan.stages.front().plants > 0)) return {};
  Rows rows;
  for (std::size_t i = 0; i < plan.stages.size(); ++i) {
    const season::StageCount& now = plan.stages[i];
    const double lost = i > 0 ? plan.stages[i - 1].plants - now.plants : 0;
    rows.push_back({std::string(stage_words(now.stage)), whole(now.plants),
                    bar(now.plants / plan.stages.front().plants, kBarCells),
                    lost >= 0.5 ? fmt::format("{} {}", whole(lost), loss_words(now.stage)) : ""});
  }
  return table({{"Of the seeds"}, {"Plants", true}, {""}, {"Lost before"}}, rows, width) +
         paragraph("In the mean of all futures. " + best_practice_sentence(goal, plan), width, "  ");
}

/// A handful of points of the curve about the chosen number, and that number itself.
std::vector<season::CurvePoint> curve_about(const Plan& plan) {
  constexpr std::size_t kMost = 9;
  std::vector<season::CurvePoint> near;
  for (const auto& point : plan.curve) {
    if (plan.seeds == 0 || (point.seeds >= 0.4 * plan.seeds && point.seeds <= 2.5 * plan.seeds)) near.push_back(point);
  }
  std::vector<season::CurvePoint> some;
  const std::size_t step = std::max<std::size_t>(1, (near.size() + kMost - 1) / kMost);
  for (std::size_t i = 0; i < near.size(); i += step) {
    if (near[i].seeds != plan.seeds) some.push_back(near[i]);
  }
  if (plan.seeds > 0) some.push_back({plan.seeds, plan.assurance});
  std::sort(some.begin(), some.end(), [](const auto& a, const auto& b) { return a.seeds < b.seeds; });
  return some;
}

std::string curve_text(const Goal& goal, const Plan& plan, std::size_t width) {
  if (plan.curve.empty()) return {};
  Rows rows;
  for (const auto& point : curve_about(plan)) {
    const bool chosen = point.seeds == plan.seeds;
    rows.push_back({whole(point.seeds), percent_beside(point.assurance, goal.assurance),
                    bar(point.assurance, kBarCells) + (chosen ? unbroken(" ◄ this plan") : "")});
  }
  return table({{"Seeds", true}, {"How sure", true}, {""}}, rows, width);
}

std::string sweep_text(const Goal& goal, const Plan& plan, std::size_t width) {
  constexpr std::size_t kMost = 12;
  const auto sweep = telling_sweep(plan);
  const std::size_t step = std::max<std::size_t>(1, (sweep.size() + kMost - 1) / kMost);
  const double ceiling = sweep_ceiling(plan);
  const bool by_chance = out_of_reach(plan);
  Rows rows;
  for (std::size_t i = 0; i < sweep.size(); ++i) {
    const auto& point = sweep[i];
    const std::string remark = sowing_remark(plan, point);
    if (i % step != 0 && remark.empty()) continue;
    const std::string mark = remark.empty() ? "" : unbroken(" ◄ " + remark);
    const std::string at_best = percent_beside(point.best_assurance, goal.assurance);
    if (by_chance) {
      rows.push_back({date_words(point.sow), at_best, bar(point.best_assurance, kBarCells) + mark});
    } else if (point.seeds) {
      const bool cut_off = *point.seeds > ceiling;
      rows.push_back({date_words(point.sow), whole(*point.seeds),
                      bar(*point.seeds / ceiling, kBarCells) + (cut_off ? "►" : "") + mark});
    } else {
      rows.push_back({date_words(point.sow), "none", unbroken(fmt::format("at best {} sure", at_best)) + mark});
    }
  }
  const std::vector<Column> columns =
      by_chance ? std::vector<Column>{{"Sown on"}, {"Sure at best", true}, {""}}
                : std::vector<Column>{{"Sown on"}, {"Seeds", true}, {"(fewest that are enough)"}};
  return table(columns, rows, width) + paragraph(sweep_sentence(goal, plan), width, "  ");
}

std::string unknowns_text(const Goal& goal, const Plan& plan, std::size_t width) {
  if (plan.unknowns.empty()) return {};
  Rows rows;
  for (const auto& unknown : unknowns_by_worth(plan)) {
    if (worth_knowing(plan, unknown))
      rows.push_back({unknown_name(goal, unknown), belief_words(unknown), worth_words(unknown)});
  }
  return table({{"Not known"}, {"Believed (5 to 95 %)"}, {"Knowing it saves"}}, rows, width) +
         bullets(unknown_notes(goal, plan), width);
}

std::string assumed_note(const std::vector<std::string>& assumed, std::size_t width) {
  return assumed.empty() ? "" : paragraph(std::string(trust_words()), width, "  ");
}

std::string needs_text(const Goal& goal, const Plan& plan, std::size_t width) {
  if (plan.seeds <= 0) return {};
  Rows rows;
  for (const Need& need : need_list(goal, plan)) rows.push_back({need.what, need.amount, need.note});
  return table({{"What"}, {"How much", true}, {""}}, rows, width);
}

}  // namespace

std::string plan_text(const Goal& goal, const Plan& plan, const PlanNotes& notes, int width) {
  const std::size_t w = lines_of(width);
  std::string text = title(goal, w) + paragraph(plain(answer(goal, plan)), w);
  text += section(limits_title(goal, plan), limits_text(goal, plan, notes.names, w), w);
  text += section("Mind", bullets(remark_sentences(goal, plan, notes), w), w);
  text += section("Calendar", calendar_text(goal, plan, w), w);
  text += section("Days at the bench", sessions_text(goal, plan, w), w);
  text += section("The season", chart_text(goal, plan, w), w);
  text += section("What to expect", expected_text(goal, plan, w), w);
  text += section("Where the plants are lost", stages_text(goal, plan, w), w);
  text += section("How sure with other numbers of seeds", curve_text(goal, plan, w), w);
  text += section("If you sow on another day", sweep_text(goal, plan, w), w);
  text += section("What not knowing costs", unknowns_text(goal, plan, w), w);
  text += section("What it needs", needs_text(goal, plan, w), w);
  text += section("What was assumed", bullets(notes.assumed, w) + assumed_note(notes.assumed, w), w);
  text += section("Weather", paragraph(weather_words(plan), w, "  "), w);
  text += section("Take care", bullets(cautions(), w), w);
  return plain_spaces(text);
}

}  // namespace strikebed::print

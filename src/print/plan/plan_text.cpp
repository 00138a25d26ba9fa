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
#include "print/plan/lot_words.hpp"
#include "print/plan/plan_parts.hpp"
#include "print/plan/remark_words.hpp"
#include "print/plan/season_chart.hpp"
#include "print/plan/stage_words.hpp"
#include "print/plan/unknown_words.hpp"
#include "print/text_table.hpp"
#include "season/seed_search.hpp"

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
  std::string text = bullets(limit_sentences(goal, plan, names), width) + paragraph(limits_note(plan), width, "  ");
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
    rows.push_back({fixed ? "" : day_in(when.early, year), day_words(when.typical),
                    fixed ? "" : day_in(when.late, year), "[ ] " + calendar_words(goal, plan, entry)});
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
  for (std::size_t i = 0; several && i < goal.wants.size(); ++i) columns.push_back({want_name(goal, i), true});
  columns.push_back({"Time", true});
  Rows rows;
  for (const BenchRow& one : bench_rows(goal, plan)) {
    std::vector<std::string> row = {is_set(one.date) ? date_words(one.date) : "in all", one.low, one.typical, one.high};
    row.insert(row.end(), one.by_want.begin(), one.by_want.end());
    row.push_back(one.time);
    rows.push_back(std::move(row));
  }
  const std::string spare = paragraph(spare_days_words(bench_days(plan)), width, "  ");
  if (rows.empty()) return spare;
  return paragraph(strike_rule(plan), width, "  ") + table(columns, rows, width) + spare +
         paragraph(bench_note(goal, plan), width, "  ") + rhythms_text(goal, plan, width);
}

/// The season in letters: a line of cells for each row, every cell some days.
class LetterChart {
 public:
  LetterChart(const SeasonChart& chart, Date by, std::size_t width) : chart_(chart), by_(by) {
    for (const auto& row : chart.rows) names_ = std::max(names_, width_of(row.name));
    constexpr std::size_t kFewest = 20;
    const std::size_t left = names_ + 4;
    cells_ = width > left + kFewest ? width - left : kFewest;
  }

  [[nodiscard]] std::string heads() const {
    Marks years = blank();
    Marks months = blank();
    constexpr std::size_t kMonthLetters = 4;
    const std::size_t month_cells = std::max<std::size_t>(1, cells_ / chart_.months.size());
    const std::size_t every = (kMonthLetters + month_cells - 1) / month_cells;
    for (std::size_t i = 0; i < chart_.months.size(); ++i) {
      const Date month = chart_.months[i];
      if (i == 0 || (month_of(month) == 1 && cell_of(month) > kMonthLetters))
        write(years, cell_of(month), fmt::format("{}", year_of(month)));
      if (i % every == 0) write(months, cell_of(month), std::string(month_name(month_of(month)).substr(0, 3)));
    }
    return line("", years) + line("", months);
  }

  [[nodiscard]] std::string row(const SeasonRow& row) const {
    Marks marks = blank();
    for (const Date month : chart_.months) marks[cell_of(month)] = "·";
    marks[cell_of(by_)] = "│";
    if (row.runs.empty() && row.band) {
      for (std::size_t i = cell_of(row.band->days.early); i <= cell_of(row.band_end); ++i) marks[i] = "━";
      if (row.has_middle()) marks[cell_of(row.band->days.typical)] = "●";
    }
    for (const bool usual : {false, true}) {  // a cell that holds both shows the usual day
      for (const DayRun& run : row.runs) {
        if (run.usual != usual) continue;
        for (std::size_t i = cell_of(run.first); i <= cell_of(run.last); ++i) marks[i] = usual ? "■" : "□";
      }
    }
    return line(row.name, marks);
  }

  [[nodiscard]] std::string foot() const {
    Marks marks = blank();
    const std::string by = plain_spaces("by " + short_day(by_));
    const std::size_t at = cell_of(by_);
    write(marks, at + by.size() <= cells_ ? at : cells_ - std::min(cells_, by.size()), by);
    return line("", marks);
  }

 private:
  using Marks = std::vector<std::string>;

  [[nodiscard]] Marks blank() const { return Marks(cells_, " "); }
  [[nodiscard]] std::size_t cell_of(Date date) const {
    const auto days = static_cast<std::size_t>((chart_.to - chart_.from).count());
    const auto day = static_cast<std::size_t>(std::max<std::int64_t>(0, (date - chart_.from).count()));
    return std::min(cells_ - 1, day * cells_ / days);
  }
  [[nodiscard]] std::string line(const std::string& name, const Marks& marks) const {
    std::string text = "  " + name + std::string(names_ - width_of(name) + 2, ' ');
    for (const auto& mark : marks) text += mark;
    text.erase(text.find_last_not_of(' ') + 1);
    return text + "\n";
  }
  void write(Marks& marks, std::size_t at, const std::string& word) const {
    for (std::size_t i = 0; i < word.size() && at + i < cells_; ++i) marks[at + i] = std::string(1, word[i]);
  }

  const SeasonChart& chart_;
  Date by_;
  std::size_t names_ = 0;
  std::size_t cells_ = 0;
};

std::string chart_text(const Goal& goal, const Plan& plan, std::size_t width) {
  const SeasonChart chart = season_chart(goal, plan);
  if (chart.rows.empty()) return {};
  const LetterChart letters(chart, goal.by, width);
  std::string text = letters.heads();
  for (const auto& row : chart.rows) text += letters.row(row);
  return text + letters.foot() +
         paragraph(
             "━ from the early to the late ones (5 to 95 % of the plants), ● the middle one, ■ a sowing or a day at "
             "the bench, □ one with something to strike only in an early or late season, │ the date to meet.",
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
  if (is_set(plan.count_date) && sowing_rows(goal, plan).empty())
    add("seedlings alive on " + date_words(plan.count_date), "", plan.emerged);
  for (std::size_t i = 0; i < plan.counted.size(); ++i) {
    add(fmt::format("{} {} by {}", want_name(goal, i),
                    goal.count_at == season::CountAt::established ? "established" : state_words(goal.count_at),
                    date_words(goal.by)),
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
  Rows rows;
  for (const StageLine& line : stage_lines(plan)) {
    rows.push_back({line.words, fmt::format("{}", line.plants), bar(line.share, kBarCells),
                    line.lost > 0 ? fmt::format("{} {}", line.lost, line.causes) : ""});
  }
  if (rows.empty()) return {};
  return table({{"Of the seeds"}, {"Plants", true}, {""}, {"Lost before"}}, rows, width) +
         paragraph(stages_sentence(goal, plan), width, "  ");
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
  if (!plan.sowings.empty()) some.push_back({plan.seeds, plan.assurance});
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
  return table({{goal.sown.empty() ? "Seeds" : "On top", true}, {"How sure", true}, {""}}, rows, width);
}

std::string sowings_text(const Goal& goal, const Plan& plan, std::size_t width) {
  const std::vector<SowingRow> sowings = sowing_rows(goal, plan);
  const bool named = std::ranges::any_of(sowings, [](const SowingRow& row) { return !row.lot.empty(); });
  std::vector<Column> columns = {{"Sown on"}, {"Seeds", true}, {"In the cold from"}, {"Alive"}};
  if (named) columns.insert(columns.begin(), {"Lot"});
  Rows rows;
  for (const SowingRow& one : sowings) {
    rows.push_back({one.sown, one.seeds, one.chilled, one.alive});
    if (named) rows.back().insert(rows.back().begin(), one.lot);
  }
  if (rows.empty()) return {};
  return table(columns, rows, width) + paragraph(sowings_note(), width, "  ");
}

std::string sweep_text(const Goal& goal, const Plan& plan, const FieldNames& names, std::size_t width) {
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
      rows.push_back(
          {date_words(point.sow), "none",
           unbroken(fmt::format("{} sure with {}", at_best, seeds_words(season::sensible_seeds(goal)))) + mark});
    }
  }
  const std::vector<Column> columns =
      by_chance ? std::vector<Column>{{"Sown on"}, {"How sure", true}, {""}}
                : std::vector<Column>{
                      {"Sown on"}, {goal.sown.empty() ? "Seeds" : "On top", true}, {"(fewest that are enough)"}};
  return table(columns, rows, width) + paragraph(sweep_sentence(goal, plan), width, "  ") +
         paragraph(stagger_words(goal, plan, names), width, "  ");
}

std::string unknowns_text(const Goal& goal, const Plan& plan, std::size_t width) {
  if (plan.unknowns.empty()) return {};
  Rows rows;
  for (const auto& unknown : unknowns_by_worth(plan)) {
    if (worth_knowing(plan, unknown))
      rows.push_back({unknown_name(goal, unknown), belief_words(unknown), worth_words(unknown)});
  }
  return table({{"Not known"}, {"Believed (nine times in ten between)"}, {"Knowing it saves"}}, rows, width) +
         bullets(unknown_notes(goal, plan), width);
}

std::string needs_text(const Goal& goal, const Plan& plan, std::size_t width) {
  if (plan.sowings.empty()) return {};
  Rows rows;
  for (const Need& need : need_list(goal, plan)) rows.push_back({need.what, need.amount, need.note});
  return table({{"What"}, {"How much", true}, {""}}, rows, width);
}

}  // namespace

std::string plan_text(const Goal& goal, const Plan& plan, const PlanNotes& notes, int width) {
  const std::size_t w = lines_of(width);
  std::string text = title(goal, w) + paragraph(plain(answer(goal, plan)), w);
  text += section(limits_title(goal, plan), limits_text(goal, plan, notes.names, w), w);
  text += section("Please note", bullets(remark_sentences(goal, plan, notes), w), w);
  text += section("Sowings", sowings_text(goal, plan, w), w);
  text += section("Calendar", calendar_text(goal, plan, w), w);
  text += section("Days at the bench", sessions_text(goal, plan, w), w);
  text += section("The season", chart_text(goal, plan, w), w);
  text += section("What to expect", expected_text(goal, plan, w), w);
  text += section("Where the plants are lost", stages_text(goal, plan, w), w);
  text += section("How sure with other numbers of seeds", curve_text(goal, plan, w), w);
  text += section("If you sow on another day", sweep_text(goal, plan, notes.names, w), w);
  text += section("What not knowing costs", unknowns_text(goal, plan, w), w);
  text += section("What it needs", needs_text(goal, plan, w), w);
  text += section("What was assumed", bullets(notes.assumed, w), w);
  text += section("Weather and futures", paragraph(weather_words(plan), w, "  "), w);
  text += section("Take care", bullets(cautions(), w), w);
  return plain_spaces(text);
}

}  // namespace strikebed::print

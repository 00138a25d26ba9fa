#include "print/plan/plan_page.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>

#include "print/cautions.hpp"
#include "print/number_words.hpp"
#include "print/plan/answer_words.hpp"
#include "print/plan/bench_words.hpp"
#include "print/plan/calendar_words.hpp"
#include "print/plan/goal_words.hpp"
#include "print/plan/limit_words.hpp"
#include "print/plan/lot_words.hpp"
#include "print/plan/plan_parts.hpp"
#include "print/plan/plan_pictures.hpp"
#include "print/plan/remark_words.hpp"
#include "print/plan/season_chart.hpp"
#include "print/plan/stage_words.hpp"
#include "print/plan/unknown_words.hpp"
#include "print/svg.hpp"
#include "print/text_table.hpp"

namespace strikebed::print {
namespace {

using season::Goal;
using season::Plan;
using Rows = std::vector<std::vector<std::string>>;

constexpr double kSheetWide = 760;  ///< of a picture across the sheet: letters of 9 points on paper
constexpr double kPhone = 340;

/// On a screen.
constexpr std::string_view kScreenStyle = R"(
:root{color-scheme:light}
*{box-sizing:border-box}
body{margin:0;background:PAPER;color:INK;font:17px/1.5 Palatino,"Palatino Linotype","Book Antiqua","URW Palladio L",Georgia,serif;overflow-wrap:break-word}
main{max-width:1060px;margin:0 auto;padding:2.2rem 1.1rem 3rem}
.kicker{margin:0;color:QUIET}
h1{margin:.2rem 0 1rem;font-size:1.9rem;line-height:1.2;color:NEEDLE;text-wrap:balance}
h2{margin:0 0 .4rem;font-size:1.2rem;line-height:1.3;color:NEEDLE;break-after:avoid}
p{margin:.4rem 0}
.answer{font-size:1.35rem;line-height:1.5;max-width:46rem;margin:0 0 1.4rem}
.answer strong{color:CLAY;font-weight:bold}
section{margin:0 0 1.1rem;padding:1rem 1.1rem 1.1rem;background:SHEET;border:1px solid HAIRLINE;border-radius:4px}
section.mind{border-left:5px solid CLAY}
.pair{display:grid;gap:0 1.1rem;grid-template-columns:minmax(0,1fr)}
.columns{margin:0;column-gap:2.2rem}
.columns li{margin:0 0 .5rem}
.size{white-space:nowrap}
.pair>*{min-width:0}
figure{margin:.6rem 0 0;break-inside:avoid}
figure>svg{max-width:560px}
ul{margin:.3rem 0;padding-left:1.2rem}
li{margin:.25rem 0;break-inside:avoid}
.tasks{list-style:none;padding:0}
.tasks li{display:grid;grid-template-columns:1.4rem 10.5rem 1fr;gap:.1rem .7rem;padding:.45rem 0;border-top:1px solid HAIRLINE}
.box{display:block;width:1.05rem;height:1.05rem;margin-top:.25rem;border:1.5px solid QUIET;border-radius:2px}
.tasks .between{display:block;font-size:.85rem;color:QUIET}
.tasks strong{white-space:nowrap}
table{border-collapse:collapse;font-variant-numeric:tabular-nums}
tr{break-inside:avoid}
th,td{padding:.28rem 0 .28rem 1.1rem;text-align:left;vertical-align:top;border-bottom:1px solid HAIRLINE}
th:first-child,td:first-child{padding-left:0}
th{font-weight:normal;color:QUIET}
.number{text-align:right;white-space:nowrap}
.bench th.number{white-space:normal}
.bench th,.bench td{padding-top:.12rem;padding-bottom:.12rem;line-height:1.35;font-size:.92rem}
.bench .all td{border-bottom:0;font-weight:bold}
.paper,.box.paper{display:none}
.scroll{overflow-x:auto}
.note{color:QUIET;font-size:.92rem}
details{margin-top:.6rem}
summary{cursor:pointer;color:NEEDLE;padding:.2rem 0;min-height:24px}
summary:focus-visible,.scroll:focus-visible{outline:3px solid CLAY;outline-offset:2px}
.wide{display:none}
@media (min-width:760px){
 .wide{display:block}
 .narrow{display:none}
 .columns{columns:2}
 .pair{grid-template-columns:minmax(0,1fr) minmax(0,1fr)}
}
@media (max-width:480px){
 main{padding:1.2rem .7rem 2rem}
 h1{font-size:1.5rem}
 .answer{font-size:1.18rem}
 section{padding:.8rem .8rem .9rem}
 .tasks li{grid-template-columns:1.4rem 1fr}
 .tasks .what{grid-column:2}
 table{font-size:.82rem;line-height:1.4}
 th,td{padding-left:.6rem}
 .bench th,.bench td{font-size:.78rem;padding-left:.4rem}
 .bench th:first-child,.bench td:first-child,.bench .paper+th,.bench .paper+td{padding-left:0}
}
@media (max-width:359px){
 main{padding:1rem .3rem 2rem}
 section{padding:.7rem .45rem .8rem}
 .several .time{display:none}
}
)";

/// On paper: no frames, no ground, parts run on over the sheets, and there is room to tick and to write.
constexpr std::string_view kPaperStyle = R"(
@page{size:A4;margin:11mm 13mm}
@media print{
 *{print-color-adjust:exact;-webkit-print-color-adjust:exact}
 html{font-size:8.8pt}
 body{background:none;font-size:1rem;line-height:1.25}
 main{max-width:none;padding:0}
 h1{font-size:15pt;margin-bottom:.4rem}
 h2{font-size:11.5pt;margin-bottom:.2rem}
 .wide{display:block}
 .narrow{display:none}
 .columns{columns:2}
 p{break-inside:avoid}
 .note,.rule{break-after:avoid}
 .wide svg{max-width:620px}
 .pair svg{max-width:280px}
 p,li{margin-top:.12rem;margin-bottom:.12rem}
 .answer{font-size:11pt;line-height:1.35;max-width:none;margin-bottom:.5rem}
 section{padding:.25rem 0 0;margin-bottom:.3rem;background:none;border:0;border-top:1px solid SANDEDGE;border-radius:0}
 section.mind{border-left:0}
 .pair{display:block;columns:2;column-gap:8mm}
 .pair.bench{columns:1;break-inside:avoid}
 .bench figure{display:none}
 .bench table{width:100%}
 .bench th,.bench td{font-size:1rem}
 th,td{padding-top:.08rem;padding-bottom:.08rem}
 figure{margin-top:.2rem}
 .columns{font-size:.92rem}
 .columns li{margin:0 0 .15rem}
 .bench .written{width:38%;border-bottom:1px solid QUIET}
 .long .scroll{overflow:visible;columns:2;column-gap:7mm}
 .long th,.long td{padding:.02rem 0 .02rem .5rem;line-height:1.3;font-size:.92rem}
 .long .several th,.long .several td{padding-left:.28rem;font-size:.85rem}
 .long .written{width:15%}
 .longest .scroll{columns:3;column-gap:5mm}
 .longest table th,.longest table td{padding-left:.2rem;font-size:.83rem}
 .longest .time,.longest .kind{display:none}
 .tasks li{padding:.1rem 0}
 .tasks .between{display:inline;margin-left:.5rem}
 .tasks li{grid-template-columns:1.2rem 20rem 1fr}
 .box,.box.paper{display:block;width:.8rem;height:.8rem;margin-top:.15rem}
 th.paper,td.paper{display:table-cell}
 tr.paper{display:table-row;height:1.7rem}
 details,summary{display:none}
}
)";

std::string page_style() {
  std::string css = std::string(kScreenStyle) + std::string(kPaperStyle);
  css = replaced(css, "PAPER", kPaper);
  css = replaced(css, "SHEET", kSheet);
  css = replaced(css, "HAIRLINE", kHairline);
  css = replaced(css, "QUIET", kQuiet);
  css = replaced(css, "NEEDLE", kNeedle);
  css = replaced(css, "CLAY", kClay);
  css = replaced(css, "SANDEDGE", kSandEdge);
  return replaced(css, "INK", kInk);
}

/// Where a number ends that stands at `at`: "4", "0.5", "2-4". `at` itself where there is none.
std::size_t number_end(std::string_view text, std::size_t at) {
  const auto digits = [&](std::size_t from) {
    while (from < text.size() && text[from] >= '0' && text[from] <= '9') ++from;
    return from;
  };
  std::size_t end = digits(at);
  for (const char joint : {'.', '-', '.'}) {
    if (end == at || end >= text.size() || text[end] != joint) continue;
    const std::size_t further = digits(end + 1);
    if (further > end + 1) end = further;
  }
  return end;
}

/// The text as markup, with a size ("2-4 mm", "0.42 L") kept on one line. By style and not by other spaces and dashes,
/// so that a command can be copied from the page.
std::string prose(std::string_view text) {
  static constexpr std::array<std::string_view, 14> kUnits = {"mm", "cm", "m²", "m", "L",  "mL",  "mg",
                                                              "kg", "g",  "h",  "%", "°C", "ppm", "d"};
  const auto is_inside = [](char c) { return std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '-'; };
  std::string out;
  std::size_t from = 0;
  for (std::size_t at = 0; at < text.size(); ++at) {
    if (at > 0 && text[at - 1] != ' ' && text[at - 1] != '(') continue;
    std::size_t end = number_end(text, at);
    if (end == at) continue;
    for (const std::string_view unit : kUnits) {
      const std::size_t after = end + 1 + unit.size();
      if (text.substr(end).starts_with(" ") && text.substr(end + 1).starts_with(unit) &&
          (after == text.size() || !is_inside(text[after]))) {
        end = after;
        break;
      }
    }
    if (end < text.size() && is_inside(text[end])) continue;
    if (text.substr(at, end - at).find_first_of(" -") == std::string_view::npos) continue;
    out += escape_markup(text.substr(from, at - from));
    out += fmt::format("<span class=\"size\">{}</span>", escape_markup(text.substr(at, end - at)));
    from = end;
    at = end;
  }
  return out + escape_markup(text.substr(from));
}

std::string paragraph_of(std::string_view text, std::string_view style = "") {
  if (text.empty()) return {};
  return fmt::format("<p{}>{}</p>\n", style.empty() ? "" : fmt::format(" class=\"{}\"", style), prose(text));
}

std::string list_of(const std::vector<std::string>& sentences, std::string_view style = "") {
  if (sentences.empty()) return {};
  std::string html = style.empty() ? "<ul>\n" : fmt::format("<ul class=\"{}\">\n", style);
  for (const auto& sentence : sentences) html += fmt::format("<li>{}</li>\n", prose(sentence));
  html += "</ul>\n";
  return html;
}

/// A table that scrolls by itself where it is wider than the screen. Numbers to the right, as Column says.
std::string table_of(std::string_view name, const std::vector<Column>& columns, const Rows& rows) {
  if (rows.empty()) return {};
  const auto cell = [&](std::string_view tag, std::size_t c, std::string_view text) {
    return fmt::format("<{}{}{}>{}</{}>", tag, tag == "th" ? " scope=\"col\"" : "",
                       c < columns.size() && columns[c].right ? " class=\"number\"" : "", prose(text), tag);
  };
  std::string html =
      fmt::format("<div class=\"scroll\" role=\"region\" tabindex=\"0\" aria-label=\"{}\">\n<table>\n<thead><tr>",
                  escape_markup(name));
  for (std::size_t c = 0; c < columns.size(); ++c) html += cell("th", c, columns[c].head);
  html += "</tr></thead>\n<tbody>\n";
  for (const auto& row : rows) {
    html += "<tr>";
    for (std::size_t c = 0; c < row.size(); ++c) html += cell("td", c, row[c]);
    html += "</tr>\n";
  }
  html += "</tbody>\n</table>\n</div>\n";
  return html;
}

std::string section(std::string_view title, std::string_view body, std::string_view style = "") {
  if (body.empty()) return {};
  return fmt::format("<section{}>\n<h2>{}</h2>\n{}</section>\n",
                     style.empty() ? "" : fmt::format(" class=\"{}\"", style), escape_markup(title), body);
}

/// Two beside each other where the sheet is wide enough; one alone takes all of it.
std::string pair(std::string_view left, std::string_view right, std::string_view style = "pair") {
  if (left.empty() || right.empty()) return fmt::format("{}{}", left, right);
  return fmt::format("<div class=\"{}\">\n<div>\n{}</div>\n<div>\n{}</div>\n</div>\n", style, left, right);
}

/// The same picture for a sheet and for a phone.
std::string wide_or_narrow(std::string_view wide, std::string_view narrow) {
  return fmt::format("<div class=\"wide\">\n{}</div>\n<div class=\"narrow\">\n{}</div>\n", wide, narrow);
}

std::string details_of(std::string_view numbers) {
  return fmt::format("<details>\n<summary>The numbers</summary>\n{}</details>\n", numbers);
}

/// A sentence, the picture, and its numbers for those who would rather read.
std::string figure(std::string_view title, std::string_view sentence, std::string_view picture,
                   std::string_view numbers) {
  if (picture.empty() && numbers.empty()) return {};
  std::string body = paragraph_of(sentence, "note");
  if (!picture.empty()) body += fmt::format("<figure>\n{}</figure>\n", picture);
  if (!numbers.empty()) body += details_of(numbers);
  return section(title, body);
}

std::string answer_html(const Goal& goal, const Plan& plan) {
  std::string html = "<p class=\"answer\">";
  bool first = true;
  for (const Sentence& sentence : answer(goal, plan)) {
    if (!first) html += ' ';
    first = false;
    for (const Words& words : sentence) {
      html += fmt::format(fmt::runtime(words.strong ? "<strong>{}</strong>" : "{}"), escape_markup(words.text));
    }
  }
  html += "</p>\n";
  return html;
}

std::string limits_html(const Goal& goal, const Plan& plan, const FieldNames& names) {
  std::string html = list_of(limit_sentences(goal, plan, names)) + paragraph_of(limits_note(plan), "note");
  const auto nearest = nearest_words(goal, plan);
  if (!nearest.empty()) {
    html += "<p>What can be met instead:</p>\n";
    html += list_of(nearest);
  }
  return html;
}

std::string season_html(const Goal& goal, const Plan& plan) {
  const std::string wide = season_picture(goal, plan, kSheetWide, "season-wide");
  if (wide.empty()) return {};
  Rows rows;
  for (const auto& row : season_chart(goal, plan).rows) {
    if (row.band) {
      rows.push_back({row.name, date_words(row.band->days.early), date_words(row.band->days.typical),
                      date_words(row.band->days.late)});
    } else {
      for (const DayRun& run : row.runs) {
        const bool several = run.first != run.last;
        rows.push_back({row.name, several ? date_words(run.first) : "", several ? "" : date_words(run.first),
                        several ? date_words(run.last) : ""});
      }
    }
  }
  return figure(
      "The season",
      "Bands run from the early to the late ones (5 to 95 % of the plants), the dot is the middle one. Blocks "
      "are days; open ones have something to strike only in an early or late season.",
      wide_or_narrow(wide, season_picture(goal, plan, kPhone, "season-narrow")),
      table_of("The season", {{"Step"}, {"Early"}, {"Typical"}, {"Late"}}, rows));
}

std::string calendar_html(const Goal& goal, const Plan& plan) {
  if (plan.calendar.empty()) return {};
  std::string html = "<ul class=\"tasks\">\n";
  for (const auto& entry : plan.calendar) {
    const auto& when = entry.when;
    std::string between;
    if (when.early != when.late) {
      const int year = year_of(when.typical);
      const auto day = [&](Date date) { return year_of(date) == year ? short_day(date) : short_date(date); };
      between = fmt::format("<span class=\"between\">{} to {}</span>", day(when.early), day(when.late));
    }
    html += fmt::format(
        "<li><span class=\"box\" aria-hidden=\"true\"></span><div><strong>{}</strong>{}</div><div "
        "class=\"what\">{}</div></li>\n",
        date_words(when.typical), between, prose(calendar_words(goal, plan, entry)));
  }
  html += "</ul>\n";
  return html;
}

std::string rhythms_html(const Goal& goal, const Plan& plan) {
  Rows rows;
  for (const RhythmRow& row : rhythm_rows(goal, plan)) {
    rows.push_back({row.name + (row.chosen ? " (this plan)" : ""), row.days, row.seeds});
  }
  if (rows.empty()) return {};
  return paragraph_of(rhythm_sentence(plan)) +
         table_of("Sessions more or less often", {{"Sessions"}, {"days", true}, {"seeds", true}}, rows);
}

/// The table of days at the bench; on paper with a box to tick, a line to write on and two lines for other days.
std::string bench_table(const Goal& goal, const std::vector<BenchRow>& rows) {
  const bool several = goal.wants.size() > 1;
  std::string heads =
      "<th scope=\"col\" class=\"paper\">done</th><th scope=\"col\">Session</th>"
      "<th scope=\"col\" class=\"number\">low</th><th scope=\"col\" class=\"number\">typical</th>"
      "<th scope=\"col\" class=\"number\">high</th>";
  for (std::size_t i = 0; several && i < goal.wants.size(); ++i) {
    heads += fmt::format("<th scope=\"col\" class=\"number kind\">{}</th>", escape_markup(want_name(goal, i)));
  }
  heads += "<th scope=\"col\" class=\"number time\">time</th><th scope=\"col\" class=\"paper\">really struck</th>";
  std::string lines;
  const auto line = [&](std::string_view style, std::string_view box, const std::vector<std::string>& cells) {
    lines += fmt::format("<tr{}><td class=\"paper\">{}</td>", style, box);
    for (std::size_t c = 0; c < cells.size(); ++c) {
      constexpr std::size_t kBeforeKinds = 4;  // session, low, typical, high
      const std::string_view cell = c == 0                 ? ""
                                    : c < kBeforeKinds     ? " class=\"number\""
                                    : c + 1 < cells.size() ? " class=\"number kind\""
                                                           : " class=\"number time\"";
      lines += fmt::format("<td{}>{}</td>", cell, escape_markup(cells[c]));
    }
    lines += "<td class=\"paper written\"></td></tr>\n";
  };
  constexpr std::string_view kBox = "<span class=\"box paper\"></span>";
  const std::vector<std::string> other(rows.empty() ? 0 : 5 + rows.front().by_want.size());
  const auto others = [&] {
    for (int i = 0; i < 2; ++i) line(" class=\"paper\"", kBox, other);
  };
  bool summed = false;
  for (const BenchRow& row : rows) {
    std::vector<std::string> cells = {is_set(row.date) ? day_words(row.date) : "in all", row.low, row.typical,
                                      row.high};
    cells.insert(cells.end(), row.by_want.begin(), row.by_want.end());
    cells.push_back(row.time);
    summed = !is_set(row.date);
    if (summed) others();
    line(summed ? " class=\"all\"" : "", summed ? "" : kBox, cells);
  }
  if (!summed) others();
  return fmt::format(
      "<div class=\"scroll\" role=\"region\" tabindex=\"0\" aria-label=\"Days at the bench\">\n<table{}>\n<thead><tr>{}"
      "</tr></thead>\n<tbody>\n{}</tbody>\n</table>\n</div>\n",
      several ? " class=\"several\"" : "", heads, lines);
}

std::string sessions_html(const Goal& goal, const Plan& plan) {
  const std::vector<BenchRow> rows = bench_rows(goal, plan);
  const std::string spare = spare_days_words(bench_days(plan));
  if (rows.empty()) return section("Days at the bench", paragraph_of(spare));
  std::string note = bench_note(goal, plan);
  if (!spare.empty()) note += " " + spare;
  constexpr std::size_t kMostBeside = 25;  // a longer table would leave the picture alone on a long empty sheet
  constexpr std::size_t kMostInTwo = 60;   // longer, it takes three columns on paper, without kinds and times
  const bool is_long = rows.size() > kMostBeside;
  const std::string_view length = rows.size() > kMostInTwo ? "bench long longest" : "bench long";
  const std::string narrow = sessions_picture(goal, plan, kPhone, "sessions");
  const std::string picture = fmt::format(
      "<figure>\n{}<figcaption class=\"note\">Bars: a typical season; lines: from low to high.</figcaption></figure>\n",
      is_long ? wide_or_narrow(sessions_picture(goal, plan, kSheetWide, "sessions-wide"), narrow) : narrow);
  const std::string table = bench_table(goal, rows);
  return section("Days at the bench",
                 paragraph_of(strike_rule(plan), "rule") +
                     (is_long ? fmt::format("<div class=\"{}\">{}{}</div>\n", length, picture, table)
                              : pair(picture, table, "pair bench")) +
                     paragraph_of(note, "note") + rhythms_html(goal, plan));
}

std::string stages_html(const Goal& goal, const Plan& plan) {
  const std::string picture = stages_picture(plan);
  if (picture.empty()) return {};
  return section("Where the plants are lost",
                 paragraph_of(stages_sentence(goal, plan), "note") + fmt::format("<figure>\n{}</figure>\n", picture));
}

std::string counted_html(const Goal& goal, const Plan& plan) {
  if (plan.counted.empty()) return "";
  Rows rows;
  const bool at_once = is_set(plan.count_date) && sowing_rows(goal, plan).empty();
  if (at_once) {
    rows.push_back({"seedlings alive on " + date_words(plan.count_date), "", whole(plan.emerged.low),
                    whole(plan.emerged.typical), whole(plan.emerged.high)});
  }
  for (std::size_t i = 0; i < plan.counted.size(); ++i) {
    rows.push_back({want_name(goal, i), i < goal.wants.size() ? fmt::format("{}", goal.wants[i].count) : "",
                    whole(plan.counted[i].low), whole(plan.counted[i].typical), whole(plan.counted[i].high)});
  }
  std::string sentence = "Green: where the count falls in nine seasons of ten; dot: the middle; red: what was asked.";
  if (at_once) {
    sentence += fmt::format(" On {} you should find {} seedlings alive ({} to {}).", date_words(plan.count_date),
                            whole(plan.emerged.typical), whole(plan.emerged.low), whole(plan.emerged.high));
  }
  return figure(fmt::format("Plants {} by {}", state_words(goal.count_at), date_words(goal.by)), sentence,
                counted_picture(goal, plan),
                table_of("Plants to expect",
                         {{"Counted"}, {"Asked", true}, {"Low", true}, {"Typical", true}, {"High", true}}, rows));
}

std::string curve_html(const Goal& goal, const Plan& plan) {
  Rows rows;
  for (const auto& point : plan.curve)
    rows.push_back({whole(point.seeds), percent_beside(point.assurance, goal.assurance)});
  std::string sentence = "How sure you are of the whole goal with more or fewer seeds, sown on the same day.";
  if (plan.seeds_low > 0 && plan.seeds_high > plan.seeds_low) {
    sentence += fmt::format(" Shaded: {} to {} seeds, which the calculation cannot tell apart.", plan.seeds_low,
                            plan.seeds_high);
  }
  return figure("More seeds, or fewer", sentence, curve_picture(goal, plan),
                table_of("How sure, by number of seeds", {{"Seeds", true}, {"How sure", true}}, rows));
}

std::string sowings_html(const Goal& goal, const Plan& plan) {
  Rows rows;
  for (const SowingRow& one : sowing_rows(goal, plan)) {
    rows.push_back({one.lot, one.sown, one.seeds, one.chilled, one.alive});
  }
  const bool named = std::ranges::any_of(rows, [](const auto& row) { return !row.front().empty(); });
  std::vector<Column> columns = {{"Lot"}, {"Sown on"}, {"Seeds", true}, {"In the cold from"}, {"Alive"}};
  if (!named) {
    columns.erase(columns.begin());
    for (auto& row : rows) row.erase(row.begin());
  }
  if (rows.empty()) return {};
  return section("Sowings", table_of("Sowings", columns, rows) + paragraph_of(sowings_note(), "note"));
}

std::string sweep_html(const Goal& goal, const Plan& plan, const FieldNames& names) {
  Rows rows;
  for (const auto& point : plan.sweep) {
    rows.push_back({date_words(point.sow), point.seeds ? whole(*point.seeds) : "none is enough",
                    percent_beside(point.best_assurance, goal.assurance), sowing_remark(plan, point)});
  }
  std::string sentence = sweep_sentence(goal, plan);
  if (const std::string stagger = stagger_words(goal, plan, names); !stagger.empty()) sentence += " " + stagger;
  return figure("Sown on another day", sentence, sweep_picture(goal, plan),
                table_of("Seeds by sowing date", {{"Sown on"}, {"Seeds", true}, {"How sure", true}, {""}}, rows));
}

std::string unknowns_html(const Goal& goal, const Plan& plan) {
  Rows rows;
  for (const auto& unknown : unknowns_by_worth(plan)) {
    rows.push_back(
        {unknown_name(goal, unknown), belief_words(unknown), worth_words(unknown), percent(unknown.unreachable_share)});
  }
  if (rows.empty()) return {};
  const std::string picture = unknowns_picture(goal, plan);
  return section(
      "What not knowing costs",
      paragraph_of("Seeds you would save if you knew each of these, and the small test that would tell most of it.",
                   "note") +
          (picture.empty() ? "" : fmt::format("<figure>\n{}</figure>\n", picture)) +
          list_of(unknown_notes(goal, plan)) +
          details_of(table_of(
              "What not knowing costs",
              {{"Not known"}, {"Believed (nine times in ten between)"}, {"Saves"}, {"Out of reach", true}}, rows)));
}

std::string needs_html(const Goal& goal, const Plan& plan) {
  if (plan.sowings.empty()) return {};
  Rows rows;
  for (const Need& need : need_list(goal, plan)) rows.push_back({need.what, need.amount, need.note});
  return table_of("What it needs", {{"What"}, {"How much", true}, {""}}, rows);
}

}  // namespace

std::string plan_page(const Goal& goal, const Plan& plan, const PlanNotes& notes) {
  const std::string title =
      fmt::format("{} {} by {}", wanted_words(goal), state_words(goal.count_at), date_words(goal.by));
  std::string html = fmt::format(
      "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
      "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>Season plan: "
      "{}</title>\n<style>{}{}</style>\n"
      "</head>\n<body>\n<main>\n",
      escape_markup(title), page_style(), picture_style());
  html +=
      paragraph_of(fmt::format("Season plan for {}, made on {}", goal.species.name, date_words(goal.today)), "kicker");
  html += fmt::format("<h1>{}</h1>\n", escape_markup(title));
  html += answer_html(goal, plan);
  html += section(limits_title(goal, plan), limits_html(goal, plan, notes.names), "mind");
  html += section("Please note", list_of(remark_sentences(goal, plan, notes)), "mind");
  html += season_html(goal, plan);
  html += sowings_html(goal, plan);
  html += section("Calendar", calendar_html(goal, plan));
  html += section("What it needs", needs_html(goal, plan));
  html += sessions_html(goal, plan);
  html += section("Take care", list_of(cautions(), "columns"));
  // Two columns of about the same length; the long lists under them span the sheet.
  html += pair(counted_html(goal, plan) + stages_html(goal, plan) + curve_html(goal, plan),
               unknowns_html(goal, plan) + sweep_html(goal, plan, notes.names) +
                   section("Weather and futures", paragraph_of(weather_words(plan))));
  html += section("What was assumed", list_of(notes.assumed, "columns"));
  html += "</main>\n</body>\n</html>\n";
  return html;
}

}  // namespace strikebed::print

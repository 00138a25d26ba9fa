#include "print/plan/plan_page.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <limits>
#include <set>
#include <string>
#include <vector>

#include "print/plan/plan_pictures.hpp"
#include "print/text_table.hpp"
#include "tests/print/example_plan.hpp"

namespace strikebed::print {
namespace {

bool holds(const std::string& text, const std::string& part) { return text.find(part) != std::string::npos; }

/// What is wrong with the markup: a tag that is never closed, closed twice or in the wrong order, an id used twice, an
/// attribute without quotes, a stray < or &. Empty when nothing is. Enough for markup without comments or scripts.
std::string markup_fault(const std::string& html) {
  const std::set<std::string> never_closed = {"meta", "!DOCTYPE"};
  std::vector<std::string> open;
  std::set<std::string> ids;
  for (std::size_t at = 0; at < html.size(); ++at) {
    if (html[at] == '&') {
      const std::size_t end = html.find(';', at);
      const std::string name = html.substr(at, end - at + 1);
      if (!std::set<std::string>{"&amp;", "&lt;", "&gt;", "&quot;", "&#39;"}.contains(name))
        return "stray & before " + name.substr(0, 20);
    }
    if (html[at] != '<') continue;
    const std::size_t end = html.find('>', at);
    if (end == std::string::npos) return "a tag without an end";
    std::string tag = html.substr(at + 1, end - at - 1);
    if (tag.find('<') != std::string::npos) return "stray < in " + tag;
    at = end;
    if (tag.starts_with("/")) {
      if (open.empty() || open.back() != tag.substr(1)) return "closed but not open: " + tag;
      open.pop_back();
      continue;
    }
    if (std::count(tag.begin(), tag.end(), '"') % 2 != 0) return "unbalanced quotes in " + tag;
    const std::size_t id = tag.find(" id=\"");
    if (id != std::string::npos) {
      const std::string name = tag.substr(id + 5, tag.find('"', id + 5) - id - 5);
      if (!ids.insert(name).second) return "id used twice: " + name;
    }
    const std::string name = tag.substr(0, tag.find(' '));
    if (tag.ends_with("/") || never_closed.contains(name)) continue;
    open.push_back(name);
    if (name == "style") at = html.find("</style>", at) - 1;
  }
  return open.empty() ? "" : "never closed: " + open.back();
}

/// A shape of a picture: where it is and how wide, by class.
struct Shape {
  std::string style;
  double x = 0;
  double width = 0;
};
std::vector<Shape> shapes(const std::string& picture, const std::string& tag) {
  std::vector<Shape> found;
  for (std::size_t at = picture.find("<" + tag + " "); at != std::string::npos;
       at = picture.find("<" + tag + " ", at + 1)) {
    const std::string head = picture.substr(at, picture.find('>', at) - at);
    const auto value = [&](const std::string& key) {
      const std::size_t from = head.find(" " + key + "=\"");
      return from == std::string::npos ? std::string("0") : head.substr(from + key.size() + 3);
    };
    const std::string style = value("class");
    Shape shape{style.substr(0, style.find('"')), std::stod(value(tag == "line" ? "x1" : "x")),
                std::stod(value("width"))};
    if (tag == "text") {
      constexpr double kLetter = 6.5;  // narrower than the widest the picture allows for
      const std::size_t end = picture.find("</text>", at);
      const std::size_t from = picture.find('>', at) + 1;
      shape.width = kLetter * static_cast<double>(width_of(picture.substr(from, end - from)));
      if (head.find("\"middle\"") != std::string::npos) shape.x -= shape.width / 2;
      if (head.find("\"end\"") != std::string::npos) shape.x -= shape.width;
    }
    found.push_back(shape);
  }
  return found;
}
std::vector<Shape> shapes(const std::string& picture, const std::string& tag, const std::string& style) {
  std::vector<Shape> found = shapes(picture, tag);
  std::erase_if(found, [&](const Shape& shape) { return shape.style != style; });
  return found;
}

/// A plan with a session on each of many days, most of them with nothing to strike in a typical season.
season::Plan many_days_plan() {
  season::Plan plan = example_plan();
  plan.sessions.clear();
  for (int day = 0; day < 70; ++day) {
    const double typical = day >= 25 && day < 32 ? 2 : 0;
    plan.sessions.push_back({make_date(2027, 4, 1) + Days{day}, {0, typical, 3}, {typical, 0}, 0.1});
  }
  return plan;
}

std::string shown(const std::string& html) { return plain_spaces(html); }

}  // namespace

TEST(PlanPage, CheckerFindsFaults) {
  EXPECT_EQ(markup_fault("<p id=\"a\">x &amp; y<br/></p>"), "");
  EXPECT_NE(markup_fault("<p><b>x</p></b>"), "");
  EXPECT_NE(markup_fault("<p>x"), "");
  EXPECT_NE(markup_fault("<p>x & y</p>"), "");
  EXPECT_NE(markup_fault("<p id=\"a\"></p><p id=\"a\"></p>"), "");
}

// Covers  every shape of plan gives well-formed markup: met, not met, seeds in hand, one want, nothing filled.
TEST(PlanPage, IsWellFormed) {
  season::Goal hand = example_goal();
  hand.seeds_in_hand = 300;
  season::Goal one = example_goal();
  one.wants.resize(1);
  EXPECT_EQ(markup_fault(plan_page(example_goal(), example_plan(), example_notes())), "");
  EXPECT_EQ(markup_fault(plan_page(example_goal(), unmet_plan(), {})), "");
  EXPECT_EQ(markup_fault(plan_page(hand, example_plan(), {})), "");
  EXPECT_EQ(markup_fault(plan_page(one, example_plan(), {})), "");
  EXPECT_EQ(markup_fault(plan_page(season::Goal{}, empty_plan(), {})), "");
}

TEST(PlanPage, StartsWithTheAnswerAsASentence) {
  const std::string html = shown(plan_page(example_goal(), example_plan(), {}));
  EXPECT_TRUE(holds(
      html,
      "<p class=\"answer\">Sow <strong>412 seeds</strong> (5.5 g) on <strong>Sat 3 Apr 2027</strong>, put to chill "
      "on <strong>Wed 17 Feb 2027</strong>. You are then <strong>90 % sure</strong> of at least "
      "<strong>60 radial and 8 single-root</strong> weaned by <strong>Fri 1 Oct 2027</strong>."));
  EXPECT_LT(html.find("class=\"answer\""), html.find("<svg"));
}

// Covers  the page loads nothing and runs nothing.
TEST(PlanPage, NeedsNothingElse) {
  const std::string html = plan_page(example_goal(), example_plan(), example_notes());
  for (const char* outside : {"http", "<script", "<link", "src=", "@import", "url("})
    EXPECT_FALSE(holds(html, outside)) << outside;
}

// Covers  text from a goal file, a profile or a weather file cannot become markup.
TEST(PlanPage, EscapesWhatComesFromFiles) {
  const std::string evil = "<script>alert('1 & \"2\"')</script>\x01";
  season::Goal goal = example_goal();
  goal.species.name = evil;
  goal.wants[0].base_form = evil;
  season::Plan plan = unmet_plan();
  plan.weather.record = evil;
  const std::string html = plan_page(goal, plan, {{evil}, {evil}});
  EXPECT_EQ(markup_fault(html), "");
  EXPECT_FALSE(holds(html, "<script"));
  EXPECT_FALSE(holds(html, "\x01"));
  EXPECT_TRUE(holds(html, "&lt;script&gt;alert(&#39;1 &amp; &quot;2&quot;&#39;)&lt;/script&gt;"));
}

// Covers  each picture has a title and a description, and a table of its numbers somewhere on the page.
TEST(PlanPage, SaysEveryPictureInWords) {
  const season::Goal goal = example_goal();
  const season::Plan plan = example_plan();
  for (const std::string& picture :
       {season_picture(goal, plan, 1000, "s"), curve_picture(goal, plan), sweep_picture(goal, plan),
        sessions_picture(goal, plan, 390, "b"), unknowns_picture(goal, plan), counted_picture(goal, plan)}) {
    EXPECT_TRUE(picture.starts_with("<svg role=\"img\"")) << picture.substr(0, 40);
    EXPECT_TRUE(holds(picture, "<title id="));
    EXPECT_TRUE(holds(picture, "<desc id="));
    EXPECT_EQ(markup_fault(picture), "");
  }
  const std::string html = shown(plan_page(goal, plan, {}));
  for (const char* name : {"The season", "How sure, by number of seeds", "Seeds by sowing date", "Days at the bench",
                           "What not knowing costs", "Plants to expect"}) {
    EXPECT_TRUE(holds(html, "aria-label=\"" + std::string(name) + "\"")) << name;
  }
  EXPECT_TRUE(holds(html,
                    "<desc id=\"curve-desc\">From 13 % with 100 seeds to 98 % with 1200 seeds. Asked: 90 %. This plan: "
                    "90 % with 412 seeds.</desc>"));
  EXPECT_TRUE(holds(html, "Sat 29 May: 41 (14 to 48)."));
  EXPECT_TRUE(holds(html, "radial: 60 asked, 92 expected (52 to 131)."));
}

// Covers  where no sowing date can do it, the picture shows how sure each is at best, beside what was asked.
TEST(PlanPage, ShowsHowSureWhereNoDateCanDoIt) {
  const std::string picture = sweep_picture(example_goal(), unmet_plan());
  EXPECT_EQ(markup_fault(picture), "");
  EXPECT_TRUE(holds(picture, "How sure, by sowing date"));
  EXPECT_TRUE(holds(picture, "asked: 90"));
  EXPECT_FALSE(holds(picture, "class=\"cross\""));
  season::Plan hopeless = unmet_plan();
  for (auto& point : hopeless.sweep) point.best_assurance = 0.001;
  EXPECT_EQ(sweep_picture(example_goal(), hopeless), "");
}

// Covers  every picture with axes says what they are; a name at each band is whole, on a phone too.
TEST(PlanPage, NamesItsAxes) {
  const season::Goal goal = example_goal();
  const season::Plan plan = example_plan();
  for (const char* name : {">how sure<", ">seeds<"}) EXPECT_TRUE(holds(curve_picture(goal, plan), name)) << name;
  for (const char* name : {">seeds<", ">sown on"}) EXPECT_TRUE(holds(sweep_picture(goal, plan), name)) << name;
  for (const char* name : {">cuttings<", ">session on<"})
    EXPECT_TRUE(holds(sessions_picture(goal, plan, 340, "b"), name)) << name;
  EXPECT_TRUE(holds(counted_picture(goal, plan), ">plants weaned<"));
  const std::string phone = shown(season_picture(goal, plan, 340, "s"));
  for (const char* label : {">sessions, 8 days<", ">22 May to 13 Jun<", ">rooting<", ">14 Jun to 9 Aug<"})
    EXPECT_TRUE(holds(phone, label)) << label;
}

// Covers  on paper every session has a box to tick and a line for what was really struck, two more lines are for other
// days, and nothing of that is on a screen.
TEST(PlanPage, HasRoomToWriteOnPaper) {
  const std::string html = plan_page(example_goal(), example_plan(), {});
  const auto count = [&](const std::string& part) {
    int found = 0;
    for (std::size_t at = html.find(part); at != std::string::npos; at = html.find(part, at + 1)) ++found;
    return found;
  };
  EXPECT_EQ(count("<span class=\"box paper\">"), 8 + 2);
  EXPECT_EQ(count("<td class=\"paper written\">"), 8 + 2 + 1);
  EXPECT_TRUE(holds(html, ">really struck</th>"));
  EXPECT_TRUE(holds(html, ".paper,.box.paper{display:none}"));
}

// Covers  the days of the table as in the text: low, typical and high by these names, and all of them together.
TEST(PlanPage, SaysTheSameAsTheText) {
  const std::string html = shown(plan_page(example_goal(), example_plan(), {}));
  EXPECT_TRUE(holds(html,
                    "<td>in all</td><td class=\"number\">150</td><td class=\"number\">212</td>"
                    "<td class=\"number\">262</td><td class=\"number kind\">188</td><td class=\"number kind\">24</td>"
                    "<td class=\"number time\">14.3 h</td>"));
}

// Covers  a size is kept on one line by its style: what is copied from the page stays as it was typed.
TEST(PlanPage, KeepsSizesOnOneLine) {
  const PlanNotes notes{{}, {"use grit of 0.5-1 mm (3.2 L), on 2027-04-03, --target 650 ppm"}};
  const std::string html = plan_page(example_goal(), example_plan(), notes);
  EXPECT_TRUE(holds(html,
                    "<li>use grit of <span class=\"size\">0.5-1 mm</span> (<span class=\"size\">3.2 L</span>), on "
                    "2027-04-03, --target <span class=\"size\">650 ppm</span></li>"));
  EXPECT_TRUE(holds(html, "Grit <span class=\"size\">3-4 mm</span>"));
}

// Covers  the many days of a goal that may be struck on any weekday: table and picture show those of a typical season,
// a sentence the others; the chart of the season draws days in a row as one block.
TEST(PlanPage, SumsUpManyDays) {
  const season::Plan plan = many_days_plan();
  const std::string html = shown(plan_page(example_goal(), plan, {}));
  EXPECT_TRUE(holds(html, "<td>Mon 26 Apr</td>"));
  EXPECT_FALSE(holds(html, "<td>Sun 25 Apr</td>"));
  EXPECT_TRUE(holds(
      html,
      "On 63 more days, from Thu 1 Apr 2027 to Wed 9 Jun 2027, some may be ready in an early or late season, rarely "
      "more than 3 a day."));
  EXPECT_EQ(shapes(sessions_picture(example_goal(), plan, 390, "b"), "rect", "needle").size(), 7U + 1U);  // and legend
  const std::string season = season_picture(example_goal(), plan, 390, "s");
  EXPECT_EQ(shapes(season, "rect", "spare").size(), 2U);
  EXPECT_EQ(shapes(season, "rect", "clay").size(), 2U);  // the cutting window and the usual days
}

/// A plan with something to strike on each of so many days.
season::Plan full_days_plan(int days) {
  season::Plan plan = example_plan();
  plan.sessions.clear();
  for (int day = 0; day < days; ++day) {
    plan.sessions.push_back({make_date(2027, 4, 1) + Days{day}, {4, 8, 8}, {8, 0}, 0.1});
  }
  return plan;
}

// Covers  a long table of days runs in two columns on paper, a very long one in three, so that the whole page takes
// three
//         sheets. How many it takes was counted by printing: 62 and 134 days, one and two kinds of foot.
TEST(PlanPage, SetsManyDaysInColumnsOnPaper) {
  const auto table = [](int days) {
    const std::string html = plan_page(example_goal(), full_days_plan(days), {});
    const std::size_t at = html.find("class=\"bench ");
    return at == std::string::npos ? std::string() : html.substr(at + 7, html.find('"', at + 7) - at - 7);
  };
  EXPECT_EQ(table(20), "");
  EXPECT_EQ(table(40), "bench long");
  EXPECT_EQ(table(100), "bench long longest");
  const std::string html = plan_page(example_goal(), full_days_plan(100), {});
  EXPECT_TRUE(holds(html, ".long .scroll{overflow:visible;columns:2"));
  EXPECT_TRUE(holds(html, ".longest .scroll{columns:3"));
  EXPECT_TRUE(holds(html, "<td class=\"number kind\">8</td>"));
}

TEST(PlanPage, SaysDaysThatAreAllSpare) {
  season::Plan plan = many_days_plan();
  for (auto& session : plan.sessions) session.cuttings = {0, 0, 1};
  EXPECT_TRUE(
      holds(shown(plan_page(example_goal(), plan, {})), "<p>On 70 days, from Thu 1 Apr 2027 to Wed 9 Jun 2027, some"));
  EXPECT_EQ(sessions_picture(example_goal(), plan, 390, "b"), "");
}

// Covers  words of the season's picture stay on it and off the line of the date to meet, wherever that falls and
// whatever the months.
TEST(PlanPage, KeepsWordsOfTheSeasonApart) {
  for (int later = 0; later < 365; later += 9) {
    season::Goal goal = example_goal();
    goal.by = make_date(2027, 6, 1) + Days{later};
    for (const double width : {390.0, 1000.0}) {
      const std::string picture = season_picture(goal, example_plan(), width, "s");
      const auto lines = shapes(picture, "line", "date-line");
      ASSERT_EQ(lines.size(), 1U);
      for (const std::string style : {"quiet", "strong", "on-dark", "on-light"}) {
        for (const Shape& words : shapes(picture, "text", style)) {
          EXPECT_GE(words.x, 0) << later;
          EXPECT_LE(words.x + words.width, width) << later << " " << style;
        }
      }
      for (const std::string style : {"on-dark", "on-light"}) {
        for (const Shape& words : shapes(picture, "text", style))
          EXPECT_FALSE(words.x < lines[0].x && words.x + words.width > lines[0].x) << later;
      }
    }
  }
}

// Covers  the cutting window is drawn to the date to meet; its numbers stay as they are.
TEST(PlanPage, CutsTheWindowAtTheDate) {
  season::Goal goal = example_goal();
  goal.by = make_date(2027, 6, 10);
  const std::string html = shown(plan_page(goal, example_plan(), {}));
  EXPECT_TRUE(holds(html, ">from 17 May</text>"));
  EXPECT_TRUE(holds(html, "<td>cutting window</td><td>Mon 17 May 2027</td><td>Wed 2 Jun 2027</td><td>Fri 18 Jun 2027"));
}

// Covers  sowing dates that are unevenly apart: no bar reaches into the next.
TEST(PlanPage, DrawsSowingDatesApart) {
  season::Plan plan = example_plan();
  const Date from = make_date(2027, 3, 4);
  plan.sweep.clear();
  for (const int day : {0, 7, 14, 21, 22, 23, 24, 31, 33, 60}) plan.sweep.push_back({from + Days{day}, 412, 0.9});
  const auto bars = shapes(sweep_picture(example_goal(), plan), "rect");
  ASSERT_EQ(bars.size(), plan.sweep.size());
  for (std::size_t i = 0; i + 1 < bars.size(); ++i) EXPECT_LT(bars[i].x + bars[i].width, bars[i + 1].x) << i;
}

// Covers  in a plan without pictures no part stands alone in a half.
TEST(PlanPage, LeavesNoHalfSheetEmpty) {
  season::Plan plan = empty_plan();
  plan.weather = example_plan().weather;
  plan.futures = 6000;
  const std::string html = plan_page(example_goal(), plan, example_notes());
  EXPECT_FALSE(holds(html, "<div class=\"pair"));
  EXPECT_TRUE(holds(html, "The weather of 14 whole seasons"));
}

TEST(PlanPage, LeavesOutPicturesWithoutNumbers) {
  EXPECT_EQ(curve_picture(example_goal(), empty_plan()), "");
  EXPECT_EQ(sweep_picture(example_goal(), empty_plan()), "");
  EXPECT_EQ(sessions_picture(example_goal(), empty_plan(), 390, "b"), "");
  EXPECT_EQ(unknowns_picture(example_goal(), empty_plan()), "");
  EXPECT_EQ(counted_picture(example_goal(), empty_plan()), "");
  EXPECT_FALSE(holds(plan_page(example_goal(), empty_plan(), {}), "<svg"));
}

// Covers  numbers that are none never reach the page as such, in words or as places in a picture.
TEST(PlanPage, ShowsNoNumberThatIsNone) {
  const double nothing = std::numeric_limits<double>::quiet_NaN();
  const double endless = std::numeric_limits<double>::infinity();
  season::Plan plan = example_plan();
  plan.assurance = nothing;
  plan.curve[2].assurance = nothing;
  plan.sessions[1].cuttings = {nothing, 3, 12};
  plan.sessions[2].cuttings = {1, nothing, endless};
  plan.sessions[3].hours = endless;
  plan.counted[0] = {nothing, endless, endless};
  plan.needs.bench_m2 = nothing;
  plan.unknowns[0].unreachable_share = nothing;
  for (const season::Plan& one : {plan, unmet_plan(), empty_plan()}) {
    const std::string html = plan_page(example_goal(), one, {});
    EXPECT_EQ(markup_fault(html), "");
    for (const char* none : {"nan", "NaN", "inf\"", "inf ", "infinity", "-inf"})
      EXPECT_FALSE(holds(html, none)) << none;
  }
}

}  // namespace strikebed::print

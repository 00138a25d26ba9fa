// On which days there is time at the bench, and for how many cuttings.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "base/nearest.hpp"
#include "nursery/goal/reading.hpp"
#include "season/needs.hpp"

namespace strikebed::nursery {
namespace {

using season::Want;

constexpr std::array<std::string_view, 7> kWeekdays{"Monday", "Tuesday",  "Wednesday", "Thursday",
                                                    "Friday", "Saturday", "Sunday"};

/// Every day meant between today's year and the end of the season, in order.
std::vector<Date> days_of_season(const std::vector<WrittenDay>& written, Date today, Date by) {
  std::vector<Date> days;
  for (const WrittenDay& day : written) {
    if (day.year) {
      days.push_back(day.in_year(*day.year));
      continue;
    }
    for (int year = year_of(today); year <= year_of(by) + 1; ++year) days.push_back(day.in_year(year));
  }
  std::sort(days.begin(), days.end());
  days.erase(std::unique(days.begin(), days.end()), days.end());
  return days;
}

void read_room(Reading& reading, const TomlTable& table) {
  season::Goal& goal = reading.goal();
  const bool both = table.has_all({"cuttings_at_most", "hours_at_most"});
  goal.sessions.cuttings_at_most = table.whole("cuttings_at_most", 1, kMostPlants);
  const NumberRange hours_a_day{.low = 0, .high = 24, .low_excluded = true, .of_what = "hours"};
  const auto hours = table.number("hours_at_most", hours_a_day);
  if (both) {
    table.fail("hours_at_most", "found beside cuttings_at_most", "one of the two");
  } else if (hours && !goal.wants.empty()) {
    const auto slower = [](const Want& a, const Want& b) {
      return season::seconds_per_cutting(a.method) < season::seconds_per_cutting(b.method);
    };
    const Want& slowest = *std::max_element(goal.wants.begin(), goal.wants.end(), slower);
    const double seconds = season::seconds_per_cutting(slowest.method);
    const int cuttings = static_cast<int>(std::min(std::floor(*hours * 3600 / seconds), double{kMostPlants}));
    if (cuttings < 1) {
      table.fail("hours_at_most", "found " + table.found("hours_at_most"),
                 fmt::format("at least the {:.0f} seconds that one cutting takes", std::ceil(seconds)));
    } else {
      goal.sessions.cuttings_at_most = cuttings;
      reading.assume(fmt::format("{} cuttings in a session of {:.3g} hours: {:.0f} seconds each by the method \"{}\".",
                                 cuttings, *hours, seconds, slowest.method.id));
    }
  }
}

/// Shares of the struck cuttings that the method itself uses up; the largest of the wanted methods when left out.
void read_used_up(Reading& reading, const std::optional<TomlTable>& table) {
  season::Goal& goal = reading.goal();
  for (const Want& want : goal.wants) {
    goal.controls = std::max(goal.controls, want.method.controls);
    goal.lifted = std::max(goal.lifted, want.method.lifted);
  }
  if (!table) return;
  const NumberRange share{.low = 0, .high = 0.9, .of_what = "a share of the cuttings struck"};
  goal.controls = table->number("controls", share).value_or(goal.controls);
  goal.lifted = table->number("lifted", share).value_or(goal.lifted);
  if (goal.controls + goal.lifted > share.high) {
    table->fail("", fmt::format("controls {} and lifted {} leave too few to count", goal.controls, goal.lifted),
                fmt::format("together at most {}", share.high));
  }
}

}  // namespace

void read_sessions(Reading& reading) {
  const auto table = reading.root.table("sessions");
  read_used_up(reading, table);
  if (!table) {
    reading.assume(
        "The plan chooses how often there is a session, each with room for all that are ready: [sessions] is left "
        "out.");
    return;
  }
  season::Sessions& sessions = reading.goal().sessions;
  if (const auto names = table->texts("weekdays")) {
    sessions.weekdays.fill(false);
    for (const std::string& name : *names) {
      if (const auto day = parse_weekday(name)) {
        sessions.weekdays.at(static_cast<std::size_t>(*day - 1)) = true;
      } else {
        table->fail("weekdays", fmt::format("found \"{}\"{}", name, did_you_mean(name, kWeekdays)), listed(kWeekdays));
      }
    }
  }
  const Date by = reading.goal().by;
  if (const auto written = table->days("dates")) {
    std::vector<Date> dates = days_of_season(*written, reading.today, by);
    std::erase_if(dates, [&](Date day) { return day < reading.today; });
    if (dates.empty()) {
      table->fail("dates", "found no date that is still to come",
                  "one or more dates from " + to_iso(reading.today) + " on");
    }
    sessions.dates = std::move(dates);
  }
  if (table->has_all({"weekdays", "dates"})) table->fail("dates", "found beside weekdays", "one of the two");
  if (const auto written = table->days("not_on")) sessions.not_on = days_of_season(*written, reading.today, by);
  sessions.sowings_at_most = table->whole("sowings_at_most", 1, season::kMostSowings).value_or(1);
  read_room(reading, *table);
  sessions.days_said = table->has_any({"weekdays", "dates"});
  if (!sessions.days_said)
    reading.assume("The plan chooses how often there is a session: weekdays and dates are left out.");
}

}  // namespace strikebed::nursery

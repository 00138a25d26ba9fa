#include "print/wording.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>

#include "print/text_table.hpp"

namespace strikebed::print {
namespace {

constexpr std::string_view kUnknown = "unknown";
constexpr double kWorthSaying = 0.01;  ///< an assurance below is no nearest goal

/// Steps of 0.01 below 1, 0.1 below 10, 1 above.
int decimals_for(double number) {
  const double size = std::abs(number);
  return size < 0.995 ? 2 : size < 9.95 ? 1 : 0;
}

std::string fixed(double number, int decimals) {
  std::string text = fmt::format("{:.{}f}", number, decimals);
  if (decimals > 0) {
    text.erase(text.find_last_not_of('0') + 1);
    if (text.back() == '.') text.pop_back();
  }
  return text == "-0" ? "0" : text;
}

class SentenceBuilder {
 public:
  SentenceBuilder& say(std::string text) {
    sentence_.push_back({std::move(text), false});
    return *this;
  }
  SentenceBuilder& stress(std::string text) {
    sentence_.push_back({std::move(text), true});
    return *this;
  }
  [[nodiscard]] Sentence done() { return std::move(sentence_); }

 private:
  Sentence sentence_;
};

std::string by_words(const season::Goal& goal) { return state_words(goal.count_at) + " by "; }

void say_sowing(SentenceBuilder& line, const season::Goal& goal, const season::Plan& plan) {
  line.stress(seeds_words(plan.seeds));
  if (plan.needs.seed_grams > 0) line.say(fmt::format(" ({}{}g)", rounded_up(plan.needs.seed_grams), kNoBreak));
  if (plan.sow_dates.size() == 1) {
    line.say(" on ").stress(date_words(plan.sow_dates.front()));
  } else if (plan.sow_dates.size() > 1) {
    line.say(fmt::format(" in {} lots: ", plan.sow_dates.size()));
    for (std::size_t i = 0; i < plan.sow_dates.size(); ++i) {
      if (i > 0) line.say(i + 1 == plan.sow_dates.size() ? " and " : ", ");
      if (i < plan.sow_seeds.size()) line.say(whole(plan.sow_seeds[i]) + " on ");
      line.stress(date_words(plan.sow_dates[i]));
    }
  }
  if (goal.chill_days > 0 && is_set(plan.chill_start)) {
    line.say(plan.sow_dates.size() > 1 ? "; the first lot is put to chill on " : ", put to chill on ")
        .stress(date_words(plan.chill_start));
  }
}

void say_wanted(SentenceBuilder& line, const season::Goal& goal) {
  line.say("at least ").stress(wanted_words(goal)).say(" ").say(by_words(goal)).stress(date_words(goal.by));
}

void say_sure(SentenceBuilder& line, const season::Goal& goal, const season::Plan& plan) {
  line.stress(unbroken(percent_beside(plan.assurance, goal.assurance) + " sure"))
      .say(fmt::format(" ({}) of ", error_words(plan.assurance_error)));
  say_wanted(line, goal);
  line.say(".");
}

/// The days on which something is struck in a typical season; those of an early or late one are said apart.
Sentence bench_sentence(const season::Plan& plan) {
  const auto likely = likely_sessions(plan);
  auto usual = likely;
  std::erase_if(usual, [](const season::SessionPlan& session) { return !(session.cuttings.typical >= 0.5); });
  if (usual.empty()) usual = likely;
  SentenceBuilder line;
  line.say("Keep ");
  if (usual.size() == 1) {
    line.stress(date_words(usual.front().date)).say(" free for striking");
  } else {
    line.stress(fmt::format("{}{}days", usual.size(), kNoBreak))
        .say(" free for striking, from ")
        .stress(date_words(usual.front().date))
        .say(" to ")
        .stress(date_words(usual.back().date));
  }
  if (likely.size() > usual.size()) {
    line.say(fmt::format(" ({}{}more in an early or late season)", likely.size() - usual.size(), kNoBreak));
  }
  if (plan.needs.cuttings > 0) {
    line.say(fmt::format(", and be ready for up to {}{}cuttings in all", plan.needs.cuttings, kNoBreak));
  }
  return line.say(".").done();
}

}  // namespace

std::string plain(const std::vector<Sentence>& sentences) {
  std::string text;
  for (const Sentence& sentence : sentences) {
    if (!text.empty()) text += ' ';
    for (const Words& words : sentence) text += words.text;
  }
  return text;
}

bool is_set(Date date) { return date != Date{}; }
std::string date_words(Date date) { return unbroken(to_words(date)); }
std::string day_words(Date date) { return unbroken(to_short_words(date)); }

std::string short_day(Date date) {
  return unbroken(fmt::format("{} {}", day_of_month(date), month_name(month_of(date)).substr(0, 3)));
}

std::string whole(double number) {
  return std::isfinite(number) ? fixed(std::round(number), 0) : std::string(kUnknown);
}
std::string seeds_words(int seeds) { return fmt::format("{}{}{}", seeds, kNoBreak, seeds == 1 ? "seed" : "seeds"); }

std::string hours_words(double hours) {
  if (!std::isfinite(hours)) return std::string(kUnknown);
  if (hours <= 0) return "0";
  return fmt::format("{:.1f}", std::max(hours, 0.1));
}

std::string rounded(double number) {
  return std::isfinite(number) ? fixed(number, decimals_for(number)) : std::string(kUnknown);
}

std::string rounded_up(double number) {
  if (!std::isfinite(number)) return std::string(kUnknown);
  const double step = std::pow(10.0, decimals_for(number));
  constexpr double kRoundingNoise = 1e-9;
  return fixed(std::ceil(number * step - kRoundingNoise) / step, decimals_for(number));
}

std::string percent(double share) {
  if (!std::isfinite(share)) return std::string(kUnknown);
  const double value = 100 * share;
  if (value >= 100) return unbroken("100 %");
  if (value > 99.95) return unbroken("over 99.9 %");
  if (value > 99) return unbroken(fmt::format("{:.1f} %", value));
  if (value > 0 && value < 0.5) return unbroken("under 1 %");
  return unbroken(fmt::format("{:.0f} %", value));
}

std::string percent_beside(double share, double asked) {
  if (percent(share) != percent(asked) || !std::isfinite(share)) return percent(share);
  // "90 %" when 90 % were asked for and 89.7 % is all there is would be a promise: show the difference.
  if (share >= asked) return percent(share);
  const double below = std::floor(share * 1000) / 10;
  return unbroken(fmt::format("{:.1f} %", below));
}

std::string error_words(double standard_error) {
  if (!std::isfinite(standard_error)) return unbroken("simulation error unknown");
  const double value = 100 * standard_error;
  return unbroken(value < 0.05 ? (value > 0 ? "±0.1 %" : "±0 %") : fmt::format("±{:.1f} %", value));
}

std::string in_a_row(const std::vector<std::string>& parts) {
  std::string text;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    if (i > 0) text += i + 1 == parts.size() ? " and " : ", ";
    text += parts[i];
  }
  return text;
}

std::string want_name(const season::Goal& goal, std::size_t want) {
  if (want >= goal.wants.size()) return fmt::format("want {}", want + 1);
  const season::Want& this_one = goal.wants[want];
  const auto alike = std::count_if(goal.wants.begin(), goal.wants.end(),
                                   [&](const season::Want& other) { return other.base_form == this_one.base_form; });
  return alike > 1 ? fmt::format("{} ({})", this_one.base_form, this_one.method.name) : this_one.base_form;
}

std::string counts_words(const season::Goal& goal, const std::vector<int>& counts) {
  std::vector<std::string> parts;
  for (std::size_t i = 0; i < counts.size(); ++i)
    parts.push_back(unbroken(fmt::format("{} {}", counts[i], want_name(goal, i))));
  return in_a_row(parts);
}

std::string wanted_words(const season::Goal& goal) {
  std::vector<int> counts;
  for (const season::Want& want : goal.wants) counts.push_back(want.count);
  return counts_words(goal, counts);
}

std::string state_words(season::CountAt count_at) {
  switch (count_at) {
    case season::CountAt::rooted:
      return "rooted";
    case season::CountAt::weaned:
      return "weaned";
    case season::CountAt::established:
      return "established (through their first winter)";
  }
  return "";
}

std::vector<Sentence> answer(const season::Goal& goal, const season::Plan& plan) {
  std::vector<Sentence> sentences;
  if (goal.seeds_in_hand) {
    SentenceBuilder line;
    line.say("With ");
    say_sowing(line, goal, plan);
    line.say(plan.sow_dates.empty() ? " you can be " : ", you can be ");
    say_sure(line, goal, plan);
    sentences.push_back(line.done());
    const auto fewest = fewest_seeds(plan);
    SentenceBuilder beside;
    const std::string asked = percent(goal.assurance);
    if (plan.assurance >= goal.assurance) {
      beside.say(fmt::format("That is as sure as you asked to be ({})", asked));
      if (fewest && *fewest < plan.seeds) beside.say(fmt::format("; {} would do", seeds_words(*fewest)));
      sentences.push_back(beside.say(".").done());
    } else {
      beside.say(fmt::format("That is less than the {} you asked for", asked));
      if (fewest) {
        beside.say(": for that, sow ").stress(seeds_words(*fewest));
      } else if (!plan.sow_dates.empty() && !plan.sweep.empty()) {
        beside.say(", and no number of seeds sown then would reach it");
      }
      sentences.push_back(beside.say(".").done());
    }
  } else if (plan.met) {
    SentenceBuilder line;
    line.say("Sow ");
    say_sowing(line, goal, plan);
    sentences.push_back(line.say(".").done());
    SentenceBuilder sure;
    sure.say("You are then ");
    say_sure(sure, goal, plan);
    sentences.push_back(sure.done());
    if (plan.seeds_low < plan.seeds_high) {
      sentences.push_back({{fmt::format("Between {} and {}{}seeds the calculation cannot tell apart.", plan.seeds_low,
                                        plan.seeds_high, kNoBreak),
                            false}});
    }
    if (plan.half) {
      SentenceBuilder half;
      half.stress("Seed is not what is short")
          .say(fmt::format(": half as many, {}, already make you {} sure.", seeds_words(plan.half->seeds),
                           percent_beside(plan.half->assurance, goal.assurance)));
      if (!plan.limits.empty()) half.say(" See below what limits this plan.");
      sentences.push_back(half.done());
    }
  } else {
    SentenceBuilder line;
    line.stress("This goal cannot be met as it stands")
        .say(fmt::format(": no number of seeds makes you {}{}sure of ", percent(goal.assurance), kNoBreak));
    say_wanted(line, goal);
    sentences.push_back(line.say(".").done());
    if (!plan.sow_dates.empty()) {
      SentenceBuilder best;
      best.say("The plan below is the best that can be done: sow ");
      say_sowing(best, goal, plan);
      best.say("; that makes you ")
          .stress(unbroken(percent_beside(plan.assurance, goal.assurance) + " sure"))
          .say(fmt::format(" ({}).", error_words(plan.assurance_error)));
      sentences.push_back(best.done());
    }
  }
  if (!likely_sessions(plan).empty()) sentences.push_back(bench_sentence(plan));
  return sentences;
}

std::vector<std::string> nearest_words(const season::Goal& goal, const season::Plan& plan) {
  std::vector<std::string> sentences;
  const season::Nearest& nearest = plan.nearest;
  if (nearest.counts && !nearest.counts->empty()) {
    const std::string seeds = nearest.seeds ? fmt::format(", from about {} seeds", *nearest.seeds) : "";
    sentences.push_back(fmt::format("Fewer: {}, {}{}, {} sure{}.", counts_words(goal, *nearest.counts), by_words(goal),
                                    date_words(goal.by), percent(goal.assurance), seeds));
  }
  if (nearest.by) {
    sentences.push_back(fmt::format("Later: {}, {}{}, {} sure.", wanted_words(goal), by_words(goal),
                                    date_words(*nearest.by), percent(goal.assurance)));
  }
  if (nearest.assurance && *nearest.assurance >= kWorthSaying) {
    sentences.push_back(fmt::format("Less sure: {}, {}{}, {} sure.", wanted_words(goal), by_words(goal),
                                    date_words(goal.by), percent_beside(*nearest.assurance, goal.assurance)));
  }
  return sentences;
}

std::string_view trust_words() {
  return "Trust: A measured and published, B fair, C a guess, to be replaced by your own counts.";
}

std::string_view limit_word(season::LimitKind kind) {
  switch (kind) {
    case season::LimitKind::date:
      return "date";
    case season::LimitKind::window:
      return "window";
    case season::LimitKind::room:
      return "room";
    case season::LimitKind::rate:
      return "rate";
    case season::LimitKind::warmth:
      return "warmth";
  }
  return "";
}

std::vector<std::string> limit_sentences(const season::Plan& plan) {
  std::vector<std::string> sentences;
  for (const auto& limit : plan.limits) {
    const std::string kind = fmt::format("{}: ", limit_word(limit.kind));
    sentences.push_back(limit.text.starts_with(kind) ? limit.text : kind + limit.text);
  }
  return sentences;
}

std::vector<season::SessionPlan> likely_sessions(const season::Plan& plan) {
  std::vector<season::SessionPlan> likely;
  for (const auto& session : plan.sessions) {
    if (session.cuttings.high >= 0.5) likely.push_back(session);
  }
  return likely;
}

std::optional<int> fewest_seeds(const season::Plan& plan) {
  if (plan.sow_dates.empty()) return std::nullopt;
  for (const auto& point : plan.sweep) {
    if (point.sow == plan.sow_dates.front()) return point.seeds;
  }
  return std::nullopt;
}

std::string sowing_remark(const season::Plan& plan, const season::SowingPoint& point) {
  const bool chosen = std::find(plan.sow_dates.begin(), plan.sow_dates.end(), point.sow) != plan.sow_dates.end();
  const bool last = plan.last_sowing == point.sow;
  if (chosen && last) return "chosen, and the last that can do it";
  return chosen ? "chosen" : last ? "last that can do it" : "";
}

std::vector<season::SowingPoint> telling_sweep(const season::Plan& plan) {
  const auto can = [](const season::SowingPoint& point) { return point.seeds.has_value(); };
  const auto first = std::find_if(plan.sweep.begin(), plan.sweep.end(), can);
  if (first == plan.sweep.end()) return plan.sweep;
  const auto last = std::find_if(plan.sweep.rbegin(), plan.sweep.rend(), can);
  constexpr Days kMargin{21};
  std::vector<season::SowingPoint> telling;
  std::copy_if(plan.sweep.begin(), plan.sweep.end(), std::back_inserter(telling),
               [&](const season::SowingPoint& point) {
                 return point.sow >= first->sow - kMargin && point.sow <= last->sow + kMargin;
               });
  return telling;
}

std::string sweep_sentence(const season::Goal& goal, const season::Plan& plan) {
  if (!plan.last_sowing) return "No sowing date meets the goal, whatever the number of seeds.";
  std::string text =
      fmt::format("The last sowing that can still meet the goal is on {}.", date_words(*plan.last_sowing));
  if (!goal.sow_on)
    text += " Chosen: the earliest date that needs hardly more than the fewest, which leaves room to sow again.";
  return text;
}

int sweep_ceiling(const season::Plan& plan) {
  int least = 0;
  int most = 0;
  for (const auto& point : plan.sweep) {
    if (!point.seeds) continue;
    least = least == 0 ? *point.seeds : std::min(least, *point.seeds);
    most = std::max(most, *point.seeds);
  }
  return std::min(most, 4 * least);
}

std::vector<season::Unknown> unknowns_by_worth(const season::Plan& plan) {
  std::vector<season::Unknown> sorted = plan.unknowns;
  std::stable_sort(sorted.begin(), sorted.end(),
                   [](const auto& a, const auto& b) { return a.seeds_saved > b.seeds_saved; });
  return sorted;
}

bool worth_knowing(const season::Plan& plan, const season::Unknown& unknown) {
  constexpr double kWorthAsking = 0.005;
  return unknown.seeds_saved >= std::max(1, plan.seeds / 100) || unknown.unreachable_share > kWorthAsking;
}

std::vector<std::string> unknown_notes(const season::Plan& plan) {
  std::vector<std::string> notes;
  std::vector<std::string> rest;
  for (const auto& unknown : unknowns_by_worth(plan)) {
    if (!worth_knowing(plan, unknown)) {
      rest.push_back(unknown.name);
      continue;
    }
    if (!unknown.test.empty()) notes.push_back(fmt::format("{}: {}", unknown.name, unknown.test));
    if (unknown.unreachable_share > 0) {
      notes.push_back(fmt::format("{}: in {} of what it may turn out to be, the goal is out of reach whatever you sow.",
                                  unknown.name, percent(unknown.unreachable_share)));
    }
  }
  if (!rest.empty()) notes.push_back(fmt::format("It hardly matters that these are not known: {}.", in_a_row(rest)));
  return notes;
}

std::string belief_words(const season::Unknown& unknown) {
  const bool share = unknown.unit.empty() || unknown.unit == "share";
  const bool bare = unknown.unit == "ratio" || unknown.unit == "ln";  // nothing a grower would read after the number
  const auto say = [&](double value) { return share ? whole(100 * value) : rounded(value); };
  std::string unit = share ? "%" : bare ? "" : replaced(unknown.unit, "°C", "°C");
  if (unit == "d") unit = "days";
  if (!unit.empty()) unit.insert(0, kNoBreak);
  if (unknown.low == unknown.high) return fmt::format("{}{} (known)", say(unknown.typical), unit);
  return fmt::format("{} ({} to {}){}", say(unknown.typical), say(unknown.low), say(unknown.high), unit);
}

std::string worth_words(const season::Unknown& unknown) {
  return unknown.seeds_saved > 0 ? seeds_words(unknown.seeds_saved) : "none";
}

std::vector<Need> need_list(const season::Goal& goal, const season::Plan& plan) {
  const season::Needs& needs = plan.needs;
  std::vector<Need> list;
  const auto add = [&](std::string what, const std::string& amount, std::string note) {
    list.push_back({std::move(what), unbroken(amount), std::move(note)});
  };
  if (plan.seeds > 0) add("Seed", fmt::format("{} g", rounded_up(needs.seed_grams)), seeds_words(plan.seeds));
  for (std::size_t i = 0; i < needs.wants.size(); ++i) {
    const auto& want = needs.wants[i];
    std::string note = fmt::format("for up to {} cuttings", want.cuttings);
    if (i < goal.wants.size()) {
      note += fmt::format(", {} in each", whole(goal.wants[i].method.cuttings_per_container.typical()));
    }
    if (want.container_litres > 0) {
      note += fmt::format("; one takes {} L and weighs {} kg watered", rounded(want.container_litres),
                          rounded(want.container_drained_kg));
    }
    add("Containers, " + want_name(goal, i), fmt::format("{}", want.containers), note);
  }
  if (needs.wants.size() > 1 || needs.wants.empty()) {
    add("Containers in all", fmt::format("{}", needs.containers), fmt::format("for up to {} cuttings", needs.cuttings));
  }
  for (const season::MaterialNeed& one : needs.materials) {
    std::string name = one.name;
    name.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(name.front())));
    add(std::move(name), fmt::format("{} L", rounded_up(one.litres)),
        fmt::format("{}, {} kg dry", one.in_pockets ? "for the pockets" : "for the medium", rounded(one.dry_kg)));
  }
  for (const season::DipNeed& dip : needs.dips) {
    add("Rooting solution", fmt::format("{} mL", rounded_up(dip.fillings * dip.fill_ml)),
        fmt::format("{} of {} mL, each made fresh at {} ppm auxin (as IBA)",
                    dip.fillings == 1 ? "one filling" : fmt::format("{} fillings", dip.fillings), rounded(dip.fill_ml),
                    rounded(dip.auxin_ppm)));
    if (!dip.stock) continue;
    const bool liquid = dip.stock->unit == season::StockUnit::ml;
    const double to_milli = liquid ? 1 : 1000;
    const char* unit = liquid ? "mL" : "mg";
    std::string each = fmt::format("{} {}", rounded(dip.stock->per_fill * to_milli), unit);
    if (dip.stock->drops_per_fill > 0) each += fmt::format(", about {} drops,", whole(dip.stock->drops_per_fill));
    add("Your stock", fmt::format("{} {}", rounded_up(dip.fillings * dip.stock->per_fill * to_milli), unit),
        fmt::format("{} in each filling, water up to {} mL", each, rounded(dip.fill_ml)));
  }
  add("Labels", fmt::format("{}", needs.labels), "");
  add("Bench", fmt::format("{} m²", rounded_up(needs.bench_m2)), "");
  add("Hours at the bench", fmt::format("{} h", hours_words(needs.hours)), "all sessions together");
  if (needs.money && std::isfinite(*needs.money))
    add("Money", fmt::format("{:.2f}", *needs.money), "at the prices you gave");
  return list;
}

std::string weather_words(const season::Plan& plan) {
  std::string text = plan.weather_origin;
  if (plan.futures > 0) {
    text += fmt::format(
        "{}Every number here is over {}{}futures: one draw each of the weather and of all that is not known.",
        text.empty() ? "" : " ", plan.futures, kNoBreak);
  }
  return text;
}

const std::vector<std::string>& cautions() {
  static const std::vector<std::string> kCautions = {
      ("Sand, grit and pumice: wet them before you pour, sieve or mix. The dry dust can hold silica, which harms the "
       "lungs for good; where dust cannot be avoided wear a fitted dust mask."),
      "Blade: cut on a firm board, away from your fingers; cover the blade between groups.",
      ("Auxin is a regulated product in many places. Its label rules: strength, gloves, eyes, waste. Keep it from "
       "children, animals and food."),
      "Alcohol, in the solution or for the blade, burns: no flame, no heater, no sparks near it, and fresh air.",
      "Bleach, if you clean with it: never together with acid, ammonia or alcohol.",
      ("Mist and mains power: only equipment meant for wet places, behind a residual-current breaker (RCD, GFCI); "
       "fixed "
       "wiring by a licensed electrician."),
      "Wet tubs of grit are heavy: fill them where they will stand, or carry half at a time with someone.",
      "Product labels, local codes and licensed practice come before anything printed here.",
  };
  return kCautions;
}

Date month_after(Date month) { return make_date(year_of(month) + month_of(month) / 12, month_of(month) % 12 + 1, 1); }

SeasonChart season_chart(const season::Goal& goal, const season::Plan& plan) {
  SeasonChart chart;
  for (std::size_t i = 0; i < plan.bands.size(); ++i) {
    SeasonRow row;
    row.name = i < plan.band_names.size() ? plan.band_names[i] : fmt::format("band {}", i + 1);
    row.band = plan.bands[i];
    if (row.name == "sessions") {
      for (const auto& session : likely_sessions(plan)) row.marks.push_back(session.date);
    }
    chart.rows.push_back(row);
  }
  if (!plan.sow_dates.empty()) {
    const auto place = std::find_if(chart.rows.begin(), chart.rows.end(), [&](const SeasonRow& row) {
      return row.band && row.band->early >= plan.sow_dates.front();
    });
    chart.rows.insert(place, {"sowing", std::nullopt, plan.sow_dates});
  }
  Date first = goal.by;
  Date last = goal.by;
  const auto include = [&](Date date) {
    if (!is_set(date)) return;
    first = std::min(first, date);
    last = std::max(last, date);
  };
  for (const auto& row : chart.rows) {
    if (row.band) {
      include(row.band->early);
      include(row.band->late);
    }
    for (const Date mark : row.marks) include(mark);
  }
  chart.from = make_date(year_of(first), month_of(first), 1);
  chart.to = chart.from;
  while (chart.to <= last) {
    chart.months.push_back(chart.to);
    chart.to = month_after(chart.to);
  }
  return chart;
}

}  // namespace strikebed::print

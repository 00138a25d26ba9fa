#include "print/own_values.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "base/lines.hpp"
#include "evidence/beta.hpp"
#include "print/json.hpp"
#include "print/number_words.hpp"
#include "print/plan/unknown_words.hpp"
#include "print/text_table.hpp"

namespace strikebed::print {
namespace {

season::Spread points_of(const Quantity& quantity) { return {quantity.low, quantity.value, quantity.high}; }
season::Spread points_of(const RateBelief& belief) {
  if (const auto* known = std::get_if<Known>(&belief.belief)) return {known->share, known->share, known->share};
  const evidence::Beta beta = evidence::beta_of(belief).value();
  return {beta.quantile(0.05), beta.quantile(0.5), beta.quantile(0.95)};
}

/// One value that was learnt.
struct Row {
  season::ChainQuantity quantity;
  std::optional<std::size_t> want;  ///< whose own it is
  season::Spread before, after;
  int counted;
};

std::vector<Row> rows_of(const OwnValues& values) {
  std::vector<Row> rows;
  const auto is_new = [&](season::ChainQuantity quantity, std::optional<std::size_t> want) {
    return std::ranges::none_of(rows, [&](const Row& row) { return row.quantity == quantity && row.want == want; });
  };
  for (const season::LearntValues& learnt : values.learnt) {
    for (const season::LearntRate& one : learnt.rates) {
      const season::ChainQuantity quantity = season::quantity_of(one.rung);
      if (!is_new(quantity, one.want)) continue;
      const std::size_t want = one.want.value_or(0);
      const growth::Species& species = values.after.species;
      const int counted = one.want ? species.method_rates.at(values.after.wants[want].method.id)[one.rung]->counted
                                   : species.rates[one.rung].counted;
      rows.push_back({quantity, one.want, points_of(belief_of(values.before, one.rung, want)),
                      points_of(belief_of(values.after, one.rung, want)), counted});
    }
    for (const season::LearntTiming& one : learnt.timings) {
      if (!is_new(one.quantity, {})) continue;
      const ProfileValue& after = values.after.species.*one.of;
      rows.push_back({one.quantity,
                      {},
                      points_of((values.before.species.*one.of).quantity),
                      points_of(after.quantity),
                      after.counted});
    }
  }
  std::ranges::stable_sort(rows, {}, &Row::quantity);
  return rows;
}

std::string name_of(const OwnValues& values, const Row& row) {
  return plain_spaces(unknown_name(values.before, {.quantity = row.quantity, .want = row.want, .lot = {}}));
}

bool is_inside(const EarlierForecast& foretold, int came_true) {
  return foretold.plants.p05 <= came_true && came_true <= foretold.plants.p95;
}

/// What was foretold in the seasons that are over, beside what came.
std::string scores_words(const OwnValues& values, std::size_t width) {
  std::vector<std::vector<std::string>> rows;
  int inside = 0;
  int scored = 0;
  for (const OwnValues::Season& season : values.seasons) {
    for (const EarlierForecast& one : season.foretold) {
      const season::PlantRange& plants = one.plants;
      rows.push_back({date_words(one.given), fmt::format("{} ({} to {})", plants.p50, plants.p05, plants.p95),
                      season.came_true ? fmt::format("{}", *season.came_true) : "not counted"});
      if (!season.came_true) continue;
      ++scored;
      inside += is_inside(one, *season.came_true) ? 1 : 0;
    }
  }
  if (rows.empty()) return "";
  std::string text = "\nWHAT WAS FORETOLD, AND WHAT CAME (all forms together)\n" +
                     table({{"on"}, {"plants", true}, {"came", true}}, rows, width);
  if (scored > 0) {
    text += paragraph(fmt::format("{} of {} ranges hold what came; nine in ten are meant to.", inside, scored), width,
                      "  ");
  }
  return text;
}

}  // namespace

std::string own_values_text(const OwnValues& values, int width) {
  const std::size_t w = lines_of(width);
  std::vector<std::string> seasons;
  for (const OwnValues::Season& season : values.seasons) {
    seasons.push_back(fmt::format("until {} ({} entries)", date_words(season.until), season.entries));
  }
  std::string text = paragraph(fmt::format("WHAT YOUR OWN SEASONS HAVE TAUGHT: {}.", in_a_row(seasons)), w) + "\n";
  std::vector<std::vector<std::string>> rows;
  for (const Row& row : rows_of(values)) {
    const std::string_view unit = unit_of(row.quantity);
    rows.push_back({name_of(values, row), value_words(row.before, unit), value_words(row.after, unit),
                    fmt::format("{}", row.counted)});
  }
  if (rows.empty()) {
    text += paragraph("Nothing new: all of them are in the profile already.", w);
  } else {
    text += table({{"what"}, {"before"}, {"now"}, {"counted", true}}, rows, w);
  }
  text += scores_words(values, w);
  if (!values.remarks.empty()) text += "\n";
  for (const std::string& one : values.remarks) text += paragraph(one, w, "- ");
  return plain_spaces(text);
}

std::string own_values_json(const OwnValues& values) {
  return document({{"seasons", array(values.seasons,
                                     [&](const OwnValues::Season& season) {
                                       return Json{{"from", to_iso(season.from)},
                                                   {"until", to_iso(season.until)},
                                                   {"entries", season.entries},
                                                   {"came_true", or_null(season.came_true)},
                                                   {"foretold", array(season.foretold, [&](const EarlierForecast& one) {
                                                      return Json{{"given", to_iso(one.given)},
                                                                  {"p05", one.plants.p05},
                                                                  {"p50", one.plants.p50},
                                                                  {"p95", one.plants.p95},
                                                                  {"assurance", number(one.assurance)},
                                                                  {"inside", season.came_true &&
                                                                                 is_inside(one, *season.came_true)}};
                                                    })}};
                                     })},
                   {"values", array(rows_of(values),
                                    [&](const Row& row) {
                                      return Json{{"what", name_of(values, row)},
                                                  {"unit", unit_of(row.quantity)},
                                                  {"before", spread(row.before)},
                                                  {"now", spread(row.after)},
                                                  {"counted", row.counted}};
                                    })},
                   {"remarks", values.remarks}});
}

}  // namespace strikebed::print

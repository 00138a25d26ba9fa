#include "print/daybook/batches_json.hpp"

#include <algorithm>
#include <string>
#include <vector>

#include "daybook/entry_json.hpp"
#include "print/daybook/contradiction_words.hpp"
#include "print/daybook/entry_words.hpp"
#include "print/text_table.hpp"

namespace strikebed::print {
namespace {

using namespace daybook;

Json id_json(const EntryId& id) { return to_text(id); }
Json id_json(const std::optional<EntryId>& id) { return id ? Json(to_text(*id)) : Json(nullptr); }

Json look_json(const Look& look) {
  Json json{{"entry", to_text(look.entry)}, {"when", to_iso(look.when)}};
  Counted::fields(look.counted, [&]<class T>(const Field& field, const T& value) {
    if constexpr (std::is_same_v<T, bool>) {
      json[std::string(field.name)] = value;
    } else {
      json[std::string(field.name)] = or_null(value);
    }
  });
  json["left_before"] = or_null(look.before);
  json["left_after"] = or_null(look.after);
  return json;
}

Json level_json(const Level& level) {
  return {{"received", number(level.received)}, {"taken", number(level.taken)}, {"left", number(level.left)}};
}

Json stock_json(const Stock& stock) {
  const std::string_view kind = stock.kind == StockKind::lot      ? "lot"
                                : stock.kind == StockKind::bottle ? "bottle"
                                                                  : "mixture";
  return {{"id", to_text(stock.id)},
          {"kind", kind},
          {"name", stock.name},
          {"came", to_iso(stock.came)},
          {"seeds", level_json(stock.seeds)},
          {"volume_ml", level_json(stock.volume_ml)},
          {"mass_g", level_json(stock.mass_g)},
          {"use_by", stock.use_by ? Json(to_iso(*stock.use_by)) : Json(nullptr)},
          {"tests", array(stock.tests, [](const SeedTest& test) {
             return Json{{"entry", to_text(test.entry)}, {"good", test.good}, {"of", test.of}};
           })}};
}

Json goal_json(const GoalRecord& goal) {
  return {{"id", to_text(goal.id)},
          {"name", goal.name},
          {"plans", array(goal.plans, [](const EntryId& id) { return id_json(id); })},
          {"forecasts", array(goal.forecasts, [](const EntryId& id) { return id_json(id); })}};
}

Json contradiction_json(const Contradiction& one, const State& state) {
  return {{"kind", contradiction_word(one.kind)},
          {"text", plain_spaces(contradiction_words(one, state))},
          {"about", to_text(one.about)},
          {"entries", array(one.entries, [](const EntryId& id) { return id_json(id); })},
          {"found", number(one.found)},
          {"expected", number(one.expected)}};
}

Json double_json(const PossibleDouble& one, const State& state) {
  return {{"text", plain_spaces(double_words(one, state))},
          {"batch", id_json(one.batch)},
          {"entries", array(one.entries, [](const EntryId& id) { return id_json(id); })}};
}

}  // namespace

Json entry_told(const Entry& entry, const State& state) {
  return {{"id", to_text(entry.id)},
          {"happened", to_iso(entry.happened)},
          {"text", plain_spaces(entry_words(entry, state))},
          {"entry", entry_json(entry)}};
}

Json batch_json(const Batch& batch, const State& state) {
  Json losses = Json::object();
  for (std::size_t i = 0; i < batch.losses.size(); ++i) losses[std::string(kLossCauseNames[i])] = batch.losses[i];
  Json gradings = Json::array();
  for (std::size_t i = 0; i < batch.gradings.size(); ++i) {
    if (batch.gradings[i].of == 0) continue;
    gradings.push_back(
        {{"base_form", kBaseFormNames[i]}, {"fit", batch.gradings[i].fit}, {"of", batch.gradings[i].of}});
  }
  const auto links = [&](const std::vector<Link>& all) {
    return array(by_batch(all, state), [&](const auto& one) {
      return Json{{"batch", to_text(one.first)}, {"code", name_of(one.first, state)}, {"number", one.second}};
    });
  };
  return {{"id", to_text(batch.id)},
          {"code", batch.code},
          {"label", batch.label},
          {"species", batch.species},
          {"holds", names_of(batch.holds)[static_cast<std::size_t>(batch.holds)]},
          {"began", to_iso(batch.began)},
          {"lot", id_json(batch.lot)},
          {"from", links(batch.from)},
          {"into", links(batch.into)},
          {"begun_with", or_null(batch.begun_with)},
          {"left", or_null(batch.left)},
          {"brought", batch.brought},
          {"moved_on", batch.moved_on},
          {"given", batch.given},
          {"sold", batch.sold},
          {"used_up", batch.used_up},
          {"unaccounted", batch.unaccounted},
          {"controls", batch.controls},
          {"losses", std::move(losses)},
          {"counts", array(batch.looks, look_json)},
          {"rooted", batch.rooting ? Json(batch.rooting->rooted) : Json(nullptr)},
          {"undecided", batch.rooting ? or_null(batch.rooting->undecided) : Json(nullptr)},
          {"gradings", std::move(gradings)},
          {"bench", batch.bench}};
}

Json batches_json(Fold& fold, const std::optional<EntryId>& one) {
  const State& state = fold.state();
  const auto concerns = [&](const std::optional<EntryId>& about) { return !one || about == one; };
  Json out;
  out["batches"] = Json::array();
  out["history"] = Json::array();
  for (const auto& [id, batch] : state.batches) {
    if (concerns(id)) out["batches"].push_back(batch_json(batch, state));
  }
  if (one) {
    for (const EntryId& id : state.batches.at(*one).entries) {
      out["history"].push_back(entry_told(*fold.find(id), state));
    }
  }
  out["stocks"] = Json::array();
  out["goals"] = Json::array();
  if (!one) {
    for (const auto& [id, stock] : state.stocks) out["stocks"].push_back(stock_json(stock));
    for (const auto& [id, goal] : state.goals) out["goals"].push_back(goal_json(goal));
  }
  out["contradictions"] = Json::array();
  for (const Contradiction& each : fold.contradictions()) {
    if (concerns(each.about)) out["contradictions"].push_back(contradiction_json(each, state));
  }
  out["possible_doubles"] = Json::array();
  for (const PossibleDouble& each : fold.possible_doubles()) {
    if (concerns(each.batch)) out["possible_doubles"].push_back(double_json(each, state));
  }
  out["unread"] = array(one ? std::vector<EntryId>() : fold.unread(), [](const EntryId& id) { return id_json(id); });
  return out;
}

}  // namespace strikebed::print

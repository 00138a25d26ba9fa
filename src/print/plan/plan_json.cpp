#include "print/plan/plan_json.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>

#include "print/json.hpp"
#include "print/number_words.hpp"
#include "print/plan/bench_words.hpp"
#include "print/plan/calendar_words.hpp"
#include "print/plan/goal_words.hpp"
#include "print/plan/limit_words.hpp"
#include "print/plan/lot_words.hpp"
#include "print/plan/plan_parts.hpp"
#include "print/plan/remark_words.hpp"
#include "print/plan/stage_words.hpp"
#include "print/plan/unknown_words.hpp"
#include "print/text_table.hpp"

namespace strikebed::print {
namespace {

Json date(Date day) { return is_set(day) ? Json(to_iso(day)) : Json(nullptr); }
Json date(const std::optional<Date>& day) { return day ? date(*day) : Json(nullptr); }

/// Which values of the species are whose; null where all are the shipped profile's.
Json own_json(const std::optional<growth::OwnOver>& own) {
  if (!own) return nullptr;
  return {{"file", own->file},
          {"values", own->values},
          {"stands_on", own->shipped_id},
          {"stands_on_name", own->shipped_name},
          {"depth_by_weight", own->depth_by_weight}};
}

Json lot_json(const std::string& name) { return name.empty() ? Json(nullptr) : Json(name); }

Json goal_json(const season::Goal& goal) {
  const Quantity& depth = goal.species.sowing_depth_mm.quantity;
  return {{"species", goal.species.id},
          {"species_name", goal.species.name},
          {"own_profile", own_json(goal.species.own)},
          {"sowing_depth_mm", spread(season::Spread{depth.low, depth.value, depth.high})},
          {"today", date(goal.today)},
          {"by", date(goal.by)},
          {"count_at", name_of(goal.count_at)},
          {"assurance_asked", number(goal.assurance)},
          {"seeds_in_hand", or_null(goal.seeds_in_hand)},
          {"lot", lot_json(goal.lot.name)},
          {"chill_days", goal.lot.chill_days},
          {"cuttings_at_most", or_null(goal.sessions.cuttings_at_most)},
          {"latitude_deg", number(goal.site.latitude_deg)},
          {"longitude_deg", number(goal.site.longitude_deg)},
          {"elevation_m", number(goal.site.elevation_m)}};
}

Json wants_json(const season::Goal& goal, const season::Plan& plan) {
  Json all = Json::array();
  for (std::size_t i = 0; i < goal.wants.size(); ++i) {
    const season::Want& want = goal.wants[i];
    all.push_back({{"base_form", want.base_form},
                   {"method", want.method.id},
                   {"count_asked", want.count},
                   {"share", i < plan.shares.size() ? number(plan.shares[i]) : Json(nullptr)},
                   {"counted", i < plan.counted.size() ? spread(plan.counted[i]) : Json(nullptr)}});
  }
  return all;
}

Json dip_json(const season::DipNeed& dip) {
  Json json{{"auxin_ppm", number(dip.auxin_ppm)}, {"fill_ml", number(dip.fill_ml)}, {"fillings", dip.fillings},
            {"stock_per_fill", nullptr},          {"stock_unit", nullptr},          {"drops_per_fill", nullptr}};
  if (dip.stock) {
    json["stock_per_fill"] = number(dip.stock->per_fill);
    json["stock_unit"] = dip.stock->unit == season::StockUnit::ml ? "mL" : "g";
    if (dip.stock->drops_per_fill > 0) json["drops_per_fill"] = number(dip.stock->drops_per_fill);
  }
  return json;
}

Json needs_json(const season::Needs& needs) {
  return {{"seed", array(needs.seed,
                         [](const season::SeedNeed& seed) {
                           return Json{
                               {"lot", lot_json(seed.lot)}, {"seeds", seed.seeds}, {"grams", number(seed.grams)}};
                         })},
          {"seed_grams", number(needs.seed_grams)},
          {"wants", array(needs.wants,
                          [](const season::WantNeeds& want) {
                            return Json{{"base_form", want.base_form},
                                        {"cuttings", want.cuttings},
                                        {"containers", want.containers},
                                        {"container_litres", number(want.container_litres)},
                                        {"container_drained_kg", number(want.container_drained_kg)}};
                          })},
          {"cuttings", needs.cuttings},
          {"containers", needs.containers},
          {"medium_litres", number(needs.medium_litres)},
          {"sand_litres", number(needs.sand_litres)},
          {"materials", array(needs.materials,
                              [](const season::MaterialNeed& one) {
                                return Json{{"material", one.name},
                                            {"litres", number(one.litres)},
                                            {"dry_kg", number(one.dry_kg)},
                                            {"in_pockets", one.in_pockets}};
                              })},
          {"solution_ml", number(needs.solution_ml)},
          {"dips", array(needs.dips, dip_json)},
          {"labels", needs.labels},
          {"bench_m2", number(needs.bench_m2)},
          {"hours", number(needs.hours)},
          {"hours_typical", number(needs.hours_typical)},
          {"money", number(needs.money)}};
}

Json curve_point(const season::CurvePoint& point) {
  return {{"seeds", point.seeds}, {"assurance", number(point.assurance)}};
}

Json dates_of(const season::DateSpread& when) {
  return {{"early", date(when.early)}, {"typical", date(when.typical)}, {"late", date(when.late)}};
}

Json sowing_json(const season::Goal& goal, const season::SowingPlan& sowing) {
  return {{"date", date(sowing.on)},
          {"seeds", sowing.seeds},
          {"lot", lot_json(lot_of(goal, sowing).name)},
          {"planned", !sowing.own.has_value()},
          {"chill_start", date(sowing.chill_start)},
          {"count_date", date(sowing.count_date)},
          {"emerged", spread(sowing.emerged)}};
}

/// When the first seed that the plan asks for goes into the cold.
Json chill_start_json(const season::Plan& plan) {
  std::optional<Date> first;
  for (const season::SowingPlan& sowing : plan.sowings) {
    if (!sowing.own && sowing.chill_start) first = std::min(first.value_or(*sowing.chill_start), *sowing.chill_start);
  }
  return date(first);
}

Json stagger_json(const season::Goal& goal, const season::Plan& plan, const FieldNames& names) {
  const std::string text = plain_spaces(stagger_words(goal, plan, names));
  if (text.empty()) return nullptr;
  return {{"why", stagger_word(plan.stagger->why)}, {"text", text}};
}

Json session_json(const season::SessionPlan& session) {
  return {{"date", date(session.date)},
          {"cuttings", spread(session.cuttings)},
          {"by_want", array(session.by_want, [](double cuttings) { return number(cuttings); })},
          {"hours", number(session.hours)}};
}

Json unknown_json(const season::Goal& goal, const season::Unknown& unknown) {
  return {{"name", plain_spaces(unknown_name(goal, unknown))},
          {"lot", lot_json(unknown.lot)},
          {"seeds_saved", unknown.seeds_saved},
          {"seeds_at_best", or_null(unknown.seeds_at_best)},
          {"unreachable_share", number(unknown.unreachable_share)},
          {"low", number(unknown.low)},
          {"typical", number(unknown.typical)},
          {"high", number(unknown.high)},
          {"unit", unit_of(unknown.quantity)},
          {"test", small_test(unknown)}};
}

Json band_json(const season::Band& band) {
  Json json = {{"name", band_name(band.kind)}};
  json.update(dates_of(band.days));
  return json;
}

Json calendar_json(const season::Goal& goal, const season::Plan& plan, const season::CalendarEntry& entry) {
  Json json = {{"kind", calendar_word(entry.kind)}, {"what", plain_spaces(calendar_words(goal, plan, entry))}};
  json.update(dates_of(entry.when));
  return json;
}

}  // namespace

Json plan_json(const season::Goal& goal, const season::Plan& plan, const PlanNotes& notes) {
  Json out;
  out["goal"] = goal_json(goal);
  out["met"] = plan.met;
  out["seeds"] = plan.seeds;
  out["seeds_range"] = {plan.seeds_low, plan.seeds_high};
  out["assurance"] = number(plan.assurance);
  out["assurance_error"] = number(plan.assurance_error);
  out["chill_start"] = chill_start_json(plan);
  out["sow_dates"] = array(plan.sow_dates, [](Date day) { return date(day); });
  out["sowings"] = array(plan.sowings, [&](const season::SowingPlan& one) { return sowing_json(goal, one); });
  out["stagger"] = stagger_json(goal, plan, notes.names);
  out["last_sowing"] = date(plan.last_sowing);
  out["count_date"] = date(plan.count_date);
  out["emerged"] = spread(plan.emerged);
  out["wants"] = wants_json(goal, plan);
  out["stages"] = array(plan.stages, [](const season::StageCount& stage) {
    return Json{{"stage", stage_word(stage.stage)}, {"plants", number(stage.plants)}};
  });
  out["sessions"] = array(plan.sessions, session_json);
  out["struck"] = spread(plan.struck);
  out["rhythms"] = array(plan.rhythms, [&](const season::RhythmPoint& point) {
    return Json{{"every", rhythm_word(point.rhythm)},
                {"seeds", or_null(point.seeds)},
                {"best_assurance", number(point.best_assurance)},
                {"days", point.days},
                {"chosen", point.rhythm == plan.habit.rhythm}};
  });
  out["strike"] = array(plan.strike, [](const season::StrikeStep& step) {
    return Json{{"from", date(step.from)}, {"place", number(step.place)}, {"text", strike_words(step)}};
  });
  out["patience"] = number(plan.habit.patience);
  out["needs"] = needs_json(plan.needs);
  out["unknowns"] = array(plan.unknowns, [&](const season::Unknown& unknown) { return unknown_json(goal, unknown); });
  out["half"] = plan.half ? curve_point(*plan.half) : Json(nullptr);
  out["limits"] = array(plan.limits, [&](const season::Limit& limit) {
    return Json{{"kind", limit_word(limit.kind)}, {"text", plain_spaces(limit_words(goal, limit, notes.names))}};
  });
  out["nearest"] = {{"assurance", number(plan.nearest.assurance)},
                    {"counts", plan.nearest.counts ? Json(*plan.nearest.counts) : Json(nullptr)},
                    {"seeds", plan.nearest.seeds ? Json(*plan.nearest.seeds) : Json(nullptr)},
                    {"by", date(plan.nearest.by)},
                    {"by_seeds", or_null(plan.nearest.by_seeds)}};
  out["warnings"] =
      array(remark_sentences(goal, plan, notes), [](const std::string& sentence) { return plain_spaces(sentence); });
  out["assumed"] = notes.assumed;
  out["curve"] = array(plan.curve, curve_point);
  out["sweep"] = array(plan.sweep, [](const season::SowingPoint& point) {
    return Json{{"sow_date", date(point.sow)},
                {"seeds", or_null(point.seeds)},
                {"best_assurance", number(point.best_assurance)}};
  });
  out["bands"] = array(plan.bands, band_json);
  out["calendar"] =
      array(plan.calendar, [&](const season::CalendarEntry& entry) { return calendar_json(goal, plan, entry); });
  out["weather_origin"] = plan.futures > 0 ? origin_words(plan.weather) : "";
  out["futures"] = plan.futures;
  return out;
}

}  // namespace strikebed::print

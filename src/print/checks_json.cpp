#include "print/checks_json.hpp"

#include <cmath>

#include "print/json.hpp"

namespace strikebed::print {
namespace {

Json to_json(const Figure& figure) {
  if (const auto* word = std::get_if<std::string>(&figure)) return *word;
  const double number = std::get<double>(figure);
  return std::isfinite(number) ? Json(number) : Json(nullptr);  // JSON has no infinity
}

Json to_json(const std::vector<Figure>& figures, bool single) {
  if (single && figures.size() == 1) return to_json(figures[0]);
  Json list = Json::array();
  for (const Figure& figure : figures) list.push_back(to_json(figure));
  return list;
}

Json to_json(const Check& check) {
  Json expected = Json::object();
  Json computed = Json::object();
  Json tolerance = Json::object();
  for (const CheckedFigures& figures : check.figures) {
    const bool single = figures.expected.size() == 1;
    expected[figures.name] = to_json(figures.expected, single);
    computed[figures.name] = to_json(figures.computed, single);
    tolerance[figures.name] = {{"abs", figures.abs}, {"rel", figures.rel}};
  }
  Json json = {{"id", check.id},         {"topic", check.topic},         {"title", check.title},
               {"source", check.source}, {"how_known", check.how_known}, {"note", check.note},
               {"expected", expected},   {"computed", computed},         {"tolerance", tolerance},
               {"holds", check.holds}};
  if (!check.problem.empty()) json["problem"] = check.problem;
  return json;
}

}  // namespace

std::string checks_json(std::span<const Check> checks) {
  Json list = Json::array();
  std::size_t held = 0;
  for (const Check& check : checks) {
    list.push_back(to_json(check));
    held += check.holds ? 1 : 0;
  }
  return document({{"checks", list}, {"held", held}, {"total", checks.size()}});
}

}  // namespace strikebed::print

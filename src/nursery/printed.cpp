#include "nursery/printed.hpp"

#include "print/checks_json.hpp"
#include "print/checks_text.hpp"
#include "print/disinfectant_text.hpp"
#include "print/feed_text.hpp"
#include "print/json.hpp"
#include "print/medium_text.hpp"
#include "print/plan/plan_json.hpp"
#include "print/plan/plan_page.hpp"
#include "print/plan/plan_text.hpp"
#include "print/progress_words.hpp"
#include "print/solution_text.hpp"
#include "print/weather_json.hpp"
#include "print/weather_text.hpp"

namespace strikebed::nursery {
namespace {

std::string ended(std::string text) {
  if (text.empty() || text.back() != '\n') text += '\n';
  return text;
}

}  // namespace

std::string words_of(const PlanAnswer& answer, const FieldNames& names, int width) {
  return ended(print::plan_text(answer.goal, answer.plan, {answer.assumed, answer.remarks, names}, width));
}
std::string words_of(const climate::WeatherSummary& summary, const FieldNames& names, int width) {
  return ended(print::weather_text(summary, names, width));
}
std::string words_of(const std::vector<print::Check>& checks, int width) {
  return ended(print::checks_text(checks, width));
}
std::string words_of(const SolutionAnswer& answer, const FieldNames& names, int width) {
  return print::solution_text(answer.request, answer.solution, names, answer.beside, width);
}
std::string words_of(const DisinfectantAnswer& answer, int width) {
  return print::disinfectant_text(answer.request, answer.disinfectant, answer.beside, width);
}
std::string words_of(const MediumMixed& answer, const FieldNames& names, int width) {
  return print::medium_text(answer.medium, names, answer.beside, width);
}
std::string words_of(const FeedMixed& answer, const FieldNames& names, int width) {
  return print::feed_text(answer.feed, names, answer.beside, width);
}
std::string words_of(const mix::FeedSchedule& phases, int width) { return print::phases_text(phases, width); }

std::string json_of(const PlanAnswer& answer) {
  return print::document(print::plan_json(answer.goal, answer.plan, {answer.assumed, answer.remarks, {}}));
}
std::string json_of(const climate::WeatherSummary& summary) { return ended(print::weather_json(summary)); }
std::string json_of(const std::vector<print::Check>& checks) { return ended(print::checks_json(checks)); }
std::string json_of(const SolutionAnswer& answer) { return print::solution_json(answer.request, answer.solution); }
std::string json_of(const DisinfectantAnswer& answer) {
  return print::disinfectant_json(answer.request, answer.disinfectant);
}
std::string json_of(const MediumMixed& answer) { return print::medium_json(answer.medium); }
std::string json_of(const FeedMixed& answer) { return print::feed_json(answer.feed); }
std::string json_of(const mix::FeedSchedule& phases) { return print::phases_json(phases); }

std::string words_of(season::PlanPart part) { return print::progress_words(part); }

std::string page_of(const PlanAnswer& answer, const FieldNames& names) {
  return ended(print::plan_page(answer.goal, answer.plan, {answer.assumed, answer.remarks, names}));
}

}  // namespace strikebed::nursery

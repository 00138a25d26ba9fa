#pragma once
// The answers of the use cases as text for people, as JSON for programs and as a page: where the skins meet src/print.
#include <string>
#include <vector>

#include "base/field_names.hpp"
#include "base/lines.hpp"
#include "climate/summary.hpp"
#include "nursery/make_plan.hpp"
#include "nursery/mixes/feed.hpp"
#include "nursery/mixes/medium.hpp"
#include "nursery/mixes/solution.hpp"
#include "print/check.hpp"

namespace strikebed::nursery {

/// Plain text that ends in a line end. `names`: what the controls of the skin that asks are called; `width`: characters
/// in a line, 60 at least.
[[nodiscard]] std::string words_of(const PlanAnswer& answer, const FieldNames& names, int width = kUsualWidth);
[[nodiscard]] std::string words_of(const climate::WeatherSummary& summary, const FieldNames& names,
                                   int width = kUsualWidth);
[[nodiscard]] std::string words_of(const std::vector<print::Check>& checks, int width = kUsualWidth);
[[nodiscard]] std::string words_of(const SolutionAnswer& answer, const FieldNames& names, int width = kUsualWidth);
[[nodiscard]] std::string words_of(const DisinfectantAnswer& answer, int width = kUsualWidth);
[[nodiscard]] std::string words_of(const MediumMixed& answer, const FieldNames& names, int width = kUsualWidth);
[[nodiscard]] std::string words_of(const FeedMixed& answer, const FieldNames& names, int width = kUsualWidth);
[[nodiscard]] std::string words_of(const mix::FeedSchedule& phases, int width = kUsualWidth);

/// One JSON document (docs/json.md) that ends in a line end.
[[nodiscard]] std::string json_of(const PlanAnswer& answer);
[[nodiscard]] std::string json_of(const climate::WeatherSummary& summary);
[[nodiscard]] std::string json_of(const std::vector<print::Check>& checks);
[[nodiscard]] std::string json_of(const SolutionAnswer& answer);
[[nodiscard]] std::string json_of(const DisinfectantAnswer& answer);
[[nodiscard]] std::string json_of(const MediumMixed& answer);
[[nodiscard]] std::string json_of(const FeedMixed& answer);
[[nodiscard]] std::string json_of(const mix::FeedSchedule& phases);

/// What a plan is being made of, in a few words: "sowing dates".
[[nodiscard]] std::string words_of(season::PlanPart part);

/// One HTML page that needs nothing else.
[[nodiscard]] std::string page_of(const PlanAnswer& answer, const FieldNames& names);

}  // namespace strikebed::nursery

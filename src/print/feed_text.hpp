#pragma once
// A feed for people and for programs.
#include <string>

#include "base/field_names.hpp"
#include "mix/feed.hpp"
#include "print/measures.hpp"
#include "print/text_table.hpp"

namespace strikebed::print {

/// Plain text. `names`: what the reader's controls are called.
[[nodiscard]] std::string feed_text(const mix::FeedAnswer& answer, const FieldNames& names, Beside beside,
                                    int width = kUsualWidth);
/// The phases of the season: strengths tied to what the plants show.
[[nodiscard]] std::string phases_text(const mix::FeedSchedule& schedule, int width = kUsualWidth);
/// One JSON document each (docs/json.md), metric.
[[nodiscard]] std::string feed_json(const mix::FeedAnswer& answer);
[[nodiscard]] std::string phases_json(const mix::FeedSchedule& schedule);

}  // namespace strikebed::print

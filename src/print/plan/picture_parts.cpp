#include "print/plan/picture_parts.hpp"

#include <array>

#include "print/number_words.hpp"
#include "print/text_table.hpp"

namespace strikebed::print {

double day_number(Date date) { return static_cast<double>(date.time_since_epoch().count()); }

double words_width(std::string_view text) {
  constexpr double kLetter = 7.4;
  return kLetter * static_cast<double>(width_of(text));
}

std::string_view want_style(std::size_t want) {
  static constexpr std::array<std::string_view, 4> kStyles = {"needle", "sand", "clay", "shoot"};
  return kStyles[want % kStyles.size()];
}

void upright_axis(Picture& picture, const Area& area, const Scale& scale, std::string_view name, bool in_percent) {
  constexpr int kMost = 6;
  for (const double tick : round_ticks(scale.from, scale.to, kMost)) {
    const double y = scale.at(tick);
    picture.line(area.left, y, area.right, y, tick == scale.from ? "axis" : "grid");
    picture.words(area.left - 6, y + 4, in_percent ? percent(tick) : rounded(tick), Anchor::end, "quiet");
  }
  picture.words(2, area.top - 12, name, Anchor::start, "quiet");
}

void level_axis_name(Picture& picture, const Area& area, std::string_view name) {
  picture.words((area.left + area.right) / 2, area.bottom + 38, name, Anchor::middle, "quiet");
}

void limit_line(Picture& picture, const Area& area, double y, std::string_view words) {
  picture.line(area.left, y, area.right, y, "limit");
  constexpr double kLetterHeight = 16;
  picture.words(area.right, y - kLetterHeight < area.top ? area.top - 5 : y - 6, words, Anchor::end);
}

}  // namespace strikebed::print

#include "print/number_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string_view>

#include "print/text_table.hpp"

namespace strikebed::print {

namespace {

constexpr std::string_view kUnknown = "unknown";

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

}  // namespace

bool is_set(Date date) { return date != Date{}; }
std::string date_words(Date date) { return unbroken(to_words(date)); }
std::string day_words(Date date) { return unbroken(to_short_words(date)); }

std::string short_date(Date date) { return short_day(date) + std::string(kNoBreak) + fmt::format("{}", year_of(date)); }

std::string day_in(Date date, int year) { return year_of(date) == year ? day_words(date) : date_words(date); }

std::string short_day(Date date) {
  return unbroken(fmt::format("{} {}", day_of_month(date), month_name(month_of(date)).substr(0, 3)));
}

std::string whole(double number) {
  return std::isfinite(number) ? fixed(std::round(number), 0) : std::string(kUnknown);
}
std::string seeds_words(int seeds) { return fmt::format("{}{}{}", seeds, kNoBreak, seeds == 1 ? "seed" : "seeds"); }

std::string about_seeds(int seeds) {
  int step = 1;
  while (seeds / step >= 100) step *= 10;
  return "about " + seeds_words((seeds + step / 2) / step * step);
}

std::string hours_words(double hours) {
  if (!std::isfinite(hours)) return std::string(kUnknown);
  if (hours <= 0) return "0";
  constexpr double kMinutes = 60;
  constexpr double kRoundingNoise = 1e-6;
  const double minutes = std::ceil(kMinutes * hours - kRoundingNoise);
  return unbroken(minutes < kMinutes ? fmt::format("{:.0f} min", minutes) : fmt::format("{:.1f} h", hours));
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

std::string in_a_row(const std::vector<std::string>& parts) {
  std::string text;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    if (i > 0) text += i + 1 == parts.size() ? " and " : ", ";
    text += parts[i];
  }
  return text;
}

}  // namespace strikebed::print

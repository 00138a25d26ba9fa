#include "mix/ratio.hpp"

#include <fmt/format.h>

#include <array>
#include <cmath>
#include <optional>

#include "base/number.hpp"
#include "base/text.hpp"

namespace strikebed::mix {
namespace {

constexpr double kMostRatio = 10'000;

std::optional<double> number_of(std::string_view text) { return parse_number(trimmed(text)); }

}  // namespace

Result<Ratio> parse_ratio(std::string_view text, std::string_view field) {
  const std::size_t colon = text.find(':');
  if (colon != std::string_view::npos) {
    const auto n = number_of(text.substr(colon + 1));
    const std::string shown = n && *n > 0 ? fmt::format("{:g}", *n) : "10";
    return Error{
        .problem = fmt::format("\"{}\" is read in two ways", text),
        .allowed = fmt::format("\"1 in {0}\" (one part in {0} parts of mixture) or \"1 plus {0}\" (one part and {0} "
                               "of water)",
                               shown),
        .field = std::string(field)};
  }
  for (const std::string_view word : std::array<std::string_view, 2>{" in ", " plus "}) {
    const std::size_t at = text.find(word);
    if (at == std::string_view::npos) continue;
    const auto one = number_of(text.substr(0, at));
    const auto n = number_of(text.substr(at + word.size()));
    if (!one || *one != 1 || !n) break;
    if (*n < 1 || *n > kMostRatio) {
      return Error{.problem = fmt::format("found {:g}", *n),
                   .allowed = fmt::format("from 1 to {:g}", kMostRatio),
                   .field = std::string(field)};
    }
    return Ratio{word == " plus ", *n};
  }
  return Error{.problem = fmt::format("\"{}\" is no ratio", text),
               .allowed = "\"1 in 10\" (one part in 10 parts of mixture) or \"1 plus 10\" (one part and 10 of water)",
               .field = std::string(field)};
}

std::string to_text(const Ratio& ratio) { return fmt::format("1 {} {:g}", ratio.plus ? "plus" : "in", ratio.n); }

}  // namespace strikebed::mix

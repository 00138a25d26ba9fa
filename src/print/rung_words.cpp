#include "print/rung_words.hpp"

#include <fmt/format.h>

#include "print/number_words.hpp"
#include "print/text_table.hpp"

namespace strikebed::print {

std::string_view rung_words(growth::Rung rung) {
  switch (rung) {
    case growth::Rung::germination:
      return "of the seeds come up";
    case growth::Rung::standing:
      return "of the seedlings live until cut";
    case growth::Rung::usable:
      return "of these are good enough to strike";
    case growth::Rung::take:
      return "of the cuttings root";
    case growth::Rung::weaning:
      return "of the rooted ones live through weaning";
    case growth::Rung::winter:
      return "of the plants live through the winter";
    case growth::Rung::grade:
      return "of the plants have a good foot";
  }
  return "";
}

std::string share_range_words(double typical, double low, double high) {
  return fmt::format("{} ({} to {}){}%", whole(100 * typical), whole(100 * low), whole(100 * high), kNoBreak);
}

}  // namespace strikebed::print

#include "print/trust_words.hpp"

namespace strikebed::print {

std::string_view trust_words(Trust trust) {
  switch (trust) {
    case Trust::A:
      return "measured and published";
    case Trust::B:
      return "fair";
    case Trust::C:
      break;
  }
  return "a guess";
}

}  // namespace strikebed::print

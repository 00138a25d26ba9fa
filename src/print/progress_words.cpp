#include "print/progress_words.hpp"

namespace strikebed::print {

const char* progress_words(season::PlanPart part) {
  switch (part) {
    case season::PlanPart::warmth:
      return "warmth";
    case season::PlanPart::quick_look:
      return "a quick look";
    case season::PlanPart::sowing_dates:
      return "sowing dates";
    case season::PlanPart::seed_number:
      return "seed number";
    case season::PlanPart::nearest_goal:
      return "the nearest goal";
    case season::PlanPart::sessions:
      return "sessions and dates";
    case season::PlanPart::limits:
      return "what would save seed";
    case season::PlanPart::unknowns:
      return "what not knowing costs";
    case season::PlanPart::done:
      return "done";
  }
  return "";
}

}  // namespace strikebed::print

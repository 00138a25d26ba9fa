#include "print/plan/remark_words.hpp"

#include <fmt/format.h>

#include "print/number_words.hpp"

namespace strikebed::print {
namespace {

using season::Goal;
using season::Remark;
using season::RemarkKind;

std::string loose_pocket_words(const Goal& goal, const Remark& remark) {
  if (remark.want >= goal.wants.size()) return {};
  const season::Want& want = goal.wants[remark.want];
  return fmt::format(
      "The pocket's {} does not stay on the medium of the method \"{}\": to see what does, strikebed mix medium",
      want.set_in.pockets ? want.set_in.pockets->sand.name : "sand", want.method.id);
}

}  // namespace

std::string remark_words(const Goal& goal, const Remark& remark) {
  switch (remark.kind) {
    case RemarkKind::short_days:
      return fmt::format(
          "Nothing is sown before {}: unlit seedlings stretch and stall on days shorter than {:.3g} hours. With lamps "
          "([seedbed] lit = true) an earlier day may do better.",
          date_words(remark.date), goal.species.shortest_day_h.typical());
    case RemarkKind::in_the_cold:
      return fmt::format(
          "The plan counts on seed that has been in the cold since {}. If it has not, write how many days it will have "
          "had ([lot] chill_days), or sow later.",
          date_words(remark.date));
    case RemarkKind::cold_bench:
      return fmt::format(
          "The first seedlings are ready about {}, but no session is held before {}: until then the bench's medium is "
          "too cold to root a cutting within its {:.0f} days. A warmer bench ([bench] at_least) would do it.",
          date_words(remark.date), date_words(remark.until), goal.species.unrooted_life_days.typical());
    case RemarkKind::long_day:
      return fmt::format(
          "On {} there are about {} cuttings to strike, {} hours of work. Say how many you can strike in a session "
          "([sessions] cuttings_at_most or hours_at_most), and the plan keeps to it.",
          date_words(remark.date), whole(remark.cuttings), whole(remark.hours));
    case RemarkKind::loose_pocket:
      return loose_pocket_words(goal, remark);
  }
  return "";
}

std::vector<std::string> remark_sentences(const Goal& goal, const season::Plan& plan, const PlanNotes& notes) {
  std::vector<std::string> sentences;
  for (const Remark& remark : plan.remarks) sentences.push_back(remark_words(goal, remark));
  sentences.insert(sentences.end(), notes.remarks.begin(), notes.remarks.end());
  return sentences;
}

}  // namespace strikebed::print

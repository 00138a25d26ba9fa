#include "print/plan/remark_words.hpp"

#include <fmt/format.h>

#include "print/number_words.hpp"
#include "print/plan/goal_words.hpp"
#include "print/plan/lot_words.hpp"
#include "print/text_table.hpp"
#include "print/trust_words.hpp"

namespace strikebed::print {
namespace {

using season::Goal;
using season::Remark;
using season::RemarkKind;

std::string loose_pocket_words(const Goal& goal, const Remark& remark, const FieldNames& names) {
  if (remark.want >= goal.wants.size()) return {};
  const season::Want& want = goal.wants[remark.want];
  const auto mix = field_name(names, "mix.medium");
  return fmt::format("The pocket's {} does not stay on the medium of the method \"{}\"{}",
                     want.set_in.pockets ? want.set_in.pockets->sand.name : "sand", want.method.id,
                     mix ? fmt::format(": {} says what does.", *mix) : ".");
}

std::string in_the_cold_words(const Remark& remark, const FieldNames& names) {
  const std::string days = in_brackets(names, {"lot.chill_days"});
  return fmt::format("The plan counts on seed{} that has been in the cold since {}. If it has not, {}sow later.",
                     of_lot(remark.lot), date_words(remark.date),
                     days.empty() ? "" : fmt::format("write how many days it will have had{}, or ", days));
}

std::string celsius(double degrees) { return fmt::format("{:.3g}{}°C", degrees, kNoBreak); }

std::string guessed(const ProfileValue& value) {
  return value.trust == Trust::C ? fmt::format(" ({})", trust_words(value.trust)) : "";
}

std::string cold_seed_words(const Goal& goal, const Remark& remark, const FieldNames& names) {
  return fmt::format(
      "Seed lies in a bed too cold to germinate in: about {} of what could come up is lost there, at {} a week{}. A "
      "warmer bed{} or a later day loses less.",
      percent(remark.share), percent(goal.species.cold_seed_loss.typical()), guessed(goal.species.cold_seed_loss),
      in_brackets(names, {"seedbed.at_least"}));
}

std::string cold_seedlings_words(const Goal& goal, const Remark& remark, const FieldNames& names) {
  const growth::Species& species = goal.species;
  return fmt::format(
      "The plan leads seedlings through frost, or days too cold{} or too hot to grow in: about {} are lost before they "
      "are cut. Half die in a night of {} in the bed, and standing still costs {} a week{}. A bed kept above "
      "freezing{} "
      "loses fewer{}.",
      goal.seedbed_lit ? "" : ", too short", percent(remark.share), celsius(species.seedling_frost_c.typical()),
      percent(species.idle_loss.typical()), guessed(species.idle_loss), in_brackets(names, {"seedbed.at_least"}),
      goal.seedbed_lit ? "" : ", and so do lamps" + in_brackets(names, {"seedbed.lit"}));
}

std::string cold_cuttings_words(const Goal& goal, const Remark& remark, const FieldNames& names) {
  const growth::Species& species = goal.species;
  return fmt::format(
      "About {} of the cuttings are lost before they root, to frost on the bench (half die in a night of {}) or "
      "standing still where it is too cold or too hot to root, at {} a week{}. Cover them when {} or less is forecast; "
      "a "
      "bench that is neither{} loses fewer.",
      percent(remark.share), celsius(species.cutting_frost_c.typical()), percent(species.idle_loss.typical()),
      guessed(species.idle_loss), celsius(2), in_brackets(names, {"bench.at_least", "bench.offset"}));
}

std::string long_day_words(const Remark& remark, const FieldNames& names) {
  const std::string room = in_brackets(names, {"sessions.cuttings_at_most", "sessions.hours_at_most"});
  return fmt::format(
      "On {} there are about {} cuttings to strike, {} hours of work.{}", date_words(remark.date),
      whole(remark.cuttings), whole(remark.hours),
      room.empty() ? "" : fmt::format(" Say how many you can strike in a session{}, and the plan keeps to it.", room));
}

}  // namespace

std::string remark_words(const Goal& goal, const Remark& remark, const FieldNames& names) {
  switch (remark.kind) {
    case RemarkKind::cold_seed:
      return cold_seed_words(goal, remark, names);
    case RemarkKind::cold_seedlings:
      return cold_seedlings_words(goal, remark, names);
    case RemarkKind::cold_cuttings:
      return cold_cuttings_words(goal, remark, names);
    case RemarkKind::in_the_cold:
      return in_the_cold_words(remark, names);
    case RemarkKind::cold_bench:
      return fmt::format(
          "The first seedlings are ready about {}, but no session is held before {}: until then the bench's medium is "
          "too cold to root a cutting within its {:.0f} days. A warmer bench{} would do it.",
          date_words(remark.date), date_words(remark.until), goal.species.unrooted_life_days.typical(),
          in_brackets(names, {"bench.at_least"}));
    case RemarkKind::long_day:
      return long_day_words(remark, names);
    case RemarkKind::loose_pocket:
      return loose_pocket_words(goal, remark, names);
  }
  return "";
}

std::vector<std::string> remark_sentences(const Goal& goal, const season::Plan& plan, const PlanNotes& notes) {
  std::vector<std::string> sentences;
  for (const Remark& remark : plan.remarks) sentences.push_back(remark_words(goal, remark, notes.names));
  sentences.insert(sentences.end(), notes.remarks.begin(), notes.remarks.end());
  return sentences;
}

}  // namespace strikebed::print

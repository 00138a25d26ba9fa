#include "nursery/own_profile.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "nursery/profiles/profile_file.hpp"
#include "print/own_values.hpp"

namespace strikebed::nursery {
namespace {

std::string source_of(int counted, Date until) {
  return fmt::format("{} of my own, counted in the seasons until {}", counted, to_iso(until));
}

}  // namespace

Result<OwnProfileAnswer> own_profile(const DaybookRequest& request, daybook::Fold& fold, const Library& library) {
  auto so_far = goal_so_far(request, fold, library);
  if (!so_far.ok()) return so_far.error();
  if (so_far->past.empty()) {
    return Error{.problem = "no season of this daybook is over yet",
                 .allowed = "a season with sowings or strikes whose goal's date is past"};
  }
  OwnProfileAnswer answer{.before = so_far->file.goal,
                          .after = std::move(so_far->goal),
                          .past = std::move(so_far->past),
                          .remarks = std::move(so_far->remarks)};
  growth::Species& species = answer.after.species;
  if (!species.own)
    species.own = growth::OwnOver{.file = {}, .values = {}, .shipped_id = species.id, .shipped_name = species.name};
  const growth::Absorbed absorbed = absorbed_of(answer.past, request.today);
  species.own->absorbed = absorbed;
  const auto tell = [&](auto& value) {
    value.source = source_of(value.counted, absorbed.until);
    value.trust = Trust::B;
  };
  for (const PastSeason& season : answer.past) {
    for (const season::LearntTiming& one : season.learnt.timings) tell(species.*one.of);
    for (const season::LearntRate& one : season.learnt.rates) {
      if (!one.want) {
        tell(species.rates[one.rung]);
      } else {
        tell(*species.method_rates[answer.after.wants[*one.want].method.id][one.rung]);
      }
    }
  }
  return answer;
}

std::string profile_of(const OwnProfileAnswer& answer) {
  return std::string(kOwnProfileBegins) + " What is not here is the shipped profile's.\n" +
         own_profile_text(answer.after.species);
}

namespace {
print::OwnValues shown(const OwnProfileAnswer& answer) {
  print::OwnValues values{.before = answer.before, .after = answer.after, .remarks = answer.remarks};
  for (const PastSeason& season : answer.past) {
    values.seasons.push_back({season.days.from, season.days.until, static_cast<int>(season.entries.size()),
                              season.foretold, season.came_true});
    values.learnt.push_back(season.learnt);
  }
  return values;
}
}  // namespace

std::string words_of(const OwnProfileAnswer& answer, int width) { return print::own_values_text(shown(answer), width); }
std::string json_of(const OwnProfileAnswer& answer) { return print::own_values_json(shown(answer)); }

}  // namespace strikebed::nursery

#pragma once
// The use case "what have my own seasons taught": from a daybook to the grower's own profile.
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "daybook/fold.hpp"
#include "nursery/daybook/goal_so_far.hpp"
#include "nursery/library.hpp"

namespace strikebed::nursery {

struct OwnProfileAnswer {
  season::Goal before;  ///< with what the goal, its profiles and its methods say
  season::Goal after;   ///< with what the seasons teach; its species has absorbed them
  std::vector<PastSeason> past;
  std::vector<std::string> remarks;
};

/// All seasons that are over: those before the goal's own, and that one where the goal's date is past.
/// Errors: those of goal_so_far; no past season in the daybook.
[[nodiscard]] Result<OwnProfileAnswer> own_profile(const DaybookRequest& request, daybook::Fold& fold,
                                                   const Library& library);

inline constexpr std::string_view kOwnProfileBegins = "# A grower's own profile, learnt from a daybook.";
[[nodiscard]] std::string profile_of(const OwnProfileAnswer& answer);  ///< a file, as docs/profiles.md describes it
[[nodiscard]] std::string words_of(const OwnProfileAnswer& answer, int width);
[[nodiscard]] std::string json_of(const OwnProfileAnswer& answer);

}  // namespace strikebed::nursery

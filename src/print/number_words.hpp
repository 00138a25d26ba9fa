#pragma once
// How numbers and dates are written and rounded, the same everywhere.
#include <string>
#include <vector>

#include "base/date.hpp"

namespace strikebed::print {

// A number that is not finite reads "unknown"; spaces inside are non-breaking.
[[nodiscard]] bool is_set(Date date);                   ///< false for the Date{} of a field that was not filled
[[nodiscard]] std::string date_words(Date date);        ///< "Sat 3 Apr 2027"
[[nodiscard]] std::string day_words(Date date);         ///< "Sat 3 Apr"
[[nodiscard]] std::string short_day(Date date);         ///< "3 Apr"
[[nodiscard]] std::string short_date(Date date);        ///< "3 Apr 2027"
[[nodiscard]] std::string day_in(Date date, int year);  ///< "Sat 3 Apr"; "Sat 3 Apr 2027" beside another year
[[nodiscard]] std::string whole(double number);         ///< "412"
[[nodiscard]] std::string seeds_words(int seeds);       ///< "412 seeds", "1 seed"
[[nodiscard]] std::string about_seeds(int seeds);       ///< "about 410 seeds": two figures are known
[[nodiscard]] std::string hours_words(double hours);    ///< "22 min" (up to the next one), "1.1 h", "0"
[[nodiscard]] std::string rounded(double number);       ///< three figures at most: "0.35", "5.5", "350"
[[nodiscard]] std::string rounded_up(double number);    ///< the same steps, never less than needed
[[nodiscard]] std::string percent(double share);        ///< "90 %", "99.4 %", "under 1 %", "over 99.9 %"
/// The percent of `share` with as many decimals as it takes not to read like `asked` when it is not.
[[nodiscard]] std::string percent_beside(double share, double asked);
[[nodiscard]] std::string in_a_row(const std::vector<std::string>& parts);  ///< "a, b and c"

}  // namespace strikebed::print

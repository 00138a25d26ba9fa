#pragma once
// The use case "will there be enough": from a daybook and a goal to the forecast.
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "daybook/fold.hpp"
#include "nursery/daybook/goal_so_far.hpp"
#include "nursery/library.hpp"
#include "print/forecast_shown.hpp"
#include "season/forecast.hpp"
#include "season/still_possible.hpp"

namespace strikebed::nursery {

struct ForecastAnswer {
  season::Goal goal;
  std::string goal_name;                    ///< in the daybook; empty: the goal is from elsewhere
  std::optional<daybook::EntryId> goal_id;  ///< of it
  season::Observed seen;
  std::vector<PastSeason> past;                ///< the seasons before
  int entries = 0;                             ///< of the daybook that say so
  std::optional<print::WeatherSoFar> weather;  ///< nothing: the season has not begun
  season::Forecast forecast;
  std::optional<season::StillPossible> possible;  ///< nothing: not looked at yet
  std::vector<print::EarlierForecast> earlier;    ///< of the same goal, by date
  std::vector<std::string> assumed, remarks;
};

/// Answers in two steps: what is there, and what can still be done about it.
/// The goal's season is that of its sowings: from the date of the goal before it in the daybook, or 18 months before
/// its own. Deterministic for a request, a set of entries and a library.
class Forecaster {
 public:
  /// Without what can still be done. Errors: no goal; those of the goal file, the profiles and the weather.
  [[nodiscard]] static Result<Forecaster> of(const DaybookRequest& request, daybook::Fold& fold,
                                             const Library& library);
  /// And with it.
  void look_further();
  [[nodiscard]] const ForecastAnswer& answer() const { return answer_; }

 private:
  ForecastAnswer answer_;
  std::unique_ptr<season::Study> study_;
};

/// Both at once.
[[nodiscard]] Result<ForecastAnswer> forecast(const DaybookRequest& request, daybook::Fold& fold,
                                              const Library& library);

/// What is to be noted of it, so that it can be scored; nothing where the goal is not in the daybook.
[[nodiscard]] std::optional<daybook::ForecastGiven> given_of(const ForecastAnswer& answer);

[[nodiscard]] std::string words_of(const ForecastAnswer& answer, int width);
[[nodiscard]] std::string json_of(const ForecastAnswer& answer);

}  // namespace strikebed::nursery

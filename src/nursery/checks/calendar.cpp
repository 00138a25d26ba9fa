// Published checks of dates.
#include "base/date.hpp"
#include "nursery/checks/computations.hpp"

namespace strikebed::nursery {
namespace {

Computed date_parts(const CheckInputs& in) {
  Computed out;
  for (const std::string& text : in.texts("date")) {
    const auto date = parse_iso_date(text);
    if (!date) return in.give_up("not a date: " + text);
    out.add("day_of_year", day_of_year(*date));
    out.add("weekday", std::string(weekday_name(weekday_of(*date))));
  }
  return out;
}

Computed february_days(const CheckInputs& in) {
  Computed out;
  for (const double year : in.numbers("year")) out.add("days", days_in_month(static_cast<int>(year), 2));
  return out;
}

Computed iso_date_accepted(const CheckInputs& in) {
  Computed out;
  for (const std::string& text : in.texts("text")) out.add("accepted", parse_iso_date(text) ? "yes" : "no");
  return out;
}

Computed days_between(const CheckInputs& in) {
  Computed out;
  out.add("days", static_cast<double>((in.date("to") - in.date("from")).count()));
  return out;
}

}  // namespace

Computations calendar_computations() {
  return {{"date_parts", date_parts},
          {"february_days", february_days},
          {"iso_date_accepted", iso_date_accepted},
          {"days_between", days_between}};
}

}  // namespace strikebed::nursery

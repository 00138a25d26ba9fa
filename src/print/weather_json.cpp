#include "print/weather_json.hpp"

#include <fmt/format.h>

#include <optional>

#include "print/json.hpp"
#include "print/notice_words.hpp"

namespace strikebed::print {
namespace {

using climate::Coverage;
using climate::DateRange;

Json date(const std::optional<Date>& day) { return day ? Json(to_iso(*day)) : Json(nullptr); }

/// "--04-14": a day of no particular year.
Json day_of_any_year(const std::optional<std::chrono::month_day>& day) {
  if (!day) return nullptr;
  return fmt::format("--{:02}-{:02}", static_cast<unsigned>(day->month()), static_cast<unsigned>(day->day()));
}

Json range(const DateRange& dates) {
  return {{"seasons", dates.seasons},
          {"without_frost", dates.without_frost},
          {"earliest", day_of_any_year(dates.earliest)},
          {"median", day_of_any_year(dates.median)},
          {"latest", day_of_any_year(dates.latest)}};
}

Json coverage(const Coverage& days) {
  return {{"measured_days", days.measured}, {"estimated_days", days.estimated}, {"missing_days", days.missing}};
}

Json site(const std::optional<climate::Place>& place) {
  if (!place) return nullptr;
  return {{"latitude_deg", number(place->latitude_deg)},
          {"longitude_deg", number(place->longitude_deg)},
          {"elevation_m", number(place->elevation_m)}};
}

Json amount(const std::optional<climate::MonthTotal>& total) { return total ? number(total->amount) : Json(nullptr); }

/// On how many days the amount was measured, where these are fewer than a month has.
Json part_of_month(const std::optional<climate::MonthTotal>& total) {
  return total && !total->whole_month ? Json(total->days) : Json(nullptr);
}

Json months(const climate::WeatherSummary& summary) {
  Json all = Json::array();
  for (std::size_t m = 0; m < summary.months.size(); ++m) {
    const climate::MonthSummary& month = summary.months[m];
    all.push_back({{"month", m + 1},
                   {"days", month.days},
                   {"tmin_c", number(month.tmin_c)},
                   {"tmax_c", number(month.tmax_c)},
                   {"tmin_sd_c", number(month.tmin_sd_c)},
                   {"tmax_sd_c", number(month.tmax_sd_c)},
                   {"frost_days", amount(month.frost_days)},
                   {"frost_days_in_days", part_of_month(month.frost_days)},
                   {"rain_mm", amount(month.rain_mm)},
                   {"rain_in_days", part_of_month(month.rain_mm)},
                   {"day_length_h", number(month.day_length_h)},
                   {"radiation_mj_m2_day", number(month.radiation_mj_m2)},
                   {"evapotranspiration_mm_day", number(month.evaporation_mm)}});
  }
  return all;
}

Json degree_days(const climate::WeatherSummary& summary) {
  Json all = Json::array();
  for (const climate::YearDegreeDays& year : summary.years) {
    for (std::size_t b = 0; b < summary.bases_c.size(); ++b) {
      all.push_back({{"year", year.year},
                     {"days", year.days},
                     {"whole_year", year.days == year.days_of_year},
                     {"base_c", number(summary.bases_c[b])},
                     {"single_sine_c_d", number(year.by_base[b].single_sine)},
                     {"sine_exponential_hours_c_d", number(year.by_base[b].hours)}});
    }
  }
  return all;
}

Json frosts(const climate::WeatherSummary& summary) {
  Json seasons = Json::array();
  for (const climate::FrostSeason& season : summary.frosts) {
    seasons.push_back({{"starts_in", season.starts_in},
                       {"spring_known", season.spring_known},
                       {"autumn_known", season.autumn_known},
                       {"last_spring_frost", date(season.last_spring_frost)},
                       {"first_autumn_frost", date(season.first_autumn_frost)}});
  }
  return {{"last_spring_frost", range(summary.last_spring_frost)},
          {"first_autumn_frost", range(summary.first_autumn_frost)},
          {"seasons", seasons}};
}

}  // namespace

std::string weather_json(const climate::WeatherSummary& summary) {
  const bool empty = summary.days == 0;
  Json notices = Json::array();
  for (const climate::Notice& notice : summary.notices) {
    notices.push_back({{"kind", notice_kind_words(notice)},
                       {"text", notice_words(notice, {})},
                       {"line", notice.line},
                       {"last_line", notice.last_line},
                       {"column", notice.finding.column},
                       {"findings", notice.findings}});
  }
  return document(
      {{"name", summary.name},
       {"kind", summary.kind == climate::RecordKind::typical_year ? "typical_year" : "years"},
       {"site", site(summary.place)},
       {"first", empty ? Json(nullptr) : Json(to_iso(summary.first))},
       {"last", empty ? Json(nullptr) : Json(to_iso(summary.last))},
       {"days", summary.days},
       {"hourly_rows", summary.hourly_rows},
       {"lowest_tmin",
        {{"c", summary.coldest ? number(summary.lowest_tmin_c) : Json(nullptr)}, {"date", date(summary.coldest)}}},
       {"highest_tmax",
        {{"c", summary.hottest ? number(summary.highest_tmax_c) : Json(nullptr)}, {"date", date(summary.hottest)}}},
       {"months", months(summary)},
       {"degree_days", degree_days(summary)},
       {"frosts", frosts(summary)},
       {"coverage",
        {{"temperature", coverage(summary.temperature)},
         {"rain", coverage(summary.rain)},
         {"humidity", coverage(summary.humidity)},
         {"wind", coverage(summary.wind)},
         {"radiation", coverage(summary.radiation)}}},
       {"whole_seasons", summary.whole_seasons},
       {"can_be_resampled", summary.can_be_resampled},
       {"notices", notices}});
}

}  // namespace strikebed::print

// Published checks of degree-days, of the statistics of a weather record and of the daily generator.
#include <algorithm>
#include <cmath>
#include <string_view>

#include "base/number.hpp"
#include "base/text.hpp"
#include "climate/csv_reader.hpp"
#include "climate/degree_days.hpp"
#include "climate/generator.hpp"
#include "climate/hours.hpp"
#include "climate/statistics.hpp"
#include "nursery/checks/computations.hpp"

namespace strikebed::nursery {
namespace {

void add_degree_days(Computed& out, double tmin, double tmax, double base) {
  out.add("average", climate::degree_days_average(tmin, tmax, base));
  out.add("four_case", climate::degree_days_four_case(tmin, tmax, base));
  out.add("single_sine", climate::degree_days_single_sine(tmin, tmax, base));
  out.add("triangle", climate::degree_days_triangle(tmin, tmax, base));
}

Computed degree_days(const CheckInputs& in) {
  Computed out;
  for (const auto& [tmin, tmax, base] : in.rows<3>({"tmin", "tmax", "base"})) add_degree_days(out, tmin, tmax, base);
  return out;
}

Computed degree_days_double_sine(const CheckInputs& in) {
  Computed out;
  for (const auto& [tmin, tmax, next_tmin, base] : in.rows<4>({"tmin", "tmax", "next_tmin", "base"}))
    out.add("degree_days", climate::degree_days_double_sine(tmin, tmax, next_tmin, base));
  return out;
}

Computed degree_days_sine_with_cutoff(const CheckInputs& in) {
  Computed out;
  for (const auto& [tmin, tmax, base, upper] : in.rows<4>({"tmin", "tmax", "base", "upper"}))
    out.add("degree_days", climate::degree_days_sine_with_cutoff(tmin, tmax, base, upper));
  return out;
}

Computed degree_days_hourly(const CheckInputs& in) {
  Computed out;
  out.add("degree_days", climate::degree_days_hourly(in.numbers("temperature"), in.number("base")));
  return out;
}

/// The numbers of a line, with spaces between them.
std::vector<double> numbers_of(std::string_view line) {
  std::vector<double> numbers;
  while (const auto read = parse_leading_number(trimmed(line))) {
    numbers.push_back(read->number);
    line = read->rest;
  }
  return numbers;
}

/// The days of a file with one line for each: its 24 temperatures, C. By the hours, and by their extremes alone.
Computed degree_days_of_hours(const CheckInputs& in) {
  const Text file = in.file("file");
  std::string_view lines = file.text;
  const double base = in.number("base");
  int days = 0;
  double hourly = 0;
  double single_sine = 0;
  double average = 0;
  for (; !lines.empty(); ++days) {
    const std::vector<double> hours = numbers_of(lines.substr(0, lines.find('\n')));
    lines.remove_prefix(std::min(lines.find('\n'), lines.size() - 1) + 1);
    if (hours.size() != 24) return in.give_up("a line of the file has not 24 numbers");
    const auto [tmin, tmax] = std::minmax_element(hours.begin(), hours.end());
    hourly += climate::degree_days_hourly(hours, base);
    single_sine += climate::degree_days_single_sine(*tmin, *tmax, base);
    average += climate::degree_days_average(*tmin, *tmax, base);
  }
  Computed out;
  out.add("days", days);
  out.add("hourly", hourly);
  out.add("single_sine", single_sine);
  out.add("average", average);
  return out;
}

Computed hourly_temperature(const CheckInputs& in) {
  const climate::DayEnds ends{in.number("tmin_c"), in.number("tmax_c"), in.number("next_tmin_c"),
                              in.number("last_tmax_c")};
  Computed out;
  for (const double hour : in.numbers("solar_hour"))
    out.add("temperature_c", climate::parton_logan_c(ends, in.number("day_length_h"), hour));
  return out;
}

Computed ar1_sd_of_mean(const CheckInputs& in) {
  Computed out;
  for (const auto& [sd, lag1, days] : in.rows<3>({"sd", "lag1", "days"}))
    out.add("sd_of_mean", climate::ar1_sd_of_mean(sd, lag1, static_cast<int>(days)));
  return out;
}

Computed expected_excess(const CheckInputs& in) {
  Computed out;
  for (const auto& [mean, sd, base] : in.rows<3>({"mean", "sd", "base"}))
    out.add("degree_days_per_day", climate::expected_excess(mean, sd, base));
  return out;
}

Computed matalas_a(const CheckInputs& in) {
  using ByRow = Eigen::Matrix<double, 3, 3, Eigen::RowMajor>;
  const std::vector<double> lag0 = in.numbers("lag0");
  const std::vector<double> lag1 = in.numbers("lag1");
  if (lag0.size() != 9 || lag1.size() != 9) return in.give_up("these are not two matrices of three rows and columns");
  const Eigen::Matrix3d a = climate::matalas_a<3>(ByRow(lag0.data()), ByRow(lag1.data()));
  Computed out;
  for (Eigen::Index row = 0; row < a.rows(); ++row)
    for (Eigen::Index column = 0; column < a.cols(); ++column) out.add("a", a(row, column));
  return out;
}

Computed mean_preserving_curve(const CheckInputs& in) {
  const std::vector<double> means = in.numbers("month_mean");
  if (means.size() != 12) return in.give_up("month_mean needs twelve numbers");
  std::array<double, 12> by_month{};
  std::copy(means.begin(), means.end(), by_month.begin());
  const climate::YearCurve curve = climate::mean_preserving_curve(by_month);

  constexpr int kOrdinaryYear = 2027;  // no 29 February
  std::array<double, 12> sums{};
  double largest_step = 0;
  double last = curve[climate::year_curve_index(make_date(kOrdinaryYear, 12, 31))];
  for (Date date = make_date(kOrdinaryYear, 1, 1); year_of(date) == kOrdinaryYear; date += Days(1)) {
    const double value = curve[climate::year_curve_index(date)];
    sums[static_cast<std::size_t>(month_of(date)) - 1] += value;
    largest_step = std::max(largest_step, std::fabs(value - last));
    last = value;
  }
  Computed out;
  for (int month = 1; month <= 12; ++month)
    out.add("month_mean", sums[static_cast<std::size_t>(month) - 1] / days_in_month(kOrdinaryYear, month));
  out.add("largest_step", largest_step);
  return out;
}

climate::WeatherRecord record_of(const CheckInputs& in) {
  const Text file = in.file("file");
  return in.value_of(climate::read_weather_csv(file.text, file.file));
}

Computed record_shape(const CheckInputs& in) {
  const climate::WeatherRecord record = record_of(in);
  if (in.given_up()) return {};
  const auto cooler = [](const auto& a, const auto& b) { return a.tmin_c < b.tmin_c; };
  const auto warmer = [](const auto& a, const auto& b) { return a.tmax_c < b.tmax_c; };
  const climate::Day& coldest = *std::min_element(record.days.begin(), record.days.end(), cooler);
  const climate::Day& hottest = *std::max_element(record.days.begin(), record.days.end(), warmer);
  Computed out;
  out.add("days", static_cast<double>(record.days.size()));
  out.add("first", to_iso(record.days.front().date));
  out.add("last", to_iso(record.days.back().date));
  out.add("days_missing", record.days_missing);
  out.add("days_filled", record.days_filled);
  out.add("highest_c", hottest.tmax_c.value_or(std::nan("")));
  out.add("highest_on", to_iso(hottest.date));
  out.add("lowest_c", coldest.tmin_c.value_or(std::nan("")));
  out.add("lowest_on", to_iso(coldest.date));
  return out;
}

Computed record_months(const CheckInputs& in) {
  const climate::WeatherRecord record = record_of(in);
  if (in.given_up()) return {};
  const auto tmin = climate::month_statistics(record, climate::tmin_of);
  const auto tmax = climate::month_statistics(record, climate::tmax_of);
  const auto tmean = climate::month_statistics(record, climate::tmean_of);
  Computed out;
  for (const double month : in.numbers("months")) {
    if (!(month >= 1 && month <= 12)) return in.give_up("a month is none of the twelve");
    const std::size_t index = static_cast<std::size_t>(month) - 1;
    out.add("days", tmean[index].count);
    out.add("tmin_c", tmin[index].mean);
    out.add("tmax_c", tmax[index].mean);
    out.add("tmean_c", tmean[index].mean);
    out.add("tmean_sd_c", tmean[index].sd);
  }
  return out;
}

Computed record_rain(const CheckInputs& in) {
  const climate::WetDayChances chances = climate::wet_day_chances(record_of(in));
  if (!chances.after_dry || !chances.after_wet) return in.give_up("the record has no wet or no dry day");
  Computed out;
  out.add("after_dry", *chances.after_dry);
  out.add("after_wet", *chances.after_wet);
  return out;
}

Computed record_correlations(const CheckInputs& in) {
  const climate::WeatherRecord record = record_of(in);
  if (in.given_up()) return {};
  Computed out;
  const auto add = [&](const char* name, const climate::DayValue& a, const climate::DayValue& b, int lag_days) {
    const auto correlation = climate::anomaly_correlation(record, a, b, lag_days);
    if (correlation) {
      out.add(name, *correlation);
    } else {
      in.give_up("too few days for a correlation");
    }
  };
  add("tmean_lag1", climate::tmean_of, climate::tmean_of, 1);
  add("tmax_lag1", climate::tmax_of, climate::tmax_of, 1);
  add("tmin_lag1", climate::tmin_of, climate::tmin_of, 1);
  add("tmax_tmin", climate::tmax_of, climate::tmin_of, 0);
  return out;
}

/// Totals from each date of "from" to the same of "to"; left out: of the whole record.
Computed record_degree_days(const CheckInputs& in) {
  const climate::WeatherRecord record = record_of(in);
  if (in.given_up()) return {};
  const double base = in.number("base");
  Computed out;
  const auto add_total = [&](Date from, Date to) {
    double average = 0;
    double single_sine = 0;
    double double_sine = 0;
    for (std::size_t i = 0; i < record.days.size(); ++i) {
      const climate::Day& day = record.days[i];
      if (day.date < from || day.date > to || !day.has_temperature()) continue;
      const climate::Day& next = record.days[std::min(i + 1, record.days.size() - 1)];
      average += climate::degree_days_average(*day.tmin_c, *day.tmax_c, base);
      single_sine += climate::degree_days_single_sine(*day.tmin_c, *day.tmax_c, base);
      double_sine +=
          climate::degree_days_double_sine(*day.tmin_c, *day.tmax_c, next.tmin_c.value_or(*day.tmin_c), base);
    }
    out.add("average", average);
    out.add("single_sine", single_sine);
    out.add("double_sine", double_sine);
  };
  const auto from = in.has("from") ? in.texts("from") : std::vector{to_iso(record.days.front().date)};
  const auto to = in.has("to") ? in.texts("to") : std::vector{to_iso(record.days.back().date)};
  if (from.size() != to.size()) return in.give_up("from and to are not equally long");
  for (std::size_t i = 0; i < from.size(); ++i) {
    const auto first = parse_iso_date(from[i]);
    const auto last = parse_iso_date(to[i]);
    if (!first || !last) return in.give_up("from and to must be dates");
    add_total(*first, *last);
  }
  return out;
}

}  // namespace

Computations weather_computations() {
  return {{"degree_days", degree_days},
          {"degree_days_double_sine", degree_days_double_sine},
          {"degree_days_sine_with_cutoff", degree_days_sine_with_cutoff},
          {"degree_days_hourly", degree_days_hourly},
          {"degree_days_of_hours", degree_days_of_hours},
          {"hourly_temperature", hourly_temperature},
          {"ar1_sd_of_mean", ar1_sd_of_mean},
          {"expected_excess", expected_excess},
          {"matalas_a", matalas_a},
          {"record_shape", record_shape},
          {"record_months", record_months},
          {"record_rain", record_rain},
          {"record_correlations", record_correlations},
          {"record_degree_days", record_degree_days},
          {"mean_preserving_curve", mean_preserving_curve}};
}

}  // namespace strikebed::nursery

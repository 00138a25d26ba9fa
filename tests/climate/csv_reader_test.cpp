// Reading weather from CSV: what is understood, what is refused, and in which words.
#include "climate/csv_reader.hpp"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <random>
#include <sstream>

#include "tests/file_text.hpp"

namespace strikebed::climate {
namespace {

WeatherRecord read(std::string_view text, const CsvOptions& options = {}) {
  auto record = read_weather_csv(text, "w.csv", options);
  EXPECT_TRUE(record.ok()) << (record.ok() ? "" : record.error().message());
  return record.ok() ? std::move(record).value() : WeatherRecord{};
}

std::string error_of(std::string_view text, const CsvOptions& options = {}) {
  const auto record = read_weather_csv(text, "w.csv", options);
  return record.ok() ? "no error" : record.error().message();
}

CsvOptions with_columns(std::initializer_list<const char*> choices) {
  CsvOptions options;
  for (const char* text : choices) {
    auto choice = parse_column_choice(text);
    EXPECT_TRUE(choice.ok()) << (choice.ok() ? "" : choice.error().message());
    if (choice.ok()) options.columns.push_back(std::move(choice).value());
  }
  return options;
}

/// The first finding of this kind; nothing where there is none.
std::optional<Finding> found(const WeatherRecord& record, NoticeKind kind) {
  const auto notice = std::find_if(record.notices.begin(), record.notices.end(),
                                   [kind](const Notice& one) { return one.kind == kind; });
  return notice == record.notices.end() ? std::nullopt : std::optional(notice->finding);
}

/// Hours of some days, one row each: temperature 10 + (hour of the day) / 2, so that a day's extremes are 10 and 21.5
/// °C.
std::string hourly(int days, std::string_view header = "time,temp (°C),rain (mm)", double extra = 0) {
  std::string text = fmt::format("{}\n", header);
  const Date first = make_date(2027, 5, 1);
  for (int hour = 0; hour < days * 24; ++hour) {
    text +=
        fmt::format("{}T{:02}:00,{},{}\n", to_iso(first + Days{hour / 24}), hour % 24, 10 + (hour % 24) / 2.0, extra);
  }
  return text;
}

// Covers  a real file from end to end. Ref: case wx.seattle.shape of the reference collection, counted there with
//         python and numpy from the same file. Tol: none, the values are decimals read as written.
TEST(CsvReader, ReadsTheSeattleRecordWhole) {
  const auto record = read_weather_csv(file_text(SOURCE_DIR "/demo/weather/seattle-2012-2015.csv"), "seattle");
  ASSERT_TRUE(record.ok()) << record.error().message();
  ASSERT_EQ(record->days.size(), 1461U);
  EXPECT_EQ(to_iso(record->days.front().date), "2012-01-01");
  EXPECT_EQ(to_iso(record->days.back().date), "2015-12-31");
  EXPECT_EQ(record->days_missing, 0);
  EXPECT_EQ(record->days_filled, 0);
  EXPECT_EQ(record->hourly_rows, 0);
  EXPECT_EQ(record->kind, RecordKind::years);
  std::map<int, int> rows_per_year;
  for (const Day& day : record->days) ++rows_per_year[year_of(day.date)];
  EXPECT_EQ(rows_per_year, (std::map<int, int>{{2012, 366}, {2013, 365}, {2014, 365}, {2015, 365}}));
  const auto hottest = std::max_element(record->days.begin(), record->days.end(),
                                        [](const Day& a, const Day& b) { return *a.tmax_c < *b.tmax_c; });
  const auto coldest = std::min_element(record->days.begin(), record->days.end(),
                                        [](const Day& a, const Day& b) { return *a.tmin_c < *b.tmin_c; });
  EXPECT_EQ(*hottest->tmax_c, 35.6);
  EXPECT_EQ(to_iso(hottest->date), "2014-08-11");
  EXPECT_EQ(*coldest->tmin_c, -7.1);
  EXPECT_EQ(to_iso(coldest->date), "2013-12-07");
  double rain_mm = 0;
  int wet_days = 0;
  for (const Day& day : record->days) {
    rain_mm += *day.rain_mm;
    wet_days += *day.rain_mm > 0;
  }
  EXPECT_NEAR(rain_mm, 4426.0, 1e-6);  // case wx.seattle.rain_open
  EXPECT_EQ(wet_days, 623);
}

// Covers  each form of date that docs/weather-files.md lists; 14 May 2027 in all of them.
TEST(CsvReader, UnderstandsEachFormOfDate) {
  for (const char* date : {"2027-05-14",
                           "2027/05/14",
                           "2027.5.14",
                           "2027-5-14",
                           "20270514",
                           "14 May 2027",
                           "14-May-2027",
                           "14/may/2027",
                           "\"May 14, 2027\"",
                           "MAY 14 2027",
                           "14 Sept 2027",
                           "Fri 14 May 2027",
                           "\"Friday, May 14, 2027\"",
                           "14/5/2027",
                           "5/14/2027",
                           "14.05.2027",
                           "5-14-2027",
                           "2027-05-14T00:00",
                           "2027-05-14 00:00:00",
                           "2027-05-14T00:00:00Z",
                           "2027-05-14T00:00:00.000+02:00",
                           "202705140000",
                           "20270514T0000Z",
                           "5/14/2027 12:00 AM"}) {
    const auto record = read(fmt::format("date,tmin,tmax\n{},1,2\n", date));
    ASSERT_EQ(record.days.size(), 1U) << date;
    EXPECT_EQ(to_iso(record.days[0].date),
              std::string_view(date).find("Sept") != std::string_view::npos ? "2027-09-14" : "2027-05-14")
        << date;
  }
}

TEST(CsvReader, UnderstandsDatesInSeveralColumns) {
  EXPECT_EQ(to_iso(read("YEAR,MO,DY,T2M_MAX,T2M_MIN\n2027,5,14,2,1\n").days.at(0).date), "2027-05-14");
  EXPECT_EQ(to_iso(read("YEAR,DOY,T2M_MAX,T2M_MIN\n2028,366,2,1\n").days.at(0).date), "2028-12-31");
  EXPECT_EQ(to_iso(read("day,low,high\n2027-05-14,1,2\n").days.at(0).date), "2027-05-14");
  EXPECT_EQ(error_of("YEAR,DOY,tmax,tmin\n2027,366,2,1\n"),
            "w.csv:2:6: DOY: there is no such day: day \"366\" of 2027; allowed: real days of the years 1800 to 2199");
  EXPECT_EQ(
      error_of("YEAR,MO,DY,tmax,tmin\n2027,2,29,2,1\n"),
      "w.csv:2:8: DY: there is no such day: year \"2027\", month \"2\", day \"29\"; allowed: real days of the years "
      "1800 to 2199");
}

TEST(CsvReader, LetsTheWholeColumnDecideTheOrderOfDayAndMonth) {
  const auto day_first = read("date,tmin,tmax\n12/5/2027,1,2\n13/5/2027,1,2\n");
  EXPECT_EQ(to_iso(day_first.days.at(0).date), "2027-05-12");
  const auto month_first = read("date,tmin,tmax\n5/12/2027,1,2\n5/13/2027,1,2\n");
  EXPECT_EQ(to_iso(month_first.days.at(0).date), "2027-05-12");
}

TEST(CsvReader, RefusesDatesWhoseOrderStaysOpen) {
  const std::string text = "date,tmin,tmax\n5/1/2027,1,2\n5/2/2027,1,2\n";
  EXPECT_EQ(error_of(text),
            "w.csv:2: date: dates like \"5/1/2027\" may mean day/month or month/day, and no row of the file tells "
            "which; allowed: dates such as 2027-05-01; or <date_order> day-first or month-first");
  CsvOptions options;
  options.date_order = DateOrder::month_first;
  EXPECT_EQ(to_iso(read(text, options).days.at(1).date), "2027-05-02");
  options.date_order = DateOrder::day_first;
  EXPECT_EQ(to_iso(read(text, options).days.at(0).date), "2027-01-05");
  EXPECT_EQ(
      error_of("date,tmin,tmax\n13/5/2027,1,2\n5/13/2027,1,2\n"),
      "w.csv:3: date: the order of day and month changes: line 2 has the day first, line 3 the month; allowed: one "
      "order in the whole column");
}

TEST(CsvReader, RefusesWhatIsNoDate) {
  EXPECT_EQ(
      error_of("date,tmin,tmax\n5/1/27,1,2\n"),
      "w.csv:2:1: date: \"5/1/27\" is not a date: the year has only two digits; allowed: dates such as 2027-05-01, "
      "20270501, 1 May 2027, May 1, 2027 or 5/1/2027, years with four digits");
  EXPECT_NE(error_of("date,tmin,tmax\n46508,1,2\n").find("it looks like a spreadsheet's day number"),
            std::string::npos);
  EXPECT_EQ(error_of("tmin,date,tmax\n1,2027-05-01,2\n1,1 May 2027,2\n"),
            "w.csv:3:3: date: \"1 May 2027\" is not a date; allowed: dates written like the first one, \"2027-05-01\"");
  EXPECT_EQ(error_of("date,tmin,tmax\n2027-02-29,1,2\n"),
            "w.csv:2:1: date: there is no such day: \"2027-02-29\"; allowed: real days of the years 1800 to 2199");
  EXPECT_EQ(error_of("date,time,temp\n2027-05-01,25:00,2\n"),
            "w.csv:2:12: time: \"25:00\" is not a time of day; allowed: such as 14:00, 2:00 PM or 14");
}

struct HeaderCase {
  const char* header;
  double written;
  std::optional<double> Day::* measure;
  double expected;
};

// Covers  units in the header. Ref: definitions of the units (inch 25.4 mm, mile 1609.344 m, nautical mile 1852 m,
//         langley 41840 J/m2), by hand. Tol: rounding of one multiplication.
TEST(CsvReader, ConvertsUnitsNamedInTheHeader) {
  const HeaderCase cases[] = {
      {"rain_mm", 5, &Day::rain_mm, 5},
      {"Precip (in)", 0.5, &Day::rain_mm, 12.7},
      {"PRCP inches", 1, &Day::rain_mm, 25.4},
      {"rain [cm]", 1.5, &Day::rain_mm, 15},
      {"rain (0.1 mm)", 15, &Day::rain_mm, 1.5},
      {"humidity (%)", 60, &Day::humidity_pct, 60},
      {"rh (fraction)", 0.6, &Day::humidity_pct, 60},
      {"dew point (°F)", 50, &Day::dew_point_c, 10},
      {"DewPoint_C", 10, &Day::dew_point_c, 10},
      {"wind", 3, &Day::wind_m_s, 3},
      {"wind [km/h]", 36, &Day::wind_m_s, 10},
      {"wind speed (mph)", 10, &Day::wind_m_s, 4.4704},
      {"WSPD_KTS", 3.6, &Day::wind_m_s, 1.852},
      {"wind_speed_2m (m/s)", 3, &Day::wind_m_s, 3},
      {"srad (MJ/m²/day)", 20, &Day::radiation_mj_m2, 20},
      {"srad MJ m-2 d-1", 20, &Day::radiation_mj_m2, 20},
      {"solar radiation (W/m2)", 250, &Day::radiation_mj_m2, 21.6},
      {"ghi (kWh/m2)", 5, &Day::radiation_mj_m2, 18},
      {"Solar (ly/day)", 500, &Day::radiation_mj_m2, 20.92},
      {"radiation langley", 500, &Day::radiation_mj_m2, 20.92},
      {"radiation (J/cm2)", 2000, &Day::radiation_mj_m2, 20},
  };
  for (const HeaderCase& one : cases) {
    const auto record = read(fmt::format("date;tmin;tmax;{}\n2027-05-01;1;2;{}\n", one.header, one.written));
    ASSERT_EQ(record.days.size(), 1U) << one.header;
    ASSERT_TRUE(record.days[0].*one.measure) << one.header;
    EXPECT_NEAR(*(record.days[0].*one.measure), one.expected, 1e-9) << one.header;
  }
}

TEST(CsvReader, ConvertsTemperatures) {
  for (const char* header :
       {"date,tmin (°F),tmax (°F)", "date,TMIN_F,TMAX_F", "DATE,Low F,High F", "date,tmin [degF],tmax [deg F]",
        "date,tmin (\xB0"
        "F),tmax (℉)",
        "date,Min. temperature (F),Max. temperature (F)"}) {
    const auto record = read(fmt::format("{}\n2027-05-01,32,212\n2027-05-02,50,68\n", header));
    ASSERT_EQ(record.days.size(), 2U) << header;
    EXPECT_NEAR(*record.days[1].tmin_c, 10, 1e-9) << header;
    EXPECT_NEAR(*record.days[1].tmax_c, 20, 1e-9) << header;
  }
  const auto kelvin = read("date,tasmin (K),tasmax (K)\n2027-05-01,283.15,293.15\n");
  EXPECT_NEAR(*kelvin.days.at(0).tmin_c, 10, 1e-9);
  const auto tenths = read("date,tmin,tmax\n2027-05-01,-99,-22\n", with_columns({"tmin=tmin:0.1C", "tmax=tmax:0.1C"}));
  EXPECT_NEAR(*tenths.days.at(0).tmin_c, -9.9, 1e-9);
}

TEST(CsvReader, UnderstandsSeparatorsQuotesAndLineEnds) {
  const char* texts[] = {
      "date,tmin,tmax,rain\n2027-05-01,1.5,12.25,0.5\n",
      ("\xEF\xBB\xBF"
       "date;tmin;tmax;rain\r\n2027-05-01;1,5;12,25;0,5\r\n"),
      "date\ttmin\ttmax\train\n2027-05-01\t1.5\t12.25\t0.5",
      "\"date\",\"tmin\",\"tmax\",\"rain\"\n\"2027-05-01\",\"1.5\", 12.25 ,\" 0.5\"\n\n",
      "# a station\n\nlatitude,47.6\ndate,tmin,tmax,rain\n2027-05-01,+1.5,1.225e1,.5\n,,,\n",
      "date,tmin,tmax,note,rain\r2027-05-01,1.5,12.25,\"a \"\"quoted\"\" note,\nof two lines\",0.5\r",
  };
  for (const char* text : texts) {
    const auto record = read(text);
    ASSERT_EQ(record.days.size(), 1U) << text;
    EXPECT_EQ(record.days[0].tmin_c, 1.5) << text;
    EXPECT_EQ(record.days[0].tmax_c, 12.25) << text;
    EXPECT_EQ(record.days[0].rain_mm, 0.5) << text;
  }
}

TEST(CsvReader, CountsLinesAcrossQuotedLineEnds) {
  EXPECT_EQ(error_of("date,tmin,tmax,note\n2027-05-01,1,2,\"two\nlines\"\nyesterday,1,2,\n"),
            "w.csv:4:1: date: \"yesterday\" is not a date; allowed: dates written like the first one, \"2027-05-01\"");
}

TEST(CsvReader, TakesColumnsTheUserNames) {
  const auto options = with_columns({"tmax=HIGH AIR:F", "tmin=LOW AIR:F", "rain=water:inch"});
  const auto record = read("date,HIGH AIR,LOW AIR,water\n2027-05-01,68,50,1\n", options);
  EXPECT_NEAR(*record.days.at(0).tmax_c, 20, 1e-9);
  EXPECT_NEAR(*record.days.at(0).rain_mm, 25.4, 1e-9);
  EXPECT_EQ(error_of("date,High air,tmin\n2027-05-01,68,50\n", with_columns({"tmax=Hihg air"})),
            "columns.tmax: there is no column \"Hihg air\" in w.csv (did you mean \"High air\"?); allowed: one of "
            "\"date\", \"High air\", \"tmin\"");
  EXPECT_EQ(error_of("date,temp_min,min_temp,tmax\n2027-05-01,1,1,2\n"),
            "w.csv:1:15: two columns hold the minimum temperature: \"temp_min\" and \"min_temp\"; allowed: one alone; "
            "or <columns.tmin>, which chooses it");
  EXPECT_EQ(read("date,temp_min,min_temp,tmax\n2027-05-01,1,3,5\n", with_columns({"tmin=min_temp"})).days.at(0).tmin_c,
            3.0);
}

TEST(ColumnChoice, SaysWhatIsWrong) {
  EXPECT_EQ(
      parse_column_choice("tmx=HIGH").error().message(),
      "columns: \"tmx\" is not a kind of column (did you mean tmax?); allowed: date, time, year, month, day, "
      "day-of-year, tmin, tmax, temperature, rain, humidity, humidity-min, humidity-max, dew-point, wind, radiation");
  EXPECT_EQ(parse_column_choice("tmax=HIGH:furlong").error().message(),
            "columns: \"furlong\" is not a known unit of maximum temperature; allowed: °C, °F, K, 0.1 °C");
  EXPECT_EQ(parse_column_choice("tmax").error().message(),
            "columns: \"tmax\" is not a choice of column; allowed: WORD=NAME or WORD=NAME:UNIT, such as tmax=HIGH:F");
}

TEST(CsvReader, SaysWhichUnitsItAssumed) {
  const auto record = read("date,temp_min,tmax (°C)\n2027-05-01,1,2\n");
  ASSERT_EQ(record.notices.size(), 1U);
  EXPECT_EQ(record.notices[0].kind, NoticeKind::no_unit);
  EXPECT_EQ(record.notices[0].finding, (Finding{.name = "\"temp_min\"", .low = {0, "°C"}, .column = 6}));
}

// Ref  FAO-56, annex 2, table 2.9 (from memory): the factor for 10 m is 0.748. Tol: its three digits.
TEST(CsvReader, ReducesWindToTwoMetres) {
  const auto named = read("date,tmin,tmax,wind_speed_10m (m/s)\n2027-05-01,1,2,10\n");
  EXPECT_NEAR(*named.days.at(0).wind_m_s, 7.48, 0.0005 * 10);
  CsvOptions options;
  options.wind_height_m = 10;
  EXPECT_NEAR(*read("date,tmin,tmax,wind\n2027-05-01,1,2,10\n", options).days.at(0).wind_m_s, 7.48, 0.0005 * 10);
  EXPECT_TRUE(found(read("date,tmin,tmax,wind (m/s)\n2027-05-01,1,2,10\n"), NoticeKind::wind_height_unknown));
  EXPECT_EQ(found(named, NoticeKind::wind_height)->low, (WrittenNumber{10, "m"}));
  options.wind_height_m = -1;
  EXPECT_EQ(error_of("date,tmin,tmax,wind\n2027-05-01,1,2,10\n", options),
            "wind_height_m: the wind height is -1 m; allowed: 0.5 to 200 m");
}

TEST(CsvReader, GathersHoursIntoLocalDays) {
  const auto record = read(hourly(3, "time,temp (°C),precipitation (mm)", 0.5));
  ASSERT_EQ(record.days.size(), 3U);
  EXPECT_EQ(record.hourly_rows, 72);
  for (const Day& day : record.days) {
    EXPECT_EQ(day.tmin_c, 10);
    EXPECT_EQ(day.tmax_c, 21.5);
    EXPECT_EQ(day.rain_mm, 12);
  }
  // 250 W/m2 through the day are 21.6 MJ/m2; 0.9 MJ/m2 in each of 24 hours too.
  EXPECT_NEAR(*read(hourly(1, "time,temp,ghi (W/m2)", 250)).days.at(0).radiation_mj_m2, 21.6, 1e-9);
  EXPECT_NEAR(*read(hourly(1, "time,temp,ghi (MJ/m2)", 0.9)).days.at(0).radiation_mj_m2, 21.6, 1e-9);
  EXPECT_NEAR(*read(hourly(1, "time,temp,rh", 55)).days.at(0).humidity_pct, 55, 1e-9);
}

TEST(CsvReader, UnderstandsATimeColumn) {
  for (const char* form : {"{:02}:00", "{}", "{:02}00", "{:02}:00:00"}) {
    std::string text = "date,hour,temp\n";
    for (int hour = 0; hour < 24; ++hour) {
      text += "2027-05-01," + fmt::format(fmt::runtime(form), hour) + fmt::format(",{}\n", hour);
    }
    const auto record = read(text);
    ASSERT_EQ(record.days.size(), 1U) << form;
    EXPECT_EQ(record.days[0].tmax_c, 23) << form;
    EXPECT_EQ(record.hourly_rows, 24) << form;
  }
  std::string afternoon = "date,time,temp\n";
  for (int hour = 0; hour < 24; ++hour) {
    afternoon += fmt::format("5/31/2027,{}:00 {},{}\n", (hour + 11) % 12 + 1, hour < 12 ? "AM" : "PM", hour);
  }
  EXPECT_EQ(read(afternoon).days.at(0).tmax_c, 23);
}

TEST(CsvReader, LeavesOffsetsAside) {
  std::string text = "time,temp\n";
  for (int hour = 0; hour < 24; ++hour) text += fmt::format("2027-05-01T{:02}:00:00-08:00,{}\n", hour, hour);
  const auto record = read(text);
  EXPECT_EQ(record.days.size(), 1U);
  EXPECT_TRUE(found(record, NoticeKind::zone_left_aside));
}

TEST(CsvReader, TellsFahrenheitFromCelsius) {
  std::string text = "date,low,high\n";
  for (int day = 1; day <= 28; ++day) text += fmt::format("2027-05-{:02},{},{}\n", day, 50 + day % 3, 55 + day);
  EXPECT_EQ(error_of(text),
            "w.csv:7:15: high: 23 of 28 values are above 60 °C, the highest 83; they look like degrees Fahrenheit; "
            "allowed: the unit in the header, F; or <columns.tmax.unit> with F");
  // a single slip of the pen is a slip
  std::string slip = "date,low,high\n";
  for (int day = 1; day <= 28; ++day) slip += fmt::format("2027-05-{:02},5,{}\n", day, day == 9 ? 150 : 15);
  const auto record = read(slip);
  EXPECT_EQ(record.days_filled, 1);
  EXPECT_EQ(record.days.at(8).tmax_c, 15);
  const Finding finding = found(record, NoticeKind::impossible).value();
  EXPECT_EQ(finding.name, "high");
  EXPECT_EQ(finding.cell, "\"150\"");
  EXPECT_EQ(finding.low, (WrittenNumber{-90, "°C"}));
  EXPECT_EQ(finding.high, (WrittenNumber{60, "°C"}));
}

TEST(CsvReader, TakesEachMissingMarkerAsMissing) {
  std::vector<std::string> markers;
  for (const std::string_view word : missing_words()) markers.emplace_back(word);
  for (const double number : missing_numbers()) markers.push_back(fmt::format("{}", number));
  for (const std::string& marker : markers) {
    const auto record = read(
        fmt::format("date,tmin,tmax,rain\n2027-05-01,1,2,{}\n2027-05-02,{},2,1\n2027-05-03,3,4,1\n", marker, marker));
    ASSERT_EQ(record.days.size(), 3U) << marker;
    EXPECT_FALSE(record.days[0].rain_mm) << marker;
    EXPECT_TRUE(record.days[1].filled) << marker;
    EXPECT_EQ(record.days[1].tmin_c, 2.0) << marker;
  }
}

TEST(CsvReader, ReportsWhatCannotBeWithLineAndColumn) {
  const auto record = read(
      "date,tmin,tmax,rain,rh,wind,ghi\n"
      "2027-05-01,1,2,-1,101,-3,-5\n"
      "2027-05-02,1,2,0,100,0,12\n");
  const Day& day = record.days.at(0);
  EXPECT_FALSE(day.rain_mm || day.humidity_pct || day.wind_m_s || day.radiation_mj_m2);
  const auto notice = std::find_if(record.notices.begin(), record.notices.end(),
                                   [](const Notice& one) { return one.finding.name == "rh" && one.line > 1; });
  ASSERT_NE(notice, record.notices.end());
  EXPECT_EQ(notice->kind, NoticeKind::impossible);
  EXPECT_EQ(notice->role, Role::humidity);
  EXPECT_EQ(notice->finding,
            (Finding{.name = "rh", .cell = "\"101\"", .low = {0, "%"}, .high = {100, "%"}, .column = 19}));
  EXPECT_EQ(notice->line, 2);
}

// Ref  the limits, -90 to 60 °C and 2000 mm, by hand in the units of the file.
TEST(CsvReader, SaysWhatCanBeInTheUnitOfTheFile) {
  const auto record = read("date,tmin (°F),tmax (°F),rain (in)\n2027-05-01,40,150,90\n2027-05-02,40,60,0\n");
  std::vector<Finding> impossible;
  for (const Notice& notice : record.notices) {
    if (notice.kind == NoticeKind::impossible) impossible.push_back(notice.finding);
  }
  ASSERT_EQ(impossible.size(), 2U);
  EXPECT_EQ(impossible[0].name, "tmax (°F)");
  EXPECT_NEAR(impossible[0].low.number, -130, 1e-9);
  EXPECT_NEAR(impossible[0].high.number, 140, 1e-9);
  EXPECT_EQ(impossible[0].high.unit, "°F");
  EXPECT_NEAR(impossible[1].high.number, 2000 / 25.4, 1e-9);
  EXPECT_EQ(impossible[1].high.unit, "inch");
}

TEST(CsvReader, SaysARunOnceAndTheMostSeriousFirst) {
  std::string text = "date,tmin,tmax,rain\n";
  for (int day = 1; day <= 31; ++day) {
    const bool gap = day >= 10 && day < 15;
    text += day == 20 ? "2027-05-20,9,3,0\n"
                      : fmt::format("2027-05-{:02},{},12,{}\n", day, gap ? "" : "4", day == 2 ? "-5" : "0");
  }
  const auto record = read(text);
  std::vector<std::tuple<NoticeKind, int, int, long>> order;  // with first and last line, and how often
  for (const Notice& notice : record.notices) {
    if (!is_about_file(notice.kind)) order.emplace_back(notice.kind, notice.line, notice.last_line, notice.findings);
  }
  EXPECT_EQ(order, (decltype(order){{NoticeKind::long_gap, 11, 11, 1},
                                    {NoticeKind::impossible, 3, 3, 1},
                                    {NoticeKind::swapped, 21, 21, 1},
                                    {NoticeKind::missing, 11, 15, 5}}));
  EXPECT_EQ(record.notices.back().kind, NoticeKind::missing);
  EXPECT_EQ(record.notices.back().finding.cell, "");
}

TEST(CsvReader, CountsColumnsInCharactersNotBytes) {
  EXPECT_EQ(error_of("note,date,tmin,tmax\näöü,2027-13-01,1,2\n"),
            "w.csv:2:5: date: there is no such day: \"2027-13-01\"; allowed: real days of the years 1800 to 2199");
}

TEST(CsvReader, ToleratesAWordAmongNumbersButNotAColumnOfWords) {
  std::string text = "date,tmin,tmax\n";
  for (int day = 1; day <= 28; ++day) text += fmt::format("2027-05-{:02},5,{}\n", day, day == 9 ? "error" : "15");
  const auto record = read(text);
  EXPECT_EQ(record.days_filled, 1);
  EXPECT_EQ(found(record, NoticeKind::not_a_number)->cell, "\"error\"");
  EXPECT_EQ(
      error_of("date,tmin,tmax\n2027-05-01,cold,2\n"),
      "w.csv:2:12: tmin: \"cold\" is not a number, and neither are 1 of the column's 1 values; allowed: numbers in °C, "
      "or a missing marker such as NA");
}

TEST(CsvReader, TakesATraceOfRainAsNone) {
  EXPECT_EQ(read("date,tmin,tmax,prcp (in)\n2027-05-01,1,2,T\n").days.at(0).rain_mm, 0.0);
}

TEST(CsvReader, RefusesWhatIsNoWeather) {
  const std::string table = "; allowed: a text file with a header line, separated by commas, semicolons or tabs";
  EXPECT_EQ(error_of(""), "w.csv: the file is empty" + table);
  EXPECT_EQ(error_of(" \r\n\n"), "w.csv: the file is empty" + table);
  EXPECT_EQ(error_of(std::string_view("date,tmin,tmax\n\0\n", 17)),
            "w.csv:2: this is not a text file (there is a zero byte in it)" + table);
  EXPECT_EQ(error_of("PK\x03\x04zip"),
            "w.csv: this is a zipped file or a spreadsheet; allowed: save the sheet as CSV (UTF-8) first");
  EXPECT_EQ(error_of("\xFF\xFE"
                     "d"),
            "w.csv: this text is in UTF-16; allowed: save it as CSV (UTF-8)");
  EXPECT_EQ(error_of("date,tmin,tmax\n"),
            "w.csv: there are no rows of data under the header; allowed: one row a day or an hour");
  EXPECT_EQ(error_of("date|tmin|tmax\r\n2027-05-01|1|2\r\n"),
            "w.csv:1: none of the first 30 lines has several cells" + table);
  EXPECT_EQ(error_of(std::string(2'000'000, ',')), "w.csv:1: the first line does not end within a megabyte" + table);
  std::string preamble;
  for (int i = 0; i < 29; ++i) preamble += "a station\r\n";
  EXPECT_EQ(error_of(preamble + "date,tmin,tmax\r\n2027-05-01,1,2\r\n"), "no error");
  EXPECT_EQ(error_of("date,colour\n2027-05-01,red\n"),
            "w.csv:1: no column with the temperature was recognised in \"date\", \"colour\"; allowed: a known name "
            "(docs/weather-files.md); or <columns.tmin>");
  EXPECT_EQ(error_of("date,tmin (furlong),tmax\n2027-05-01,1,2\n"),
            "w.csv:1:6: \"tmin (furlong)\": the unit \"furlong\" is not known; allowed: °C, °F, K, 0.1 °C; or "
            "<columns.tmin.unit>");
  EXPECT_EQ(
      error_of("date,temp\n2027-05-01,1\n2027-05-02,2\n"),
      "w.csv:2: tmin: the file is daily and has no column of minimum temperature; allowed: daily minimum and maximum "
      "temperature, or the temperature of every hour with its time");
  EXPECT_EQ(error_of("LOCATION,Seattle\n"),
            "w.csv:1: this looks like an EPW file; allowed: read it as EPW: give it the ending .epw");
  EXPECT_EQ(
      error_of("date,tmin,tmax\n2027-05-01,1,2,3\n"),
      "w.csv:2:16: the row has more cells than the header (3); allowed: as many cells as names in the header (with "
      "decimal commas: semicolons between cells)");
  EXPECT_EQ(error_of("date,tmin,tmax\n2027-05-01,\"1,2\n2027-05-02,1,2\n"),
            "w.csv:2:12: a quotation mark is opened here and never closed; allowed: quotation marks in pairs");
}

/// What an error says before its hints: place and problem.
std::string problem_of(std::string_view text, const CsvOptions& options = {}) {
  const std::string message = error_of(text, options);
  return message.substr(0, message.find("; allowed"));
}

// A header that is not understood is named with its own line and its own cells, wherever a row of data below happens to
// hold a word that could name a column.
TEST(CsvReader, NamesTheHeaderThatItDoesNotUnderstand) {
  const std::string unknown = "none of these columns was recognised: ";
  EXPECT_EQ(problem_of("When,Lowest,Highest,Remarks\n2024-01-01,1,5,\n2024-01-02,2,6,temp\n2024-01-03,2,6,wind\n"),
            "w.csv:1: " + unknown + R"("When", "Lowest", "Highest", "Remarks")");
  EXPECT_EQ(problem_of("Station,Foo,Bar,State\nX,1 May 2024,1,high\nX,2 May 2024,2,low\n"),
            "w.csv:1: " + unknown + R"("Station", "Foo", "Bar", "State")");
  EXPECT_EQ(problem_of("\n\nWhen;Lowest\n1.5.2024;1,5\n"), "w.csv:3: " + unknown + R"("When", "Lowest")");
  EXPECT_EQ(problem_of(",,\nWhen,Lowest,Highest\n2024-01-01,1,5\n"),
            "w.csv:2: " + unknown + R"("When", "Lowest", "Highest")");
  EXPECT_EQ(problem_of("# a station, at home\nelevation,20\nWhen,Lowest,Highest\n2024-01-01,1,5\n"),
            "w.csv:3: " + unknown + R"("When", "Lowest", "Highest")");
  EXPECT_EQ(problem_of("# a station, in a garden\nWhen,tmin,tmax\nday,degC,degC\n2024-01-01,1,5\n"),
            R"(w.csv:2: no column with the date was recognised in "When", "tmin", "tmax")");
  EXPECT_EQ(problem_of("date,Lowest,Highest\n2024-01-01,1,5\n"),
            R"(w.csv:1: no column with the temperature was recognised in "date", "Lowest", "Highest")");
  EXPECT_EQ(problem_of("When,Lowest,tmax\n2024-01-01,1,5\n", with_columns({"date=Day"})),
            R"(columns.date: there is no column "Day" in w.csv)");
  EXPECT_EQ(problem_of("2024-01-01,1,5\n2024-01-02,2,temp\n"),
            "w.csv:1: no header line was found in the first 30 lines");
}

TEST(CsvReader, ReadsUnitsFromARowBelowTheNames) {
  const auto record = read("date,low,high (°F),rain\n,degF,,[inch]\n2027-05-01,50,68,1\n");
  ASSERT_EQ(record.days.size(), 1U);
  EXPECT_NEAR(*record.days[0].tmin_c, 10, 1e-9);
  EXPECT_NEAR(*record.days[0].tmax_c, 20, 1e-9);
  EXPECT_NEAR(*record.days[0].rain_mm, 25.4, 1e-9);
  EXPECT_TRUE(record.notices.empty());
  EXPECT_EQ(problem_of("date,low,high\n,C,C\n2027-05-01,5,6\nyesterday,5,6\n"),
            "w.csv:4:1: date: \"yesterday\" is not a date");
  EXPECT_EQ(problem_of("date,low,high\nfirst,one,two\n2027-05-01,5,6\n"), "w.csv:2:1: date: \"first\" is not a date");
}

TEST(CsvReader, LeavesOutColumnsOfStrangeUnits) {
  const auto record = read("date,tmin,tmax,radiation (umol)\n2027-05-01,1,2,300\n");
  EXPECT_FALSE(record.days.at(0).radiation_mj_m2);
  EXPECT_EQ(found(record, NoticeKind::strange_unit),
            (Finding{.name = "\"radiation (umol)\"", .cell = "\"umol\"", .column = 16}));
}

TEST(CsvReader, EndsNoiseAndMonstersInOneMessage) {
  std::mt19937 random(1);
  for (int round = 0; round < 50; ++round) {
    std::string noise(20'000, ' ');
    for (char& c : noise) c = static_cast<char>(random() % 255 + 1);
    EXPECT_FALSE(read_weather_csv(noise, "noise").ok());
    EXPECT_FALSE(read_weather_csv("date,tmin,tmax\n" + noise, "noise").ok());
  }
  EXPECT_FALSE(read_weather_csv(std::string(5'000'000, 'x'), "one line").ok());
  EXPECT_FALSE(read_weather_csv(std::string(5'000'000, '"'), "quotes").ok());
  EXPECT_FALSE(read_weather_csv("date,tmin,tmax\n" + std::string(5'000'000, '1'), "digits").ok());
  std::string wide = "date,tmin,tmax";
  for (int i = 0; i < 100'000; ++i) wide += ",x";
  EXPECT_EQ(error_of(wide),
            "w.csv:1: the line has more than 1000 columns; allowed: a table of days or hours, one a row");
  // empty cells behind a row say nothing and are let pass
  EXPECT_TRUE(read_weather_csv("date,tmin,tmax\n2027-05-01,1,2" + std::string(1'000'000, ','), "commas").ok());
}

// A property: the order of the rows in the file does not matter to the days.
TEST(CsvReader, GivesTheSameDaysForShuffledRows) {
  std::vector<std::string> rows;
  const std::string text = hourly(20);
  std::istringstream lines(text);
  std::string header;
  std::getline(lines, header);
  for (std::string line; std::getline(lines, line);) rows.push_back(line + "\n");
  std::shuffle(rows.begin(), rows.end(), std::mt19937(7));
  std::string shuffled = header + "\n";
  for (const std::string& row : rows) shuffled += row;
  const auto straight = read(text);
  const auto mixed = read(shuffled);
  ASSERT_EQ(straight.days.size(), mixed.days.size());
  for (std::size_t i = 0; i < mixed.days.size(); ++i) {
    EXPECT_EQ(straight.days[i].date, mixed.days[i].date);
    EXPECT_EQ(straight.days[i].tmin_c, mixed.days[i].tmin_c);
    EXPECT_EQ(straight.days[i].tmax_c, mixed.days[i].tmax_c);
  }
}

TEST(CsvReader, KeepsFewNoticesHoweverManyThereAre) {
  std::string text = "date,tmin,tmax,rain\n";
  for (int i = 0; i < 20'000; ++i) text += fmt::format("{},5,4,-1\n", to_iso(make_date(1950, 1, 1) + Days{i}));
  const auto record = read(text);
  EXPECT_LT(record.notices.size(), 10U);
  EXPECT_TRUE(std::ranges::any_of(record.notices, [](const Notice& notice) {
    return notice.kind == NoticeKind::impossible && notice.findings == 20'000 && !notice.not_kept;
  }));
  std::string every_other = "date,tmin,tmax,rain\n";
  for (int i = 0; i < 20'000; ++i) {
    every_other += fmt::format("{},4,5,{}\n", to_iso(make_date(1950, 1, 1) + Days{i}), i % 2 == 0 ? "-1" : "1");
  }
  const auto spread = read(every_other);
  EXPECT_LT(spread.notices.size(), 1010U);
  EXPECT_TRUE(std::ranges::any_of(spread.notices, [](const Notice& notice) {
    return notice.kind == NoticeKind::impossible && notice.role == Role::rain && notice.findings == 9000 &&
           notice.not_kept;
  }));
}

TEST(WeatherColumns, AChosenColumnHasTheUnitAndTheHeightInItsName) {
  const auto wind = [](const std::string& name, const std::string& choice) {
    return read("date,tmin,tmax," + name + "\n2027-05-01,1,2,10\n", with_columns({choice.c_str()}))
        .days.at(0)
        .wind_m_s.value_or(-1);
  };
  EXPECT_NEAR(wind("avg mph", "wind=avg mph"), 4.4704, 1e-9);
  EXPECT_NEAR(wind("station 3 [knots]", "wind=station 3 [knots]"), 5.144444, 1e-6);
  EXPECT_NEAR(wind("mast_10m_kmh", "wind=mast_10m_kmh"), 10 / 3.6 * 0.748, 0.001);
  EXPECT_NEAR(wind("avg mph", "wind=avg mph:m/s"), 10, 1e-9) << "what is said goes over the name";
  EXPECT_NEAR(wind("vane", "wind=vane"), 10, 1e-9);
  const auto probes = read("date,probe F,probe C\n2027-05-01,1,2\n", with_columns({"tmin=probe F", "tmax=probe C"}));
  EXPECT_EQ(probes.days.at(0).tmin_c, 1.0) << "a letter behind any name is no unit";
}

TEST(WeatherColumns, ThoseThatAreNotReadAreNamed) {
  const auto unread = [](const std::string& header) {
    const auto finding = found(read(header + "\n2027-05-01,1,2,3,4\n"), NoticeKind::unread);
    return finding ? fmt::format("{} {}", finding->count, finding->name) : "none";
  };
  EXPECT_EQ(unread("date,tmin,tmax,gusts,snow depth"), "2 \"gusts\", \"snow depth\"");
  EXPECT_EQ(unread("date,tmin,tmax,rain,"), "none") << "a column without a name is none";
  EXPECT_EQ(unread("date,tmin,tmax,rain,wind"), "none");
  std::string many = "date,tmin,tmax";
  for (int i = 1; i <= 14; ++i) many += fmt::format(",x{}", i);
  const std::string named = found(read(many + "\n2027-05-01,1,2\n"), NoticeKind::unread)->name;
  EXPECT_TRUE(named.ends_with("\"x12\" and 2 more")) << named;
}

}  // namespace
}  // namespace strikebed::climate

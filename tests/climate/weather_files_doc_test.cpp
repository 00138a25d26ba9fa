// docs/weather-files.md repeats the tables of names, units and missing markers: line by line as they are in the
// program.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <map>
#include <set>
#include <sstream>

#include "climate/columns.hpp"
#include "climate/epw_reader.hpp"
#include "tests/file_text.hpp"

namespace strikebed::climate {
namespace {

std::string document() { return file_text(SOURCE_DIR "/docs/weather-files.md"); }

/// The rows of the table under a heading row, without the rule.
std::vector<std::string> table_under(const std::string& text, const std::string& heading) {
  std::vector<std::string> rows;
  std::istringstream lines(text.substr(std::min(text.size(), text.find(heading))));
  std::string line;
  std::getline(lines, line);
  std::getline(lines, line);
  while (std::getline(lines, line) && line.rfind('|', 0) == 0) rows.push_back(line);
  return rows;
}

TEST(WeatherFilesDocument, RepeatsTheTableOfColumns) {
  std::vector<std::string> expected;
  for (const KnownRole& role : known_roles()) {
    expected.push_back(fmt::format("| `{}` | {} | {} |", role.word, role.meaning, role.names));
  }
  EXPECT_EQ(table_under(document(), "| word | holds | names |"), expected);
}

TEST(WeatherFilesDocument, RepeatsTheTableOfUnits) {
  std::vector<std::string> expected;
  for (const KnownUnit& unit : known_units()) expected.push_back(fmt::format("| {} | {} |", unit.name, unit.spellings));
  EXPECT_EQ(table_under(document(), "| unit | spellings |"), expected);
}

TEST(WeatherFilesDocument, RepeatsTheMissingMarkers) {
  std::string words = "An empty cell";
  for (const std::string_view word : missing_words()) {
    if (!word.empty()) words += fmt::format(", `{}`", word);
  }
  std::string numbers;
  for (const double number : missing_numbers()) numbers += fmt::format("{}`{}`", numbers.empty() ? "" : ", ", number);
  const std::string text = document();
  EXPECT_NE(text.find(words + ", in any case, and the numbers " + numbers + " mean"), std::string::npos);
}

TEST(WeatherFilesDocument, RepeatsTheFieldsOfEpw) {
  std::vector<std::string> expected;
  for (const EpwField& field : epw_fields()) {
    std::string row =
        fmt::format("| {} | {} | {} | {} | {} to {}{} |", field.name, field.place, field.unit, field.missing_from,
                    field.low, field.high, field.role == Role::humidity ? ", above 100 read as 100" : "");
    if (const std::size_t minus = row.find("| -"); minus != std::string::npos) row.replace(minus, 3, "| −");
    expected.push_back(std::move(row));
  }
  EXPECT_EQ(table_under(document(), "| field | place | unit | missing from | possible |"), expected);
}

template <class Use>
void each_of(std::string_view list, Use use) {
  std::size_t from = 0;
  while (from <= list.size()) {
    const std::size_t comma = std::min(list.find(", ", from), list.size());
    use(list.substr(from, comma - from));
    from = comma + 2;
  }
}

TEST(ColumnTable, GivesEachNameOneMeaning) {
  std::map<std::string, Role> seen;
  for (const KnownRole& role : known_roles()) {
    EXPECT_EQ(about(role.role).word, role.word);
    each_of(role.names, [&](std::string_view name) {
      const auto [entry, added] = seen.emplace(squeezed(name), role.role);
      EXPECT_TRUE(added || entry->second == role.role) << name;
      const auto read = read_header_cell(name);
      ASSERT_TRUE(read) << name;
      EXPECT_EQ(read->role, role.role) << name;
    });
  }
}

TEST(ColumnTable, UnderstandsEachSpellingOfEachUnitBehindEachName) {
  std::map<std::pair<UnitFamily, std::string>, const KnownUnit*> seen;
  for (const KnownUnit& unit : known_units()) {
    EXPECT_EQ(unit_named(unit.family, unit.name), &unit) << unit.name;
    each_of(unit.spellings, [&](std::string_view spelling) {
      const auto [entry, added] = seen.emplace(std::pair{unit.family, squeezed(spelling)}, &unit);
      EXPECT_TRUE(added || entry->second == &unit) << spelling;
      for (const KnownRole& role : known_roles()) {
        if (role.family != unit.family) continue;
        const std::string bracketed = fmt::format("{} ({})", role.word, spelling);
        const auto read = read_header_cell(bracketed);
        ASSERT_TRUE(read) << bracketed;
        EXPECT_EQ(read->role, role.role) << bracketed;
        EXPECT_EQ(read->unit, &unit) << bracketed;
      }
    });
  }
}

}  // namespace
}  // namespace strikebed::climate

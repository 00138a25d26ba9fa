// Covers  tables for screens of any width. Ref: none needed, the layout is our own.
#include "print/text_table.hpp"

#include <gtest/gtest.h>

#include <sstream>

namespace strikebed::print {
namespace {

const std::vector<Column> kColumns = {{"Session"}, {"Low", true}, {"Typical", true}, {""}, {"What"}};
const std::vector<std::vector<std::string>> kRows = {
    {"", "2027"},
    {"Sat 3 Apr", "3", "12", "██▌", "[ ] First sessions at the bench"},
    {"Sun 4 Apr", "", "9", "", "rest"},
};

TEST(TextTable, StandsSideBySideWhereItFits) {
  EXPECT_EQ(table(kColumns, kRows, 60),
            "  Session     Low  Typical       What\n"
            "  ─────────  ────  ───────  ───  ───────────────────────────\n"
            "             2027\n"
            "  Sat 3 Apr     3       12  ██▌  [ ] First sessions at the\n"
            "                                 bench\n"
            "  Sun 4 Apr              9       rest\n");
}

TEST(TextTable, StandsRowByRowWhereItDoesNot) {
  EXPECT_EQ(table(kColumns, kRows, 40),
            "  2027\n"
            "  - Session: Sat 3 Apr; Low: 3;\n"
            "    Typical: 12\n"
            "    [ ] First sessions at the bench\n"
            "  - Session: Sun 4 Apr; Typical: 9;\n"
            "    What: rest\n");
}

// Whatever the width from 40 on, no line is wider.
TEST(TextTable, IsNeverWiderThanTheScreen) {
  for (std::size_t width = 40; width <= 100; ++width) {
    std::istringstream lines(table(kColumns, kRows, width));
    for (std::string line; std::getline(lines, line);) EXPECT_LE(width_of(line), width) << line;
  }
}

}  // namespace
}  // namespace strikebed::print

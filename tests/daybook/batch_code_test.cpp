// Codes: what their check character finds, tried out in full, and what is read of what people type.
#include "daybook/batch_code.hpp"

#include <gtest/gtest.h>

#include <set>
#include <string>
#include <utility>

namespace strikebed::daybook {
namespace {

TEST(BatchCode, IsReadAsItWasWritten) {
  std::set<std::string> seen;
  for (int mark = 0; mark < kDeviceMarks; mark += 3) {
    for (const std::int64_t counter : {0LL, 1LL, 16LL, 17LL, 288LL, 289LL, 290LL, 5000LL, 6'975'757'440LL}) {
      const BatchCode code{mark, counter};
      const auto read = read_batch_code(to_text(code));
      ASSERT_TRUE(read) << to_text(code);
      EXPECT_EQ(*read, code);
      EXPECT_TRUE(seen.insert(to_text(code)).second) << to_text(code);
    }
  }
}

TEST(BatchCode, FiveCharactersLastForTheFirst289BatchesOfADevice) {
  EXPECT_EQ(to_text(BatchCode{0, 288}).size(), 5U);
  EXPECT_EQ(to_text(BatchCode{288, 289}).size(), 6U);
}

TEST(BatchCode, EveryWrongCharacterIsFound) {
  for (const std::int64_t counter : {0, 42, 288, 4000}) {
    for (int mark = 0; mark < kDeviceMarks; ++mark) {
      const std::string right = to_text(BatchCode{mark, counter});
      for (std::size_t i = 0; i < right.size(); ++i) {
        for (const char other : kCodeAlphabet) {
          std::string wrong = right;
          wrong[i] = other;
          if (wrong != right) {
            ASSERT_FALSE(read_batch_code(wrong)) << right << " " << wrong;
          }
        }
      }
    }
  }
}

TEST(BatchCode, EverySwapIsFound) {
  for (std::int64_t counter = 0; counter < 400; counter += 7) {
    for (int mark = 0; mark < kDeviceMarks; ++mark) {
      const std::string right = to_text(BatchCode{mark, counter});
      for (std::size_t i = 0; i < right.size(); ++i) {
        for (std::size_t j = i + 1; j < right.size(); ++j) {
          std::string wrong = right;
          std::swap(wrong[i], wrong[j]);
          if (wrong != right) {
            ASSERT_FALSE(read_batch_code(wrong)) << right << " " << wrong;
          }
        }
      }
    }
  }
}

TEST(BatchCode, HasNoCharacterThatLooksOrSoundsLikeAnother) {
  for (const char out : std::string_view("0O1ILQDJZSGBCEPVANU")) {
    EXPECT_EQ(kCodeAlphabet.find(out), std::string_view::npos) << out;
  }
  EXPECT_EQ(kCodeAlphabet.size(), 17U);  // a prime
}

TEST(BatchCode, IsReadAsPeopleTypeIt) {
  const std::string code = to_text(BatchCode{130, 77});
  std::string typed;
  for (const char c : code) {
    typed += c >= 'A' ? static_cast<char>(c - 'A' + 'a') : c;
    typed += typed.size() % 2 ? " " : "-";
  }
  ASSERT_TRUE(read_batch_code(typed)) << typed;
  EXPECT_EQ(to_text(*read_batch_code(typed)), code);
}

TEST(BatchCode, SaysWhatIsWrong) {
  EXPECT_EQ(read_batch_code("K4O7T").error().message(),
            "code: found \"K4O7T\"; allowed: the characters 23456789FHKMRTWXY");
  EXPECT_EQ(read_batch_code("K4").error().message(), "code: found \"K4\"; allowed: 5 to 11 characters");
  EXPECT_EQ(read_batch_code("").error().allowed, "5 to 11 characters");
  EXPECT_FALSE(read_batch_code("22222222222222222222222222222222"));
  EXPECT_FALSE(read_batch_code("222222"));  // a counter of three digits that two would do for
  EXPECT_TRUE(read_batch_code("22222"));
}

TEST(BatchCode, ANewDeviceTakesAMarkOfItsOwn) {
  std::vector<int> taken;
  for (int i = 0; i < kDeviceMarks; ++i) {
    const int mark = free_device_mark(taken, 0xfedcba9876543210ULL);
    EXPECT_EQ(std::count(taken.begin(), taken.end(), mark), 0);
    taken.push_back(mark);
  }
  EXPECT_LT(free_device_mark(taken, 5), kDeviceMarks);  // all are taken: any
}

}  // namespace
}  // namespace strikebed::daybook

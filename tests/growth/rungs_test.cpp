// The table of the seven rungs: each once and in its place, for which plants it matters, whose it is, and that the
// grower reads the same in docs/goal-file.md.
#include "growth/rungs.hpp"

#include <gtest/gtest.h>

#include <set>
#include <string>

#include "tests/file_text.hpp"

namespace strikebed::growth {
namespace {

std::set<std::string_view> names_where(auto holds) {
  std::set<std::string_view> names;
  for (const RungRow& row : kRungs) {
    if (holds(row)) names.insert(row.name);
  }
  return names;
}

std::set<std::string_view> names_of(BatchUnit unit) {
  return names_where([unit](const RungRow& row) { return row.batch_unit == unit; });
}

std::set<std::string_view> names_applying(CountAt count_at) {
  return names_where([count_at](const RungRow& row) { return applies(row.rung, count_at); });
}

}  // namespace

TEST(Rungs, EachStandsOnceAndInItsPlace) {
  std::set<std::string_view> names;
  std::set<Moment> moments;
  for (std::size_t i = 0; i < kRungs.size(); ++i) {
    EXPECT_EQ(index_of(kRungs[i].rung), i) << kRungs[i].name;
    EXPECT_EQ(row_of(kRungs[i].rung).name, name_of(kRungs[i].rung));
    names.insert(kRungs[i].name);
    moments.insert(kRungs[i].moment);
  }
  EXPECT_EQ(index_of(Rung::grade), kRungs.size() - 1);
  EXPECT_EQ(names.size(), kRungs.size());
  EXPECT_EQ(moments.size(), kRungs.size()) << "each rung has a moment of its own";
}

TEST(Rungs, OnlyThoseBeforeTheCountApply) {
  std::set<std::string_view> expected{"germination", "standing", "usable", "take", "grade"};
  EXPECT_EQ(names_applying(CountAt::rooted), expected);
  expected.insert("weaning");
  EXPECT_EQ(names_applying(CountAt::weaned), expected);
  expected.insert("winter");
  EXPECT_EQ(names_applying(CountAt::established), expected);
  EXPECT_EQ(name_of(CountAt::rooted), "rooted");
  EXPECT_EQ(name_of(CountAt::weaned), "weaned");
  EXPECT_EQ(name_of(CountAt::established), "established");
}

TEST(Rungs, HaveTheirBatches) {
  using Names = std::set<std::string_view>;
  EXPECT_EQ(names_of(BatchUnit::sowing), (Names{"germination", "standing"}));
  EXPECT_EQ(names_of(BatchUnit::session), (Names{"usable", "weaning"}));
  EXPECT_EQ(names_of(BatchUnit::session_and_method), (Names{"take"}));
  EXPECT_EQ(names_of(BatchUnit::season), (Names{"winter"}));
  EXPECT_EQ(names_of(BatchUnit::method), (Names{"grade"}));
  EXPECT_EQ(names_where([](const RungRow& row) { return row.is_of_method(); }), (Names{"grade", "take"}));
}

TEST(Rungs, AreExplainedToTheGrowerInTheirOrder) {
  const std::string page = file_text(SOURCE_DIR "/docs/goal-file.md");
  std::string rows;
  for (const RungRow& row : kRungs) {
    rows += "| `" + std::string(row.name) + "` | " + std::string(row.of) + " | " + std::string(row.become) + " |\n";
  }
  EXPECT_NE(page.find("| --- | --- | --- |\n" + rows + "\n"), std::string::npos) << rows;
}

TEST(Rungs, OneOfEach) {
  PerRung<int> counts;
  for (const RungRow& row : kRungs) EXPECT_EQ(counts[row.rung], 0) << row.name;
  counts[Rung::take] = 3;
  EXPECT_EQ(counts[Rung::take], 3);
  EXPECT_EQ(counts[Rung::grade], 0);
  EXPECT_NE(counts, PerRung<int>{});
}

}  // namespace strikebed::growth

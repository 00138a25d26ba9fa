// A program that writes notes is killed at any moment: every note that it acknowledged is there, none is there twice or
// in part, and the daybook opens.
#include <gtest/gtest.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cerrno>
#include <csignal>
#include <cstdint>
#include <map>
#include <set>
#include <sstream>
#include <string>
#include <vector>

#include "base/random.hpp"
#include "daybook/fold.hpp"
#include "tests/daybook/making.hpp"
#include "tests/host/two_databases.hpp"

namespace strikebed::host {
namespace {

/// The writer, and what it has acknowledged.
class Writer {
 public:
  Writer(const std::string& where, std::uint64_t first) {
    int ends[2] = {-1, -1};
    if (::pipe(ends) != 0) return;
    const std::string number = std::to_string(first);
    process_ = ::fork();
    if (process_ == 0) {
      ::dup2(ends[1], STDOUT_FILENO);
      ::close(ends[0]);
      ::close(ends[1]);
      ::execl(NOTE_WRITER, NOTE_WRITER, where.c_str(), number.c_str(), static_cast<char*>(nullptr));
      ::_exit(127);
    }
    ::close(ends[1]);
    out_ = ends[0];
  }
  Writer(const Writer&) = delete;
  Writer& operator=(const Writer&) = delete;
  ~Writer() { ::close(out_); }

  /// Reads on until so many lines are there, or it has ended.
  void await_lines(std::size_t lines) {
    char c = 0;
    while (lines > 0) {
      const ssize_t got = ::read(out_, &c, 1);
      if (got < 0 && errno == EINTR) continue;
      if (got <= 0) return;
      text_ += c;
      if (c == '\n') --lines;
    }
  }
  /// Returns whether it was running until then.
  bool kill() {
    ::kill(process_, SIGKILL);
    int status = 0;
    ::waitpid(process_, &status, 0);
    await_lines(SIZE_MAX);
    return WIFSIGNALED(status);
  }
  /// The first number of each adding, and how many it was of.
  [[nodiscard]] std::map<std::uint64_t, std::uint64_t> acknowledged() const {
    std::map<std::uint64_t, std::uint64_t> all;
    std::istringstream lines(text_);
    std::uint64_t first = 0;
    std::uint64_t number = 0;
    while (lines >> first >> number) all[first] = number;
    return all;
  }

 private:
  int out_ = -1;
  pid_t process_ = -1;
  std::string text_;
};

/// Kills so many writers of one daybook one after the other, and some at the beginning of new ones.
void kill_writers(Kind kind, std::uint64_t times) {
  constexpr std::uint64_t kNumbersEach = 1'000'000;
  Places places(kind);
  const std::string usual = places.fresh("notes");
  std::set<std::uint64_t> expected;
  std::uint64_t acknowledged = 0;
  for (std::uint64_t round = 0; round < times; ++round) {
    const bool is_new = round % 8 == 7;
    const std::string where = is_new ? places.fresh("new" + std::to_string(round)) : usual;
    const std::uint64_t first = round * kNumbersEach;
    Writer writer(where, first);
    const std::uint64_t lines = is_new ? 0 : random_bits(1, round) % 60;
    writer.await_lines(lines);
    ::usleep(static_cast<useconds_t>(random_bits(2, round) % (is_new ? 30'000 : 3000)));
    ASSERT_TRUE(writer.kill()) << "it ended by itself";

    std::set<std::uint64_t> own;
    std::set<std::uint64_t>& numbers = is_new ? own : expected;
    for (const auto& [begin, number] : writer.acknowledged()) {
      for (std::uint64_t i = 0; i < number; ++i) numbers.insert(begin + i);
      acknowledged += number;
    }
    auto store = DaybookStore::open(where, Access::create);
    ASSERT_TRUE(store) << message_of(store);
    auto all = store->read_all();
    ASSERT_TRUE(all) << message_of(all);
    std::set<daybook::EntryId> ids;
    for (const daybook::Entry& one : *all) ids.insert(one.id);
    EXPECT_EQ(ids.size(), all->size()) << "one is there twice";
    for (const std::uint64_t number : numbers) ASSERT_TRUE(ids.contains(daybook::id(number))) << number << " was lost";
    // What was on its way may be there, whole.
    const std::uint64_t next = writer.acknowledged().empty() ? first : *numbers.rbegin() + 1;
    const std::uint64_t on_its_way = next % 12 == 0 ? 12 : 1;
    const std::size_t beyond = ids.size() - numbers.size();
    EXPECT_TRUE(beyond == 0 || beyond == on_its_way) << beyond << " of " << on_its_way;
    for (std::uint64_t i = 0; beyond != 0 && i < on_its_way; ++i) {
      ASSERT_TRUE(ids.contains(daybook::id(next + i)));
      numbers.insert(next + i);
    }
  }
  EXPECT_GT(acknowledged, times);
}

class Killed : public ::testing::TestWithParam<Kind> {};
class LongKilled : public Killed {};
const auto kBoth = ::testing::Values(Kind::sqlite, Kind::postgres);
const auto kName = [](const auto& one) {
  return one.param == Kind::sqlite ? std::string("Sqlite") : std::string("Postgres");
};
INSTANTIATE_TEST_SUITE_P(Both, Killed, kBoth, kName);
INSTANTIATE_TEST_SUITE_P(LongBoth, LongKilled, kBoth, kName);

TEST_P(Killed, NothingAcknowledgedIsLostAtFortyMoments) { kill_writers(GetParam(), 40); }
TEST_P(LongKilled, NothingAcknowledgedIsLostAtFiveHundredMoments) { kill_writers(GetParam(), 500); }

}  // namespace
}  // namespace strikebed::host

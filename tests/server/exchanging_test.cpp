// Many that exchange at once, and a server that is killed meanwhile.
#include <fmt/format.h>
#include <sys/wait.h>
#include <unistd.h>

#include <atomic>
#include <cerrno>
#include <csignal>
#include <map>
#include <set>

#include "base/random.hpp"
#include "tests/server/running_service.hpp"

namespace strikebed::server {
namespace {

using daybook::Entry;
using daybook::EntryId;

/// A copy of a daybook in a page's hands.
class Copy {
 public:
  void add(const Entry& entry) { entries_.emplace(entry.id, entry); }
  [[nodiscard]] std::size_t size() const { return entries_.size(); }

  /// Becomes one with the server's; returns how many messages it took, 0 where an answer was not as expected.
  int exchange(std::uint16_t port) {
    Client client(port);
    daybook::Message message = daybook::opening(ids());
    for (int messages = 1;; ++messages) {
      const Response got = client.ask("POST", "/exchange", "", daybook::message_text(message));
      if (got.status == 204) return messages;
      const auto answer = got.status == 200 ? daybook::read_message(got.body) : Error{};
      if (!answer) return 0;
      for (const Entry& entry : answer->entries) add(entry);
      message = daybook::answer(ids(), *answer, [&](const EntryId& id) -> std::optional<Entry> {
        const auto found = entries_.find(id);
        return found == entries_.end() ? std::nullopt : std::optional(found->second);
      });
      if (message.is_empty()) return messages;
    }
  }

 private:
  [[nodiscard]] std::vector<EntryId> ids() const {
    std::vector<EntryId> all;
    for (const auto& [id, entry] : entries_) all.push_back(id);
    return all;
  }
  std::map<EntryId, Entry> entries_;
};

TEST(Exchanging, AHundredAtOnceLoseNothingAndDoubleNothing) {
  constexpr std::uint64_t kClients = 100;
  constexpr std::uint64_t kEach = 7;
  const RunningService server;
  std::vector<Copy> copies(kClients);
  std::atomic<int> failed = 0;
  const auto all_exchange = [&] {
    std::vector<std::jthread> clients;
    for (Copy& copy : copies) {
      clients.emplace_back([&] { failed += copy.exchange(server.port()) == 0 ? 1 : 0; });
    }
  };
  for (std::uint64_t i = 0; i < kClients; ++i) {
    for (std::uint64_t j = 0; j < kEach; ++j) copies[i].add(remark(i * kEach + j));
    copies[i].add(remark(1'000'000, "all have seen it"));
  }
  all_exchange();
  EXPECT_EQ(failed, 0);
  const auto kept = server.store().ids();
  ASSERT_TRUE(kept);
  EXPECT_EQ(kept->size(), kClients * kEach + 1);
  EXPECT_EQ(std::set<EntryId>(kept->begin(), kept->end()).size(), kept->size());
  all_exchange();
  EXPECT_EQ(failed, 0);
  for (const Copy& copy : copies) EXPECT_EQ(copy.size(), kept->size());
}

TEST(Exchanging, ManyEntriesComeInOneGo) {
  const RunningService server;
  Copy copy;
  for (std::uint64_t i = 0; i < 3000; ++i) copy.add(remark(i));
  EXPECT_GT(copy.exchange(server.port()), 0);
  EXPECT_EQ(server.store().ids()->size(), 3000U);
  Copy other;
  EXPECT_GT(other.exchange(server.port()), 0);
  EXPECT_EQ(other.size(), 3000U);
}

/// The program itself, serving.
class Program {
 public:
  Program(const std::string& page, const std::string& daybook) {
    int ends[2] = {-1, -1};
    if (::pipe(ends) != 0) return;
    process_ = ::fork();
    if (process_ == 0) {
      ::dup2(ends[1], STDOUT_FILENO);
      ::close(ends[0]);
      ::close(ends[1]);
      ::execl(STRIKEBED_PROGRAM, STRIKEBED_PROGRAM, "serve", "--port", "0", "--page", page.c_str(), "--daybook",
              daybook.c_str(), static_cast<char*>(nullptr));
      ::_exit(127);
    }
    ::close(ends[1]);
    std::string line;
    char c = 0;
    while (true) {
      const ssize_t got = ::read(ends[0], &c, 1);
      if (got < 0 && errno == EINTR) continue;
      if (got <= 0 || c == '\n') break;
      line += c;
    }
    ::close(ends[0]);
    if (line.starts_with("Strikebed is at http://127.0.0.1:")) {
      port_ = static_cast<std::uint16_t>(std::atoi(line.substr(line.rfind(':') + 1).c_str()));
    }
  }
  Program(const Program&) = delete;
  Program& operator=(const Program&) = delete;
  ~Program() {
    if (process_ > 0) end(SIGKILL);
  }
  [[nodiscard]] std::uint16_t port() const { return port_; }  ///< 0: it does not run
  /// How it ended, as waitpid says it.
  int end(int signal) {
    ::kill(process_, signal);
    int status = 0;
    while (::waitpid(process_, &status, 0) < 0 && errno == EINTR) {
    }
    process_ = -1;
    return status;
  }

 private:
  pid_t process_ = -1;
  std::uint16_t port_ = 0;
};

/// Brings one entry after the other until the server has gone; returns those that were acknowledged.
std::vector<EntryId> bring_entries(std::uint16_t port, std::uint64_t first, std::atomic<int>& acknowledged) {
  std::vector<EntryId> all;
  auto client = std::make_unique<Client>(port);
  for (std::uint64_t number = first;; ++number) {
    const Entry entry = remark(number, std::string(300, 'x'));
    int status = client->ask("POST", "/exchange", "", bringing({entry})).status;
    while (status == 429) {  // too fast: one comes again
      std::this_thread::sleep_for(std::chrono::milliseconds(20));
      client = std::make_unique<Client>(port);
      status = client->ask("POST", "/exchange", "", bringing({entry})).status;
    }
    if (status != 204) return all;
    all.push_back(entry.id);
    ++acknowledged;
  }
}

TEST(Killed, TheServerLosesNothingThatItAcknowledged) {
  constexpr std::uint64_t kRounds = 8;
  constexpr std::uint64_t kClients = 4;
  const host::TemporaryFolder folder;
  const std::string page = make_page(folder);
  const std::string daybook = folder.path("pines.daybook");
  std::set<EntryId> expected;
  for (std::uint64_t round = 0; round < kRounds; ++round) {
    Program program(page, daybook);
    ASSERT_NE(program.port(), 0);
    std::atomic<int> acknowledged = 0;
    std::vector<std::vector<EntryId>> brought(kClients);
    {
      std::vector<std::jthread> clients;
      for (std::uint64_t i = 0; i < kClients; ++i) {
        clients.emplace_back(
            [&, i] { brought[i] = bring_entries(program.port(), (round * kClients + i) * 1'000'000, acknowledged); });
      }
      while (acknowledged < static_cast<int>(random_bits(1, round) % 60)) std::this_thread::yield();
      std::this_thread::sleep_for(std::chrono::microseconds(random_bits(2, round) % 3000));
      EXPECT_TRUE(WIFSIGNALED(program.end(SIGKILL)));
    }
    for (const auto& ids : brought) expected.insert(ids.begin(), ids.end());
    auto store = host::DaybookStore::open(daybook, host::Access::write);
    ASSERT_TRUE(store) << store.error().message();
    const auto kept = store->ids();
    ASSERT_TRUE(kept);
    const std::set<EntryId> there(kept->begin(), kept->end());
    EXPECT_EQ(there.size(), kept->size());
    for (const EntryId& id : expected) ASSERT_TRUE(there.contains(id)) << to_text(id) << " was lost";
    // What was on its way may be there.
    EXPECT_LE(there.size(), expected.size() + (round + 1) * kClients);
  }
  EXPECT_GT(expected.size(), 0U);
}

TEST(Stopped, TheProgramEndsWellWhateverIsOpen) {
  const host::TemporaryFolder folder;
  const std::string page = make_page(folder);
  for (const int signal : {SIGINT, SIGTERM}) {
    Program program(page, folder.path("pines.daybook"));
    ASSERT_NE(program.port(), 0);
    Client listens(program.port());
    listens.send(listens.request("GET", "/news"));
    EXPECT_EQ(listens.read().status, 200);
    Client kept(program.port());
    EXPECT_EQ(kept.ask("POST", "/exchange", "", bringing({remark(1)})).status, 204);
    Client half(program.port());
    half.send("POST /exch");
    const int status = program.end(signal);
    EXPECT_TRUE(WIFEXITED(status));
    EXPECT_EQ(WEXITSTATUS(status), 0);
  }
}

}  // namespace
}  // namespace strikebed::server

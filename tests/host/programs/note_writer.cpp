// Writes notes into a daybook until it is stopped, and prints the number of each once it is acknowledged.
// usage: note_writer WHERE FIRST_NUMBER
#include <unistd.h>

#include <cstdio>
#include <cstdlib>
#include <string>
#include <vector>

#include "host/store/daybook_store.hpp"
#include "tests/daybook/making.hpp"

int main(int argc, char** argv) {
  using namespace strikebed;
  if (argc != 3) return 2;
  auto store = host::DaybookStore::open(argv[1], host::Access::create);
  if (!store) {
    std::fprintf(stderr, "%s\n", store.error().message().c_str());
    return 1;
  }
  std::uint64_t next = std::strtoull(argv[2], nullptr, 10);
  constexpr std::uint64_t kAtOnce = 12;
  while (true) {
    // One by one, and now and then a dozen at once.
    const std::uint64_t number = next % kAtOnce == 0 ? kAtOnce : 1;
    std::vector<daybook::Entry> entries;
    for (std::uint64_t i = 0; i < number; ++i) {
      entries.push_back(daybook::entry(next + i, 0, daybook::Remark{std::string(200 + i, 'x'), {}}));
    }
    const auto added = store->add(entries);
    if (!added) {
      std::fprintf(stderr, "%s\n", added.error().message().c_str());
      return 1;
    }
    // In one write, so that no number is cut off.
    const std::string acknowledged = std::to_string(next) + " " + std::to_string(number) + "\n";
    if (::write(STDOUT_FILENO, acknowledged.data(), acknowledged.size()) < 0) return 1;
    next += number;
  }
}

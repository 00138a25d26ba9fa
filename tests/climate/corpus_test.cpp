// Every seed of the fuzz corpora through the readers in the ordinary build: a sound record or one error.
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <vector>

#include "climate/csv_reader.hpp"
#include "climate/epw_reader.hpp"
#include "tests/file_text.hpp"
#include "tests/fuzz/weather_invariants.hpp"

namespace strikebed::climate {
namespace {

std::vector<std::filesystem::path> seeds_in(const std::string& corpus) {
  std::vector<std::filesystem::path> seeds;
  for (const auto& entry : std::filesystem::directory_iterator(SOURCE_DIR "/tests/fuzz/corpus/" + corpus)) {
    seeds.push_back(entry.path());
  }
  std::sort(seeds.begin(), seeds.end());
  return seeds;
}

/// A seed whose name starts with "bad" must be refused, any other must be read; both readers must survive it.
template <class Read, class Other>
void try_corpus(const std::string& corpus, Read read, Other other) {
  const auto seeds = seeds_in(corpus);
  ASSERT_GE(seeds.size(), 5U);
  for (const auto& seed : seeds) {
    const std::string text = file_text(seed.string());
    const std::string name = seed.filename().string();
    const auto record = read(text, name);
    EXPECT_EQ(broken_invariant(record), std::nullopt) << name;
    EXPECT_EQ(record.ok(), name.rfind("bad", 0) != 0) << name << (record.ok() ? "" : ": " + record.error().message());
    EXPECT_EQ(broken_invariant(other(text, name)), std::nullopt) << name;
    for (std::size_t cut = 1; cut < text.size(); cut += 1 + text.size() / 50) {  // as after a broken download
      EXPECT_EQ(broken_invariant(read(text.substr(0, cut), name)), std::nullopt) << name << " cut at " << cut;
    }
  }
}

const auto kReadCsv = [](std::string_view text, const std::string& name) { return read_weather_csv(text, name); };
const auto kReadEpw = [](std::string_view text, const std::string& name) { return read_weather_epw(text, name); };

TEST(WeatherCorpus, OfCsvIsReadOrRefusedAsItsNamesSay) { try_corpus("weather_csv", kReadCsv, kReadEpw); }
TEST(WeatherCorpus, OfEpwIsReadOrRefusedAsItsNamesSay) { try_corpus("epw", kReadEpw, kReadCsv); }

}  // namespace
}  // namespace strikebed::climate

// Any bytes as a weather CSV: ends in a sound record or in one error.
#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <string_view>

#include "climate/csv_reader.hpp"
#include "tests/fuzz/weather_invariants.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace strikebed::climate;
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  CsvOptions options;
  if (size > 0) options.date_order = static_cast<DateOrder>(data[size - 1] % 3);
  if (const auto broken = broken_invariant(read_weather_csv(text, "fuzz.csv", options))) {
    std::fprintf(stderr, "%s\n", broken->c_str());
    std::abort();
  }
  return 0;
}

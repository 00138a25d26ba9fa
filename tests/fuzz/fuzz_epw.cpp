// Any bytes as an EPW file: ends in a sound record or in one error.
#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <string_view>

#include "climate/epw_reader.hpp"
#include "tests/fuzz/weather_invariants.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace strikebed::climate;
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  if (const auto broken = broken_invariant(read_weather_epw(text, "fuzz.epw"))) {
    std::fprintf(stderr, "%s\n", broken->c_str());
    std::abort();
  }
  return 0;
}

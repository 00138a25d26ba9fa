#pragma once
// A file of the source tree, for tests: by C's streams, because the library for WebAssembly has no std::ifstream.
#include <gtest/gtest.h>

#include <array>
#include <cstdio>
#include <string>

namespace strikebed {

/// The whole file as it stands; a test fails where there is none.
inline std::string file_text(const std::string& path) {
  std::string text;
  std::FILE* file = std::fopen(path.c_str(), "rb");
  EXPECT_NE(file, nullptr) << path;
  if (!file) return text;
  std::array<char, 65536> part;
  while (const std::size_t count = std::fread(part.data(), 1, part.size(), file)) text.append(part.data(), count);
  std::fclose(file);
  return text;
}

}  // namespace strikebed

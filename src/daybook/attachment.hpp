#pragma once
// What is kept beside the entries: the bytes of pictures, known by their digest.
#include <cstddef>
#include <string>
#include <vector>

#include "daybook/entry.hpp"
#include "daybook/sha256.hpp"

namespace strikebed::daybook {

inline constexpr std::size_t kLargestAttachment = std::size_t{64} << 20;  ///< bytes

struct Attachment {
  Digest sha256{};
  std::string bytes;
  bool operator==(const Attachment&) const = default;
};

}  // namespace strikebed::daybook

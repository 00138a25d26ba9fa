#pragma once
// Short names of batches, for labels, voices and thumbs. What identifies a batch is the id of the entry that started
// it; a code is made where the batch is started, without asking anybody, and a code used twice is shown (fold).
//
//   K4 27 T      two characters of the device, a counter of two or more, a check character; written without blanks
//
// Of digits and letters these seventeen are left, each unlike the others in writing and in English speech:
//
//   2 3 4 5 6 7 8 9 F H K M R T W X Y
//
// Out are 0 O Q D, 1 I L J, Z (2), S (5), G (6) and B (8), which look alike; C E P V (like T), A (like H and K), N
// (like M) and U (like Q and W), which sound alike. Seventeen is a prime, and the check character makes the sum of all
// values, each times its place from the right, a multiple of it: every single wrong character and every swap of two
// characters, neighbours or not, is found in codes of up to sixteen characters.
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"

namespace strikebed::daybook {

inline constexpr std::string_view kCodeAlphabet = "23456789FHKMRTWXY";
inline constexpr int kDeviceMarks = 17 * 17;

struct BatchCode {
  int device_mark = 0;       ///< 0 to kDeviceMarks - 1: the number in its first two characters
  std::int64_t counter = 0;  ///< from 0, of the batches started on that device; below 17^8
  bool operator==(const BatchCode&) const = default;
};

/// The code as it is kept and printed: "K427T".
[[nodiscard]] std::string to_text(const BatchCode& code);

/// What a person typed: letters of any case, blanks and hyphens between. Errors: a character that codes do not have,
/// too short or long, a check character that does not fit; each with the field "code".
[[nodiscard]] Result<BatchCode> read_batch_code(std::string_view typed);

/// A mark for a new device that none of the known ones has, while there are any; the same for the same random bits.
[[nodiscard]] int free_device_mark(const std::vector<int>& taken, std::uint64_t random_bits);

}  // namespace strikebed::daybook

#include "daybook/batch_code.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "base/shown_text.hpp"

namespace strikebed::daybook {
namespace {

constexpr int kBase = static_cast<int>(kCodeAlphabet.size());
constexpr std::size_t kMarkLength = 2;
constexpr std::size_t kShortestCounter = 2;
constexpr std::size_t kLongestCounter = 8;

char letter_of(std::int64_t value) { return kCodeAlphabet[static_cast<std::size_t>(value)]; }
int value_of(char letter) { return static_cast<int>(kCodeAlphabet.find(letter)); }

/// The digits of a number to the base of the alphabet, at least so many.
std::string digits(std::int64_t number, std::size_t at_least) {
  std::string text;
  for (; number > 0 || text.size() < at_least; number /= kBase) text.insert(text.begin(), letter_of(number % kBase));
  return text;
}

std::int64_t number_of(std::string_view text) {
  std::int64_t number = 0;
  for (const char letter : text) number = number * kBase + value_of(letter);
  return number;
}

/// Of all values, each times its place from the right, which begins at `first_place`; to the base of the alphabet.
int sum_of(std::string_view text, int first_place) {
  int sum = 0;
  int place = first_place + static_cast<int>(text.size());
  for (const char letter : text) sum += --place * value_of(letter);
  return sum % kBase;
}

Error wrong(std::string problem, std::string allowed) {
  return {.problem = std::move(problem), .allowed = std::move(allowed), .field = "code"};
}

}  // namespace

std::string to_text(const BatchCode& code) {
  const std::string text = digits(code.device_mark, kMarkLength) + digits(code.counter, kShortestCounter);
  return text + letter_of((kBase - sum_of(text, 2)) % kBase);
}

Result<BatchCode> read_batch_code(std::string_view typed) {
  constexpr std::size_t kShown = 40;
  std::string text;
  for (const char c : typed) {
    if (c == ' ' || c == '-') continue;
    const char letter = c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c;
    if (kCodeAlphabet.find(letter) == std::string_view::npos) {
      return wrong("found " + quoted(typed, kShown), fmt::format("the characters {}", kCodeAlphabet));
    }
    text += letter;
  }
  if (text.size() < kMarkLength + kShortestCounter + 1 || text.size() > kMarkLength + kLongestCounter + 1) {
    return wrong(
        "found " + quoted(typed, kShown),
        fmt::format("{} to {} characters", kMarkLength + kShortestCounter + 1, kMarkLength + kLongestCounter + 1));
  }
  if (sum_of(text, 1) != 0) {
    return wrong("found " + quoted(typed, kShown) + ", whose check character does not fit",
                 "the code as it is on the label");
  }
  const std::string_view counter = std::string_view(text).substr(kMarkLength, text.size() - kMarkLength - 1);
  if (counter.size() > kShortestCounter && value_of(counter.front()) == 0) {
    return wrong("found " + quoted(typed, kShown), "a counter without a zero before it");
  }
  return BatchCode{static_cast<int>(number_of(std::string_view(text).substr(0, kMarkLength))), number_of(counter)};
}

int free_device_mark(const std::vector<int>& taken, std::uint64_t random_bits) {
  const int first = static_cast<int>(random_bits % kDeviceMarks);
  for (int step = 0; step < kDeviceMarks; ++step) {
    const int mark = (first + step) % kDeviceMarks;
    if (std::ranges::find(taken, mark) == taken.end()) return mark;
  }
  return first;
}

}  // namespace strikebed::daybook

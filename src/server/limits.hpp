#pragma once
// How much and how long: of one place, so that a test can have less.
#include <chrono>
#include <cstddef>

namespace strikebed::server {

inline constexpr std::size_t kKilobyte = 1024;
inline constexpr std::size_t kMegabyte = 1024 * kKilobyte;

/// A bucket that each address has: a request takes one out, it fills by itself.
struct Rate {
  double each_second = 200;
  double at_once = 400;  ///< what it holds when it is full
};

struct Limits {
  std::size_t head_bytes = 8 * kKilobyte;
  std::size_t exchange_bytes = 32 * kMegabyte;
  std::size_t picture_bytes = 16 * kMegabyte;
  std::size_t all_bodies_bytes = 256 * kMegabyte;  ///< of all requests and answers on their way, but for files
  std::size_t connections = 512;
  std::size_t listeners = 200;  ///< to news
  Rate rate = {};

  std::chrono::milliseconds idle{30'000};     ///< until the first byte of a request
  std::chrono::milliseconds head{10'000};     ///< from there until its head is there
  std::chrono::milliseconds body{60'000};     ///< from there until its body is there
  std::chrono::milliseconds writing{60'000};  ///< of an answer, or of one piece of news
  std::chrono::milliseconds parting{1000};    ///< for who is refused to read why, while what they send is thrown away
  std::chrono::milliseconds keep_alive{15'000};  ///< between two signs of life to those who listen
  std::chrono::milliseconds ending{800};         ///< for answers on their way when the server is stopped
  std::chrono::milliseconds look_every{1000};    ///< at the daybook, for what others wrote
};

}  // namespace strikebed::server

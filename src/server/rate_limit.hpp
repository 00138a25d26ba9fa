#pragma once
// So many requests a second from one address, and some more at once.
#include <chrono>
#include <cstddef>
#include <string>
#include <unordered_map>

#include "server/limits.hpp"

namespace strikebed::server {

class RateLimit {
 public:
  using Time = std::chrono::steady_clock::time_point;
  explicit RateLimit(const Rate& rate) : rate_(rate) {}

  /// Whether one more is allowed now; then it counts.
  [[nodiscard]] bool allows(const std::string& address, Time now);

  [[nodiscard]] std::size_t remembered() const { return buckets_.size(); }  ///< addresses

 private:
  struct Bucket {
    double left;
    Time at;
  };
  [[nodiscard]] double left_in(const Bucket& bucket, Time now) const;
  void forget_full(Time now);

  Rate rate_;
  std::unordered_map<std::string, Bucket> buckets_;
  Time swept_{};
};

}  // namespace strikebed::server

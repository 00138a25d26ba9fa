#include "server/rate_limit.hpp"

#include <algorithm>

namespace strikebed::server {
namespace {

constexpr std::chrono::minutes kBetweenSweeps{1};

}  // namespace

double RateLimit::left_in(const Bucket& bucket, Time now) const {
  const double passed_s = std::chrono::duration<double>(now - bucket.at).count();
  return std::min(rate_.at_once, bucket.left + passed_s * rate_.each_second);
}

/// A full bucket is as good as none.
void RateLimit::forget_full(Time now) {
  if (now - swept_ < kBetweenSweeps) return;
  swept_ = now;
  std::erase_if(buckets_, [&](const auto& one) { return left_in(one.second, now) >= rate_.at_once; });
}

bool RateLimit::allows(const std::string& address, Time now) {
  forget_full(now);
  Bucket& bucket = buckets_.try_emplace(address, Bucket{rate_.at_once, now}).first->second;
  bucket = {left_in(bucket, now), now};
  if (bucket.left < 1) return false;
  bucket.left -= 1;
  return true;
}

}  // namespace strikebed::server

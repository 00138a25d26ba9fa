#include "tests/server/unpacked.hpp"

#define ZLIB_CONST
#include <zlib.h>

namespace strikebed::server {

std::string unpacked(std::string_view gzip) {
  constexpr int kGzip = 16;
  constexpr std::size_t kLargest = 1 << 20;
  z_stream stream{};
  inflateInit2(&stream, MAX_WBITS + kGzip);
  std::string bytes(kLargest, '\0');
  stream.next_in = reinterpret_cast<const Bytef*>(gzip.data());
  stream.avail_in = static_cast<uInt>(gzip.size());
  stream.next_out = reinterpret_cast<Bytef*>(bytes.data());
  stream.avail_out = static_cast<uInt>(bytes.size());
  const int ended = inflate(&stream, Z_FINISH);
  bytes.resize(stream.total_out);
  inflateEnd(&stream);
  return ended == Z_STREAM_END && stream.avail_in == 0 ? bytes : "broken";
}

}  // namespace strikebed::server

#include "server/gzip.hpp"

#define ZLIB_CONST  // what is read only is const in its interface
#include <zlib.h>

#include <new>

#include "base/number.hpp"
#include "base/text.hpp"

namespace strikebed::server {

std::string gzipped(std::string_view bytes) {
  constexpr int kGzip = 16;  // added to the window's bits: a gzip file instead of a bare stream
  constexpr int kMemoryLevel = 9;
  z_stream stream{};
  if (deflateInit2(&stream, Z_BEST_COMPRESSION, Z_DEFLATED, MAX_WBITS + kGzip, kMemoryLevel, Z_DEFAULT_STRATEGY) !=
      Z_OK) {
    throw std::bad_alloc();
  }
  std::string packed(deflateBound(&stream, static_cast<uLong>(bytes.size())), '\0');
  stream.next_in = reinterpret_cast<const Bytef*>(bytes.data());
  stream.avail_in = static_cast<uInt>(bytes.size());
  stream.next_out = reinterpret_cast<Bytef*>(packed.data());
  stream.avail_out = static_cast<uInt>(packed.size());
  deflate(&stream, Z_FINISH);  // there is room for all of it, so that once is enough
  packed.resize(stream.total_out);
  deflateEnd(&stream);
  return packed;
}

bool accepts_gzip(std::string_view accept_encoding) {
  while (!accept_encoding.empty()) {
    const std::size_t comma = accept_encoding.find(',');
    const std::string_view one = accept_encoding.substr(0, comma);
    accept_encoding.remove_prefix(comma == std::string_view::npos ? accept_encoding.size() : comma + 1);
    const std::size_t semicolon = one.find(';');
    if (lower(trimmed(one.substr(0, semicolon))) != "gzip") continue;
    if (semicolon == std::string_view::npos) return true;
    const std::string weight = lower(trimmed(one.substr(semicolon + 1)));
    return weight.starts_with("q=") && parse_number(trimmed(std::string_view(weight).substr(2))).value_or(0) > 0;
  }
  return false;
}

}  // namespace strikebed::server

#include "daybook/sha256.hpp"

#include <fmt/format.h>

#include <bit>

namespace strikebed::daybook {
namespace {

using Word = std::uint32_t;
constexpr std::size_t kBlock = 64;

/// The first 32 bits behind the point of the cube roots of the first 64 primes.
constexpr std::array<Word, 64> kRound{
    0x428a2f98, 0x71374491, 0xb5c0fbcf, 0xe9b5dba5, 0x3956c25b, 0x59f111f1, 0x923f82a4, 0xab1c5ed5,
    0xd807aa98, 0x12835b01, 0x243185be, 0x550c7dc3, 0x72be5d74, 0x80deb1fe, 0x9bdc06a7, 0xc19bf174,
    0xe49b69c1, 0xefbe4786, 0x0fc19dc6, 0x240ca1cc, 0x2de92c6f, 0x4a7484aa, 0x5cb0a9dc, 0x76f988da,
    0x983e5152, 0xa831c66d, 0xb00327c8, 0xbf597fc7, 0xc6e00bf3, 0xd5a79147, 0x06ca6351, 0x14292967,
    0x27b70a85, 0x2e1b2138, 0x4d2c6dfc, 0x53380d13, 0x650a7354, 0x766a0abb, 0x81c2c92e, 0x92722c85,
    0xa2bfe8a1, 0xa81a664b, 0xc24b8b70, 0xc76c51a3, 0xd192e819, 0xd6990624, 0xf40e3585, 0x106aa070,
    0x19a4c116, 0x1e376c08, 0x2748774c, 0x34b0bcb5, 0x391c0cb3, 0x4ed8aa4a, 0x5b9cca4f, 0x682e6ff3,
    0x748f82ee, 0x78a5636f, 0x84c87814, 0x8cc70208, 0x90befffa, 0xa4506ceb, 0xbef9a3f7, 0xc67178f2};

using Hash = std::array<Word, 8>;
/// The same of the square roots of the first 8.
constexpr Hash kBegin{0x6a09e667, 0xbb67ae85, 0x3c6ef372, 0xa54ff53a, 0x510e527f, 0x9b05688c, 0x1f83d9ab, 0x5be0cd19};

Word word_at(std::string_view bytes, std::size_t place) {
  Word word = 0;
  for (std::size_t i = 0; i < 4; ++i) word = word << 8 | static_cast<std::uint8_t>(bytes[place + i]);
  return word;
}

void take_block(Hash& hash, std::string_view block) {
  std::array<Word, 64> w{};
  for (std::size_t i = 0; i < 16; ++i) w[i] = word_at(block, 4 * i);
  for (std::size_t i = 16; i < w.size(); ++i) {
    const Word a = std::rotr(w[i - 15], 7) ^ std::rotr(w[i - 15], 18) ^ (w[i - 15] >> 3);
    const Word b = std::rotr(w[i - 2], 17) ^ std::rotr(w[i - 2], 19) ^ (w[i - 2] >> 10);
    w[i] = w[i - 16] + a + w[i - 7] + b;
  }
  auto [a, b, c, d, e, f, g, h] = hash;
  for (std::size_t i = 0; i < w.size(); ++i) {
    const Word first =
        h + (std::rotr(e, 6) ^ std::rotr(e, 11) ^ std::rotr(e, 25)) + ((e & f) ^ (~e & g)) + kRound[i] + w[i];
    const Word second = (std::rotr(a, 2) ^ std::rotr(a, 13) ^ std::rotr(a, 22)) + ((a & b) ^ (a & c) ^ (b & c));
    h = g;
    g = f;
    f = e;
    e = d + first;
    d = c;
    c = b;
    b = a;
    a = first + second;
  }
  const Hash more{a, b, c, d, e, f, g, h};
  for (std::size_t i = 0; i < hash.size(); ++i) hash[i] += more[i];
}

}  // namespace

Digest sha256(std::string_view bytes) {
  Hash hash = kBegin;
  const std::uint64_t bits = std::uint64_t{bytes.size()} * 8;
  for (; bytes.size() >= kBlock; bytes.remove_prefix(kBlock)) take_block(hash, bytes.substr(0, kBlock));
  std::string end(bytes);
  end += '\x80';
  end.resize(end.size() + (2 * kBlock - 8 - end.size()) % kBlock, '\0');
  for (int shift = 56; shift >= 0; shift -= 8) end += static_cast<char>(bits >> shift);
  for (std::string_view rest = end; !rest.empty(); rest.remove_prefix(kBlock)) take_block(hash, rest.substr(0, kBlock));
  Digest digest{};
  for (std::size_t i = 0; i < digest.size(); ++i)
    digest[i] = static_cast<std::uint8_t>(hash[i / 4] >> (24 - 8 * (i % 4)));
  return digest;
}

std::string to_text(const Digest& digest) { return fmt::format("{:02x}", fmt::join(digest, "")); }

std::optional<Digest> parse_digest(std::string_view text) {
  Digest digest{};
  if (text.size() != 2 * digest.size()) return std::nullopt;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    const bool is_digit = c >= '0' && c <= '9';
    if (!is_digit && !(c >= 'a' && c <= 'f')) return std::nullopt;
    digest[i / 2] = static_cast<std::uint8_t>(digest[i / 2] << 4 | (is_digit ? c - '0' : c - 'a' + 10));
  }
  return digest;
}

}  // namespace strikebed::daybook

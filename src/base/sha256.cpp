#include "base/sha256.h"

#include <array>
#include <bit>
#include <cstddef>
#include <cstdint>

namespace gp {
namespace {

constexpr std::size_t kBlock = 64;  // bytes

// FIPS 180-4, 4.2.2: the first 32 bits of the fractional parts of the cube roots of the first 64
// primes.
constexpr std::array<std::uint32_t, 64> kRounds = {
    0x428a2f98, 0x71374491, 0xb5c0fbcf, 0xe9b5dba5, 0x3956c25b, 0x59f111f1, 0x923f82a4, 0xab1c5ed5,
    0xd807aa98, 0x12835b01, 0x243185be, 0x550c7dc3, 0x72be5d74, 0x80deb1fe, 0x9bdc06a7, 0xc19bf174,
    0xe49b69c1, 0xefbe4786, 0x0fc19dc6, 0x240ca1cc, 0x2de92c6f, 0x4a7484aa, 0x5cb0a9dc, 0x76f988da,
    0x983e5152, 0xa831c66d, 0xb00327c8, 0xbf597fc7, 0xc6e00bf3, 0xd5a79147, 0x06ca6351, 0x14292967,
    0x27b70a85, 0x2e1b2138, 0x4d2c6dfc, 0x53380d13, 0x650a7354, 0x766a0abb, 0x81c2c92e, 0x92722c85,
    0xa2bfe8a1, 0xa81a664b, 0xc24b8b70, 0xc76c51a3, 0xd192e819, 0xd6990624, 0xf40e3585, 0x106aa070,
    0x19a4c116, 0x1e376c08, 0x2748774c, 0x34b0bcb5, 0x391c0cb3, 0x4ed8aa4a, 0x5b9cca4f, 0x682e6ff3,
    0x748f82ee, 0x78a5636f, 0x84c87814, 0x8cc70208, 0x90befffa, 0xa4506ceb, 0xbef9a3f7, 0xc67178f2};

using State = std::array<std::uint32_t, 8>;

std::uint32_t byte_at(std::string_view block, std::size_t i) {
  return static_cast<std::uint32_t>(static_cast<unsigned char>(block[i]));
}

/// FIPS 180-4, 6.2.2, one block of 64 bytes.
void add_block(State& state, std::string_view block) {
  std::array<std::uint32_t, 64> words{};
  for (std::size_t t = 0; t < 16; ++t) {
    words[t] = byte_at(block, 4 * t) << 24U | byte_at(block, 4 * t + 1) << 16U |
               byte_at(block, 4 * t + 2) << 8U | byte_at(block, 4 * t + 3);
  }
  for (std::size_t t = 16; t < 64; ++t) {
    const std::uint32_t x = words[t - 15];
    const std::uint32_t y = words[t - 2];
    const std::uint32_t small0 = std::rotr(x, 7) ^ std::rotr(x, 18) ^ (x >> 3U);
    const std::uint32_t small1 = std::rotr(y, 17) ^ std::rotr(y, 19) ^ (y >> 10U);
    words[t] = small1 + words[t - 7] + small0 + words[t - 16];
  }
  auto [a, b, c, d, e, f, g, h] = state;
  for (std::size_t t = 0; t < 64; ++t) {
    const std::uint32_t big1 = std::rotr(e, 6) ^ std::rotr(e, 11) ^ std::rotr(e, 25);
    const std::uint32_t choice = (e & f) ^ (~e & g);
    const std::uint32_t first = h + big1 + choice + kRounds[t] + words[t];
    const std::uint32_t big0 = std::rotr(a, 2) ^ std::rotr(a, 13) ^ std::rotr(a, 22);
    const std::uint32_t majority = (a & b) ^ (a & c) ^ (b & c);
    h = g;
    g = f;
    f = e;
    e = d + first;
    d = c;
    c = b;
    b = a;
    a = first + big0 + majority;
  }
  const State added = {a, b, c, d, e, f, g, h};
  for (std::size_t i = 0; i < state.size(); ++i) state[i] += added[i];
}

}  // namespace

std::string sha256(std::string_view bytes) {
  // FIPS 180-4, 5.3.3: the same of the square roots of the first eight primes
  State state = {0x6a09e667,
                 0xbb67ae85,
                 0x3c6ef372,
                 0xa54ff53a,
                 0x510e527f,
                 0x9b05688c,
                 0x1f83d9ab,
                 0x5be0cd19};
  const std::uint64_t bits = static_cast<std::uint64_t>(bytes.size()) * 8;
  while (bytes.size() >= kBlock) {
    add_block(state, bytes.substr(0, kBlock));
    bytes.remove_prefix(kBlock);
  }
  // 5.1.1: a one bit, zeros, and the length in bits as the last 64 of a block
  std::string last(bytes);
  last += '\x80';
  while (last.size() % kBlock != kBlock - 8) last += '\0';
  for (unsigned shift = 64; shift > 0; shift -= 8) {
    last += static_cast<char>(static_cast<unsigned char>((bits >> (shift - 8)) & 0xffU));
  }
  for (std::size_t at = 0; at < last.size(); at += kBlock) {
    add_block(state, std::string_view(last).substr(at, kBlock));
  }
  std::string digits;
  for (const std::uint32_t word : state) {
    for (unsigned shift = 32; shift > 0; shift -= 4) {
      digits += "0123456789abcdef"[(word >> (shift - 4)) & 0xfU];
    }
  }
  return digits;
}

}  // namespace gp

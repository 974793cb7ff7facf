#include "season/sha256.hpp"

#include <algorithm>
#include <bit>
#include <cstring>

namespace telltale::host::season {
namespace {

// FIPS 180-4, 4.2.2: fractional parts of the cube roots of the first 64 primes.
constexpr std::array<std::uint32_t, 64> kRound = {
    0x428a2f98, 0x71374491, 0xb5c0fbcf, 0xe9b5dba5, 0x3956c25b, 0x59f111f1,
    0x923f82a4, 0xab1c5ed5, 0xd807aa98, 0x12835b01, 0x243185be, 0x550c7dc3,
    0x72be5d74, 0x80deb1fe, 0x9bdc06a7, 0xc19bf174, 0xe49b69c1, 0xefbe4786,
    0x0fc19dc6, 0x240ca1cc, 0x2de92c6f, 0x4a7484aa, 0x5cb0a9dc, 0x76f988da,
    0x983e5152, 0xa831c66d, 0xb00327c8, 0xbf597fc7, 0xc6e00bf3, 0xd5a79147,
    0x06ca6351, 0x14292967, 0x27b70a85, 0x2e1b2138, 0x4d2c6dfc, 0x53380d13,
    0x650a7354, 0x766a0abb, 0x81c2c92e, 0x92722c85, 0xa2bfe8a1, 0xa81a664b,
    0xc24b8b70, 0xc76c51a3, 0xd192e819, 0xd6990624, 0xf40e3585, 0x106aa070,
    0x19a4c116, 0x1e376c08, 0x2748774c, 0x34b0bcb5, 0x391c0cb3, 0x4ed8aa4a,
    0x5b9cca4f, 0x682e6ff3, 0x748f82ee, 0x78a5636f, 0x84c87814, 0x8cc70208,
    0x90befffa, 0xa4506ceb, 0xbef9a3f7, 0xc67178f2};

std::uint32_t big_endian(const std::uint8_t* b) {
  return std::uint32_t{b[0]} << 24U | std::uint32_t{b[1]} << 16U |
         std::uint32_t{b[2]} << 8U | std::uint32_t{b[3]};
}

}  // namespace

// FIPS 180-4, 6.2.2; names follow the standard.
void Sha256::block(const std::uint8_t* bytes) {
  std::array<std::uint32_t, 64> w;  // NOLINT: filled below
  for (std::size_t t = 0; t < 16; ++t) w[t] = big_endian(bytes + 4 * t);
  for (std::size_t t = 16; t < 64; ++t) {
    const std::uint32_t s0 =
        std::rotr(w[t - 15], 7) ^ std::rotr(w[t - 15], 18) ^ (w[t - 15] >> 3U);
    const std::uint32_t s1 =
        std::rotr(w[t - 2], 17) ^ std::rotr(w[t - 2], 19) ^ (w[t - 2] >> 10U);
    w[t] = s1 + w[t - 7] + s0 + w[t - 16];
  }
  auto [a, b, c, d, e, f, g, h] = state_;
  for (std::size_t t = 0; t < 64; ++t) {
    const std::uint32_t sum1 =
        std::rotr(e, 6) ^ std::rotr(e, 11) ^ std::rotr(e, 25);
    const std::uint32_t choice = (e & f) ^ (~e & g);
    const std::uint32_t t1 = h + sum1 + choice + kRound[t] + w[t];
    const std::uint32_t sum0 =
        std::rotr(a, 2) ^ std::rotr(a, 13) ^ std::rotr(a, 22);
    const std::uint32_t majority = (a & b) ^ (a & c) ^ (b & c);
    const std::uint32_t t2 = sum0 + majority;
    h = g;
    g = f;
    f = e;
    e = d + t1;
    d = c;
    c = b;
    b = a;
    a = t1 + t2;
  }
  const std::array<std::uint32_t, 8> add = {a, b, c, d, e, f, g, h};
  for (std::size_t i = 0; i < 8; ++i) state_[i] += add[i];
}

void Sha256::add(std::string_view bytes) {
  const auto* from = reinterpret_cast<const std::uint8_t*>(bytes.data());
  std::size_t left = bytes.size();
  auto held = static_cast<std::size_t>(length_ % 64);
  length_ += left;
  if (held > 0) {
    const std::size_t take = std::min(left, 64 - held);
    std::memcpy(rest_.data() + held, from, take);
    held += take;
    from += take;
    left -= take;
    if (held < 64) return;
    block(rest_.data());
  }
  for (; left >= 64; from += 64, left -= 64) block(from);
  if (left > 0) std::memcpy(rest_.data(), from, left);
}

Sha256::Digest Sha256::finish() {
  // 5.1.1: a one bit, zeros, the length in bits as 64 bits.
  const std::uint64_t bits = length_ * 8;
  static constexpr std::array<char, 64> kPadding = {'\x80'};
  const auto held = static_cast<std::size_t>(length_ % 64);
  add({kPadding.data(), held < 56 ? 56 - held : 120 - held});
  std::array<char, 8> length{};
  for (std::size_t i = 0; i < 8; ++i) {
    length[i] = static_cast<char>(bits >> (56 - 8 * i) & 0xFFU);
  }
  add({length.data(), length.size()});
  Digest out{};
  for (std::size_t i = 0; i < 32; ++i) {
    out[i] =
        static_cast<std::uint8_t>(state_[i / 4] >> (24 - 8 * (i % 4)) & 0xFFU);
  }
  return out;
}

std::string Sha256::finish_hex() {
  constexpr std::string_view kDigits = "0123456789abcdef";
  std::string out;
  for (const std::uint8_t byte : finish()) {
    out += kDigits[byte >> 4U];
    out += kDigits[byte & 15U];
  }
  return out;
}

}  // namespace telltale::host::season

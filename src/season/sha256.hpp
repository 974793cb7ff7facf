// Sha256: the hash of FIPS 180-4, by which a log is known again.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>

namespace telltale::host::season {

/// Bytes go in piece by piece; any length, no allocation.
class Sha256 {
 public:
  using Digest = std::array<std::uint8_t, 32>;

  void add(std::string_view bytes);
  /// The digest of all bytes so far; the object is then used up.
  [[nodiscard]] Digest finish();
  /// The same as 64 lower-case hexadecimal digits.
  [[nodiscard]] std::string finish_hex();

 private:
  void block(const std::uint8_t* bytes);

  std::array<std::uint32_t, 8> state_ = {0x6a09e667, 0xbb67ae85, 0x3c6ef372,
                                         0xa54ff53a, 0x510e527f, 0x9b05688c,
                                         0x1f83d9ab, 0x5be0cd19};
  std::array<std::uint8_t, 64> rest_{};
  std::uint64_t length_ = 0;  // bytes so far
};

}  // namespace telltale::host::season

// Numbers to bytes and back, lowest byte first whatever the machine.
#pragma once

#include <bit>
#include <cstddef>
#include <cstdint>
#include <span>

namespace telltale {

/// REQUIRES: bytes.size() <= 8
constexpr void put_little_endian(std::span<std::uint8_t> bytes,
                                 std::uint64_t value) {
  for (std::uint8_t& byte : bytes) {
    byte = static_cast<std::uint8_t>(value);
    value >>= 8U;
  }
}
/// REQUIRES: bytes.size() <= 8
constexpr std::uint64_t get_little_endian(std::span<const std::uint8_t> bytes) {
  std::uint64_t value = 0;
  for (std::size_t i = bytes.size(); i-- > 0;) value = value << 8U | bytes[i];
  return value;
}

}  // namespace telltale

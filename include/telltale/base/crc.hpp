// CRC-16 and CRC-32, bit by bit: small, and quick enough for what is kept.
#pragma once

#include <cstddef>
#include <cstdint>
#include <span>

namespace telltale {

/// CRC-16 with polynomial 0x1021, initial value 0xFFFF, nothing reflected
/// (known as CRC-16/IBM-3740). Of "123456789": 0x29B1.
constexpr std::uint16_t crc16(std::span<const std::uint8_t> bytes) {
  std::uint32_t crc = 0xFFFF;
  for (const std::uint8_t byte : bytes) {
    crc ^= static_cast<std::uint32_t>(byte) << 8U;
    for (int bit = 0; bit < 8; ++bit) {
      crc = (crc & 0x8000U) != 0 ? (crc << 1U) ^ 0x1021U : crc << 1U;
    }
  }
  return static_cast<std::uint16_t>(crc);
}

/// The CRC-32 of Ethernet and gzip (CRC-32/ISO-HDLC). Of "123456789":
/// 0xCBF43926.
constexpr std::uint32_t crc32(std::span<const std::uint8_t> bytes) {
  std::uint32_t crc = 0xFFFFFFFF;
  for (const std::uint8_t byte : bytes) {
    crc ^= byte;
    for (int bit = 0; bit < 8; ++bit) {
      crc = (crc & 1U) != 0 ? (crc >> 1U) ^ 0xEDB88320U : crc >> 1U;
    }
  }
  return ~crc;
}

}  // namespace telltale

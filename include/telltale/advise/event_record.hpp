// EventRecord: a finding in 32 bytes, to be stored or sent by a box.
#pragma once

#include <array>
#include <bit>
#include <concepts>
#include <cstdint>
#include <limits>
#include <span>

#include "telltale/base/crc.hpp"
#include "telltale/base/little_endian.hpp"
#include "telltale/detect/finding.hpp"

namespace telltale {

/// What a record holds. All numbers little-endian; floats IEEE 754 binary32.
///
///   0  u8   0x54, the mark of a record
///   1  u8   version, 1
///   2  u16  check id
///   4  u8   channel id, 0xFF: none
///   5  u8   severity in bits 0..3, event in bits 4..7 (enums of the core)
///   6  u8   unit of value and limit
///   7  u8   bit 0: times count from 1970 (else from the box's own origin)
///   8  i48  since, ms
///  14  u32  how long the condition has held, ms; all ones: that or longer
///  18  u16  number of the run; 0: outside every run
///  20  f32  value; NaN: none
///  24  f32  limit; NaN: none
///  28  u16  sequence number, counts up by one: a hole shows a lost record
///  30  u16  CRC-16 of bytes 0..29
struct EventRecord {
  static constexpr std::size_t kBytes = 32;
  static constexpr std::uint8_t kMark = 0x54;
  static constexpr std::uint8_t kVersion = 1;
  using Bytes = std::array<std::uint8_t, kBytes>;

  Finding<float> finding;  // without its details
  std::uint16_t sequence = 0;
  bool wall_clock = false;
};

/// What is wrong with 32 bytes.
enum class RecordError : std::uint8_t {
  none,
  blank,          // all ones or all zeros: never written
  not_a_record,   // the mark is missing
  other_version,  // written by another version
  damaged         // CRC or a field is wrong
};

namespace detail {

constexpr std::uint64_t kLongest = std::numeric_limits<std::uint32_t>::max();

inline std::span<std::uint8_t> field(EventRecord::Bytes& bytes, std::size_t at,
                                     std::size_t size) {
  return std::span<std::uint8_t>(bytes).subspan(at, size);
}
inline std::uint64_t field(const EventRecord::Bytes& bytes, std::size_t at,
                           std::size_t size) {
  return get_little_endian(
      std::span<const std::uint8_t>(bytes).subspan(at, size));
}

}  // namespace detail

template <std::floating_point R>
EventRecord::Bytes encode_event(const Finding<R>& finding,
                                std::uint16_t sequence, bool wall_clock) {
  EventRecord::Bytes out{};
  const auto put = [&out](std::size_t at, std::size_t size, std::uint64_t x) {
    put_little_endian(detail::field(out, at, size), x);
  };
  const std::int64_t held = (finding.until - finding.since).ms;
  const std::uint64_t lasted = held < 0 ? 0 : static_cast<std::uint64_t>(held);
  put(0, 1, EventRecord::kMark);
  put(1, 1, EventRecord::kVersion);
  put(2, 2, finding.check);
  put(4, 1, static_cast<std::uint8_t>(finding.channel));
  put(5, 1,
      static_cast<std::uint64_t>(finding.severity) |
          static_cast<std::uint64_t>(finding.event) << 4U);
  put(6, 1, static_cast<std::uint8_t>(finding.unit));
  put(7, 1, wall_clock ? 1 : 0);
  put(8, 6, static_cast<std::uint64_t>(finding.since.ms));
  put(14, 4, lasted < detail::kLongest ? lasted : detail::kLongest);
  put(18, 2, finding.run);
  put(20, 4, std::bit_cast<std::uint32_t>(static_cast<float>(finding.value)));
  put(24, 4, std::bit_cast<std::uint32_t>(static_cast<float>(finding.limit)));
  put(28, 2, sequence);
  put(30, 2, crc16(std::span<const std::uint8_t>(out).first(30)));
  return out;
}

/// `out` is set where the answer is `none`.
inline RecordError decode_event(const EventRecord::Bytes& bytes,
                                EventRecord& out) {
  bool zeros = true;
  bool ones = true;
  for (const std::uint8_t byte : bytes) {
    zeros = zeros && byte == 0;
    ones = ones && byte == 0xFF;
  }
  if (zeros || ones) return RecordError::blank;
  const auto get = [&bytes](std::size_t at, std::size_t size) {
    return detail::field(bytes, at, size);
  };
  if (get(0, 1) != EventRecord::kMark) return RecordError::not_a_record;
  if (get(1, 1) != EventRecord::kVersion) return RecordError::other_version;
  if (get(30, 2) != crc16(std::span<const std::uint8_t>(bytes).first(30))) {
    return RecordError::damaged;
  }
  const std::uint64_t channel = get(4, 1);
  const std::uint64_t severity = get(5, 1) & 0xFU;
  const std::uint64_t event = get(5, 1) >> 4U;
  const bool known =
      (channel < kChannelCount || channel == 0xFF) &&
      severity <= static_cast<std::uint64_t>(Severity::urgent) &&
      event <= static_cast<std::uint64_t>(FindingEvent::closed) &&
      get(6, 1) <= static_cast<std::uint64_t>(Unit::K_per_min);
  if (!known) return RecordError::damaged;
  Finding<float>& finding = out.finding;
  finding = {};
  finding.check = static_cast<std::uint16_t>(get(2, 2));
  finding.channel = static_cast<Channel>(channel);
  finding.severity = static_cast<Severity>(severity);
  finding.event = static_cast<FindingEvent>(event);
  finding.unit = static_cast<Unit>(get(6, 1));
  // The upper sixteen bits repeat the sign.
  finding.since.ms = static_cast<std::int64_t>(get(8, 6) << 16U) >> 16U;
  finding.until =
      finding.since + DurationMs{static_cast<std::int64_t>(get(14, 4))};
  finding.run = static_cast<std::uint16_t>(get(18, 2));
  finding.value = std::bit_cast<float>(static_cast<std::uint32_t>(get(20, 4)));
  finding.limit = std::bit_cast<float>(static_cast<std::uint32_t>(get(24, 4)));
  out.sequence = static_cast<std::uint16_t>(get(28, 2));
  out.wall_clock = (get(7, 1) & 1U) != 0;
  return RecordError::none;
}

}  // namespace telltale

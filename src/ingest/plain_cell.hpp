// Short plain decimals, read eight characters at a time: the quick way for
// what nearly all cells of a log are. parse_number() is the slow twin.
#pragma once

#include <array>
#include <bit>
#include <cstddef>
#include <cstdint>
#include <cstring>

namespace telltale::host {

/// The characters that end a cell and that stand before a fraction, each eight
/// times over.
struct CellMarks {
  static constexpr std::uint64_t kOnes = 0x0101010101010101U;

  std::uint64_t delimiter;
  std::uint64_t decimal;

  CellMarks(char cell_end, char fraction)
      : delimiter(kOnes * static_cast<unsigned char>(cell_end)),
        decimal(kOnes * static_cast<unsigned char>(fraction)) {}
};

/// Eight characters from `at` on, the first lowest; zeros from `stop` on, which
/// is the end of what may be looked at. REQUIRES: begin <= at < stop.
inline std::uint64_t eight_characters(const char* begin, const char* at,
                                      const char* stop) {
  std::uint64_t text = 0;
  const std::ptrdiff_t left = stop - at;
  if (left >= 8) {
    std::memcpy(&text, at, 8);
  } else if (stop - begin >= 8) {
    std::memcpy(&text, stop - 8, 8);
    text >>= 8 * (8 - left);
  }
  return text;
}

/// A word whose lowest bit set is in the first byte of x that is zero; 0 where
/// there is none.
constexpr std::uint64_t zero_bytes(std::uint64_t x) {
  return (x - CellMarks::kOnes) & ~x & (CellMarks::kOnes * 0x80);
}
/// How many bytes lie below the lowest bit set.
constexpr std::size_t bytes_below(std::uint64_t bits) {
  return static_cast<std::size_t>(std::countr_zero(bits)) / 8;
}

/// Where the cell at `at` ends. REQUIRES: a delimiter at stop - 1.
inline const char* cell_end(const char* at, const char* stop, char delimiter) {
  if constexpr (std::endian::native == std::endian::little) {
    const CellMarks marks(delimiter, delimiter);
    for (; stop - at >= 8; at += 8) {
      const std::uint64_t ends =
          zero_bytes(eight_characters(at, at, stop) ^ marks.delimiter);
      if (ends != 0) return at + bytes_below(ends);
    }
  }
  while (*at != delimiter) ++at;
  return at;
}

/// Powers of ten; at namespace scope, so that no call makes them anew.
inline constexpr std::array kPlainPowers = {1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6};

/// The length of the cell at the beginning of `text` if it is a decimal of at
/// most seven characters ("1802", "-60.14"): `value` is then what
/// parse_number() says. 0, with nothing read, for any other cell.
inline std::size_t read_plain_cell(std::uint64_t text, const CellMarks& marks,
                                   double& value) {
  if constexpr (std::endian::native != std::endian::little) return 0;
  constexpr std::uint64_t kZeros = CellMarks::kOnes * '0';
  const auto first = [](std::size_t bytes) {  // fewer than eight
    return (std::uint64_t{1} << 8 * bytes) - 1;
  };

  const std::uint64_t ends = zero_bytes(text ^ marks.delimiter);
  if (ends == 0) return 0;
  const std::size_t length = bytes_below(ends);
  const bool negative = (text & 0xFF) == '-';
  text >>= 8 * negative;
  std::size_t digits = length - negative;
  if (length == 0 || digits == 0) return 0;

  std::size_t decimals = 0;
  const std::uint64_t points = zero_bytes(text ^ marks.decimal) & first(digits);
  if (points != 0) {
    const std::size_t whole = bytes_below(points);
    --digits;
    decimals = digits - whole;
    if (whole == 0 || decimals == 0) return 0;
    text = (text & first(whole)) | (text >> 8 & ~first(whole));
  }

  // Right-aligned, with zeros before it; every byte must be a digit.
  text = text << 8 * (8 - digits) | kZeros >> 8 * digits;
  constexpr std::uint64_t kHighHalves = CellMarks::kOnes * 0xF0;
  const std::uint64_t beyond_nine = text + CellMarks::kOnes * 6;
  if ((text & kHighHalves) != kZeros || (beyond_nine & kHighHalves) != kZeros) {
    return 0;
  }
  // Neighbours are joined: digits to pairs, pairs to fours, fours to the whole.
  text -= kZeros;
  text = (text * 10 + (text >> 8)) & 0x00FF00FF00FF00FFU;
  text = (text * 100 + (text >> 16)) & 0x0000FFFF0000FFFFU;
  text = (text * 10'000 + (text >> 32)) & 0xFFFFFFFFU;

  // Both are exact as doubles, so that their quotient is rounded once.
  value = static_cast<double>(static_cast<std::int64_t>(text)) /
          kPlainPowers[decimals];
  if (negative) value = -value;
  return length;
}

}  // namespace telltale::host

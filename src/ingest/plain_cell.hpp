// Short plain decimals, read eight characters at a time: the quick way for
// what nearly all cells of a log are. parse_number() is the slow twin.
#pragma once

#include <array>
#include <bit>
#include <cstddef>
#include <cstdint>
#include <cstring>

namespace telltale::host {

/// A byte of 1 in each of eight.
inline constexpr std::uint64_t kOnes = 0x0101010101010101U;

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

/// Where the cell at `at` ends. REQUIRES: a delimiter at stop - 1.
inline const char* cell_end(const char* at, const char* stop, char delimiter) {
  if constexpr (std::endian::native == std::endian::little) {
    const std::uint64_t ends = kOnes * static_cast<unsigned char>(delimiter);
    for (; stop - at >= 8; at += 8) {
      std::uint64_t text = 0;
      std::memcpy(&text, at, 8);
      // The lowest bit set is in the first byte that is zero.
      const std::uint64_t other = text ^ ends;
      const std::uint64_t zeros = (other - kOnes) & ~other & kOnes * 0x80;
      if (zeros != 0) return at + std::countr_zero(zeros) / 8;
    }
  }
  while (*at != delimiter) ++at;
  return at;
}

/// Powers of ten; at namespace scope, so that no call makes them anew.
inline constexpr std::array kPlainPowers = {1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6};

/// The number of eight digits, each a byte from 0 to 9, the first lowest:
/// digits to pairs, pairs to fours, fours to the whole.
inline std::uint64_t joined(std::uint64_t digits) {
  digits = (digits * 10 + (digits >> 8)) & 0x00FF00FF00FF00FFU;
  digits = (digits * 100 + (digits >> 16)) & 0x0000FFFF0000FFFFU;
  return (digits * 10'000 + (digits >> 32)) & 0xFFFFFFFFU;
}

/// The same as read_plain_cell() for a cell without a sign.
[[gnu::always_inline]] inline std::size_t read_unsigned_cell(std::uint64_t text,
                                                             char delimiter,
                                                             char decimal,
                                                             double& value) {
  const auto is_at = [text](int bits, char mark) {
    return static_cast<char>(text >> bits) == mark;
  };
  // A digit is now a byte from 0 to 9; `others` marks every byte above.
  std::uint64_t digits = text ^ kOnes * '0';
  const std::uint64_t others =
      (((digits & kOnes * 0x7F) + kOnes * 0x76) | digits) & kOnes * 0x80;
  if (others == 0) return 0;
  int digit_bits = std::countr_zero(others) & ~7;
  int end_bits = digit_bits;
  std::size_t decimals = 0;
  if (is_at(digit_bits, decimal)) {
    const std::uint64_t beyond = others & (others - 1);
    if (beyond == 0) return 0;
    end_bits = std::countr_zero(beyond) & ~7;
    decimals = static_cast<std::size_t>(end_bits - digit_bits) / 8 - 1;
    if (digit_bits == 0 || decimals == 0) return 0;
    const std::uint64_t whole = (std::uint64_t{1} << digit_bits) - 1;
    digits = (digits & whole) | (digits >> 8 & ~whole);
    digit_bits = end_bits - 8;
  }
  if (digit_bits == 0 || !is_at(end_bits, delimiter)) return 0;

  digits = joined(digits << (64 - digit_bits));

  // Both are exact as doubles, so that their quotient is rounded once.
  value = static_cast<double>(static_cast<std::int64_t>(digits)) /
          kPlainPowers[decimals];
  return static_cast<std::size_t>(end_bits) / 8;
}
/// The same for a cell that begins with a minus; most columns have none.
[[gnu::noinline]] inline std::size_t read_negative_cell(std::uint64_t text,
                                                        char delimiter,
                                                        char decimal,
                                                        double& value) {
  const std::size_t length =
      read_unsigned_cell(text >> 8, delimiter, decimal, value);
  if (length == 0) return 0;
  value = -value;
  return length + 1;
}

/// The length of the cell at the beginning of `text` if it is a decimal of at
/// most seven characters ("1802", "-60.14"): `value` is then what
/// parse_number() says. 0, with nothing read, for any other cell.
inline std::size_t read_plain_cell(std::uint64_t text, char delimiter,
                                   char decimal, double& value) {
  if constexpr (std::endian::native != std::endian::little) return 0;
  return (text & 0xFF) == '-'
             ? read_negative_cell(text, delimiter, decimal, value)
             : read_unsigned_cell(text, delimiter, decimal, value);
}

/// How a column's cells are written: where digits, decimal mark and end stand.
/// The next cell mostly looks like the last one, and is then read without
/// looking for any of them.
class PlainShape {
 public:
  PlainShape() = default;

  /// A cell of another shape, which read_plain_cell() has read: the second in a
  /// row is learnt from. One alone, "9.98" among "10.02", changes nothing.
  void learn(std::uint64_t text, std::size_t length, char decimal) {
    differed_ = !differed_;
    if (!differed_) *this = PlainShape(text, length, decimal);
  }

  /// The same as read_plain_cell(), 0 for a cell of another shape.
  [[gnu::always_inline]] std::size_t read(std::uint64_t text, double& value) {
    // A digit is now a byte from 0 to 9, a mark that is as expected 0.
    std::uint64_t digits = (text ^ expected_) & kept_;
    const std::uint64_t beyond = ((digits & kOnes * 0x7F) + to_limit_) | digits;
    if ((beyond & kOnes * 0x80) != 0) return 0;
    digits <<= shift_;
    const std::uint64_t whole = digits & whole_;
    digits += (whole << 8) - whole;  // over the decimal mark
    value = static_cast<double>(static_cast<std::int64_t>(joined(digits))) /
            divisor_;
    differed_ = false;
    return length_;
  }

 private:
  PlainShape(std::uint64_t text, std::size_t length, char decimal)
      : expected_(0), kept_(0), to_limit_(0), length_(length) {
    const auto put = [](std::uint64_t& word, std::size_t i, int byte) {
      word |= static_cast<std::uint64_t>(byte) << (8 * i);
    };
    std::size_t mark = length;
    for (std::size_t i = 0; i <= length; ++i) {
      const auto c = static_cast<unsigned char>(text >> (8 * i));
      const bool digit = c >= '0' && c <= '9';
      put(expected_, i, digit ? '0' : c);
      put(kept_, i, 0xFF);
      put(to_limit_, i, digit ? 0x76 : 0x7F);
      if (static_cast<char>(c) == decimal && i < length) mark = i;
    }
    shift_ = static_cast<int>(64 - 8 * length);
    if (mark != length) {
      whole_ =
          (std::uint64_t{1} << (8 * mark + static_cast<std::size_t>(shift_))) -
          1;
      divisor_ = kPlainPowers[length - mark - 1];
    }
    if ((text & 0xFF) == '-') divisor_ = -divisor_;
  }

  // Until something is learnt no text will do.
  std::uint64_t expected_ = 0;
  std::uint64_t kept_ = 0;
  std::uint64_t to_limit_ = kOnes * 0x80;
  std::uint64_t whole_ = 0;
  double divisor_ = 1.0;
  std::size_t length_ = 0;
  int shift_ = 0;
  bool differed_ = true;
};

}  // namespace telltale::host

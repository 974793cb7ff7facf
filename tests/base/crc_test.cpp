// The check values are those of the catalogue of parametrised CRC algorithms
// (CRC-16/IBM-3740 and CRC-32/ISO-HDLC), of the text "123456789"; zlib stands
// beside as a second opinion on longer texts.
#include "telltale/base/crc.hpp"

#include <zlib.h>

#include <array>
#include <vector>

#include "catch.hpp"

namespace telltale {
namespace {

constexpr std::array<std::uint8_t, 9> kDigits = {'1', '2', '3', '4', '5',
                                                 '6', '7', '8', '9'};

TEST_CASE("check values of the CRCs") {
  STATIC_REQUIRE(crc16(kDigits) == 0x29B1);
  STATIC_REQUIRE(crc32(kDigits) == 0xCBF43926);
}

TEST_CASE("CRC-32 is that of zlib") {
  std::vector<std::uint8_t> bytes;
  for (int i = 0; i < 3000; ++i) {
    bytes.push_back(static_cast<std::uint8_t>(i * 7 + i / 5));
    if (i % 97 != 0) continue;
    const auto size = static_cast<unsigned>(bytes.size());
    CHECK(crc32(bytes) == ::crc32(0, bytes.data(), size));
  }
}

}  // namespace
}  // namespace telltale

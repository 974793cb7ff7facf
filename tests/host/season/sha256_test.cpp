// SHA-256 against the vectors of NIST.
#include "season/sha256.hpp"

#include <catch2/catch.hpp>
#include <string>

using telltale::host::season::Sha256;

namespace {

std::string hash(std::string_view text) {
  Sha256 sha;
  sha.add(text);
  return sha.finish_hex();
}

}  // namespace

// FIPS 180-2 appendix B.1 to B.3 and the NIST CSRC example values; the empty
// message from the NIST CAVP byte vectors (SHA256ShortMsg, Len = 0).
TEST_CASE("sha-256 gives the published digests") {
  CHECK(hash("") ==
        "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
  CHECK(hash("abc") ==
        "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  CHECK(hash("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq") ==
        "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
  CHECK(hash(std::string(1000000, 'a')) ==
        "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0");
}

// Every length around the block size, fed in two pieces at every place.
TEST_CASE("sha-256 does not depend on how the bytes are cut") {
  for (std::size_t length = 50; length < 140; ++length) {
    std::string text;
    for (std::size_t i = 0; i < length; ++i) {
      text += static_cast<char>(i * 7 + length);
    }
    const std::string whole = hash(text);
    for (std::size_t cut = 0; cut <= length; ++cut) {
      Sha256 sha;
      sha.add(std::string_view(text).substr(0, cut));
      sha.add(std::string_view(text).substr(cut));
      REQUIRE(sha.finish_hex() == whole);
    }
  }
}

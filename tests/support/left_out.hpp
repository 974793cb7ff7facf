// Tests that need a program which a machine may lack.
#pragma once

#include <cstdlib>
#include <string>

#include "catch.hpp"

namespace telltale::test {

/// Says that this test does nothing here, and why. It fails instead where
/// TELLTALE_SERVERS is set: `tools/test.sh --servers` has installed them all.
inline void left_out(const std::string& why) {
  if (std::getenv("TELLTALE_SERVERS") != nullptr) FAIL("left out: " << why);
  WARN("left out: " << why);
}

}  // namespace telltale::test

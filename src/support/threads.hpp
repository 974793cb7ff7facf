// Threads: whether something may start threads of its own.
#pragma once

#include <cstdint>

namespace telltale::host {

/// What comes out is the same either way.
enum class Threads : std::uint8_t {
  one,  // all is done on the caller's
  more  // some of it beside the caller's
};

}  // namespace telltale::host

// What a controller's own state column says, and its alarms, as numbers.
#pragma once

#include <cstdint>

namespace telltale {

/// The controller's word for what the set is doing. `unknown`: no such column,
/// or a word that tells nothing.
enum class EngineState : std::uint8_t {
  unknown,
  stopped,    // at rest, ready, off
  preheat,    // glow plugs or intake heater on, not turning yet
  cranking,   // starter engaged
  starting,   // running up to speed
  running,    // at speed; loaded or not is not said
  loaded,     // on load, supplying
  cool_down,  // unloaded before the stop
  stopping,   // stop command given
  fault       // locked out, shut down by a protection
};

/// Alarms that stand, one bit each. Which alarm a bit means is the host's or
/// the box's own business; the core counts bits and edges.
using AlarmMask = std::uint32_t;

}  // namespace telltale

// What kind of stop it was: the one judgement that stop-under-load and
// abrupt-stop share, so that they never both speak.
#pragma once

#include <cstdint>

#include "telltale/base/box_time.hpp"
#include "telltale/condition/stop_recorder.hpp"

namespace telltale {

/// Load off for longer than this is an unloading.
inline constexpr DurationMs kLetGo{1500};

enum class StopKind : std::uint8_t {
  not_seen,    // the log ends, or a gap hid it
  unloaded,    // as it should be
  under_load,  // a controlled stop with the load still on
  abrupt       // something stopped it
};

/// Contract section 6: controlled by command or state, or a smooth coast, and
/// no alarm and no channel out of its band before; in doubt abrupt.
/// `limit_pct`: load above which a stop counts as loaded.
template <std::floating_point R>
StopKind kind_of(const StopFacts<R>* stop, R limit_pct) {
  if (stop == nullptr || !is_set(stop->fall_since) || !stop->seen ||
      !stop->load_known) {
    return StopKind::not_seen;
  }
  const bool sign =
      stop->alarm || stop->first_out != Channel::none || stop->sagged;
  // A protection opens the breaker a moment before the speed falls; a person
  // who unloads takes longer.
  const bool let_go =
      stop->unloaded_for > SpanOf<R>(sign ? seconds(5) : kLetGo);
  // Amps alone tell that there was load, not how much.
  const bool known = stop->load_pct == stop->load_pct;
  const bool light = known ? !(stop->load_pct > limit_pct)
                           : !stop->loaded && stop->unloaded_for == SpanOf<R>{};
  if (light || let_go) return StopKind::unloaded;
  if (sign) return StopKind::abrupt;
  return stop->command || stop->smooth_coast ? StopKind::under_load
                                             : StopKind::abrupt;
}

}  // namespace telltale

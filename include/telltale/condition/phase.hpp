// The phases of a run (contract section 4), and what is known of a run.
#pragma once

#include <concepts>
#include <cstdint>
#include <string_view>

#include "telltale/base/box_time.hpp"
#include "telltale/base/time.hpp"

namespace telltale {

enum class Phase : std::uint8_t {
  unknown,
  stopped,
  cranking,    // turning below 40 % of nominal speed on the way up
  running_up,  // self-running, not yet at speed
  no_load,
  on_load,    // 5 % of rating and above
  cool_down,  // the last no-load stretch before the stop, told in hindsight
  stopping
};

constexpr std::string_view name_of(Phase phase) {
  constexpr std::string_view kNames[] = {"unknown",    "stopped", "cranking",
                                         "running-up", "no-load", "on-load",
                                         "cool-down",  "stopping"};
  return kNames[static_cast<unsigned>(phase)];
}

using PhaseMask = std::uint8_t;
constexpr PhaseMask bit(Phase phase) {
  return static_cast<PhaseMask>(1U << static_cast<unsigned>(phase));
}
inline constexpr PhaseMask kAtSpeed = static_cast<PhaseMask>(
    bit(Phase::no_load) | bit(Phase::on_load) | bit(Phase::cool_down));
inline constexpr PhaseMask kSelfRunning =
    static_cast<PhaseMask>(kAtSpeed | bit(Phase::running_up));

constexpr bool is_at_speed(Phase phase) { return (bit(phase) & kAtSpeed) != 0; }

/// How a run ended, as far as the phases tell.
enum class RunEnd : std::uint8_t {
  none,  // it goes on
  stop,  // seen to come to rest, or the attempts never made a start
  log    // the log ends, or a gap splits it, while turning
};

/// What is known of the run in hand.
template <std::floating_point R>
struct RunFactsOf {
  using Time = TimeOf<R>;

  Time start = kNoTime;          // first turning sample of the first attempt
  Time end = kNoTime;            // first sample at rest, when ended
  Time running_since = kNoTime;  // 40 % of nominal speed passed, good attempt
  Time at_speed_since = kNoTime;
  Time fall_since = kNoTime;  // speed left its level for good, when ended
  std::int32_t crank_ms = 0;  // all attempts together
  std::int32_t last_crank_ms = 0;
  decltype(SpanOf<R>::ms) gap_ms = 0;  // left out of the run's duration
  std::uint8_t attempts = 0;
  bool begins_in_log = false;
  bool crank_seen = false;  // a sample below 40 % was seen on the way up
  RunEnd ends = RunEnd::none;
};
/// With full times: on the host, and for whoever asks a box.
using RunFacts = RunFactsOf<double>;

/// The same with full times. REQUIRES: less than 24 days before `now`
template <std::floating_point R>
constexpr RunFacts full(const RunFactsOf<R>& run, TimeMs now) {
  return {.start = full(run.start, now),
          .end = full(run.end, now),
          .running_since = full(run.running_since, now),
          .at_speed_since = full(run.at_speed_since, now),
          .fall_since = full(run.fall_since, now),
          .crank_ms = run.crank_ms,
          .last_crank_ms = run.last_crank_ms,
          .gap_ms = run.gap_ms,
          .attempts = run.attempts,
          .begins_in_log = run.begins_in_log,
          .crank_seen = run.crank_seen,
          .ends = run.ends};
}

}  // namespace telltale

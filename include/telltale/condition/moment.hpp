// Moment<R>: one scan together with all that conditioning knows about it.
// This is what every check is shown.
#pragma once

#include <concepts>
#include <cstdint>
#include <limits>

#include "telltale/acquire/frame.hpp"
#include "telltale/base/box_time.hpp"
#include "telltale/base/out_of_line.hpp"
#include "telltale/condition/alarm_raises.hpp"
#include "telltale/condition/block.hpp"
#include "telltale/condition/frozen.hpp"
#include "telltale/condition/last_readings.hpp"
#include "telltale/condition/load.hpp"
#include "telltale/condition/phase.hpp"
#include "telltale/condition/stop_recorder.hpp"
#include "telltale/condition/turning.hpp"
#include "telltale/profile.hpp"

namespace telltale {

/// What the clock did just before a scan.
enum class ClockStep : std::uint8_t { none, set_back, set_forward };

template <std::floating_point R>
struct Moment {
  TimeOf<R> at = kNoTime;
  SpanOf<R> dt{};            // since the scan before; 0 for the first
  SpanOf<R> interval{};      // the usual time between scans
  SpanOf<R> crank_so_far{};  // of the crank in hand or just ended
  DurationMs clock_jump{};   // how far the log's clock was set, if it was
  Phase phase = Phase::unknown;
  ClockStep clock = ClockStep::none;
  TurnSource turn_source = TurnSource::none;
  LoadSource load_source = LoadSource::none;
  bool steady = false;          // at speed, settled, 10 s since a load step
  bool load_rated = false;      // load_pct is of the rating
  bool step_began = false;      // a load step began with this scan
  bool falling = false;         // speed below its level and still dropping
  bool over_excited = false;    // volts and frequency both above +5 %
  bool began = false;           // first scan of a run
  bool crank_ended = false;     // a crank ended with this scan, well or not
  bool starter = false;         // the starter is driving the engine
  bool wall_clock = false;      // `at` counts from 1970
  R turn_ratio = kNone;         // speed over nominal speed
  R turn_level = kNone;         // its own level while at speed
  R load_pct = kNone;           // see LoadTracker
  R power_kw = kNone;           // measured or derived
  R step_from_pct = kNone;      // load before the last step
  TimeOf<R> step_at = kNoTime;  // last load step
  TimeOf<R> load_moved_at = kNoTime;  // load last stopped being comparable
  TimeOf<R> on_load_since = kNoTime;
  TimeOf<R> sag_since = kNoTime;  // speed left its level
  const Frame<R>* frame = nullptr;
  const Block<R>* block = nullptr;     // set on the scan that closed one
  const RunFactsOf<R>* run = nullptr;  // the run in hand, or the one that ended
  const StopFacts<R>* stop = nullptr;  // when a run has come to rest
  const Profile* profile = nullptr;
  const LastReadings<R>* last = nullptr;  // up to this scan
  const FrozenDetector<R>* frozen = nullptr;
  const AlarmRaises* alarms = nullptr;

  [[gnu::always_inline]] Reading<R> operator[](Channel channel) const {
    return (*frame)[channel];
  }
  /// The set has no such channel.
  [[nodiscard]] bool lacks(Channel channel) const {
    return (frame->present() & bit(channel)) == 0;
  }
  /// The smallest step that channel has been seen to make; 0: none yet.
  [[nodiscard]] TELLTALE_OUT_OF_LINE R resolution_of(Channel channel) const {
    const R step = last->smallest_step(index_of(channel));
    return step < std::numeric_limits<R>::infinity() ? step : R(0);
  }
  [[nodiscard]] bool at_speed() const { return is_at_speed(phase); }
  [[nodiscard]] bool in_run() const { return is_set(run->start); }
  /// Time since the set ran by itself; negative where it does not.
  [[nodiscard]] SpanOf<R> since_running() const {
    return is_set(run->running_since) ? at - run->running_since : SpanOf<R>{-1};
  }
  [[nodiscard]] SpanOf<R> since_load_move() const {
    return is_set(load_moved_at) ? at - load_moved_at : kLongAgo;
  }

  static constexpr SpanOf<R> kLongAgo = hours(24 * 20);

  static constexpr R kNone = std::numeric_limits<R>::quiet_NaN();
};

}  // namespace telltale

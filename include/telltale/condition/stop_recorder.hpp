// StopRecorder<R>: what the last moments before a stop looked like.
#pragma once

#include <algorithm>
#include <concepts>
#include <cstdint>
#include <limits>

#include "telltale/acquire/frame.hpp"
#include "telltale/base/box_time.hpp"
#include "telltale/base/out_of_line.hpp"
#include "telltale/base/ring.hpp"
#include "telltale/base/stamp.hpp"
#include "telltale/condition/own_band.hpp"
#include "telltale/condition/phase.hpp"

namespace telltale {

/// The evidence about one stop.
template <std::floating_point R>
struct StopFacts {
  TimeOf<R> fall_since = kNoTime;  // the speed left its level for good
  R load_pct = kNone;              // mean of the last 5 s at speed
  bool load_known = false;         // something told the load at that time
  bool loaded = false;             // on load at that time
  bool command = false;            // the state column announced a stop
  bool alarm = false;              // an alarm rose, or a fault state, before it
  bool smooth_coast = false;       // the speed ran down evenly
  bool seen = false;               // no gap hid the stop
  bool sagged = false;             // sagged and recovered in the last 60 s
  Channel first_out = Channel::none;
  TimeOf<R> first_out_since = kNoTime;
  SpanOf<R> unloaded_for{};  // no-load time before the stop

  static constexpr R kNone = std::numeric_limits<R>::quiet_NaN();
};

/// Watches every scan of a run; facts() is complete once the run has ended.
template <std::floating_point R>
class StopRecorder {
 public:
  void reset() { *this = StopRecorder{}; }

  /// One scan. `ratio` is speed over nominal; `sag_since` as PhaseTracker
  /// tells it; `gap`: the time before this scan is a gap.
  void step(const Frame<R>& frame, SpanOf<R> dt, Phase phase, R ratio,
            TimeOf<R> sag_since, R load_pct, bool on_load, bool load_moved,
            bool gap, bool load_known) {
    note_alarms(frame);
    if (is_at_speed(phase) && !is_set(sag_since)) {
      if (falling_) note_recovery(frame.time());
      bands_.step(frame, dt, load_moved);
      keep_load(frame.time(), dt, load_pct, on_load && load_known);
      load_known_ = load_known;
      falling_ = false;
    } else if (is_at_speed(phase) || phase == Phase::stopping ||
               ratio <= kAtRest) {
      coast(dt, ratio, gap);
    }
    last_ratio_ = ratio;
  }

  /// REQUIRES: the run has just ended, by coming to rest.
  [[nodiscard]] TELLTALE_OUT_OF_LINE StopFacts<R> facts(
      const RunFactsOf<R>& run) const {
    StopFacts<R> out;
    const TimeOf<R> fall = run.fall_since;
    if (!is_set(fall)) return out;
    out.fall_since = fall;
    R sum = R(0);
    int n = 0;
    for (std::size_t i = loads_.size(); i-- > 0;) {
      // The newest counts where the interval is longer than 5 s.
      const SpanOf<R> twice{last_dt_ms_ * 2};
      const SpanOf<R> reach = n > 0 ? kLastLoad : std::max(kLastLoad, twice);
      if (loads_[i].at.age(fall) > reach) break;
      sum += loads_[i].percent;
      ++n;
    }
    if (n > 0) out.load_pct = sum / static_cast<R>(n);
    out.load_known = load_known_;
    out.loaded = was_on_load_;
    out.unloaded_for =
        was_on_load_ || !loaded_once_ ? SpanOf<R>{} : on_load_until_.age(fall);
    out.command = commanded_ && command_at_.age(run.end) <= kCommandMemory;
    out.alarm = alarmed_ && alarm_at_.age(run.end) <= kAlarmMemory;
    out.smooth_coast = samples_ >= kCoastSamples && !jumped_;
    out.seen = !hidden_;
    out.sagged = sagged_ && sag_at_.age(fall) <= kSagMemory;
    out.first_out = bands_.first_out(fall);
    if (out.first_out != Channel::none) {
      out.first_out_since = bands_.out_since(out.first_out, fall);
    }
    return out;
  }

 private:
  static constexpr R kAtRest = R(0.015);
  static constexpr SpanOf<R> kLastLoad = seconds(5);
  static constexpr SpanOf<R> kCommandMemory = seconds(60);
  static constexpr SpanOf<R> kAlarmMemory = seconds(90);
  static constexpr SpanOf<R> kSagMemory = seconds(60);
  static constexpr std::uint8_t kCoastSamples = 3;

  struct Load {
    Stamp at;
    R percent;
  };

  void note_alarms(const Frame<R>& frame) {
    const AlarmMask raised = frame.alarms & ~alarms_;
    alarms_ = frame.alarms;
    const bool fault = frame.state == EngineState::fault;
    if ((raised != 0 && begun_) || (fault && !fault_)) {
      alarmed_ = true;
      alarm_at_ = Stamp(frame.time());
    }
    fault_ = fault;
    begun_ = true;
    if (frame.state == EngineState::stopping ||
        frame.state == EngineState::cool_down) {
      commanded_ = true;
      command_at_ = Stamp(frame.time());
    }
  }
  TELLTALE_OUT_OF_LINE void keep_load(TimeOf<R> at, SpanOf<R> dt, R load_pct,
                                      bool on_load) {
    last_dt_ms_ = static_cast<std::uint32_t>(dt.ms);
    was_on_load_ = on_load;
    if (on_load) {
      loaded_once_ = true;
      on_load_until_ = Stamp(at);
    }
    if (!(load_pct == load_pct)) return;
    const bool due =
        loads_.empty() ||
        std::int64_t{loads_.back().at.age(at).ms} * 7 >= kLastLoad.ms;
    if (due) loads_.push({Stamp(at), load_pct});
  }
  void coast(SpanOf<R> dt, R ratio, bool gap) {
    if (!falling_) {
      falling_ = true;
      samples_ = 0;
      jumped_ = hidden_ = false;
    }
    hidden_ = hidden_ || gap;
    if (!(ratio == ratio)) return;
    const R drop = last_ratio_ - ratio;
    // Rising again, or losing most of the speed within half a second or
    // less: no free run-down. A long interval hides what happened.
    const R step_s = in_ms<R>(dt) * R(0.001);
    if (drop < R(-0.02) || (drop > R(0.7) && step_s < R(1.5))) jumped_ = true;
    if (ratio > kAtRest && samples_ < 0xFF) ++samples_;
  }
  void note_recovery(TimeOf<R> at) {
    sagged_ = true;
    sag_at_ = Stamp(at);
  }

  OwnBands<R> bands_;
  Ring<Load, 8> loads_;
  Stamp alarm_at_;
  Stamp command_at_;
  Stamp sag_at_;
  Stamp on_load_until_;
  R last_ratio_ = R(0);
  AlarmMask alarms_ = 0;
  std::uint8_t samples_ = 0;
  bool begun_ = false;
  bool fault_ = false;
  bool alarmed_ = false;
  bool commanded_ = false;
  bool sagged_ = false;
  bool falling_ = false;
  bool jumped_ = false;
  bool hidden_ = false;
  bool was_on_load_ = false;
  bool loaded_once_ = false;
  bool load_known_ = false;
  std::uint32_t last_dt_ms_ = 0;
};

}  // namespace telltale

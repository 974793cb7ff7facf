// PhaseTracker<R>: from how fast the set turns to phases, attempts and runs.
#pragma once

#include <concepts>
#include <cstdint>

#include "telltale/base/box_time.hpp"
#include "telltale/base/out_of_line.hpp"
#include "telltale/base/time.hpp"
#include "telltale/condition/phase.hpp"

namespace telltale {

/// A small state machine over the turn ratio (speed over nominal speed).
/// Phases that only hindsight can tell are reported with the time they began:
/// a stop begins where the speed left its level, not where it passed 40 %.
template <std::floating_point R>
class PhaseTracker {
 public:
  static constexpr R kTurning = R(0.015);      // above: not at rest
  static constexpr R kSelfRunning = R(0.4);    // contract section 4
  static constexpr R kDriven = R(0.6);         // of a crank's peak speed
  static constexpr R kNearSpeed = R(0.95);     // of nominal: at speed
  static constexpr R kSlowButSteady = R(0.8);  // at speed if it stays there
  static constexpr R kSag = R(0.95);           // of its own level
  static constexpr SpanOf<R> kSequenceGap = minutes(10);
  static constexpr SpanOf<R> kNewLevel = seconds(15);

  /// What one step brought.
  struct Event {
    bool run_began = false;
    bool run_ended = false;    // ended() tells of it
    bool crank_ended = false;  // an attempt ended, well or not
    bool phase_changed = false;
  };

  /// One sample. `ratio` is NaN where nothing tells; the phase then stands.
  /// `on_load` is the load's side of the matter.
  Event step(TimeOf<R> at, SpanOf<R> dt, R ratio, bool on_load) {
    Event event;
    if (!(ratio == ratio)) return event;
    const Phase before = phase_;
    close_stale_sequence(at, event);
    switch (phase_) {
      case Phase::unknown:
        first_sample(at, ratio, on_load, event);
        break;
      case Phase::stopped:
        if (ratio > kTurning) begin_attempt(at, ratio, event);
        break;
      case Phase::cranking:
        crank(at, dt, ratio, event);
        break;
      case Phase::running_up:
        run_up(at, dt, ratio, on_load, event);
        break;
      case Phase::no_load:
      case Phase::on_load:
      case Phase::cool_down:
        run(at, dt, ratio, on_load, event);
        break;
      case Phase::stopping:
        coast(at, ratio, on_load, event);
        break;
    }
    previous_ = ratio;
    event.phase_changed = phase_ != before;
    return event;
  }

  /// The ratio comes from another source from now on, `ratio` being its first.
  void change_source(R ratio) {
    if (is_at_speed(phase_) && ratio > kSlowButSteady) {
      level_ = previous_ = ratio;
      sag_since_ = kNoTime;
      falling_ = false;
    }
  }
  /// The log ends, or a gap splits the run. Ends an open run.
  Event finish(TimeOf<R> at) {
    Event event;
    if (in_run()) {
      if (phase_ == Phase::stopped) {
        end_run(last_rest_, RunEnd::stop, event);
      } else if (is_set(rest_since_)) {
        fall_back_to_rest(rest_since_, event);
      } else {
        end_run(at, RunEnd::log, event);
      }
    }
    return event;
  }
  /// After finish(): what comes next is the start of another log.
  void restart() {
    const RunFactsOf<R> kept = ended_;
    *this = PhaseTracker{};
    ended_ = kept;
  }

  [[nodiscard]] Phase phase() const { return phase_; }
  /// How long the starter has been driving in the crank in hand; what follows
  /// until the engine is at rest again is no cranking.
  [[nodiscard]] SpanOf<R> crank_so_far(TimeOf<R> now) const {
    if (!is_set(since_)) return {};  // nothing has told yet
    return (is_set(released_) ? released_ : now) - since_;
  }
  [[nodiscard]] bool starter_engaged() const {
    return phase_ == Phase::cranking && !is_set(released_);
  }
  /// When the present phase began; may lie before the step that told it.
  [[nodiscard]] TimeOf<R> phase_since() const { return since_; }
  /// The run in hand; start is kNoTime when there is none.
  [[nodiscard]] const RunFactsOf<R>& facts() const { return run_; }
  /// The run that ended last.
  [[nodiscard]] const RunFactsOf<R>& ended() const { return ended_; }
  [[nodiscard]] bool in_run() const { return is_set(run_.start); }
  /// The ratio's own level while at speed.
  [[nodiscard]] R level() const { return level_; }
  /// The speed is below its level and still going down.
  [[nodiscard]] bool falling() const { return falling_; }
  /// When the speed left its level, while it is below it.
  [[nodiscard]] TimeOf<R> sag_since() const { return sag_since_; }
  void leave_out(SpanOf<R> gap) { run_.gap_ms += gap.ms; }
  /// Now and then: see keep_young().
  void keep_young_at(TimeOf<R> now) {
    keep_young<R>(run_.start, now);
    keep_young<R>(run_.running_since, now);
    keep_young<R>(run_.at_speed_since, now);
  }

 private:
  void enter(Phase phase, TimeOf<R> since) {
    phase_ = phase;
    since_ = since;
  }
  TELLTALE_OUT_OF_LINE void enter_at_speed(TimeOf<R> at, R ratio,
                                           bool on_load) {
    enter(on_load ? Phase::on_load : Phase::no_load, at);
    if (!is_set(run_.at_speed_since)) run_.at_speed_since = at;
    level_ = ratio;
    sag_since_ = kNoTime;
    falling_ = false;
  }

  void first_sample(TimeOf<R> at, R ratio, bool on_load, Event& event) {
    if (ratio <= kTurning) {
      enter(Phase::stopped, at);
      return;
    }
    run_ = RunFactsOf<R>{};
    run_.start = at;
    run_.begins_in_log = true;
    event.run_began = true;
    if (ratio >= kSlowButSteady) {
      run_.running_since = at;
      enter_at_speed(at, ratio, on_load);
    } else {
      begin_turning(at, ratio);
    }
  }
  TELLTALE_OUT_OF_LINE void begin_turning(TimeOf<R> at, R ratio) {
    if (ratio < kSelfRunning) {
      crank_peak_ = ratio;
      released_ = kNoTime;
      run_.crank_seen = true;
      enter(Phase::cranking, at);
    } else {
      run_.running_since = at;
      enter(Phase::running_up, at);
    }
  }
  void begin_attempt(TimeOf<R> at, R ratio, Event& event) {
    if (!in_run()) {
      run_.start = at;
      event.run_began = true;
    }
    if (run_.attempts < 0xFF) ++run_.attempts;
    run_.last_crank_ms = 0;
    begin_turning(at, ratio);
  }
  void count_crank(TimeOf<R> at, Event& event) {
    run_.last_crank_ms = static_cast<std::int32_t>(crank_so_far(at).ms);
    run_.crank_ms += run_.last_crank_ms;
    event.crank_ended = true;
  }
  /// The starter has let go once the speed is well below what it made.
  void follow_starter(TimeOf<R> at, R ratio) {
    if (ratio > crank_peak_) crank_peak_ = ratio;
    const bool driven = ratio > kDriven * crank_peak_;
    if (driven) {
      released_ = kNoTime;
    } else if (!is_set(released_)) {
      released_ = at;
    }
  }

  void crank(TimeOf<R> at, SpanOf<R> dt, R ratio, Event& event) {
    follow_starter(at, ratio);
    if (ratio >= kSelfRunning) {
      count_crank(at, event);
      run_.running_since = at;
      enter(Phase::running_up, at);
      run_up(at, dt, ratio, false, event);
    } else if (ratio <= kTurning) {
      count_crank(at, event);
      fall_back_to_rest(at, event);
    }
  }
  void run_up(TimeOf<R> at, SpanOf<R> dt, R ratio, bool on_load, Event& event) {
    if (ratio <= kTurning) {
      fall_back_to_rest(at, event);
    } else if (ratio >= kNearSpeed ||
               (ratio >= kSlowButSteady && is_level(ratio, dt))) {
      enter_at_speed(at, ratio, on_load);
    } else if (ratio < kSelfRunning && ratio < previous_) {
      run_.fall_since = at;
      enter(Phase::stopping, at);
    }
  }
  void run(TimeOf<R> at, SpanOf<R> dt, R ratio, bool on_load, Event& event) {
    follow_level(at, dt, ratio);
    if (ratio <= kTurning) {
      // One sample at rest after full speed may be a bad row: wait for a
      // second one.
      if (!is_set(rest_since_)) {
        rest_since_ = at;
        return;
      }
      fall_back_to_rest(rest_since_, event);
      return;
    }
    rest_since_ = kNoTime;
    if (ratio < kSelfRunning) {
      run_.fall_since = is_set(sag_since_) ? sag_since_ : at;
      enter(Phase::stopping, run_.fall_since);
      return;
    }
    const Phase wanted = on_load ? Phase::on_load : Phase::no_load;
    if (wanted != phase_) enter(wanted, at);
  }
  void coast(TimeOf<R> at, R ratio, bool on_load, Event& event) {
    if (ratio <= kTurning) {
      fall_back_to_rest(at, event);
    } else if (ratio >= kSag * level_ && level_ > R(0)) {
      run_.fall_since = kNoTime;
      enter_at_speed(at, ratio, on_load);
    }
  }
  /// At rest since `at`: the end of a run, or of an attempt that made none.
  void fall_back_to_rest(TimeOf<R> at, Event& event) {
    last_rest_ = at;
    if (is_set(run_.at_speed_since) || run_.begins_in_log) {
      if (!is_set(run_.fall_since)) {
        run_.fall_since = is_set(sag_since_) ? sag_since_ : at;
      }
      end_run(at, RunEnd::stop, event);
    } else {
      run_.running_since = kNoTime;
    }
    rest_since_ = kNoTime;
    sag_since_ = kNoTime;
    falling_ = false;
    level_ = R(0);
    enter(Phase::stopped, at);
  }
  void close_stale_sequence(TimeOf<R> at, Event& event) {
    if (phase_ == Phase::stopped && in_run() &&
        at - last_rest_ >= kSequenceGap) {
      end_run(last_rest_, RunEnd::stop, event);
    }
  }
  void end_run(TimeOf<R> at, RunEnd how, Event& event) {
    run_.end = at;
    run_.ends = how;
    ended_ = run_;
    run_ = RunFactsOf<R>{};
    event.run_ended = true;
  }

  [[nodiscard]] TELLTALE_OUT_OF_LINE bool is_level(R ratio,
                                                   SpanOf<R> dt) const {
    const R change = ratio > previous_ ? ratio - previous_ : previous_ - ratio;
    const R step_s = in_ms<R>(dt) * R(0.001);
    return change < R(0.01) * (step_s < R(5) ? step_s : R(5));
  }
  void follow_level(TimeOf<R> at, SpanOf<R> dt, R ratio) {
    if (ratio < kSag * level_) {
      if (!is_set(sag_since_)) sag_since_ = at;
      falling_ = ratio < previous_ && !is_level(ratio, dt);
      // A lasting change is a new level, not a sag.
      if (!falling_ && at - sag_since_ > kNewLevel) level_ = ratio;
      return;
    }
    sag_since_ = kNoTime;
    falling_ = false;
    // Time constant some 20 s, in a form that needs no exponential.
    const R step = in_ms<R>(dt) * (R(1) / R(20000));
    level_ += (step < R(1) ? step : R(1)) * (ratio - level_);
  }

  RunFactsOf<R> run_;
  RunFactsOf<R> ended_;
  TimeOf<R> since_ = kNoTime;
  TimeOf<R> last_rest_ = kNoTime;
  TimeOf<R> rest_since_ = kNoTime;
  TimeOf<R> released_ = kNoTime;
  R crank_peak_ = R(0);
  TimeOf<R> sag_since_ = kNoTime;
  R level_ = R(0);
  R previous_ = R(0);
  Phase phase_ = Phase::unknown;
  bool falling_ = false;
};

}  // namespace telltale

// Conditioner<R>: Frames in, Moments out. Ties the pieces of this block.
#pragma once

#include <concepts>
#include <cstdint>

#include "telltale/acquire/frame.hpp"
#include "telltale/base/box_time.hpp"
#include "telltale/condition/alarm_raises.hpp"
#include "telltale/condition/block.hpp"
#include "telltale/condition/interval.hpp"
#include "telltale/condition/last_readings.hpp"
#include "telltale/condition/load.hpp"
#include "telltale/condition/moment.hpp"
#include "telltale/condition/phase_tracker.hpp"
#include "telltale/condition/stop_recorder.hpp"
#include "telltale/condition/turning.hpp"
#include "telltale/profile.hpp"

namespace telltale {

/// One scan at a time; scans do not step back in time.
template <std::floating_point R>
class Conditioner {
 public:
  static constexpr SpanOf<R> kSettle = seconds(10);
  static constexpr SpanOf<R> kLongGap = minutes(10);

  using RunEvent = typename PhaseTracker<R>::Event;

  /// REQUIRES: `profile` outlives the conditioner.
  void configure(const Profile& profile) {
    profile_ = &profile;
    turning_.configure(profile);
    load_.configure(profile);
    interval_.reset(profile.interval_s);
    set_over_limits(profile.rating);
  }

  /// True where the gap before `frame` splits a run: longer than 10 min or 20
  /// intervals, and neither hour meter nor start counter show that it went on.
  [[nodiscard]] bool splits_run(const Frame<R>& frame) const {
    if (!is_set(last_at_) || !phase_.in_run()) return false;
    const DurationMs gap = frame.at - last_at_;
    const DurationMs by_interval{interval_.value().ms * 20};
    return gap > kLongGap && gap > by_interval && !went_on(frame, gap);
  }
  /// Ends an open run where it is: the log ends, or a gap splits it.
  RunEvent finish() {
    const RunEvent event = phase_.finish(last_at_);
    close_run(event);
    phase_.restart();
    load_.reset();
    blocks_.reset();
    on_load_since_ = kNoTime;
    moment_.run = event.run_ended ? &phase_.ended() : &phase_.facts();
    moment_.block = nullptr;
    moment_.phase = Phase::unknown;
    return event;
  }

  /// The next scan; frozen readings are marked in it. moment() then tells of
  /// it; its pointers are good until the next call.
  RunEvent step(Frame<R>& frame, ClockStep clock = ClockStep::none,
                DurationMs clock_jump = {}) {
    const DurationMs since =
        is_set(last_at_) ? frame.at - last_at_ : DurationMs{0};
    const SpanOf<R> dt = kept_span<R>(since);
    const TimeOf<R> at = frame.time();
    interval_.add(since);
    follow_readings(frame, dt);
    alarms_.step(frame.alarms, at);
    load_.step(frame, profile_->rating);
    const auto turn = turning_.of(frame);
    if (turn.source != turn_source_) {
      // Another source may stand a few percent off: no sag.
      phase_.change_source(turn.ratio);
      turn_source_ = turn.source;
    }
    const RunEvent event = phase_.step(at, dt, turn.ratio, load_.on_load());
    if (event.run_ended && phase_.ended().ends == RunEnd::stop) {
      frozen_.come_to_rest(frame);
    }
    if (interval_.is_gap(since) && phase_.in_run() && !event.run_began) {
      phase_.leave_out(dt - SpanOf<R>(interval_.value()));
    }
    remember_counters(frame);
    if (event.run_began) stops_.reset();
    stops_.step(frame, dt, phase_.phase(), turn.ratio, phase_.sag_since(),
                load_.percent(), load_.on_load(), load_.moved_at() == at,
                interval_.is_gap(since), load_.source() != LoadSource::none);
    close_run(event);
    fill(frame, dt, turn, event);
    if (moment_.block != nullptr) {
      phase_.keep_young_at(at);
      load_.keep_young_at(at);
      keep_young<R>(on_load_since_, at);
    }
    moment_.clock = clock;
    moment_.clock_jump = clock_jump;
    last_at_ = frame.at;
    return event;
  }

  /// Everybody has seen the scan judged last, `frame`; its block may go.
  void let_go(const Frame<R>& frame) {
    blocks_.begin_with(frame, moment_.load_pct, moment_.steady);
  }

  /// See Monitor::rescale_load.
  void rescale_load(const Profile& profile) { load_.configure(profile); }
  /// After a copy of another conditioner's bytes: points at its own parts, at
  /// `profile` and at `frame`, the scan judged last.
  void reseat(const Profile& profile, const Frame<R>& frame) {
    profile_ = &profile;
    point_at(frame);
    moment_.run = &phase_.facts();
    moment_.stop = nullptr;
    moment_.block = nullptr;
  }

  [[nodiscard]] const Moment<R>& moment() const { return moment_; }
  [[nodiscard]] const PhaseTracker<R>& phases() const { return phase_; }
  [[nodiscard]] const LastReadings<R>& last() const { return last_; }
  [[nodiscard]] const LoadTracker<R>& load() const { return load_; }
  /// When the scan judged last was taken.
  [[nodiscard]] TimeMs last_at() const { return last_at_; }
  [[nodiscard]] const Interval& interval() const { return interval_; }

 private:
  void follow_readings(Frame<R>& frame, SpanOf<R> dt) {
    const typename FrozenDetector<R>::Scene scene{dt, phase_.phase(),
                                                  load_.percent()};
    const ChannelMask good = frame.with(Quality::good);
    // As nearly always; a box would rather not have the code twice.
    if constexpr (!kOnBox<R>) {
      if (last_.as_ever(good)) {
        const auto moves = last_.learn_all(frame);
        frozen_.step_all(frame, good, moves, last_.smallest_steps(), scene);
        last_.close_scan(frame, good);
        return;
      }
    }
    for_each_bit(good & last_.seen(), [&](std::size_t i) {
      const R value = frame.values[i];
      const R moved = last_.moved(i, value);
      last_.learn(i, value, moved);
      frozen_.step(frame, i, moved, last_.smallest_step(i), scene);
    });
    for_each_bit(good & ~last_.seen(), [&](std::size_t i) {
      frozen_.begin(i);
      last_.begin(i, frame.values[i]);
    });
    last_.close_scan(frame, good);
  }
  void close_run(const RunEvent& event) {
    moment_.stop = nullptr;
    if (event.run_ended && phase_.ended().ends == RunEnd::stop) {
      stop_ = stops_.facts(phase_.ended());
      moment_.stop = &stop_;
    }
  }
  void fill(const Frame<R>& frame, SpanOf<R> dt,
            const typename TurnRatio<R>::Result& turn, const RunEvent& event) {
    Moment<R>& m = moment_;
    point_at(frame);
    m.at = frame.time();
    m.wall_clock = profile_->wall_clock;
    m.dt = dt;
    m.interval = interval_.value();
    m.phase = phase_.phase();
    m.turn_source = turn.source;
    m.turn_ratio = turn.ratio;
    m.turn_level = phase_.level();
    m.falling = phase_.falling();
    m.sag_since = phase_.sag_since();
    m.load_source = load_.source();
    m.load_pct = load_.percent();
    m.load_rated = load_.rated();
    m.power_kw = load_.kw();
    m.step_at = load_.step_at();
    m.load_moved_at = load_.moved_at();
    m.step_began = load_.step_began();
    m.step_from_pct = load_.step_from();
    m.began = event.run_began;
    m.crank_ended = event.crank_ended;
    m.starter = phase_.starter_engaged();
    m.crank_so_far = event.crank_ended ? SpanOf<R>{phase_.facts().last_crank_ms}
                                       : phase_.crank_so_far(m.at);
    m.run =
        event.run_ended && !event.run_began ? &phase_.ended() : &phase_.facts();
    if (!load_.on_load()) {
      on_load_since_ = kNoTime;
    } else if (!is_set(on_load_since_)) {
      on_load_since_ = m.at;
    }
    m.on_load_since = on_load_since_;
    m.steady = is_steady(m.at);
    m.over_excited = m.at_speed() && over_excited(frame);
    m.block = blocks_.add(frame, m.interval, m.load_pct, m.steady)
                  ? &blocks_.block()
                  : nullptr;
  }
  void point_at(const Frame<R>& frame) {
    moment_.frame = &frame;
    moment_.profile = profile_;
    moment_.last = &last_;
    moment_.frozen = &frozen_;
    moment_.alarms = &alarms_;
  }
  [[nodiscard]] bool is_steady(TimeOf<R> at) const {
    const RunFactsOf<R>& run = phase_.facts();
    return is_at_speed(phase_.phase()) && !phase_.falling() &&
           (run.begins_in_log || at - run.at_speed_since >= kSettle) &&
           (!is_set(load_.step_at()) || at - load_.step_at() >= kSettle);
  }

  void set_over_limits(const Rating& rating) {
    constexpr float kOver = 1.05F;
    over_hz_ = static_cast<R>(rating.frequency_hz * kOver);
    over_line_v_ = static_cast<R>(rating.voltage_v * kOver);
    over_leg_v_ = static_cast<R>(rating.leg_voltage_v() * kOver);
  }
  /// NaN limits compare false: nothing is over an unknown limit.
  [[nodiscard]] bool over_excited(const Frame<R>& frame) const {
    const auto& hz = frame[Channel::frequency];
    if (!hz.usable() || !(hz.value > over_hz_)) return false;
    const auto& line = frame[Channel::voltage_line];
    const auto& leg = frame[Channel::voltage_l1];
    if (leg.usable()) return leg.value > over_leg_v_;
    return line.usable() && line.value > over_line_v_;
  }

  void remember_counters(const Frame<R>& frame) {
    const auto& hours = frame[Channel::engine_hours];
    const auto& starts = frame[Channel::start_count];
    if (hours.good()) last_hours_ = hours.value;
    if (starts.good()) last_starts_ = starts.value;
  }
  [[nodiscard]] bool went_on(const Frame<R>& frame, DurationMs gap) const {
    const auto& hours = frame[Channel::engine_hours];
    const auto& starts = frame[Channel::start_count];
    if (hours.good() && last_hours_ == last_hours_) {
      const R gap_h = in_ms<R>(gap) / R(3600000);
      // The meter may count in steps as long as the gap itself.
      return hours.value - last_hours_ >= R(0.5) * gap_h;
    }
    return starts.good() && starts.value == last_starts_ &&
           turning_.best(frame).ratio > PhaseTracker<R>::kSelfRunning;
  }

  // Small things first: a controller reaches them in fewer bytes of code.
  const Profile* profile_ = nullptr;
  TurnRatio<R> turning_;
  LoadTracker<R> load_;
  PhaseTracker<R> phase_;
  Moment<R> moment_;
  TimeMs last_at_ = kNoTime;
  TurnSource turn_source_ = TurnSource::none;
  TimeOf<R> on_load_since_ = kNoTime;
  R last_hours_ = Moment<R>::kNone;
  R last_starts_ = Moment<R>::kNone;
  R over_hz_{};
  R over_line_v_{};
  R over_leg_v_{};
  StopFacts<R> stop_;
  BlockBuilder<R> blocks_;
  Interval interval_;
  LastReadings<R> last_;
  FrozenDetector<R> frozen_;
  AlarmRaises alarms_;
  StopRecorder<R> stops_;
};

}  // namespace telltale

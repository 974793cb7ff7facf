// DelayTimer and Latch<R>: hysteresis, on-delay and off-delay counted in time,
// not in samples; shared by all checks.
#pragma once

#include <algorithm>
#include <concepts>
#include <cstdint>

#include "telltale/base/box_time.hpp"
#include "telltale/base/stamp.hpp"
#include "telltale/base/time.hpp"
#include "telltale/detect/finding.hpp"
#include "telltale/detect/limits.hpp"

namespace telltale {

/// Says when a condition has held for a delay. A rolling view: up to a tenth
/// of the delay may be missing from it (a reading back inside for a moment),
/// and at least so many readings must confirm it, so that no single one can.
class DelayTimer {
 public:
  static constexpr std::uint8_t kReadings = 3;

  /// One judged reading; `dt` since the last judged one, 0 for the first.
  template <class Time, class Lapse>
  void step(Time at, Lapse dt, bool holds, Lapse delay) {
    if (holds) {
      if (count_ == 0) since_ = Stamp(at);
      if (count_ < 0xFF) ++count_;
      missed_ms_ = 0;
    } else if (count_ > 0) {
      missed_ms_ += static_cast<std::uint32_t>(dt.ms);
      if (std::int64_t{missed_ms_} * 10 > delay.ms) reset();
    }
  }
  void reset() { *this = {}; }

  [[nodiscard]] bool running() const { return count_ > 0; }
  template <class Time, class Lapse>
  [[nodiscard]] bool reached(Time at, Lapse delay,
                             std::uint8_t readings) const {
    return count_ >= readings && missed_ms_ == 0 && since_.age(at) >= delay;
  }
  /// When the condition began to hold. REQUIRES: running()
  template <class Time>
  [[nodiscard]] Time since(Time now) const {
    return since_.full(now);
  }

  /// For a condition that stands whatever single readings say: how long it has
  /// been missing without a break, `dt` since the last judged reading.
  template <class Lapse>
  std::uint32_t miss(bool missing, Lapse dt) {
    missed_ms_ = missing ? missed_ms_ + static_cast<std::uint32_t>(dt.ms) : 0;
    return missed_ms_;
  }

 private:
  Stamp since_;
  std::uint32_t missed_ms_ = 0;
  std::uint8_t count_ = 0;
};

/// How a latch judges. A latch knows two severities: attention and urgent, or
/// note and attention where the check has a note level.
template <std::floating_point R>
struct LatchRule {
  Level low;          // the milder severity; may not exist
  Level high;         // the graver one; may not exist
  R deadband = R(0);  // how far back inside a reading must be to clear
  Side side = Side::above;
  std::uint8_t readings = DelayTimer::kReadings;
  bool from_note = false;  // low is note, high attention

  static LatchRule of(const Limits& limits, R deadband = R(0)) {
    LatchRule rule;
    rule.side = limits.side;
    rule.deadband = deadband;
    rule.from_note = limits.note.exists();
    rule.low = rule.from_note ? limits.note : limits.attention;
    rule.high = rule.from_note ? limits.attention : limits.urgent;
    return rule;
  }
  [[nodiscard]] Severity low_is() const {
    return from_note ? Severity::note : Severity::attention;
  }
  [[nodiscard]] Severity high_is() const {
    return from_note ? Severity::attention : Severity::urgent;
  }
  [[nodiscard]] bool beyond(R value, const Level& level) const {
    return passes(value, static_cast<R>(level.limit), side);
  }
  [[nodiscard]] bool beyond_any(R value) const {
    return beyond(value, low) || beyond(value, high);
  }
  /// What a value must be beyond to be beyond any level; NaN: none can.
  [[nodiscard]] R edge() const {
    const R at = edge_of(static_cast<R>(low.limit), side);
    const R other = edge_of(static_cast<R>(high.limit), side);
    return !(at == at) || worse(at, other) ? other : at;
  }
  /// a is worse than b.
  [[nodiscard]] bool worse(R a, R b) const {
    return side == Side::above ? a > b : a < b;
  }
};

/// What one reading did to a latch.
enum class LatchChange : std::uint8_t { none, opened, worsened, closed };

/// Two severities of one limit on one channel.
template <std::floating_point R>
class Latch {
 public:
  /// One judged reading. `forget`: a longer time without a judged reading
  /// restarts a pending delay; it never clears a standing finding.
  LatchChange step(TimeOf<R> at, R value, const LatchRule<R>& rule,
                   SpanOf<R> forget) {
    const bool high = rule.beyond(value, rule.high);
    const bool low = high || rule.beyond(value, rule.low);
    if (!low && idle()) return LatchChange::none;
    const SpanOf<R> dt = idle() ? SpanOf<R>{0} : last_.age(at);
    last_ = Stamp(at);
    if (dt > forget) forget_pending();
    if (low) {
      if (idle() || rule.worse(value, worst_)) worst_ = value;
      until_ = Stamp(at);
    }
    if (!standing()) low_.step(at, dt, low, SpanOf<R>(rule.low.delay()));
    high_.step(at, dt, high, SpanOf<R>(rule.high.delay()));
    const LatchChange change = decide(at, dt, value, rule);
    busy_ = standing() || low_.running() || high_.running();
    return change;
  }
  void reset() { *this = {}; }

  /// Severity in force; not_judged while none is.
  [[nodiscard]] Severity state() const { return state_; }
  [[nodiscard]] bool standing() const { return is_finding(state_); }
  /// Nothing stands and no delay is running.
  [[nodiscard]] bool idle() const { return !busy_; }

  /// The worst value of what stands, the limit in force, and since when. What
  /// stands has passed it last at the span's end. REQUIRES: standing()
  [[nodiscard]] R worst() const { return worst_; }
  [[nodiscard]] R limit() const { return limit_; }
  [[nodiscard]] Span<R> span(TimeOf<R> now) const {
    return {low_.since(now), until_.full(now)};
  }

 private:
  void forget_pending() {
    high_.reset();
    if (!standing()) low_.reset();
  }
  LatchChange decide(TimeOf<R> at, SpanOf<R> dt, R value,
                     const LatchRule<R>& rule) {
    if (state_ != rule.high_is() && rule.high.exists() &&
        high_.reached(at, SpanOf<R>(rule.high.delay()), rule.readings)) {
      low_ = high_;
      return enter(rule.high_is(), rule.high);
    }
    if (standing()) return leave(dt, value, rule);
    if (rule.low.exists() &&
        low_.reached(at, SpanOf<R>(rule.low.delay()), rule.readings)) {
      return enter(rule.low_is(), rule.low);
    }
    return LatchChange::none;
  }
  LatchChange enter(Severity severity, const Level& level) {
    const LatchChange change =
        standing() ? LatchChange::worsened : LatchChange::opened;
    state_ = severity;
    limit_ = static_cast<R>(level.limit);
    return change;
  }
  /// Closes when the value has been back inside, by the deadband, for the
  /// milder level's delay, at least 10 s.
  LatchChange leave(SpanOf<R> dt, R value, const LatchRule<R>& rule) {
    constexpr std::uint32_t kLeastMs = 10'000;
    const R limit =
        static_cast<R>((rule.low.exists() ? rule.low : rule.high).limit);
    const R back = rule.side == Side::above ? limit - rule.deadband
                                            : limit + rule.deadband;
    const std::uint32_t inside_ms = low_.miss(!rule.worse(value, back), dt);
    return inside_ms < std::max(rule.low.delay_ms, kLeastMs)
               ? LatchChange::none
               : LatchChange::closed;
  }

  Stamp last_;
  Stamp until_;
  R worst_ = R(0);  // while not idle
  R limit_ = R(0);  // in force when it was entered; while standing
  // While a finding stands, low_ keeps since when. What follows a timer may lie
  // in its padding.
  [[no_unique_address]] DelayTimer low_;
  Severity state_ = Severity::not_judged;
  bool busy_ = false;
  [[no_unique_address]] DelayTimer high_;
};

}  // namespace telltale

// DelayTimer and Latch<R>: hysteresis, on-delay and off-delay counted in time,
// not in samples; shared by all checks.
#pragma once

#include <algorithm>
#include <concepts>
#include <cstdint>

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
  void step(TimeMs at, DurationMs dt, bool holds, DurationMs delay) {
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
  [[nodiscard]] bool reached(TimeMs at, DurationMs delay,
                             std::uint8_t readings) const {
    return count_ >= readings && missed_ms_ == 0 && since_.age(at) >= delay;
  }
  /// When the condition began to hold. REQUIRES: running()
  [[nodiscard]] TimeMs since(TimeMs now) const { return since_.full(now); }

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
  LatchChange step(TimeMs at, R value, const LatchRule<R>& rule,
                   DurationMs forget) {
    const bool high = rule.beyond(value, rule.high);
    const bool low = high || rule.beyond(value, rule.low);
    const DurationMs dt = started_ ? last_.age(at) : DurationMs{0};
    last_ = Stamp(at);
    started_ = true;
    if (!low && idle()) return LatchChange::none;
    if (dt > forget) forget_pending();
    if (low) {
      if (!(worst_ == worst_) || rule.worse(value, worst_)) worst_ = value;
      until_ = Stamp(at);
    }
    low_.step(at, dt, low, rule.low.delay());
    high_.step(at, dt, high, rule.high.delay());
    return decide(at, dt, value, rule);
  }
  void reset() { *this = {}; }

  /// Severity in force; not_judged while none is.
  [[nodiscard]] Severity state() const { return state_; }
  [[nodiscard]] bool standing() const { return is_finding(state_); }
  [[nodiscard]] bool pending() const {
    return low_.running() || high_.running();
  }
  [[nodiscard]] bool idle() const { return !standing() && !pending(); }

  /// Fills the latch's part of a finding. REQUIRES: standing()
  void describe(Finding<R>& finding, TimeMs now) const {
    finding.severity = state_;
    finding.value = worst_;
    finding.limit = limit_;
    finding.since = since_.full(now);
    finding.until = until_.full(now);
  }

 private:
  void forget_pending() {
    low_.reset();
    high_.reset();
    if (!standing()) worst_ = Finding<R>::kNone;
  }
  LatchChange decide(TimeMs at, DurationMs dt, R value,
                     const LatchRule<R>& rule) {
    if (state_ != rule.high_is() && rule.high.exists() &&
        high_.reached(at, rule.high.delay(), rule.readings)) {
      return enter(rule.high_is(), rule.high, high_.since(at));
    }
    if (!standing() && rule.low.exists() &&
        low_.reached(at, rule.low.delay(), rule.readings)) {
      return enter(rule.low_is(), rule.low, low_.since(at));
    }
    if (standing()) return leave(dt, value, rule);
    if (!pending()) worst_ = Finding<R>::kNone;
    return LatchChange::none;
  }
  LatchChange enter(Severity severity, const Level& level, TimeMs since) {
    const LatchChange change =
        standing() ? LatchChange::worsened : LatchChange::opened;
    state_ = severity;
    limit_ = static_cast<R>(level.limit);
    since_ = Stamp(since);
    inside_ms_ = 0;
    return change;
  }
  /// Closes when the value has been back inside, by the deadband, for the
  /// milder level's delay, at least 10 s.
  LatchChange leave(DurationMs dt, R value, const LatchRule<R>& rule) {
    constexpr std::uint32_t kLeastMs = 10'000;
    const R limit =
        static_cast<R>((rule.low.exists() ? rule.low : rule.high).limit);
    const R back = rule.side == Side::above ? limit - rule.deadband
                                            : limit + rule.deadband;
    const bool inside = !rule.worse(value, back);
    inside_ms_ = inside ? inside_ms_ + static_cast<std::uint32_t>(dt.ms) : 0;
    if (inside_ms_ < std::max(rule.low.delay_ms, kLeastMs)) {
      return LatchChange::none;
    }
    return LatchChange::closed;
  }

  DelayTimer low_;
  DelayTimer high_;
  Stamp last_;
  Stamp since_;
  Stamp until_;
  std::uint32_t inside_ms_ = 0;
  R worst_ = Finding<R>::kNone;
  R limit_ = Finding<R>::kNone;  // in force when it was entered
  Severity state_ = Severity::not_judged;
  bool started_ = false;
};

}  // namespace telltale

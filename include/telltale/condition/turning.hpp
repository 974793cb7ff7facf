// TurnRatio<R>: how fast the set turns, over its nominal speed, from whatever
// tells it best.
#pragma once

#include <concepts>
#include <cstdint>
#include <limits>

#include "telltale/acquire/frame.hpp"
#include "telltale/base/box_time.hpp"
#include "telltale/profile.hpp"

namespace telltale {

/// What the turn ratio of a scan was read off.
enum class TurnSource : std::uint8_t { none, speed, frequency, voltage, state };

/// Contract section 4: speed; where the log has none frequency, then voltage,
/// then the state column. A speed of zero beside a full frequency is a lost
/// pick-up, not a stop.
template <std::floating_point R>
class TurnRatio {
 public:
  struct Result {
    R ratio = std::numeric_limits<R>::quiet_NaN();
    TurnSource source = TurnSource::none;
  };

  void configure(const Profile& profile) {
    const Rating& rating = profile.rating;
    const float rpm = rating.speed_rpm();
    // Without a nominal speed, 600 rpm stands in: above every starter, below
    // every idle.
    per_rpm_ = R(1) / static_cast<R>(is_known(rpm) ? rpm : kAnyIdleRpm);
    per_hz_ = R(1) / static_cast<R>(is_known(rating.frequency_hz)
                                        ? rating.frequency_hz
                                        : kAnyFrequencyHz);
    const float leg = rating.leg_voltage_v();
    per_leg_volt_ = is_known(leg) ? R(1) / static_cast<R>(leg) : R(0);
    per_line_volt_ = is_known(rating.voltage_v)
                         ? R(1) / static_cast<R>(rating.voltage_v)
                         : R(0);
  }

  [[nodiscard]] Result of(const Frame<R>& frame) {
    const Result now = best(frame);
    if (now.source == TurnSource::speed) {
      speed_seen_ = frame.time();
    } else if (is_set(speed_seen_) && frame.time() - speed_seen_ < kBridge &&
               frame.quality(Channel::engine_speed) == Quality::missing) {
      // A reading or two left out: wait for the next rather than change horses.
      return {kNone, TurnSource::speed};
    }
    return now;
  }

  /// What tells best in this scan alone.
  [[nodiscard]] Result best(const Frame<R>& frame) const {
    const auto& speed = frame[Channel::engine_speed];
    const auto& frequency = frame[Channel::frequency];
    const R by_frequency =
        frequency.usable() ? frequency.value * per_hz_ : kNone;
    if (speed.usable()) {
      const R by_speed = speed.value * per_rpm_;
      const bool lost = by_speed < kLostPickup && by_frequency > kFull &&
                        !(volts(frame) < kFull);
      if (!lost) return {by_speed, TurnSource::speed};
    }
    if (frequency.usable()) {
      const R ratio = by_frequency < kNoise ? R(0) : by_frequency;
      return {ratio, TurnSource::frequency};
    }
    // Volts build up only near full speed: they tell turning or not, no more.
    const R by_voltage = volts(frame);
    if (by_voltage == by_voltage) {
      return {by_voltage < kExcited ? R(0) : R(1), TurnSource::voltage};
    }
    if (frame.state != EngineState::unknown) {
      return {of_state(frame.state), TurnSource::state};
    }
    return {};
  }

 private:
  static constexpr R kNone = std::numeric_limits<R>::quiet_NaN();
  static constexpr SpanOf<R> kBridge = seconds(10);
  static constexpr R kLostPickup = R(0.05);
  static constexpr R kFull = R(0.8);
  static constexpr R kNoise = R(0.05);
  static constexpr R kExcited = R(0.5);
  static constexpr float kAnyIdleRpm = 600.0F;
  static constexpr float kAnyFrequencyHz = 50.0F;

  [[nodiscard]] R volts(const Frame<R>& frame) const {
    const auto& line = frame[Channel::voltage_line];
    if (line.usable() && per_line_volt_ > R(0)) {
      return line.value * per_line_volt_;
    }
    const auto& leg = frame[Channel::voltage_l1];
    if (leg.usable() && per_leg_volt_ > R(0)) return leg.value * per_leg_volt_;
    return kNone;
  }
  static constexpr R of_state(EngineState state) {
    switch (state) {
      case EngineState::cranking:
        return R(0.1);
      case EngineState::starting:
        return R(0.6);
      case EngineState::running:
      case EngineState::loaded:
      case EngineState::cool_down:
        return R(1);
      case EngineState::stopping:
        return R(0.2);
      case EngineState::unknown:
      case EngineState::stopped:
      case EngineState::preheat:
      case EngineState::fault:
        break;
    }
    return R(0);
  }

  R per_rpm_ = R(1) / R(600);
  R per_hz_ = R(1) / R(50);
  R per_leg_volt_ = R(0);
  R per_line_volt_ = R(0);
  TimeOf<R> speed_seen_ = kNoTime;
};

}  // namespace telltale

// FrozenDetector<R>: readings that stand bit-identical while what they must
// follow moves.
#pragma once

#include <array>
#include <cmath>
#include <concepts>
#include <cstddef>
#include <cstdint>

#include "telltale/acquire/frame.hpp"
#include "telltale/base/stamp.hpp"
#include "telltale/condition/resolution.hpp"

namespace telltale {

/// Condemns a channel that has not changed by a bit for over 10 min of running
/// where its resolution does not explain it. Two kinds of evidence count:
///   it was lively: before, its readings swung to and fro by two steps of
///     their resolution or more, as noise does; noise does not stop; or
///   what it must follow moved: another channel, by far more than would leave
///     it unmoved, or the set itself, from rest to running.
template <std::floating_point R>
class FrozenDetector {
 public:
  static constexpr DurationMs kLeast = minutes(10);

  void reset() { *this = FrozenDetector{}; }

  /// One scan; marks frozen readings in `frame`. `running`: at speed.
  /// Judgement rests while the set does: everything stands still then.
  void step(Frame<R>& frame, DurationMs dt, bool running, R load_pct,
            const Resolution<R>& resolution) {
    for (std::size_t i = 0; i < kWatched.size(); ++i) {
      Reading<R>& reading = frame[kWatched[i].channel];
      if (!reading.good()) continue;
      State& s = states_[i];
      if (reading.value != s.last || !s.started) {
        change(s, reading.value, resolution.of(kWatched[i].channel));
        s.followed = followed_value(frame, kWatched[i], load_pct);
        s.at_rest = !running;
        continue;
      }
      if (!running) continue;
      s.still_ms += static_cast<std::uint32_t>(dt.ms);
      if (s.still_ms < kLeast.ms || reading.value == R(0)) continue;
      if (s.lively >= kLively ||
          leader_moved(s, frame, kWatched[i], load_pct) ||
          (s.at_rest && kWatched[i].moves_on_start)) {
        reading.quality = Quality::frozen;
      }
    }
  }
  /// How long a channel has stood still while running.
  [[nodiscard]] DurationMs still(Channel channel) const {
    for (std::size_t i = 0; i < kWatched.size(); ++i) {
      if (kWatched[i].channel == channel) return {states_[i].still_ms};
    }
    return {};
  }

 private:
  struct Watched {
    Channel channel;
    Channel follows;      // Channel::load: the load figure; none: nothing
    float by;             // how far that must move to be telling
    bool moves_on_start;  // cannot read the same at rest and running
  };
  static constexpr std::array kWatched = {
      Watched{Channel::engine_speed, Channel::frequency, 0.6F, true},
      Watched{Channel::frequency, Channel::engine_speed, 36.0F, true},
      Watched{Channel::voltage_l1, Channel::none, 0.0F, true},
      Watched{Channel::voltage_l2, Channel::none, 0.0F, true},
      Watched{Channel::voltage_l3, Channel::none, 0.0F, true},
      Watched{Channel::voltage_line, Channel::none, 0.0F, true},
      Watched{Channel::current_l1, Channel::load, 30.0F, false},
      Watched{Channel::current_l2, Channel::load, 30.0F, false},
      Watched{Channel::power, Channel::none, 0.0F, false},
      Watched{Channel::oil_pressure, Channel::coolant_temperature, 12.0F, true},
      Watched{Channel::oil_temperature, Channel::coolant_temperature, 15.0F,
              false},
      Watched{Channel::coolant_temperature, Channel::oil_temperature, 15.0F,
              false},
      Watched{Channel::exhaust_temperature, Channel::load, 40.0F, true},
      Watched{Channel::winding_temperature, Channel::load, 40.0F, false},
      Watched{Channel::battery_voltage, Channel::none, 0.0F, true}};
  static constexpr std::uint8_t kLively = 8;

  struct State {
    R last = R(0);
    R turn = R(0);      // where the readings last turned round
    R followed = R(0);  // what it follows, when it last changed
    std::uint32_t still_ms = 0;
    std::uint8_t lively = 0;  // swings of two steps or more, up to kLively
    bool rising = false;
    bool started = false;
    bool at_rest = false;  // last changed while the set stood
  };

  static void change(State& s, R value, R step) {
    s.still_ms = 0;
    if (!s.started) {
      s.started = true;
      s.last = s.turn = value;
      return;
    }
    const bool rises = value > s.last;
    if (rises != s.rising) {
      // A swing back: how far had it gone since it last turned?
      const bool wide = std::abs(s.last - s.turn) >= R(1.9) * step &&
                        std::abs(value - s.last) >= R(1.9) * step;
      if (wide && s.lively < kLively) ++s.lively;
      s.turn = s.last;
      s.rising = rises;
    }
    s.last = value;
  }
  static R followed_value(const Frame<R>& frame, const Watched& what,
                          R load_pct) {
    if (what.follows == Channel::none) return Reading<R>{}.value;
    if (what.follows == Channel::load) return load_pct;
    const Reading<R>& reading = frame[what.follows];
    return reading.usable() ? reading.value : Reading<R>{}.value;
  }
  static bool leader_moved(const State& s, const Frame<R>& frame,
                           const Watched& what, R load_pct) {
    // NaN on either side compares false: nothing moved that can be told.
    const R now = followed_value(frame, what, load_pct);
    return std::abs(now - s.followed) > static_cast<R>(what.by);
  }

  std::array<State, kWatched.size()> states_{};
};

}  // namespace telltale

// SpikeFilter<R>: condemns single readings far off both their neighbours.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <concepts>
#include <cstddef>
#include <cstdint>

#include "telltale/acquire/frame.hpp"
#include "telltale/base/box.hpp"
#include "telltale/condition/last_readings.hpp"

namespace telltale {

/// Looks one scan ahead: a frame is handed on when the next one is known, its
/// spikes marked. A reading is a spike when it is off both neighbours by more
/// than the channel can truly do there and back, while the neighbours agree.
///
/// Electrical quantities do jump for one reading when a motor starts; there a
/// jump counts as a spike only where nothing that must move along has moved.
template <std::floating_point R>
class SpikeFilter {
 public:
  /// Makes ready the frame before `next`, its spikes marked. False for the very
  /// first frame, which has none before it. `last`: of the frames before.
  bool step(const Frame<R>& next, const LastReadings<R>& last) {
    const bool ready = holding_;
    if (ready) mark(frames_[newest_], next, last);
    newest_ ^= 1U;
    frames_[newest_] = next;
    holding_ = true;
    return ready;
  }
  /// Makes ready the last frame of all, which has no successor. False if there
  /// is none.
  bool flush() {
    if (!holding_) return false;
    newest_ ^= 1U;
    holding_ = false;
    return true;
  }
  /// The frame made ready last.
  [[nodiscard]] Frame<R>& frame() { return frames_[newest_ ^ 1U]; }

 private:
  /// An excursion must stand out from the usual steps by this factor.
  static constexpr R kNoise = R(8);
  static constexpr R kStandsOut = R(4);
  /// No inrush and no fault multiplies a reading by so much.
  static constexpr R kAbsurd = R(20);
  /// What moves together with what.
  static constexpr ChannelMask kElectrical =
      bit(Channel::engine_speed) | bit(Channel::frequency) |
      bit(Channel::voltage_l1) | bit(Channel::voltage_l2) |
      bit(Channel::voltage_l3) | bit(Channel::voltage_line) |
      bit(Channel::current_l1) | bit(Channel::current_l2) |
      bit(Channel::current_l3) | bit(Channel::power) | bit(Channel::load) |
      bit(Channel::power_factor);
  /// Amps and what follows from them may do almost anything for one reading.
  static constexpr ChannelMask kInrush =
      bit(Channel::current_l1) | bit(Channel::current_l2) |
      bit(Channel::current_l3) | bit(Channel::power) | bit(Channel::load) |
      bit(Channel::power_factor) | bit(Channel::fuel_rate);

  /// Smallest excursion that counts, in the channel's unit: well above what
  /// sensors of the trade scatter, below what a wrong digit makes.
  static constexpr R least_excursion(Channel channel, R level) {
    switch (channel) {
      // Beyond a class G1 transient, and beyond any starter.
      case Channel::engine_speed:
        return std::max(R(0.2) * level, R(500));
      case Channel::frequency:
        return std::max(R(0.2) * level, R(15));
      case Channel::voltage_l1:
      case Channel::voltage_l2:
      case Channel::voltage_l3:
      case Channel::voltage_line:
        return std::max(R(0.3) * level, R(40));
      case Channel::current_l1:
      case Channel::current_l2:
      case Channel::current_l3:
      case Channel::power:
      case Channel::load:
        return std::max(level, R(3));
      case Channel::power_factor:
        return R(0.3);
      case Channel::fuel_rate:
        return std::max(level, R(2));
      case Channel::oil_pressure:
        return R(60);
      case Channel::exhaust_temperature:
        return R(15) + R(0.1) * level;
      case Channel::battery_voltage:
        return R(0.15) * level;
      case Channel::fuel_level:
        return R(10);
      case Channel::engine_hours:
        return R(1);
      case Channel::start_count:
        return R(2);
      default:
        return R(6);  // temperatures
    }
  }

  static void mark(Frame<R>& frame, const Frame<R>& next,
                   const LastReadings<R>& last) {
    const ChannelMask good = frame.with(Quality::good);
    const ChannelMask read = good | frame.with(Quality::implausible);
    const ChannelMask between = last.unbroken() & next.with(Quality::good);
    if constexpr (!kOnBox<R>) {
      // As nearly always; a box would rather not have the code twice.
      if (read == good && last.calm(frame, kNoise)) return;
    }
    for_each_bit(read & between, [&](std::size_t i) {
      const R there = std::abs(frame.values[i] - last.value(i));
      const bool possible = (good >> i & 1U) != 0;
      const R noise = kNoise * last.usual_step(i);
      if (possible && there <= noise) return;  // as nearly every reading
      const R back = std::abs(frame.values[i] - next.values[i]);
      if (possible && back <= noise) return;
      const R off = std::min(there, back);
      const auto channel = static_cast<Channel>(i);
      if (channel == Channel::battery_voltage &&
          starter_may_turn(frame, next, last)) {
        return;
      }
      if (possible ? is_spike(frame, next, last, channel, off)
                   : is_single(next, last, i, off)) {
        frame.condemn(bit(channel), Quality::spike);
      }
    });
  }
  /// What cannot be, once, between two readings that agree, is no wrong range.
  static bool is_single(const Frame<R>& next, const LastReadings<R>& last,
                        std::size_t i, R off) {
    return std::abs(next.values[i] - last.value(i)) < off &&
           (last.impossible() >> i & 1U) == 0;
  }
  /// A starter pulls the battery down for less than an interval, truly. Where
  /// neither speed nor hertz is logged it may at any time.
  static bool starter_may_turn(const Frame<R>& frame, const Frame<R>& next,
                               const LastReadings<R>& last) {
    const ChannelMask known =
        last.unbroken() & frame.with(Quality::good) & next.with(Quality::good);
    for (Channel channel : {Channel::engine_speed, Channel::frequency}) {
      if ((known & bit(channel)) == 0) continue;
      const auto i = index_of(channel);
      const R before = last.value(i);
      const R low = std::min({before, frame.values[i], next.values[i]});
      const R high = std::max({before, frame.values[i], next.values[i]});
      return low < R(0.5) * high;
    }
    return true;
  }
  /// `off`: how far it is off the nearer neighbour.
  static bool is_spike(const Frame<R>& frame, const Frame<R>& next,
                       const LastReadings<R>& last, Channel channel, R off) {
    const std::size_t i = index_of(channel);
    const R before = last.value(i);
    const R now = frame.values[i];
    const R after = next.values[i];
    const R level = std::abs(before);
    if (off < least_excursion(channel, level)) return false;
    if ((now > before) != (now > after) ||
        std::abs(after - before) > R(0.3) * off) {
      return false;
    }
    const bool linked = (bit(channel) & (kElectrical | kInrush)) != 0;
    return !linked || off > kAbsurd * std::max(level, last.usual_step(i)) ||
           alone(frame, last, channel);
  }
  /// A reading that changed by more than `share` of itself since the scan
  /// before.
  static bool moved(const Frame<R>& frame, const LastReadings<R>& last,
                    std::size_t i, R share) {
    const R change = std::abs(frame.values[i] - last.value(i));
    return change > share * std::abs(last.value(i)) &&
           change > kStandsOut * last.usual_step(i);
  }
  /// Others that must move along with this one are there, and did not. Speed,
  /// hertz and volts give way a little when a motor starts.
  static bool alone(const Frame<R>& frame, const LastReadings<R>& last,
                    Channel channel) {
    const bool inrush = (bit(channel) & kInrush) != 0;
    const ChannelMask others =
        (inrush ? kElectrical & ~kInrush : kElectrical) & ~bit(channel);
    const ChannelMask company = others & frame.with(Quality::good);
    bool any_moved = false;
    for_each_bit(company & last.unbroken(), [&](std::size_t i) {
      any_moved =
          any_moved || moved(frame, last, i, inrush ? R(0.004) : R(0.02));
    });
    return company != 0 && !any_moved;
  }

  std::array<Frame<R>, 2> frames_{};
  std::uint8_t newest_ = 0;
  bool holding_ = false;  // the newest is still to be made ready
};

}  // namespace telltale

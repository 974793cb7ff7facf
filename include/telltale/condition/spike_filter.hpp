// SpikeFilter<R>: condemns single readings far off both their neighbours.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <concepts>
#include <cstddef>
#include <cstdint>

#include "telltale/acquire/frame.hpp"

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
  /// The frame before `next` with its spikes marked, in `out`. False for the
  /// very first frame, which has none before it.
  bool step(const Frame<R>& next, Frame<R>& out) {
    if (!holding_) {
      pending_ = next;
      holding_ = true;
      return false;
    }
    out = pending_;
    mark(out, next);
    remember(out);
    pending_ = next;
    return true;
  }
  /// The last frame of all, which has no successor. False if there is none.
  bool flush(Frame<R>& out) {
    if (!holding_) return false;
    out = pending_;
    holding_ = false;
    return true;
  }
  void reset() { *this = {}; }

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

  void mark(Frame<R>& frame, const Frame<R>& next) {
    if (!has_previous_) return;
    for (std::size_t i = 0; i < kChannelCount; ++i) {
      Reading<R>& now = frame.readings[i];
      const Reading<R>& after = next.readings[i];
      const bool read = now.good() || now.quality == Quality::implausible;
      if (!read || !after.good() || !(previous_[i] == previous_[i])) continue;
      if (static_cast<Channel>(i) == Channel::battery_voltage &&
          starter_may_turn(frame, next)) {
        continue;
      }
      if (is_spike(frame, i, now, after.value)) now.quality = Quality::spike;
    }
  }
  /// A starter pulls the battery down for less than an interval, truly. Where
  /// neither speed nor hertz is logged it may at any time.
  [[nodiscard]] bool starter_may_turn(const Frame<R>& frame,
                                      const Frame<R>& next) const {
    for (Channel channel : {Channel::engine_speed, Channel::frequency}) {
      const auto i = static_cast<std::size_t>(channel);
      const Reading<R>& now = frame.readings[i];
      const Reading<R>& after = next.readings[i];
      if (!now.good() || !after.good() || !(previous_[i] == previous_[i])) {
        continue;
      }
      const R low = std::min({previous_[i], now.value, after.value});
      const R high = std::max({previous_[i], now.value, after.value});
      return low < R(0.5) * high;
    }
    return true;
  }
  [[nodiscard]] bool is_spike(const Frame<R>& frame, std::size_t i,
                              const Reading<R>& now, R after) const {
    const auto channel = static_cast<Channel>(i);
    const R before = previous_[i];
    const R there = now.value - before;
    const R back = now.value - after;
    const R off = std::min(std::abs(there), std::abs(back));
    const R level = std::abs(before);
    const R apart = std::abs(after - before);
    if (now.quality == Quality::implausible) {
      // What cannot be, once, between two readings that agree, is no wrong
      // range.
      return apart < off && (impossible_ >> i & 1U) == 0;
    }
    if (off < least_excursion(channel, level) || off < kNoise * usual_[i]) {
      return false;
    }
    if ((there > R(0)) != (back > R(0)) || apart > R(0.3) * off) return false;
    const bool linked = (bit(channel) & (kElectrical | kInrush)) != 0;
    return !linked || off > kAbsurd * std::max(level, usual_[i]) ||
           alone(frame, channel);
  }
  /// A reading that changed by more than `share` of itself since the scan
  /// before.
  [[nodiscard]] bool moved(const Frame<R>& frame, std::size_t i,
                           R share) const {
    const R change = std::abs(frame.readings[i].value - previous_[i]);
    return change > share * std::abs(previous_[i]) &&
           change > kStandsOut * usual_[i];
  }
  /// Others that must move along with this one are there, and did not. Speed,
  /// hertz and volts give way a little when a motor starts.
  [[nodiscard]] bool alone(const Frame<R>& frame, Channel channel) const {
    const bool inrush = (bit(channel) & kInrush) != 0;
    const ChannelMask others =
        (inrush ? kElectrical & ~kInrush : kElectrical) & ~bit(channel);
    bool has_company = false;
    for (std::size_t i = 0; i < kChannelCount; ++i) {
      if ((others >> i & 1U) == 0 || !frame.readings[i].good()) continue;
      if (moved(frame, i, inrush ? R(0.004) : R(0.02))) return false;
      has_company = true;
    }
    return has_company;
  }
  void remember(const Frame<R>& frame) {
    impossible_ = 0;
    for (std::size_t i = 0; i < kChannelCount; ++i) {
      if (frame.readings[i].quality == Quality::implausible) {
        impossible_ |= ChannelMask{1} << i;
      }
      if (frame.readings[i].good()) {
        const R step = std::abs(frame.readings[i].value - previous_[i]);
        if (step == step) usual_[i] += R(0.05) * (step - usual_[i]);
        previous_[i] = frame.readings[i].value;
      }
      if (frame.readings[i].quality == Quality::missing) {
        previous_[i] = Reading<R>{}.value;
      }
    }
    has_previous_ = true;
  }

  Frame<R> pending_;
  std::array<R, kChannelCount> previous_ = all_unknown();
  std::array<R, kChannelCount> usual_{};  // mean size of a step, of late
  ChannelMask impossible_ = 0;  // what the scan before read and can't be
  bool holding_ = false;
  bool has_previous_ = false;

  static constexpr std::array<R, kChannelCount> all_unknown() {
    std::array<R, kChannelCount> none{};
    none.fill(Reading<R>{}.value);
    return none;
  }
};

}  // namespace telltale

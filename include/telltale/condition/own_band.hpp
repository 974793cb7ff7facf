// OwnBands<R>: which channel left its own normal band, and when.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <concepts>
#include <cstddef>
#include <cstdint>

#include "telltale/acquire/frame.hpp"
#include "telltale/base/box_time.hpp"
#include "telltale/base/stamp.hpp"

namespace telltale {

/// For "first out": after an abrupt stop the channel that left its own normal
/// band first is where to look. A band is the channel's own running mean and
/// four times its own mean deviation, never narrower than a floor that the
/// trade would call nothing.
template <std::floating_point R>
class OwnBands {
 public:
  /// How long before a stop a channel may have left its band to count.
  static constexpr SpanOf<R> kMemory = minutes(15);

  /// One scan at speed. `load_moved`: the load is not what it was; what
  /// follows load then learns anew.
  void step(const Frame<R>& frame, SpanOf<R> dt, bool load_moved) {
    const R gain = smoothing(dt);
    if (ran_ms_ < static_cast<std::uint32_t>(kWarmUp.ms)) {
      ran_ms_ += static_cast<std::uint32_t>(dt.ms);
    }
    const ChannelMask good = frame.with(Quality::good);
    const TimeOf<R> at = frame.time();
    for (std::size_t i = 0; i < kFollowed.size(); ++i) {
      const Channel channel = kFollowed[i].channel;
      if ((good & bit(channel)) == 0) continue;
      Band& band = bands_[i];
      if (load_moved && kFollowed[i].by_load && band.out == 0) band.n = 0;
      follow(band, kFollowed[i], frame.values[index_of(channel)], gain, at);
    }
  }
  void reset() {
    bands_.fill(Band{});
    ran_ms_ = 0;
  }

  /// The channel that has been out longest, of those that left within the
  /// last 15 min; Channel::none if all are in.
  [[nodiscard]] Channel first_out(TimeOf<R> now) const {
    Channel first = Channel::none;
    SpanOf<R> longest{-1};
    for (std::size_t i = 0; i < kFollowed.size(); ++i) {
      if (!confirmed(bands_[i])) continue;
      const SpanOf<R> age = bands_[i].out_since.age(now);
      if (age <= kMemory && age > longest) {
        longest = age;
        first = kFollowed[i].channel;
      }
    }
    return first;
  }
  /// When that channel left its band. REQUIRES: it is out.
  [[nodiscard]] TimeOf<R> out_since(Channel channel, TimeOf<R> now) const {
    for (std::size_t i = 0; i < kFollowed.size(); ++i) {
      if (kFollowed[i].channel == channel) {
        return bands_[i].out_since.full(now);
      }
    }
    return kNoTime;
  }

 private:
  struct Followed {
    Channel channel;
    bool by_load;       // moves with load
    float floor;        // narrowest band, in the channel's unit ...
    float floor_share;  // ... or as a share of the mean
  };
  static constexpr auto kFollowed = std::to_array<Followed>(
      {Followed{Channel::oil_pressure, false, 15.0F, 0.10F},
       Followed{Channel::exhaust_temperature, true, 8.0F, 0.10F},
       Followed{Channel::coolant_temperature, true, 4.0F, 0.0F},
       Followed{Channel::oil_temperature, true, 5.0F, 0.0F},
       Followed{Channel::winding_temperature, true, 8.0F, 0.0F},
       Followed{Channel::engine_speed, true, 0.0F, 0.025F},
       Followed{Channel::frequency, true, 0.0F, 0.025F},
       Followed{Channel::voltage_l1, true, 0.0F, 0.04F},
       Followed{Channel::voltage_line, true, 0.0F, 0.04F},
       Followed{Channel::battery_voltage, false, 0.5F, 0.0F}});

  struct Band {
    R mean = R(0);
    R deviation = R(0);
    Stamp out_since;
    std::uint8_t n = 0;    // readings learnt from, up to kLearnt
    std::uint8_t out = 0;  // readings outside without a break
  };
  static constexpr SpanOf<R> kWarmUp = minutes(20);
  static constexpr std::uint8_t kLearnt = 20;
  static constexpr std::uint8_t kConfirm = 2;
  static constexpr R kWidth = R(4);

  /// Time constant some 5 min; at first half a minute: temperatures, and oil
  /// pressure with them, leave any level they had while a set warms up.
  [[nodiscard]] R smoothing(SpanOf<R> dt) const {
    const bool warming = ran_ms_ < static_cast<std::uint32_t>(kWarmUp.ms);
    const R most = warming ? R(0.5) : R(0.2);
    const R g = in_ms<R>(dt) * (warming ? R(1) / R(30000) : R(1) / R(300000));
    return g < most ? g : most;
  }
  static bool confirmed(const Band& band) { return band.out >= kConfirm; }

  static void follow(Band& band, const Followed& what, R x, R gain,
                     TimeOf<R> at) {
    const R off = std::abs(x - band.mean);
    const bool usual = band.n == kLearnt && off <= kWidth * band.deviation;
    if (!usual && !inside(band, what, x, off, at)) return;
    band.out = 0;
    band.mean += gain * (x - band.mean);
    band.deviation += gain * (off - band.deviation);
  }
  /// Whether a reading that is more off than usual is one to follow. Learns
  /// first, and does the counting outside the band.
  [[gnu::noinline]] static bool inside(Band& band, const Followed& what, R x,
                                       R off, TimeOf<R> at) {
    if (band.n == 0) {
      band = Band{};
      band.mean = x;
      band.n = 1;
      return false;
    }
    if (band.n < kLearnt) {
      ++band.n;
      const R share = R(1) / static_cast<R>(band.n);
      band.mean += share * (x - band.mean);
      band.deviation += share * (off - band.deviation);
      return false;
    }
    const R width =
        std::max({kWidth * band.deviation, static_cast<R>(what.floor),
                  static_cast<R>(what.floor_share) * std::abs(band.mean)});
    if (off <= width) return true;
    if (band.out == 0) band.out_since = Stamp(at);
    if (band.out < 0xFF) ++band.out;
    if (off > R(3) * width && band.out < kConfirm) band.out = kConfirm;
    // A level that lasts is the new normal.
    if (band.out_since.age(at) > kMemory) band.n = 0;
    return false;
  }

  std::array<Band, kFollowed.size()> bands_{};
  std::uint32_t ran_ms_ = 0;  // up to kWarmUp
};

}  // namespace telltale

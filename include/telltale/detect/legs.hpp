// The legs of the set: their channels and their nominal figures.
#pragma once

#include <array>

#include "telltale/acquire/channel.hpp"
#include "telltale/base/out_of_line.hpp"
#include "telltale/profile.hpp"

namespace telltale {

inline constexpr std::array<Channel, 3> kLegVolts = {
    Channel::voltage_l1, Channel::voltage_l2, Channel::voltage_l3};
inline constexpr std::array<Channel, 3> kLegAmps = {
    Channel::current_l1, Channel::current_l2, Channel::current_l3};
/// Every voltage of the set: the legs, then leg to leg.
inline constexpr std::array<Channel, 4> kAllVolts = {
    Channel::voltage_l1, Channel::voltage_l2, Channel::voltage_l3,
    Channel::voltage_line};

inline constexpr ChannelMask kAnyVolts =
    bit(Channel::voltage_l1) | bit(Channel::voltage_l2) |
    bit(Channel::voltage_l3) | bit(Channel::voltage_line);
inline constexpr ChannelMask kAnyAmps = bit(Channel::current_l1) |
                                        bit(Channel::current_l2) |
                                        bit(Channel::current_l3);

/// Nominal volts of one of kAllVolts; NaN where the system is not known.
TELLTALE_OUT_OF_LINE inline float nominal_volts(Channel channel,
                                                const Rating& rating) {
  return channel == Channel::voltage_line ? rating.voltage_v
                                          : rating.leg_voltage_v();
}

/// Amps in each leg at rated power: rating / (legs x leg volts x power
/// factor). NaN where something of that is not known.
inline float rated_leg_amps(const Rating& rating) {
  const float legs =
      rating.legs > 0 ? static_cast<float>(rating.legs) : kUnknown;
  return rating.power_kw * 1000.0F /
         (legs * rating.leg_voltage_v() * rating.power_factor);
}

}  // namespace telltale

// The channels that can exist, as a compile-time table made of channels.def.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <string_view>

#include "telltale/acquire/unit.hpp"
#include "telltale/base/assert.hpp"

namespace telltale {

/// One measured quantity of a set. The value is the permanent id.
enum class Channel : std::uint8_t {
#define TELLTALE_CHANNEL(id, slug, title, unit, low, high, jump, words) \
  slug = id,
#include "telltale/acquire/channels.def"
#undef TELLTALE_CHANNEL
  none = 0xFF
};

/// What is fixed about a channel; the fields are explained in channels.def.
struct ChannelInfo {
  Channel channel;
  std::string_view slug;
  std::string_view title;
  Unit unit;
  float low;
  float high;
  float jump;
  std::string_view words;
};

// Not deduced by std::array's guide: g++ 12 would put the table into RAM.
inline constexpr auto kChannels = std::to_array<ChannelInfo>({
#define TELLTALE_CHANNEL(id, slug, title, unit, low, high, jump, words) \
  ChannelInfo{Channel::slug,                                            \
              #slug,                                                    \
              title,                                                    \
              Unit::unit,                                               \
              static_cast<float>(low),                                  \
              static_cast<float>(high),                                 \
              jump,                                                     \
              words},
#include "telltale/acquire/channels.def"
#undef TELLTALE_CHANNEL
});

inline constexpr std::size_t kChannelCount = kChannels.size();

/// What a firmware needs of the table: it links no words.
struct ChannelMeasure {
  float low;
  float high;
};
inline constexpr auto kMeasures = std::to_array<ChannelMeasure>({
#define TELLTALE_CHANNEL(id, slug, title, unit, low, high, jump, words) \
  ChannelMeasure{static_cast<float>(low), static_cast<float>(high)},
#include "telltale/acquire/channels.def"
#undef TELLTALE_CHANNEL
});
inline constexpr auto kUnits = std::to_array<Unit>({
#define TELLTALE_CHANNEL(id, slug, title, unit, low, high, jump, words) \
  Unit::unit,
#include "telltale/acquire/channels.def"
#undef TELLTALE_CHANNEL
});

/// A set of channels, one bit each.
using ChannelMask = std::uint32_t;

constexpr std::size_t index_of(Channel channel) {
  return static_cast<std::size_t>(channel);
}
constexpr ChannelMask bit(Channel channel) {
  return ChannelMask{1} << index_of(channel);
}

inline constexpr ChannelMask kEveryChannel =
    (ChannelMask{1} << kChannelCount) - 1U;

/// REQUIRES: channel != Channel::none
constexpr const ChannelInfo& info_of(Channel channel) {
  TELLTALE_ASSERT(index_of(channel) < kChannelCount);
  return kChannels[index_of(channel)];
}

/// The channel of that slug, or Channel::none.
constexpr Channel channel_of(std::string_view slug) {
  for (const ChannelInfo& info : kChannels) {
    if (info.slug == slug) return info.channel;
  }
  return Channel::none;
}

namespace detail {

constexpr bool channel_table_is_sound() {
  for (std::size_t i = 0; i < kChannelCount; ++i) {
    if (index_of(kChannels[i].channel) != i) return false;
    if (!(kChannels[i].low < kChannels[i].high)) return false;
    if (!(kChannels[i].jump > 0)) return false;
    if (channel_of(kChannels[i].slug) != kChannels[i].channel) return false;
  }
  return true;
}
static_assert(channel_table_is_sound(),
              "channels.def: ids must count up from 0, slugs must differ, "
              "low must be below high");
static_assert(kChannelCount <= std::numeric_limits<ChannelMask>::digits);

}  // namespace detail

}  // namespace telltale

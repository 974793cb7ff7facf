// A log packed for replay: what a box would be told, sample by sample.
//
// Little-endian, no padding. First a Plate, then for each sample its time
// (i64 ms), channels with a reading and channels without (u32 each), alarms
// (u32), engine state, clock step (u8 each), jump of the clock (i32 ms), and
// the readings (f32 each, lowest channel first).
#pragma once

#include <array>
#include <bit>
#include <cstdint>
#include <cstdio>
#include <cstring>

#include "telltale/telltale.hpp"

namespace telltale::replay {

/// The profile as plain numbers.
struct Plate {
  Rating rating;
  float load_scale_kw = kUnknown;
  float interval_s = kUnknown;
  std::uint32_t wall_clock = 0;

  [[nodiscard]] Profile profile() const {
    Profile out;
    out.rating = rating;
    out.load_scale_kw = load_scale_kw;
    out.interval_s = interval_s;
    out.wall_clock = wall_clock != 0;
    return out;
  }
};

struct Sample {
  std::int64_t at = 0;
  std::uint32_t present = 0;
  std::uint32_t blank = 0;
  std::uint32_t alarms = 0;
  std::int32_t jump = 0;
  std::uint8_t state = 0;
  std::uint8_t clock = 0;
  std::array<float, kChannelCount> value{};
};

template <class T>
void put(std::FILE* out, const T& x) {
  std::fwrite(&x, sizeof x, 1, out);
}
template <class T>
bool get(std::FILE* in, T& x) {
  return std::fread(&x, sizeof x, 1, in) == 1;
}

inline void put_sample(std::FILE* out, const Sample& s) {
  put(out, s.at);
  put(out, s.present);
  put(out, s.blank);
  put(out, s.alarms);
  put(out, s.jump);
  put(out, s.state);
  put(out, s.clock);
  for (std::size_t i = 0; i < kChannelCount; ++i) {
    if ((s.present >> i & 1U) != 0) put(out, s.value[i]);
  }
}
/// False at the end.
inline bool get_sample(std::FILE* in, Sample& s) {
  if (!get(in, s.at) || !get(in, s.present) || !get(in, s.blank) ||
      !get(in, s.alarms) || !get(in, s.jump) || !get(in, s.state) ||
      !get(in, s.clock)) {
    return false;
  }
  for (std::size_t i = 0; i < kChannelCount; ++i) {
    if ((s.present >> i & 1U) != 0 && !get(in, s.value[i])) return false;
  }
  return true;
}

template <class AnyBox, class R>
void feed(AnyBox& box, const Sample& s, const FindingSink<R>& sink) {
  const TimeMs at{s.at};
  for (std::size_t i = 0; i < kChannelCount; ++i) {
    const auto channel = static_cast<Channel>(i);
    if ((s.present >> i & 1U) != 0) {
      box.readings().put(channel, at, static_cast<R>(s.value[i]));
    } else if ((s.blank >> i & 1U) != 0) {
      box.readings().put(channel, at, Finding<R>::kNone);
    }
  }
  box.readings().put(static_cast<EngineState>(s.state));
  box.readings().put_alarms(s.alarms);
  box.scan(at, sink, static_cast<ClockStep>(s.clock), DurationMs{s.jump});
}

}  // namespace telltale::replay

// Box<R, List>: frame builder and monitor in one, with a state that survives a
// power cut.
#pragma once

#include <concepts>
#include <cstddef>
#include <cstdint>
#include <cstring>
#include <new>
#include <span>
#include <type_traits>

#include "telltale/acquire/frame_builder.hpp"
#include "telltale/base/crc.hpp"
#include "telltale/base/little_endian.hpp"
#include "telltale/base/version.hpp"
#include "telltale/monitor.hpp"

namespace telltale {

/// What is wrong with a saved state.
enum class StateError : std::uint8_t {
  none,
  wrong_size,
  not_a_state,  // never written, or something else
  other_build,  // of another version, list of checks or compiler
  damaged       // the CRC is wrong: the power went while it was written
};

/// What a firmware holds for each set: readings in as they come, findings out.
/// sizeof() is all the memory it ever takes.
template <std::floating_point R, class List>
class Box {
 public:
  using Watch = Monitor<R, List>;

  /// See Monitor::configure. REQUIRES: `profile` outlives the box.
  [[nodiscard]] Setup configure(const Profile& profile) {
    // In place: a whole box would not fit on a controller's stack.
    ::new (static_cast<void*>(this)) Box;
    profile_ = &profile;
    return monitor_.configure(profile);
  }
  /// Readings, each in its own time: see FrameBuilder.
  [[nodiscard]] FrameBuilder<R>& readings() { return builder_; }
  /// Judges what has come in by `now`. REQUIRES: `now` does not step back.
  typename Watch::Event scan(TimeMs now, const FindingSink<R>& sink,
                             ClockStep clock = ClockStep::none,
                             DurationMs clock_jump = {}) {
    return monitor_.step(builder_.frame(now), sink, clock, clock_jump);
  }
  /// No more scans: see Monitor::flush.
  typename Watch::Event finish(const FindingSink<R>& sink) {
    return monitor_.flush(sink);
  }
  /// See Monitor::rescale_load.
  void rescale_load() { monitor_.rescale_load(*profile_); }
  [[nodiscard]] const Watch& monitor() const { return monitor_; }

  /// Bytes of a saved state.
  static constexpr std::size_t kStateBytes =
      16 + sizeof(FrameBuilder<R>) + sizeof(Watch);

  /// The state as it is now: runs, pending delays and standing findings. It is
  /// for the same build on the same machine; another build refuses it.
  void save(std::span<std::uint8_t, kStateBytes> out) const {
    static_assert(std::is_trivially_copyable_v<FrameBuilder<R>>);
    static_assert(std::is_trivially_copyable_v<Watch>);
    std::memcpy(out.data() + kHeader, &builder_, sizeof builder_);
    std::memcpy(out.data() + kHeader + sizeof builder_, &monitor_,
                sizeof monitor_);
    put_little_endian(out.template subspan<0, 4>(), kMark);
    put_little_endian(out.template subspan<4, 4>(), build());
    put_little_endian(out.template subspan<8, 4>(), kStateBytes);
    put_little_endian(out.template subspan<12, 4>(),
                      crc32(out.template subspan<kHeader>()));
  }
  /// Goes on where the saved state stopped; on an error the box is as it was.
  /// Time must go on too: scans do not step back across a power cut, and a
  /// long one splits the run as any gap does.
  /// REQUIRES: configure() took the same profile.
  [[nodiscard]] StateError load(std::span<const std::uint8_t> in) {
    if (in.size() != kStateBytes) return StateError::wrong_size;
    if (get_little_endian(in.subspan(0, 4)) != kMark) {
      return StateError::not_a_state;
    }
    if (get_little_endian(in.subspan(4, 4)) != build() ||
        get_little_endian(in.subspan(8, 4)) != kStateBytes) {
      return StateError::other_build;
    }
    if (get_little_endian(in.subspan(12, 4)) != crc32(in.subspan(kHeader))) {
      return StateError::damaged;
    }
    std::memcpy(static_cast<void*>(&builder_), in.data() + kHeader,
                sizeof builder_);
    std::memcpy(static_cast<void*>(&monitor_),
                in.data() + kHeader + sizeof builder_, sizeof monitor_);
    monitor_.reseat(*profile_);
    return StateError::none;
  }

 private:
  static constexpr std::size_t kHeader = 16;
  static constexpr std::uint32_t kMark = 0x53545454;  // "TTTS"

  /// Tells builds apart: version, precision, which checks in which order, and
  /// what each part keeps: sums can hide that two parts have changed.
  static constexpr std::uint32_t build() {
    std::uint32_t hash = 2166136261U;  // FNV-1a
    const auto mix = [&hash](std::uint32_t x) {
      hash = (hash ^ x) * 16777619U;
    };
    mix(kStateVersion);
    mix(kVersionMajor);
    mix(kVersionMinor);
    mix(kVersionPatch);
    mix(sizeof(R));
    mix(sizeof(void*));
    mix(sizeof(FrameBuilder<R>));
    mix(sizeof(SpikeFilter<R>));
    mix(sizeof(Conditioner<R>));
    mix(sizeof(Ledger<R>));
    for (const std::uint16_t id : List::template ids<R>()) mix(id);
    for (const std::uint32_t size : List::template sizes<R>()) mix(size);
    return hash;
  }

  const Profile* profile_ = nullptr;
  FrameBuilder<R> builder_;
  Watch monitor_;
};

}  // namespace telltale

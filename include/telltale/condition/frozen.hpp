// FrozenDetector<R>: readings that stand bit-identical while what they must
// follow moves.
#pragma once

#include <array>
#include <cmath>
#include <concepts>
#include <cstddef>
#include <cstdint>

#include "telltale/acquire/frame.hpp"
#include "telltale/base/bits.hpp"
#include "telltale/base/box_time.hpp"
#include "telltale/base/sign_sweep.hpp"
#include "telltale/condition/phase.hpp"

namespace telltale {

/// Condemns a channel that has not changed by a bit for over 10 min of running
/// where its resolution does not explain it. Three kinds of evidence count:
///   it was lively: before, its readings jumped by two steps of their
///     resolution or more so often that chance cannot have ended it;
///   what it must follow moved, and for 5 min, by far more than would leave
///     it unmoved;
///   it reads the same at rest and running, which it cannot: seen when the set
///     starts, or when it has come to rest.
template <std::floating_point R>
class FrozenDetector {
 public:
  static constexpr SpanOf<R> kLeast = minutes(10);

  void reset() { *this = FrozenDetector{}; }

  /// What a scan brings besides readings. Judgement rests while the set does:
  /// everything stands still then.
  struct Scene {
    SpanOf<R> dt;
    Phase phase;
    R load_pct;
  };

  /// A good reading, how far it has moved, and the smallest step that its
  /// channel ever made. Marks it in `frame` where it is frozen.
  void step(Frame<R>& frame, std::size_t channel, R moved, R smallest,
            const Scene& scene) {
    const std::size_t place = kPlaces[channel];
    if (place != kUnwatched) follow(frame, place, moved, smallest, scene);
  }
  /// The same for all good readings at once, by channel.
  using ByChannel = std::array<R, kChannelCount>;
  void step_all(Frame<R>& frame, ChannelMask good, const ByChannel& moves,
                const ByChannel& smallest, const Scene& scene) {
    // Whether a reading moves is anybody's guess: sorted out without a branch.
    std::uint32_t moved = 0;
    std::uint32_t watched = 0;
    for (std::size_t place = 0; place < kWatched.size(); ++place) {
      const std::size_t i = index_of(kWatched[place].channel);
      moved |= above_zero(moves[i]) << place;
      watched |= (good >> i & 1U) << place;
    }
    for_each_bit(watched & moved, [&](std::size_t place) {
      const std::size_t i = index_of(kWatched[place].channel);
      change(states_[place], moves[i] >= R(1.9) * smallest[i]);
    });
    for_each_bit(watched & ~moved, [&](std::size_t place) {
      stand(frame, states_[place], kWatched[place], scene);
    });
  }
  /// The first good reading of a channel.
  void begin(std::size_t channel) {
    if (kPlaces[channel] != kUnwatched)
      change(states_[kPlaces[channel]], false);
  }
  /// The set has come to rest: what makes no volt, ampere or pressure any more
  /// and still reads what it read running is marked in `frame`.
  void come_to_rest(Frame<R>& frame) {
    for (std::size_t i = 0; i < kWatched.size(); ++i) {
      const Channel channel = kWatched[i].channel;
      const State& s = states_[i];
      const bool stuck = s.still_readings > 0 && s.still_ms >= kLeast.ms;
      if (stuck && (kZeroAtRest & bit(channel)) != 0 && frame[channel].good() &&
          frame[channel].value != R(0)) {
        frame.condemn(bit(channel), Quality::frozen);
      }
    }
  }
  /// How long a channel has stood still while running.
  [[nodiscard]] SpanOf<R> still(Channel channel) const {
    const std::size_t place = kPlaces[index_of(channel)];
    return place == kUnwatched ? SpanOf<R>{}
                               : SpanOf<R>{states_[place].still_ms};
  }

 private:
  struct Watched {
    Channel channel;
    Channel follows;      // Channel::load: the load figure; none: nothing
    bool moves_on_start;  // cannot read the same at rest and running
    Channel or_else;      // followed where the log has no `follows`
    float by;             // how far `follows` must move to be telling
    float or_else_share = 0.0F;  // of `or_else`'s reading, in place of `by`
    float below = 1.0e9F;        // above it a thermostat may hold it still
  };
  static constexpr auto kWatched = std::to_array<Watched>(
      {Watched{Channel::engine_speed, Channel::frequency, true, Channel::none,
               0.6F},
       Watched{Channel::frequency, Channel::engine_speed, true, Channel::none,
               36.0F},
       Watched{Channel::voltage_l1, Channel::voltage_line, true, Channel::none,
               8.0F},
       Watched{Channel::voltage_l2, Channel::voltage_line, true, Channel::none,
               8.0F},
       Watched{Channel::voltage_l3, Channel::voltage_line, true, Channel::none,
               8.0F},
       Watched{Channel::voltage_line, Channel::voltage_l1, true, Channel::none,
               4.0F},
       Watched{Channel::current_l1, Channel::none, false, Channel::none, 0.0F},
       Watched{Channel::current_l2, Channel::none, false, Channel::none, 0.0F},
       Watched{Channel::power, Channel::current_l1, false, Channel::fuel_rate,
               8.0F, 0.2F},
       Watched{Channel::oil_pressure, Channel::coolant_temperature, true,
               Channel::none, 12.0F},
       Watched{Channel::oil_temperature, Channel::coolant_temperature, false,
               Channel::none, 15.0F},
       Watched{Channel::coolant_temperature, Channel::oil_temperature, false,
               Channel::none, 15.0F, 0.0F, 42.0F},
       Watched{Channel::exhaust_temperature, Channel::load, true, Channel::none,
               40.0F},
       Watched{Channel::winding_temperature, Channel::load, false,
               Channel::none, 40.0F},
       Watched{Channel::battery_voltage, Channel::none, true, Channel::none,
               0.0F}});
  static constexpr ChannelMask kZeroAtRest =
      bit(Channel::engine_speed) | bit(Channel::frequency) |
      bit(Channel::voltage_l1) | bit(Channel::voltage_l2) |
      bit(Channel::voltage_l3) | bit(Channel::voltage_line) |
      bit(Channel::current_l1) | bit(Channel::current_l2) |
      bit(Channel::power) | bit(Channel::oil_pressure);
  static constexpr std::uint8_t kUnwatched = 0xFF;
  /// Where a channel stands in kWatched.
  static constexpr std::array<std::uint8_t, kChannelCount> kPlaces = [] {
    std::array<std::uint8_t, kChannelCount> places{};
    places.fill(kUnwatched);
    for (std::size_t k = 0; k < kWatched.size(); ++k) {
      places[index_of(kWatched[k].channel)] = static_cast<std::uint8_t>(k);
    }
    return places;
  }();
  static constexpr SpanOf<R> kLasting = minutes(5);
  static constexpr R kMemory = R(0.02);  // of the last 50 readings
  /// Share of readings that jump in noise; load steps do not come so often.
  static constexpr R kNoisy = R(0.2);
  /// Jumps that liveliness would have led to expect in the time it stood still.
  static constexpr R kBeyondChance = R(15);

  struct State {
    R followed = R(0);    // what it follows, when it last changed
    R liveliness = R(0);  // share of readings that jump, of late
    R lively = R(0);      // the same when it last changed
    std::uint32_t still_ms = 0;
    std::uint32_t moved_ms = 0;  // what it follows has been elsewhere
    std::uint16_t still_readings = 0;
    bool at_rest = false;  // read the same while the set stood
  };

  /// What a channel must follow, and how far that must move to be telling.
  struct Leader {
    R value = Reading<R>{}.value;
    R by = R(0);
    R share = R(0);  // of the value when the channel froze; 0: `by` counts
  };

  void follow(Frame<R>& frame, std::size_t place, R moved, R smallest,
              const Scene& scene) {
    if (moved > R(0)) {
      change(states_[place], moved >= R(1.9) * smallest);
    } else {
      stand(frame, states_[place], kWatched[place], scene);
    }
  }
  static void change(State& s, bool jumps) {
    s.liveliness += kMemory * ((jumps ? R(1) : R(0)) - s.liveliness);
    s.lively = s.liveliness;
    s.at_rest = false;
    if (s.still_readings == 0) return;
    s.still_ms = s.moved_ms = 0;
    s.still_readings = 0;
  }
  /// It reads what it read before.
  [[gnu::noinline]] static void stand(Frame<R>& frame, State& s,
                                      const Watched& what, const Scene& scene) {
    s.liveliness -= kMemory * s.liveliness;
    if (scene.phase == Phase::stopped) s.at_rest = true;
    if (!is_at_speed(scene.phase)) return;
    const Leader leader = leader_of(frame, what, scene.load_pct);
    // The load figure may be a scan late: the first still scan is the
    // reference.
    if (s.still_readings == 0) s.followed = leader.value;
    s.still_ms += static_cast<std::uint32_t>(scene.dt.ms);
    if (s.still_readings < 0xFFFF) ++s.still_readings;
    watch_leader(s, leader, scene.dt);
    if (has_frozen(s, what, frame[what.channel].value)) {
      frame.condemn(bit(what.channel), Quality::frozen);
    }
  }
  static bool has_frozen(const State& s, const Watched& what, R value) {
    if (s.still_ms < kLeast.ms || value == R(0)) return false;
    const bool was_lively =
        s.lively > kNoisy &&
        s.lively * static_cast<R>(s.still_readings) > kBeyondChance;
    const bool left_behind =
        s.moved_ms > kLasting.ms && value < static_cast<R>(what.below);
    return was_lively || left_behind || (s.at_rest && what.moves_on_start);
  }
  static void watch_leader(State& s, const Leader& leader, SpanOf<R> dt) {
    // NaN on either side compares false: nothing moved that can be told.
    const R by =
        leader.share > R(0) ? leader.share * std::abs(s.followed) : leader.by;
    const bool away = std::abs(leader.value - s.followed) > by;
    s.moved_ms = away ? s.moved_ms + static_cast<std::uint32_t>(dt.ms) : 0;
  }
  static Leader leader_of(const Frame<R>& frame, const Watched& what,
                          R load_pct) {
    Leader leader{.by = static_cast<R>(what.by)};
    Channel followed = what.follows;
    if (followed == Channel::load) {
      leader.value = load_pct;
      return leader;
    }
    if (followed != Channel::none && what.or_else != Channel::none &&
        frame.quality(followed) == Quality::absent) {
      followed = what.or_else;
      leader.share = static_cast<R>(what.or_else_share);
    }
    if (followed != Channel::none && frame[followed].usable()) {
      leader.value = frame[followed].value;
    }
    return leader;
  }

  std::array<State, kWatched.size()> states_{};
};

}  // namespace telltale

// What a check is: the concept, and what every check says about itself.
#pragma once

#include <array>
#include <concepts>
#include <cstdint>
#include <string_view>

#include "telltale/acquire/channel.hpp"
#include "telltale/condition/moment.hpp"
#include "telltale/detect/ledger.hpp"
#include "telltale/detect/limits.hpp"
#include "telltale/profile.hpp"

namespace telltale {

/// Why a check could not judge a run. The order is that of helpfulness: the
/// first that applies is told.
enum class Blind : std::uint8_t {
  none,
  no_channel,         // the log has no such channel
  no_reading,         // it has, but not one usable reading
  no_rating,          // the power rating is not known
  no_load_reading,    // nothing tells the load
  no_nominal,         // nominal volts, hertz or speed are not known
  not_this_kind,      // does not apply to this kind of set
  interval_too_long,  // not observable at this interval
  start_not_seen,     // the log begins with the set running
  stop_not_seen,      // the log ends with the set running
  rest_not_seen,      // too little time at rest before the start
  never_steady,       // no steady running
  never_settled,      // temperatures or load never held still long enough
  never_on_load,      // no running, or not enough, on load
  too_short,          // the run is too short for this judgement
  no_baseline,        // nothing to compare with yet
  load_too_uniform,   // the run covers too little of the load range
  no_step,            // no load step of the size it needs
  nothing_due,        // nothing in the profile to judge by
  no_alarm_column
};

/// Dangers of the work that a finding sends somebody to do; a finding prints
/// the usual caution for each. One bit each.
namespace caution {
inline constexpr std::uint8_t kShock = 1;      // AC voltage
inline constexpr std::uint8_t kWater = 2;      // sea water in the cylinders
inline constexpr std::uint8_t kExhaust = 4;    // hot exhaust, carbon monoxide
inline constexpr std::uint8_t kBattery = 8;    // battery gas, high current
inline constexpr std::uint8_t kCoolant = 16;   // hot pressurised coolant
inline constexpr std::uint8_t kRotating = 32;  // belts and couplings
inline constexpr std::uint8_t kHotOil = 64;    // hot oil and surfaces
inline constexpr std::uint8_t kFuel = 128;     // fuel under pressure, fire
}  // namespace caution

/// A figure that belongs to a finding's argument.
struct DetailInfo {
  std::string_view name;  // empty: not used
  Unit unit = Unit::one;

  constexpr DetailInfo() = default;
  // A constructor, because g++ 12 dies of the aggregate in a class template.
  constexpr DetailInfo(const char* text, Unit of) : name(text), unit(of) {}
};

/// What every check says about itself; ids are permanent.
struct CheckInfo {
  std::uint16_t id;
  std::string_view slug;   // contract section 6
  std::string_view title;  // for people
  /// Channels without which it is blind: all of `needs`, one of `needs_one`.
  ChannelMask needs = 0;
  ChannelMask needs_one = 0;
  std::string_view source;  // where the limits come from
  std::array<DetailInfo, 4> details{};
};

/// When a check wants to be shown a moment; it costs nothing otherwise.
struct When {
  PhaseMask phases = kAtSpeed;
  bool steady = false;  // only settled running
  bool block = false;   // only when a block closed
};
inline constexpr PhaseMask kAnyPhase = 0xFF;

/// What a finding tells a person; only linked where it is used.
struct Advice {
  /// One sentence. {value}, {limit}, {channel}, {for} and {d0}..{d3} stand for
  /// the finding's figures.
  std::string_view summary;
  std::array<std::string_view, 6> causes{};  // in order of likelihood
  std::array<std::string_view, 6> next{};    // what to check next, in order
  std::uint8_t cautions = 0;
};

/// One page on a check, for whoever must defend or doubt it.
struct Explanation {
  std::string_view sees;     // what it looks at
  std::string_view decides;  // how
  std::string_view blind;    // when it can't tell
  std::string_view fooled;   // what makes it fire wrongly
};

/// The whole plug-in contract. `step` returns whether it judged the moment;
/// it and the members below must not block, allocate or throw. Optional:
///   configure(profile)       figures worth working out once; it finds the
///                            check as made or reset, and is called before
///                            anything else: what it sets begins as {}
///   reset()                  a run has ended: forget it
///   end_run(moment, ledger)  the same, with something to say; may return
///                            whether it judged the run
///   blind()                  why nothing was judged
template <template <class> class C, class R>
concept Check = std::floating_point<R> && std::default_initializable<C<R>> &&
    requires(C<R> check, const Profile& profile, const Moment<R>& moment,
             Ledger<R>& ledger) {
  { C<R>::info } -> std::convertible_to<const CheckInfo&>;
  { C<R>::when } -> std::convertible_to<const When&>;
  { C<R>::advice } -> std::convertible_to<const Advice&>;
  { C<R>::explanation } -> std::convertible_to<const Explanation&>;
  { C<R>::limits(profile) } -> std::same_as<Limits>;
  { check.step(moment, ledger) } -> std::same_as<bool>;
};

}  // namespace telltale

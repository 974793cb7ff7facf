// The limits of a check: defaults, the profile's overrides, the result.
#pragma once

#include <cstdint>

#include "telltale/acquire/unit.hpp"
#include "telltale/base/out_of_line.hpp"
#include "telltale/base/time.hpp"
#include "telltale/detect/severity.hpp"
#include "telltale/profile.hpp"

namespace telltale {

/// Which side of a limit is bad.
enum class Side : std::uint8_t { above, below };

/// Whether `value` is beyond `limit` on that side by more than what rounding
/// in single precision makes: who stands at the limit has not passed it. NaN:
/// no.
template <class R>
[[nodiscard]] constexpr R edge_of(R limit, Side side) {
  const R hair = (limit < R(0) ? -limit : limit) * R(1e-5);
  return side == Side::above ? limit + hair : limit - hair;
}
template <class R>
[[nodiscard]] constexpr bool passes(R value, R limit, Side side) {
  const R edge = edge_of(limit, side);
  return side == Side::above ? value > edge : value < edge;
}

/// One severity's limit and how long it must be passed. `limit` NaN: the
/// check knows no such severity.
struct Level {
  float limit = kUnknown;
  std::uint32_t delay_ms = 0;

  [[nodiscard]] constexpr bool exists() const { return is_known(limit); }
  [[nodiscard]] constexpr DurationMs delay() const { return {delay_ms}; }
};

constexpr Level level(float limit, std::uint32_t delay_s) {
  return {limit, delay_s * 1000U};
}

/// All severities of a check, in one unit.
struct Limits {
  Level note{};
  Level attention{};
  Level urgent{};
  Side side = Side::above;
  Unit unit = Unit::one;
  bool inclusive = false;  // reaching the limit is enough (counts)

  [[nodiscard]] constexpr const Level& operator[](Severity severity) const {
    if (severity == Severity::urgent) return urgent;
    return severity == Severity::attention ? attention : note;
  }
  /// The gravest severity whose limit `value` passes, or healthy. A NaN value
  /// passes none.
  [[nodiscard]] constexpr Severity severity_of(float value) const {
    if (beyond(value, urgent)) return Severity::urgent;
    if (beyond(value, attention)) return Severity::attention;
    return beyond(value, note) ? Severity::note : Severity::healthy;
  }

 private:
  [[nodiscard]] constexpr bool beyond(float value, const Level& level) const {
    if (inclusive && value == level.limit) return true;
    return passes(value, level.limit, side);
  }
};

/// Why a check could not be set up.
enum class SetupError : std::uint8_t {
  none,
  not_finite,   // a limit is infinite
  wrong_order,  // urgent is milder than attention, or attention than note
  out_of_range  // a delay below zero or above a week
};

/// Volts of a 12 V battery at the battery of a set: of 24 V above 18.
constexpr Limits at_battery(const Limits& of_12_v, float battery_v) {
  Limits limits = of_12_v;
  if (battery_v > 18.0F) {
    limits.note.limit *= 2.0F;
    limits.attention.limit *= 2.0F;
    limits.urgent.limit *= 2.0F;
  }
  return limits;
}
/// Puts what a profile changes into the limits of its check.
TELLTALE_OUT_OF_LINE constexpr void change_limits(Limits& limits,
                                                  const LimitOverride& change) {
  if (is_known(change.note)) limits.note.limit = change.note;
  if (is_known(change.attention)) limits.attention.limit = change.attention;
  if (is_known(change.urgent)) limits.urgent.limit = change.urgent;
  if (!is_known(change.delay_s)) return;
  const auto delay = static_cast<std::uint32_t>(change.delay_s * 1000.0F);
  limits.note.delay_ms = delay;
  limits.attention.delay_ms = delay;
  limits.urgent.delay_ms = delay;
}
/// `usual` with what the profile changes for that check.
constexpr Limits with_overrides(const Limits& usual, const Profile& profile,
                                std::uint16_t check) {
  Limits limits = usual;
  for (const LimitOverride& change : profile.limits) {
    if (change.check == check) change_limits(limits, change);
  }
  return limits;
}

/// Checks one set of limits for sense.
constexpr SetupError validate(const Limits& limits) {
  constexpr float kHuge = 3.0e38F;
  constexpr std::uint32_t kWeekMs = 7U * 24U * 3600U * 1000U;
  const Level* order[] = {&limits.note, &limits.attention, &limits.urgent};
  const Level* milder = nullptr;
  for (const Level* level : order) {
    if (!level->exists()) continue;
    if (level->limit > kHuge || level->limit < -kHuge) {
      return SetupError::not_finite;
    }
    if (level->delay_ms > kWeekMs) return SetupError::out_of_range;
    if (milder != nullptr) {
      const bool ordered = limits.side == Side::above
                               ? level->limit >= milder->limit
                               : level->limit <= milder->limit;
      if (!ordered) return SetupError::wrong_order;
    }
    milder = level;
  }
  return SetupError::none;
}

}  // namespace telltale

// Profile: what is known of a set before it is judged.
#pragma once

#include <array>
#include <cmath>
#include <cstdint>
#include <limits>
#include <string_view>

#include "telltale/base/static_vector.hpp"
#include "telltale/base/time.hpp"

namespace telltale {

inline constexpr float kUnknown = std::numeric_limits<float>::quiet_NaN();
[[nodiscard]] constexpr bool is_known(float x) { return x == x; }

enum class Generator : std::uint8_t { synchronous, asynchronous };
enum class Cooling : std::uint8_t { fresh_water, sea_water };
/// Where the exhaust sensor sits: after the raw-water injection, or in the gas.
enum class Exhaust : std::uint8_t { unknown, wet, dry };
/// Thermal class of the winding insulation (IEC 60085).
enum class WindingClass : std::uint8_t { A, E, B, F, H };
/// Performance class of ISO 8528-5 to hold the set to.
enum class PerformanceClass : std::uint8_t { G1, G2, G3 };

/// What the rating plate says. NaN or 0: not known; a check that needs it then
/// says so instead of judging.
struct Rating {
  float frequency_hz = kUnknown;  // 50 or 60
  std::uint8_t poles = 0;         // even; speed = 120 f / poles
  std::uint8_t legs = 0;          // 1 single, 2 split-phase, 3 three-phase
  Generator generator = Generator::synchronous;
  Cooling cooling = Cooling::fresh_water;
  Exhaust exhaust = Exhaust::unknown;
  WindingClass winding = WindingClass::F;
  PerformanceClass performance = PerformanceClass::G1;
  float power_kw = kUnknown;   // above 0
  float voltage_v = kUnknown;  // leg to leg; leg to neutral if single
  float power_factor = 1.0F;   // 0..1
  float battery_v = kUnknown;  // 12 or 24

  /// Synchronous speed in rpm; NaN while frequency or poles are unknown.
  [[nodiscard]] constexpr float speed_rpm() const {
    return poles > 0 ? 120.0F * frequency_hz / static_cast<float>(poles)
                     : kUnknown;
  }
  /// Volts leg to neutral; NaN while unknown.
  [[nodiscard]] float leg_voltage_v() const {
    if (legs == 3) return voltage_v / 1.7320508F;
    return legs == 2 ? voltage_v / 2.0F : voltage_v;
  }
};

/// A changed limit of one check. NaN leaves the default in force.
struct LimitOverride {
  std::uint16_t check = 0;  // CheckInfo::id
  float note = kUnknown;
  float attention = kUnknown;
  float urgent = kUnknown;
  float delay_s = kUnknown;
};

/// Oil pressure in kPa that this set shows when well, as a line over the
/// logarithm of viscosity (see detect/checks/oil_pressure_fade.hpp).
struct OilLine {
  bool known = false;
  bool by_coolant = false;  // temperature is the coolant's, not the oil's
  float intercept_kpa = 0.0F;
  float slope_kpa = 0.0F;  // per unit of log10 viscosity
  float low_degc = 0.0F;   // temperatures it was fitted over
  float high_degc = 0.0F;
};

/// One job that falls due by hours, by months or by both. 0: not by that.
struct ServiceItem {
  std::string_view name;
  float every_h = 0.0F;
  float every_months = 0.0F;
  float done_h = kUnknown;
  TimeMs done_on = kNoTime;
};

/// Everything the core is told about a set. Plain data: a box may keep it
/// constexpr in flash.
struct Profile {
  std::string_view name;
  Rating rating;
  /// Power that counts as 100 % for phases and load steps where the rating is
  /// not known: the highest 60 s mean of the log. kW; NaN: none.
  float load_scale_kw = kUnknown;
  /// Typical time between scans in seconds; NaN: to be learnt.
  float interval_s = kUnknown;
  /// Times count from 1970 and not from power-on or the log's start.
  bool wall_clock = false;
  OilLine oil_line;
  StaticVector<LimitOverride, 64> limits;
  StaticVector<ServiceItem, 16> service;
};

}  // namespace telltale

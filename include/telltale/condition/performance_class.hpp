// The operating limits of the performance classes of ISO 8528-5.
#pragma once

#include <string_view>

#include "telltale/profile.hpp"

namespace telltale {

/// Limits of one class, percent of rated unless said otherwise. Figures: the
/// limit table of ISO 8528-5 (2005 to 2018 editions); G2 as quoted in public
/// specifications, G1 and G3 transient and recovery figures from memory.
struct ClassLimits {
  float droop;              // no load to rated load
  float band;               // steady-state envelope, full width
  float dip;                // frequency from rated, load on; negative
  float rise;               // frequency from rated, load off
  float recovery_s;         // frequency
  float tolerance;          // recovery band, full width
  float voltage_deviation;  // steady, +/-
  float voltage_dip;        // load on; negative
  float voltage_rise;       // load off
  float voltage_recovery_s;
};

inline constexpr ClassLimits kClassLimits[] = {
    {8.0F, 2.5F, -15.0F, 18.0F, 10.0F, 3.5F, 5.0F, -25.0F, 35.0F, 10.0F},
    {5.0F, 1.5F, -10.0F, 12.0F, 5.0F, 2.0F, 2.5F, -20.0F, 25.0F, 6.0F},
    {3.0F, 0.5F, -7.0F, 10.0F, 3.0F, 2.0F, 1.0F, -15.0F, 20.0F, 4.0F}};

constexpr std::string_view name_of(PerformanceClass performance) {
  constexpr std::string_view kNames[] = {"G1", "G2", "G3"};
  return kNames[static_cast<unsigned>(performance)];
}

constexpr const ClassLimits& limits_of(PerformanceClass performance) {
  return kClassLimits[static_cast<unsigned>(performance)];
}

}  // namespace telltale

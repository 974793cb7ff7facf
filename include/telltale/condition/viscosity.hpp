// The viscosity-temperature line of a lubricating oil, after ASTM D341.
#pragma once

#include <cmath>
#include <concepts>

namespace telltale {

/// log10 log10(v + 0.7) = a - b log10 T, v kinematic viscosity in mm2/s (cSt)
/// above 2, T absolute temperature in kelvin: the Ubbelohde-Walther form of
/// ASTM D341, good between cloud point and initial boiling point.
template <std::floating_point R>
struct ViscosityLine {
  R a = R(0);
  R b = R(0);

  /// Kinematic viscosity in mm2/s at a temperature in degC.
  [[nodiscard]] R at(R celsius) const {
    const R t = std::log10(celsius + kZeroCelsius);
    return std::pow(R(10), std::pow(R(10), a - b * t)) - R(0.7);
  }
  /// The line through two known viscosities (mm2/s at degC).
  /// REQUIRES: both viscosities above 2 and the temperatures differ.
  static ViscosityLine through(R celsius1, R v1, R celsius2, R v2) {
    const R t1 = std::log10(celsius1 + kZeroCelsius);
    const R t2 = std::log10(celsius2 + kZeroCelsius);
    const R b = (loglog(v1) - loglog(v2)) / (t2 - t1);
    return {loglog(v1) + b * t1, b};
  }

  static constexpr R kZeroCelsius = R(273.15);

 private:
  static R loglog(R v) { return std::log10(std::log10(v + R(0.7))); }
};

}  // namespace telltale

// The model behind MadeRun: first-order lags and straight lines.
#include <algorithm>
#include <cmath>
#include <limits>

#include "made_run.hpp"

namespace telltale::test {
namespace {

constexpr double kNone = std::numeric_limits<double>::quiet_NaN();
constexpr double kCrankRatio = 0.07;

/// Kinematic viscosity in mm2/s of an oil with 100 at 40 degC and 11.1 at 100
/// degC (ISO VG 100), Ubbelohde-Walther.
double viscosity(double celsius) {
  const auto loglog = [](double v) { return std::log10(std::log10(v + 0.7)); };
  const double t40 = std::log10(313.15);
  const double t100 = std::log10(373.15);
  const double slope = (loglog(100.0) - loglog(11.1)) / (t100 - t40);
  const double y = loglog(100.0) - slope * (std::log10(celsius + 273.15) - t40);
  return std::pow(10.0, std::pow(10.0, y)) - 0.7;
}

double toward(double value, double target, double dt, double tau) {
  return target + (value - target) * std::exp(-dt / tau);
}

/// No real reading stands still to the last bit.
double breath(double t, double period, double size = 0.02) {
  return size * std::sin(6.283185307179586 * t / period);
}

}  // namespace

/// Stage, load and speed follow from the plan alone.
void MadeRun::place(Scene& scene) const {
  const Piece* piece = &plan_.back();
  double ran_since = kNone;
  double load_since = 0.0;
  double load = 0.0;
  for (const Piece& p : plan_) {
    const bool turning = p.stage != Stage::rest && p.stage != Stage::crank;
    if (!turning) ran_since = kNone;
    if (turning && std::isnan(ran_since)) ran_since = p.from;
    if (p.load_from != load || p.load_to != p.load_from) load_since = p.from;
    load = p.load_to;
    piece = &p;
    if (scene.t < p.from + p.length - 1e-9) break;
  }
  const double share =
      piece->length > 0.0
          ? std::clamp((scene.t - piece->from) / piece->length, 0.0, 1.0)
          : 1.0;
  scene.stage = piece->stage;
  scene.ran = std::isnan(ran_since) ? 0.0 : scene.t - ran_since;
  scene.load_for = scene.t - load_since;
  scene.load_pct =
      piece->load_from + share * (piece->load_to - piece->load_from);
  const double steady = 1.0 +
                        droop_pct_ / 100.0 * (1.0 - scene.load_pct / 100.0) +
                        breath(scene.t, 7.3, 1e-4);
  switch (piece->stage) {
    case Stage::rest:
      scene.ratio = 0.0;
      break;
    case Stage::crank:
      scene.ratio = kCrankRatio;
      break;
    case Stage::run_up:
      scene.ratio = 0.42 + share * (steady - 0.42);
      break;
    case Stage::run:
      scene.ratio = steady;
      break;
    case Stage::coast:
      scene.ratio = steady * (1.0 - share);
      scene.load_pct *= (1.0 - share) * (1.0 - share);
      break;
  }
}
void MadeRun::advance(Scene& scene, double dt) const {
  const bool runs = scene.stage == Stage::run || scene.stage == Stage::run_up;
  const double load = scene.load_pct;
  scene.coolant =
      toward(scene.coolant, runs ? 84.0 : 20.0, dt, runs ? 240.0 : 3600.0);
  scene.oil =
      toward(scene.oil, runs ? 88.0 + 0.1 * load : 20.0, dt, runs ? 600 : 3600);
  scene.winding = toward(scene.winding, runs ? 45.0 + 0.4 * load : 25.0, dt,
                         runs ? 500.0 : 2400.0);
  scene.exhaust =
      toward(scene.exhaust, runs ? 40.0 + 0.15 * load : 20.0, dt, 50.0);
}

double MadeRun::healthy(Channel channel, const Scene& s) const {
  const bool cranks = s.stage == Stage::crank;
  const double excited = s.ratio > 0.75 ? 1.0 : 0.0;
  const double amps = plate_.leg_amps() * s.load_pct / 100.0;
  const double twice = plate_.battery / 12.0;
  switch (channel) {
    case Channel::engine_speed:
      return s.ratio * plate_.rpm();
    case Channel::frequency:
      return s.ratio > 0.4 ? s.ratio * plate_.hz : 0.0;
    case Channel::voltage_l1:
    case Channel::voltage_l2:
    case Channel::voltage_l3:
      return excited * (plate_.leg_volts() + breath(s.t, 11.7));
    case Channel::voltage_line:
      return excited * (plate_.volts + breath(s.t, 11.7));
    case Channel::current_l1:
    case Channel::current_l2:
    case Channel::current_l3:
      return excited * amps;
    case Channel::power:
      return excited * plate_.kw * s.load_pct / 100.0;
    case Channel::load:
      return excited * s.load_pct;
    case Channel::power_factor:
      return 1.0;
    case Channel::fuel_level:
      return 80.0 - s.t / 3600.0;
    case Channel::engine_hours:
      return std::floor((1200.0 + s.t / 3600.0) * 100.0) / 100.0;
    case Channel::oil_pressure: {
      const double full = 150.0 + 140.0 * std::log10(viscosity(s.oil));
      if (cranks) return 60.0;
      // The pump fills the galleries within a second or so.
      const double filled = s.stage == Stage::rest ? 0.0 : 1.0;
      return std::min(full, 520.0) * s.ratio * filled;
    }
    case Channel::oil_temperature:
      return s.oil + breath(s.t, 61.0);
    case Channel::coolant_temperature:
      return s.coolant + breath(s.t, 47.0);
    case Channel::exhaust_temperature:
      return s.exhaust + breath(s.t, 53.0);
    case Channel::winding_temperature:
      return s.winding + breath(s.t, 71.0);
    case Channel::raw_water_temperature:
      return 18.0;
    case Channel::ambient_temperature:
      return 26.0;
    case Channel::battery_voltage:
      return twice * (cranks          ? 10.6
                      : s.ratio > 0.4 ? 14.1
                                      : 12.7) +
             breath(s.t, 37.0, 0.004);
    case Channel::fuel_rate:
      return s.ratio > 0.4 ? 0.9 + 0.02 * s.load_pct : 0.0;
    case Channel::start_count:
      return 311.0;
    case Channel::none:
      break;
  }
  return kNone;
}

}  // namespace telltale::test

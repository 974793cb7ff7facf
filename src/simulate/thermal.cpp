// Lumped heat balances, one mass each, stepped implicitly.
#include "simulate/thermal.hpp"

#include <algorithm>

#include "simulate/portable_math.hpp"

namespace telltale::host::sim {
namespace {

constexpr double kIdleHeat = 0.28;  // share of rated heat without load
constexpr double kLeak = 0.025;     // flow through a shut thermostat
constexpr double kRoomMinutes = 25.0;
constexpr double kGasLagS = 4.0;
constexpr double kHotRest = 2.5;  // K/min into the coolant after a hot stop

// A mass that gains `gain` K/min and loses `loss` 1/min to a sink.
double balance(double value, double gain, double loss, double sink,
               double dt_s) {
  const double dt = dt_s / 60.0;
  return (value + dt * (gain + loss * sink)) / (1.0 + dt * loss);
}

}  // namespace

Thermal::Thermal(const SetSpec& set, const Environment& environment)
    : set_(&set),
      environment_(&environment),
      room_(environment.air_c),
      sea_(environment.sea_c),
      coolant_(environment.engine_c > -90.0 ? environment.engine_c
                                            : environment.air_c),
      oil_(coolant_),
      exhaust_(environment.air_c),
      winding_(environment.air_c),
      gas_(environment.air_c),
      felt_(coolant_) {}

void Thermal::step_coolant(double dt, const ThermalInput& in, const Ailments& a,
                           double flow) {
  const ThermalSpec& spec = set_->thermal;
  felt_ = lag(felt_, coolant_, dt, spec.thermostat_lag_s);
  const double wanted =
      (felt_ - spec.thermostat_opens_c) / spec.thermostat_span_k;
  const double stick = 0.5 * spec.thermostat_stick_k / spec.thermostat_span_k;
  opening_ = std::clamp(opening_, wanted - stick, wanted + stick);
  opening_ = std::clamp(opening_, a.thermostat_open, 1.0);

  const double load = std::max(in.torque, 0.0);
  const double heat =
      in.fuel ? spec.heating_k_per_min * (kIdleHeat + (1.0 - kIdleHeat) * load)
              : 0.0;
  // Heat stored in head and liner goes on warming the coolant after a stop.
  const double soak =
      !in.fuel && gas_ > 120.0 ? kHotRest * (gas_ - 120.0) / 200.0 : 0.0;
  // Less water through the exchanger costs it capacity, but less than in
  // proportion (a power of the flow, as for any tube bundle).
  double water = 0.0;
  if (in.pumping) {
    water = a.water_loss > 0.0 ? pow_of(std::max(flow, 1e-3), 0.7) : flow;
  }
  const double exchange = spec.exchanger_per_min *
                          (kLeak + (1.0 - kLeak) * opening_) * water *
                          (1.0 - a.cooling_loss);
  const double loss = spec.room_loss_per_min + exchange;
  const double sink = (spec.room_loss_per_min * room_ + exchange * sea_) / loss;
  coolant_ = balance(coolant_, heat + soak, loss, sink, dt);
  // Steam carries off what a boiling circuit cannot hold.
  coolant_ = std::min(coolant_, 128.0);

  const double oil_rise =
      in.fuel ? spec.oil_above_coolant_k * (0.3 + 0.7 * load) : 0.0;
  oil_ = lag(oil_, coolant_ + oil_rise, dt, 60.0 * spec.oil_minutes);
}

void Thermal::step_exhaust(double dt, const ThermalInput& in, const Ailments& a,
                           double flow) {
  const ThermalSpec& spec = set_->thermal;
  const double load = std::max(in.torque, 0.0);
  const double burning =
      spec.gas_idle_c + (spec.gas_rated_c - spec.gas_idle_c + a.gas_k) * load;
  // Cold iron takes heat out of the gas until it is warm itself.
  const double cold =
      1.0 - 0.25 * std::clamp((70.0 - coolant_) / 60.0, 0.0, 1.0);
  if (in.fuel) {
    gas_ = lag(gas_, burning * cold, dt, kGasLagS + 25.0);
  } else {
    gas_ = lag(gas_, coolant_, dt, 240.0);
  }
  if (set_->rating.exhaust == Exhaust::dry) {
    exhaust_ = lag(exhaust_, gas_, dt, spec.exhaust_lag_s);
    return;
  }
  if (!in.pumping) {  // at rest the elbow soaks towards the engine, then cools
    const double rest = room_ + 0.35 * (coolant_ - room_);
    exhaust_ = lag(exhaust_, rest, dt, 600.0);
    return;
  }
  // Mixing of gas and water; the water comes warmed from the exchanger.
  const double water = std::max(flow, 0.004);
  const double warmed =
      sea_ + spec.sea_rise_k *
                 std::min((kIdleHeat + (1.0 - kIdleHeat) * load) / water, 6.0) *
                 std::clamp(opening_ * 2.5, 0.15, 1.0);
  const double mixed =
      (water * warmed + spec.gas_to_water * gas_) / (water + spec.gas_to_water);
  exhaust_ = lag(exhaust_, mixed, dt, spec.exhaust_lag_s);
}

void Thermal::step(double dt, const ThermalInput& in, const Ailments& a) {
  sea_ = environment_->sea_c + in.sea_k;
  const double load = std::max(in.torque, 0.0);
  const double flow = (1.0 - a.water_loss) * std::min(in.speed, 1.1);
  step_coolant(dt, in, a, flow);
  step_exhaust(dt, in, a, flow);
  const AlternatorSpec& alternator = set_->alternator;
  const double air =
      (1.0 - a.ventilation_loss) * std::max(std::min(in.speed, 1.0), 0.15);
  const double rise =
      in.fuel
          ? (alternator.core_rise_k + alternator.winding_rise_k * in.heating) /
                air
          : 0.0;
  winding_ = lag(winding_, room_ + rise, dt, 60.0 * alternator.winding_minutes);
  const double room_rise =
      in.fuel ? environment_->room_rise_k * (0.4 + 0.6 * load) : 0.0;
  room_ = lag(room_, environment_->air_c + in.air_k + room_rise, dt,
              60.0 * kRoomMinutes);
}

}  // namespace telltale::host::sim

// The registry: every check of the library, one include and one name each.
#pragma once

#include "telltale/detect/check_list.hpp"
#include "telltale/detect/checks/abrupt_stop.hpp"
#include "telltale/detect/checks/alarm_chatter.hpp"
#include "telltale/detect/checks/alarm_flood.hpp"
#include "telltale/detect/checks/alarm_standing.hpp"
#include "telltale/detect/checks/battery_rest_low.hpp"
#include "telltale/detect/checks/charging_fade.hpp"
#include "telltale/detect/checks/charging_high.hpp"
#include "telltale/detect/checks/charging_low.hpp"
#include "telltale/detect/checks/clock_step.hpp"
#include "telltale/detect/checks/coolant_climb.hpp"
#include "telltale/detect/checks/coolant_cold.hpp"
#include "telltale/detect/checks/coolant_high.hpp"
#include "telltale/detect/checks/crank_dip.hpp"
#include "telltale/detect/checks/data_gap.hpp"
#include "telltale/detect/checks/early_load.hpp"
#include "telltale/detect/checks/exhaust_climb.hpp"
#include "telltale/detect/checks/exhaust_high.hpp"
#include "telltale/detect/checks/exhaust_jump.hpp"
#include "telltale/detect/checks/frequency_drift.hpp"
#include "telltale/detect/checks/frequency_droop.hpp"
#include "telltale/detect/checks/frequency_high.hpp"
#include "telltale/detect/checks/frequency_hunting.hpp"
#include "telltale/detect/checks/frequency_low.hpp"
#include "telltale/detect/checks/fuel_starvation.hpp"
#include "telltale/detect/checks/hours_mismatch.hpp"
#include "telltale/detect/checks/leg_imbalance.hpp"
#include "telltale/detect/checks/light_load.hpp"
#include "telltale/detect/checks/load_step_response.hpp"
#include "telltale/detect/checks/long_crank.hpp"
#include "telltale/detect/checks/oil_pressure_fade.hpp"
#include "telltale/detect/checks/oil_pressure_low.hpp"
#include "telltale/detect/checks/oil_pressure_slow.hpp"
#include "telltale/detect/checks/oil_pressure_unsteady.hpp"
#include "telltale/detect/checks/over_excitation.hpp"
#include "telltale/detect/checks/overload.hpp"
#include "telltale/detect/checks/repeated_cranking.hpp"
#include "telltale/detect/checks/sensor_dropout.hpp"
#include "telltale/detect/checks/sensor_frozen.hpp"
#include "telltale/detect/checks/sensor_range.hpp"
#include "telltale/detect/checks/sensor_spike.hpp"
#include "telltale/detect/checks/service_due.hpp"
#include "telltale/detect/checks/short_cool_down.hpp"
#include "telltale/detect/checks/speed_frequency_mismatch.hpp"
#include "telltale/detect/checks/stop_under_load.hpp"
#include "telltale/detect/checks/voltage_high.hpp"
#include "telltale/detect/checks/voltage_low.hpp"
#include "telltale/detect/checks/voltage_unbalance.hpp"
#include "telltale/detect/checks/winding_high.hpp"

namespace telltale {

/// In the order of contract section 6, which is that of the ids.
using AllChecks =
    CheckList<FrequencyHigh, FrequencyLow, FrequencyDrift, FrequencyHunting,
              FrequencyDroop, SpeedFrequencyMismatch, LoadStepResponse,
              VoltageHigh, VoltageLow, VoltageUnbalance, OverExcitation,
              Overload, LightLoad, LegImbalance, EarlyLoad, StopUnderLoad,
              ShortCoolDown, AbruptStop, FuelStarvation, OilPressureLow,
              OilPressureFade, OilPressureSlow, OilPressureUnsteady,
              CoolantHigh, CoolantClimb, CoolantCold, ExhaustHigh, ExhaustJump,
              ExhaustClimb, WindingHigh, ChargingLow, ChargingHigh,
              ChargingFade, CrankDip, BatteryRestLow, LongCrank,
              RepeatedCranking, ServiceDue, HoursMismatch, DataGap,
              ClockStepCheck, SensorFrozen, SensorRange, SensorSpike,
              SensorDropout, AlarmChatter, AlarmFlood, AlarmStanding>;

}  // namespace telltale

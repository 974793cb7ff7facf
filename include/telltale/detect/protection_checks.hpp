// ProtectionChecks: what a small box cannot do without.
#pragma once

#include "telltale/detect/checks/all.hpp"

namespace telltale {

/// What must be seen within seconds (limits of volts, hertz, load, pressure and
/// temperatures), what harms a set at its start and stop, and the data checks
/// that both stand on: for 32 kB of flash and 6 kB of RAM (docs/box.md has what
/// each costs). Left out is what looks over many minutes or tells what was
/// logged; a box that has more room takes AllChecks.
using ProtectionChecks =
    CheckList<FrequencyHigh, FrequencyLow, VoltageHigh, VoltageLow,
              OverExcitation, Overload, StopUnderLoad, AbruptStop,
              FuelStarvation, OilPressureLow, OilPressureSlow, CoolantHigh,
              ExhaustHigh, ExhaustJump, WindingHigh, ChargingLow, ChargingHigh,
              CrankDip, LongCrank, RepeatedCranking, SensorFrozen, SensorRange,
              SensorSpike, SensorDropout>;

}  // namespace telltale

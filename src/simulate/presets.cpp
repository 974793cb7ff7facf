// The sets. All figures are our own; they lie where such sets usually do.
#include "simulate/presets.hpp"

#include <array>

#include "simulate/everyday.hpp"

namespace telltale::host::sim {
namespace {

SetSpec split_8() {
  SetSpec set;
  set.name = "Sandpiper";
  set.service = {{"oil", 200.0, 12, 1180.0, "2026-03-02"}};
  return set;  // the defaults of set.hpp describe it
}

SetSpec single_12() {
  SetSpec set;
  set.name = "Old Quay ferry";
  set.rating = {.frequency_hz = 50.0,
                .poles = 4,
                .power_kw = 12.0,
                .voltage_v = 230.0,
                .legs = 1};
  set.governor.no_load_pct = 3.6;
  set.governor.droop_pct = 3.4;
  set.engine.inertia_s = 0.9;
  set.engine.full_load_l_h = 4.3;
  set.engine.tank_l = 240.0;
  set.alternator.winding_minutes = 20.0;
  set.thermal.exchanger_per_min = 0.44;
  set.oil = {.viscosity_40 = 95.0,
             .viscosity_100 = 11.0,
             .hot_kpa = 300.0,
             .relief_kpa = 450.0};
  set.battery.charge_v = 14.1;
  set.hours = 3410.4;
  set.starts = 2215;
  set.service = {{"oil", 250.0, 12, 3300.0, "2026-02-11"}};
  return set;
}

SetSpec three_40() {
  SetSpec set;
  set.name = "Marrow Sound tender";
  set.rating = {.frequency_hz = 50.0,
                .poles = 4,
                .power_kw = 40.0,
                .voltage_v = 400.0,
                .legs = 3,
                .power_factor = 0.8,
                .battery_v = 24.0,
                .winding_class = 'H',
                .performance_class = 3};
  set.governor = {.no_load_pct = 0.0,
                  .droop_pct = 0.0,
                  .transient_droop_pct = 6.0,
                  .reset_s = 0.4,
                  .lag_s = 0.04,
                  .roughness_pct = 0.025,
                  .warm_shift_pct = 0.0};
  set.engine = {.inertia_s = 1.2,
                .torque_reserve = 1.30,
                .crank_rpm = 190.0,
                .fire_s = 1.2,
                .run_up_torque = 0.5,
                .full_load_l_h = 11.4,
                .tank_l = 900.0};
  set.alternator.offset_pct = 0.2;
  set.alternator.regulation_pct = 0.5;
  set.alternator.dip_reactance = 0.13;
  set.alternator.winding_rise_k = 74.0;
  set.alternator.winding_minutes = 26.0;
  set.thermal.heating_k_per_min = 10.0;
  set.thermal.exchanger_per_min = 0.38;
  set.thermal.thermostat_opens_c = 80.0;
  set.thermal.oil_minutes = 9.0;
  set.oil.hot_kpa = 360.0;
  set.oil.relief_kpa = 520.0;
  set.battery = {.resistance_mohm = 3.4,
                 .crank_a = 330.0,
                 .preheat_a = 60.0,
                 .charge_v = 14.2,
                 .float_v = 13.65,
                 .absorb_s = 1500.0,
                 .compensation_mv_k = 20.0};
  set.controller.preheat_s = 12.0;
  set.hours = 8127.5;
  set.starts = 3044;
  set.service = {{"oil", 250.0, 12, 8010.0, "2026-04-20"},
                 {"coolant", 2000.0, 24, 7400.0, "2025-05-14"}};
  return set;
}

SetSpec async_5() {
  SetSpec set;
  set.name = "Little Auk";
  set.rating.power_kw = 5.0;
  set.rating.asynchronous = true;
  set.rating.performance_class = 1;
  set.governor.no_load_pct = 4.6;
  set.governor.droop_pct = 2.2;
  set.governor.transient_droop_pct = 9.0;
  set.engine.inertia_s = 0.9;
  set.engine.full_load_l_h = 2.1;
  set.engine.tank_l = 90.0;
  set.engine.crank_rpm = 260.0;
  set.alternator.offset_pct = 2.0;
  set.alternator.regulation_pct = 2.5;
  set.alternator.dip_reactance = 0.20;
  set.alternator.slip_pct = 3.0;
  set.alternator.boost.fitted = true;
  set.oil.hot_kpa = 255.0;
  set.battery.crank_a = 150.0;
  set.hours = 412.2;
  set.starts = 388;
  set.service = {{"oil", 100.0, 12, 350.0, "2026-04-06"}};
  return set;
}

SetSpec dry_20() {
  SetSpec set;
  set.name = "Kelp barge";
  set.rating = {.frequency_hz = 60.0,
                .poles = 4,
                .power_kw = 20.0,
                .voltage_v = 208.0,
                .legs = 3,
                .power_factor = 0.8,
                .battery_v = 24.0,
                .exhaust = Exhaust::dry};
  set.governor.no_load_pct = 3.0;
  set.governor.droop_pct = 2.8;
  set.governor.transient_droop_pct = 7.0;
  set.engine.inertia_s = 1.1;
  set.engine.full_load_l_h = 6.4;
  set.engine.tank_l = 400.0;
  set.engine.crank_rpm = 200.0;
  set.alternator.offset_pct = 0.3;
  set.alternator.regulation_pct = 0.9;
  set.alternator.winding_minutes = 22.0;
  set.thermal.gas_rated_c = 455.0;
  set.thermal.exhaust_lag_s = 7.0;
  set.oil.hot_kpa = 330.0;
  set.oil.relief_kpa = 480.0;
  set.battery = {.resistance_mohm = 5.0, .crank_a = 260.0, .charge_v = 14.0};
  set.hours = 15230.6;
  set.starts = 5120;
  set.service = {{"oil", 250.0, 12, 15060.0, "2026-05-02"}};
  return set;
}

SetSpec seawater_6() {
  SetSpec set;
  set.name = "Eider";
  set.rating = {.frequency_hz = 50.0,
                .poles = 2,
                .power_kw = 6.0,
                .voltage_v = 230.0,
                .legs = 1,
                .cooling = Cooling::sea_water};
  set.governor.no_load_pct = 4.2;
  set.governor.droop_pct = 4.2;
  set.governor.roughness_pct = 0.12;  // one cylinder
  set.engine.inertia_s = 0.8;
  set.engine.full_load_l_h = 2.5;
  set.engine.tank_l = 80.0;
  set.engine.crank_rpm = 250.0;
  set.thermal.thermostat_opens_c = 50.0;
  set.thermal.thermostat_span_k = 10.0;
  set.thermal.exchanger_per_min = 0.70;
  set.thermal.oil_above_coolant_k = 26.0;
  set.thermal.gas_rated_c = 460.0;
  set.oil.hot_kpa = 290.0;
  set.battery.crank_a = 170.0;
  set.hours = 1985.0;
  set.starts = 1630;
  set.service = {{"oil", 150.0, 12, 1900.0, "2026-01-28"}};
  return set;
}

struct PresetRow {
  PresetInfo info;
  SetSpec (*make)();
  UnitSystem units;
};

constexpr std::array kPresets = {
    PresetRow{{"split-8",
               "8 kW, 120/240 V split phase, 60 Hz, 2 poles, 12 V, "
               "logged in US units"},
              split_8,
              UnitSystem::us},
    PresetRow{{"single-12", "12 kW, 230 V single phase, 50 Hz, 4 poles, 12 V"},
              single_12,
              UnitSystem::metric},
    PresetRow{{"three-40",
               "40 kW, 230/400 V three-phase, 50 Hz, 4 poles, 24 "
               "V, electronic governor"},
              three_40,
              UnitSystem::metric},
    PresetRow{{"async-5",
               "5 kW, 120/240 V, 60 Hz, asynchronous with "
               "capacitors and a boost stage, 12 V, US units"},
              async_5,
              UnitSystem::us},
    PresetRow{{"dry-20",
               "20 kW, 120/208 V three-phase, 60 Hz, 4 poles, 24 V, "
               "dry exhaust"},
              dry_20,
              UnitSystem::metric},
    PresetRow{{"seawater-6",
               "6 kW, 230 V single phase, 50 Hz, 2 poles, cooled "
               "by sea water directly, 12 V"},
              seawater_6,
              UnitSystem::metric},
};

constexpr std::array kInfos = [] {
  std::array<PresetInfo, kPresets.size()> infos{};
  for (std::size_t i = 0; i < infos.size(); ++i) infos[i] = kPresets[i].info;
  return infos;
}();

}  // namespace

std::span<const PresetInfo> presets() { return kInfos; }

Result<Scenario> preset_scenario(std::string_view name, std::uint64_t seed,
                                 double total_s, double interval_s) {
  for (const PresetRow& row : kPresets) {
    if (row.info.name != name) continue;
    Scenario scenario;
    scenario.seed = seed;
    scenario.preset = name;
    scenario.set = row.make();
    scenario.interval_s = interval_s;
    scenario.log_to_s = total_s;
    scenario.sensors = usual_sensors(scenario.set, row.units);
    // Two minutes of rest before and one after, less in a short log.
    const double before = std::min(120.0, 0.1 * total_s);
    const double after = std::min(60.0, 0.05 * total_s);
    scenario.runs = {everyday_run(scenario.set, scenario.environment, before,
                                  total_s - before - after, seed)};
    return scenario;
  }
  return Error{"no preset is called '" + std::string(name) + "'", "",
               "see telltale simulate --list"};
}

}  // namespace telltale::host::sim

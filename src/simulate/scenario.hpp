// Scenario: everything that decides a made-up log, and the samples it gives.
#pragma once

#include <array>
#include <cstdint>
#include <functional>
#include <string>
#include <vector>

#include "simulate/fault.hpp"
#include "simulate/load.hpp"
#include "simulate/log_format.hpp"
#include "simulate/set.hpp"
#include "support/units.hpp"
#include "telltale/acquire/channel.hpp"
#include "telltale/acquire/engine_state.hpp"
#include "telltale/base/time.hpp"

namespace telltale::host::sim {

struct Environment {
  double sea_c = 18.0;
  double air_c = 21.0;      // engine room before it warms up
  double room_rise_k = 9;   // of the engine room under rated load
  double day_k = 0.0;       // air: half the swing from night to day
  double season_k = 0.0;    // sea and air: half the swing over a year
  double engine_c = -99.0;  // block at the start; -99: as the engine room
};

/// One run, from the key to rest. Times are seconds of the scenario.
struct RunPlan {
  double start_s = 120.0;   // key on: preheating begins
  double preheat_s = -1.0;  // negative: as the controller does
  int failed_cranks = 0;    // attempts that do not fire
  double failed_crank_s = 9.0;
  double crank_rest_s = 14.0;
  bool never_starts = false;
  double crank_s = 0.0;      // of the good attempt; 0: what the engine needs
  double warm_up_s = 180.0;  // at speed without load
  double loaded_s = 3600.0;
  double cool_down_s = 240.0;
  double stop_load_pct = 0.0;  // load still on at the stop
  LoadPlan load;

  /// About when it is at rest again.
  [[nodiscard]] double end_s() const;
};

/// A column of the log: its sensor and how the logger stores it.
struct SensorSpec {
  Channel channel = Channel::none;
  LogUnit unit = LogUnit::none;  // as logged
  double resolution = 0.1;       // in the logged unit
  double noise = 0.0;            // sd, canonical unit
  double lag_s = 0.0;
  double period_s = 0.0;   // the sensor's own; 0: every row is fresh
  double bias = 0.0;       // canonical unit
  double drift_per_h = 0;  // canonical unit
  double dropout_pct = 0.0;
};

struct Scenario {
  std::uint64_t seed = 1;
  std::string preset;
  SetSpec set;
  Environment environment;
  std::vector<RunPlan> runs;
  std::vector<Fault> faults;
  std::vector<SensorSpec> sensors;  // in the order of the columns
  bool state_column = true;
  bool alarm_column = true;
  double interval_s = 1.0;       // a multiple of 0.001
  double rest_interval_s = 0.0;  // while at rest; 0: the same
  double log_from_s = 0.0;       // the log may begin or end in a run
  double log_to_s = 4200.0;
  double log_margin_s = 1e12;   // rest is logged only so near to a run
  TimeMs clock{1780300800000};  // of second 0: 2026-06-01T08:00:00Z
  LogFormat format;
};

/// What the set is doing, as the contract's section 4 names it.
enum class TruePhase : std::uint8_t {
  stopped,
  cranking,
  running_up,
  no_load,
  on_load,
  cool_down,
  stopping,
};

/// The true state at one time: what perfect sensors would read, and what no
/// sensor shows.
struct Snapshot {
  double t = 0.0;   // seconds of the scenario
  double dt = 0.0;  // since the last snapshot
  int run = -1;     // the run it belongs to, or the last one
  TruePhase phase = TruePhase::stopped;
  EngineState state = EngineState::stopped;  // the controller's word
  AlarmMask alarms = 0;
  bool commanded_stop = false;  // the engine was told to stop
  bool tripped = false;         // by a protection
  bool breaker_closed = false;
  bool boost_in = false;
  int cranks = 0;  // of this start sequence so far
  std::array<double, kChannelCount> value = {};  // NaN: there is none
  double hertz_low = 0.0;  // least and most since the last snapshot
  double hertz_high = 0.0;
  double load_pct = 0.0;         // true power over rating
  double settled_kw = 0.0;       // demand without inrush and wander
  double drift_pct = 0.0;        // governor setting against its sound one
  double droop_pct = 0.0;        // in force, slip counted in
  double hunting_pct = 0.0;      // full width in force
  double rpm_error_pct = 0.0;    // of the speed reading
  double oil_loss_pct = 0.0;     // against the sound engine, same temperature
  double oil_flutter_pct = 0.0;  // sd over mean
  double stop_load_pct = 0.0;    // load in the last 5 s at speed
  double hot_oil_kpa = 0.0;      // at 95 degC and nominal speed
  double half_load_hz = 0.0;     // where it settles at half load
  double charge_lost_v = 0.0;    // against a sound charger
};

[[nodiscard]] inline double value_of(const Snapshot& s, Channel channel) {
  return s.value[index_of(channel)];
}

/// One row of the log.
struct Sample {
  double t = 0.0;  // seconds of the scenario
  TimeMs stamp;    // as the logger's clock says
  EngineState state = EngineState::unknown;
  AlarmMask alarms = 0;
  ChannelMask present = 0;
  /// Whole steps of the sensor's resolution, by column of the scenario.
  std::array<std::int64_t, kChannelCount> steps = {};
};

}  // namespace telltale::host::sim

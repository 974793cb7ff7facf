// Truth: what a made-up log holds, known from the model and not from the log.
#pragma once

#include <cmath>
#include <cstdint>
#include <limits>
#include <string>
#include <string_view>
#include <vector>

#include "simulate/fault.hpp"
#include "simulate/scenario.hpp"

namespace telltale::host::sim {

/// How bad the contract's limits make it.
enum class Degree : std::uint8_t { none, note, attention, urgent };
std::string_view name_of(Degree degree);

/// What a check has to say of a run, by the true state. Times are seconds of
/// the scenario.
struct Verdict {
  std::string_view check;
  Degree degree = Degree::none;
  Channel channel = Channel::none;
  double from = 0.0;  // where that degree began
  double due = 0.0;   // from when on it can be known: the delay is over
  double to = 0.0;    // the last time it held
  double value = std::numeric_limits<double>::quiet_NaN();  // worst
  double limit = std::numeric_limits<double>::quiet_NaN();
  std::string_view unit;
  Channel first_out = Channel::none;
};

struct PhaseSpan {
  TruePhase phase;
  double from;
  double to;
};

/// A change of load of 10 % of rating or more within 3 s.
struct LoadStep {
  double at = 0.0;
  double from_pct = 0.0;
  double to_pct = 0.0;
  double deviation_pct = 0.0;  // of frequency, extreme against rated
  double recovery_s = 0.0;     // from leaving to re-entering +-1 %
  bool lone = true;            // in one go, and no other step within 10 s
};

/// The true figures that a season compares, at the end of the run. NaN where
/// the run does not show them.
struct TrueFigures {
  double hot_oil_kpa = std::nan("");     // at 95 degC and nominal speed
  double half_load_hz = std::nan("");    // settled frequency at half load
  double droop_pct = std::nan("");       // no load to rated load, slip included
  double charging_v = std::nan("");      // mean of the last 5 min
  double crank_v = std::nan("");         // lowest while cranking, for 0.4 s
  double light_load_pct = std::nan("");  // of running time below 30 % of rating
};

struct TrueRun {
  int index = 0;              // in the scenario
  double start = 0.0;         // first turning; or where the log begins
  double end = 0.0;           // at rest; or where the log ends
  bool begins_in_log = true;  // false: was running when the log began
  bool ends_in_log = true;
  bool abrupt = false;
  int attempts = 0;
  double crank_s = 0.0;    // of all attempts
  double running_s = 0.0;  // from self-running to rest, less data gaps
  std::vector<PhaseSpan> phases;
  std::vector<LoadStep> steps;
  TrueFigures figures;
  std::vector<Verdict> verdicts;
};

/// Of one set.
struct Truth {
  std::uint64_t rows = 0;
  double first = 0.0;  // of the rows, seconds of the scenario
  double last = 0.0;
  std::vector<TrueRun> runs;
  std::vector<Verdict> log_verdicts;  // of the log as a whole
};

/// The truth with the scenario it came of, as run (see prepared()).
struct SetTruth {
  Scenario scenario;
  Truth truth;
};

}  // namespace telltale::host::sim

// RunDigest, LogDigest: what a season keeps of runs, so that later questions
// need no log. The tables of the store hold the same; see docs/season.md.
#pragma once

#include <cstdint>
#include <limits>
#include <optional>
#include <string>
#include <vector>

#include "season/figure_kind.hpp"
#include "summary/channel_figures.hpp"
#include "support/units.hpp"
#include "telltale/condition/phase.hpp"
#include "telltale/detect/severity.hpp"
#include "telltale/profile.hpp"

namespace telltale::host::season {

inline constexpr double kNone = std::numeric_limits<double>::quiet_NaN();

/// Version of what a digest says and means. A log that an older version
/// digested is digested anew when it is added again.
inline constexpr int kDigestVersion = 1;

/// One tracked figure of one run, at the run's own condition. NaN: none.
struct RunFigure {
  FigureKind kind{};
  std::string basis;        // what it was read from: "oil", "leg", "wet", ...
  double value = kNone;     // in the figure's unit
  double se = kNone;        // standard error within the run
  double at = kNone;        // its own condition: % load, degC
  double slope = kNone;     // within the run, per % load or log10 viscosity
  double slope_se = kNone;  // its standard error
  int n = 0;                // minutes (or cranks) behind it
};

/// Means over steady running in one band of load, 10 % of rating wide.
struct LoadBin {
  int from_pct = 0;
  double seconds = 0.0;
  double load_pct = kNone;
  double frequency = kNone;
  double frequency_sd = kNone;  // of 10 s means
  double voltage = kNone;       // legs' mean, else line
  double voltage_sd = kNone;
  double oil_pressure = kNone;
  double oil_temperature = kNone;
  double coolant_temperature = kNone;
  double exhaust_temperature = kNone;
  double winding_temperature = kNone;
  double fuel_rate = kNone;
};

/// Oil pressure at one speed in one band of temperature, 5 K wide.
struct TemperatureBin {
  bool by_coolant = false;  // temperature is the coolant's, not the oil's
  int from_degc = 0;
  double seconds = 0.0;
  double degc = kNone;
  double oil_pressure = kNone;  // kPa at nominal speed
  double oil_pressure_sd = kNone;
  double load_pct = kNone;
};

struct PhaseDigest {
  Phase phase = Phase::unknown;
  TimeMs from = kNoTime;
  TimeMs to = kNoTime;
};

struct ChannelDigest {
  Channel channel = Channel::none;
  bool on_load = false;  // over on-load running only, else over all running
  ChannelFigures figures;
};

struct StepDigest {
  TimeMs at = kNoTime;
  double from_pct = kNone;
  double to_pct = kNone;
  double frequency_dip_pct = kNone;
  double recovery_s = kNone;
  bool observable = false;
};

struct FindingDigest {
  std::string check;
  Severity severity = Severity::not_judged;
  std::string channel;  // empty: none
  double value = kNone;
  double limit = kNone;
  std::string unit;
  TimeMs from = kNoTime;
  TimeMs to = kNoTime;
  std::string caused_by;  // empty: nothing
  std::string subject;
  std::string summary;
};

/// One run. Times are as logged, in UTC where the zone is known; kNoTime in a
/// log of elapsed time.
struct RunDigest {
  std::string unit;
  int number = 1;  // in its log
  TimeMs start = kNoTime;
  TimeMs end = kNoTime;
  bool begins_in_log = false;
  std::string ends;  // stop, abrupt, log
  double seconds = 0.0;
  double hours_start = kNone;  // hour meter
  double hours_end = kNone;
  double starts = kNone;  // start counter at the end
  std::optional<int> attempts;
  double crank_seconds = kNone;       // of all attempts
  double good_crank_seconds = kNone;  // of the one that fired
  double crank_dip_v = kNone;
  double rest_v = kNone;       // battery before the start
  double start_degc = kNone;   // engine before the start
  double water_degc = kNone;   // raw water, mean on load
  double air_degc = kNone;     // ambient, mean
  double load_pct = kNone;     // mean at speed, % of rating
  double first_speed = kNone;  // over nominal, where it settled after the start
  double at_speed_s = 0.0;
  double on_load_s = 0.0;
  double light_load_s = 0.0;  // at speed below 30 % of rating
  double energy_kwh = kNone;
  Severity verdict = Severity::healthy;
  std::vector<PhaseDigest> phases;
  std::vector<ChannelDigest> channels;
  std::vector<LoadBin> load_bins;
  std::vector<TemperatureBin> temperature_bins;
  std::vector<StepDigest> load_steps;
  std::vector<FindingDigest> findings;
  std::vector<RunFigure> figures;
};

/// What the log and the profile say of a set.
struct UnitDigest {
  std::string name;
  std::string model;    // of the profile; empty: none
  bool stated = false;  // by a profile, not only inferred
  Rating rating;
  LogUnit pressure = LogUnit::kPa;  // as logged
  LogUnit temperature = LogUnit::degC;
  std::vector<LimitOverride> limits;
  struct Service {
    std::string name;
    double every_h = kNone;
    double every_months = kNone;
    double done_h = kNone;
    TimeMs done_on = kNoTime;
  };
  std::vector<Service> service;
};

struct LogDigest {
  int version = kDigestVersion;
  std::string program;  // version of the program that made it
  std::string sha256;   // of the log's bytes, decompressed
  std::string file;     // its name, for people
  std::uint64_t bytes = 0;
  std::uint64_t rows = 0;
  std::uint64_t rejected = 0;
  TimeMs first = kNoTime;
  TimeMs last = kNoTime;
  bool zone_known = false;
  bool elapsed = false;  // its times count from its own start
  double interval_s = kNone;
  std::vector<UnitDigest> units;
  std::vector<RunDigest> runs;
  std::vector<FindingDigest> findings;  // outside every run
};

}  // namespace telltale::host::season

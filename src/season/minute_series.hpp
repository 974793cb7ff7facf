// MinuteSeries: a run's steady running as means over minutes.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <vector>

#include "season/run_digest.hpp"
#include "telltale/condition/block.hpp"
#include "telltale/profile.hpp"

namespace telltale::host::season {

/// What a minute's means are of.
enum class Track : std::uint8_t {
  load,       // % of rating
  load_2min,  // load as a body with a lag of 2 min feels it
  load_8min,
  frequency,
  voltage,       // mean of the legs, else line
  oil_pressure,  // kPa at nominal speed
  oil_temperature,
  coolant_temperature,
  exhaust_temperature,
  battery_voltage,
  water_temperature,
  air_temperature,
};
inline constexpr std::size_t kTracks = 12;

struct Minute {
  double since_running_s = 0.0;        // its middle
  double seconds = 0.0;                // of steady running in it
  std::array<double, kTracks> mean{};  // NaN: no reading

  [[nodiscard]] double operator[](Track track) const {
    return mean[static_cast<std::size_t>(track)];
  }
};

/// The tracks of one block, in the order of Track.
using TrackValues = std::array<double, kTracks>;

/// Volts as tracked: the mean of the legs that are read, else line volts.
double tracked_volts(const Block<double>& block);
bool has_leg_volts(const Block<double>& block);
/// Oil pressure of a block brought to nominal speed, in proportion to speed
/// (a pump's flow goes with it); NaN where the speed is over 10 % off, as is
/// where it is not known.
double oil_at_nominal_speed(const Block<double>& block, const Rating& rating);

/// Memory stays bounded: of a very long run, neighbouring minutes are merged.
class MinuteSeries {
 public:
  void clear();
  /// A block of the run in hand, steady or not.
  void add(const Block<double>& block, double since_running_s,
           const Rating& rating);
  /// The run is over: the minute in hand is closed.
  void finish();

  [[nodiscard]] const std::vector<Minute>& minutes() const { return minutes_; }

 private:
  static constexpr std::size_t kMost = 1024;

  void close();
  void merge_neighbours();

  std::vector<Minute> minutes_;
  double least_seconds_ = 60.0;  // of a closed minute
  TrackValues sum_{};
  TrackValues weight_{};
  double seconds_ = 0.0;
  double middle_ = 0.0;
  double began_ = 0.0;
  double lag_2min_ = kNone;
  double lag_8min_ = kNone;
};

}  // namespace telltale::host::season

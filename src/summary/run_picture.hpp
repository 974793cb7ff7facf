// RunPicture: all that can be drawn of one run.
#pragma once

#include <array>
#include <cstdint>
#include <limits>
#include <vector>

#include "summary/picture.hpp"
#include "summary/picture_scatter.hpp"
#include "telltale/condition/oil_line.hpp"
#include "telltale/profile.hpp"

namespace telltale::host {

/// How the log's own stamps run against the analysis clock.
class ClockMap {
 public:
  /// From `at` on, stamps are `logged - at` ahead. REQUIRES: times rise.
  void set(TimeMs at, TimeMs logged);

  /// The stamp that the log had at that time.
  [[nodiscard]] TimeMs logged(TimeMs at) const;
  /// The earliest time at which the log had that stamp or a later one.
  [[nodiscard]] TimeMs analysis(TimeMs logged) const;
  /// What holds from `from` to `to`.
  [[nodiscard]] ClockMap between(TimeMs from, TimeMs to) const;

  struct Piece {
    TimeMs from = kNoTime;
    std::int64_t ahead_ms = 0;
  };
  [[nodiscard]] const std::vector<Piece>& pieces() const { return pieces_; }

 private:
  std::vector<Piece> pieces_;
};

/// Oil pressure over temperature, and the line this set keeps to.
struct OilPicture {
  PictureScatter cells{0.5, 2.0};  // degC, kPa; at speed
  bool by_coolant = false;         // the oil's own temperature is not logged
  OilLine own;                     // from the profile or the store, if known
  OilLineFit<double> learnt;       // else from this run
  double learnt_at = std::numeric_limits<double>::quiet_NaN();

  /// kPa at that temperature; NaN where the line does not reach.
  [[nodiscard]] double expected(double celsius) const;
};

/// Frequency over load, and the droop found in it.
struct DroopPicture {
  PictureScatter cells{0.5, 0.02};  // %, Hz; at steady speed
  double hz_per_percent = std::numeric_limits<double>::quiet_NaN();
  double hz_at_no_load = std::numeric_limits<double>::quiet_NaN();

  /// Places the line of that slope among the cells: their weighted median.
  void place_line();
};

struct RunPicture {
  TimeMs start = kNoTime;  // analysis clock, as all times here
  TimeMs end = kNoTime;
  Picture overview;  // with a little of the rest before and after
  std::array<Range, kTrackCount> good{};      // readings no check condemned
  std::array<Range, kTrackCount> at_speed{};  // of those, in settled running
  ClockMap clock;
  bool load_rated = false;  // load is of the rating, else of the log's highest
  OilPicture oil;
  DroopPicture droop;
};

}  // namespace telltale::host

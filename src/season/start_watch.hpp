// StartWatch: what the rest before a run and its cranks tell.
#pragma once

#include <deque>

#include "season/run_digest.hpp"
#include "telltale/condition/moment.hpp"

namespace telltale::host::season {

/// Sees every scan of a unit; fills a run's start figures when it has ended.
class StartWatch {
 public:
  void step(const Moment<double>& m);
  /// The run that has just ended; step() has seen its scans.
  void finish(const RunFacts& facts, RunDigest& run);

 private:
  struct Rest {
    TimeMs at;
    double volts;
  };
  static constexpr std::size_t kMostRests = 2048;

  void begin(const Moment<double>& m);
  void rest(const Moment<double>& m);
  void crank(const Moment<double>& m);

  std::deque<Rest> rests_;
  double rest_v_ = kNone;
  double start_degc_ = kNone;
  double last_crank_v_ = kNone;
  double dip_v_ = kNone;  // lowest that a neighbour agrees with
  bool cranking_ = false;
  bool fine_ = false;  // sampled often enough to see a dip
};

}  // namespace telltale::host::season

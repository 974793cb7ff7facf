// RunPast: a run beside the same set's earlier runs at the same condition.
#pragma once

#include <limits>
#include <string>
#include <vector>

#include "telltale/acquire/channel.hpp"
#include "telltale/acquire/unit.hpp"
#include "telltale/base/time.hpp"

namespace telltale::host {

/// One figure. All values are at this run's own condition (its load and
/// temperatures), the earlier runs being brought to it. NaN: not to be had.
struct FigurePast {
  static constexpr double kNone = std::numeric_limits<double>::quiet_NaN();

  std::string figure;  // "hot_oil_pressure"
  std::string title;   // "hot oil pressure"
  Unit unit = Unit::one;
  Channel channel = Channel::none;
  double now = kNone;
  double last = kNone;  // in the run before
  TimeMs last_at = kNoTime;
  int runs = 0;          // earlier ones behind `usual`
  double usual = kNone;  // their median
  double low = kNone;    // where 95 % of further runs would lie
  double high = kNone;
  /// Medians of the runs next before and after the last service; NaN where
  /// there are fewer than three on a side.
  double before_service = kNone;
  double after_service = kNone;
  bool service_told = false;  // they differ by enough to be worth telling
  bool unusual = false;       // outside, and by enough to be worth a look
  bool worse = false;         // that way is the bad one
};

struct RunPast {
  std::string why_not;  // why nothing can be compared; empty: it can
  int runs = 0;         // earlier ones of the set
  TimeMs first = kNoTime;
  TimeMs last = kNoTime;
  std::string service;  // the last job done before this run; empty: none known
  TimeMs service_on = kNoTime;
  bool own_oil_line = false;  // the set's own line judged the oil pressure
  std::vector<FigurePast> figures;
};

}  // namespace telltale::host

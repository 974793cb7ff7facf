// The model of a season report: everything its writers may print, nothing to
// be worked out any more.
#pragma once

#include <cmath>
#include <cstdint>
#include <limits>
#include <optional>
#include <string>
#include <vector>

#include "season/figure_kind.hpp"
#include "season/history.hpp"
#include "support/units.hpp"
#include "telltale/base/time.hpp"
#include "telltale/detect/severity.hpp"
#include "telltale/forecast/time_to_limit.hpp"

namespace telltale::host::season {

/// The condition that a figure is brought to; NaN: does not depend on it.
struct ReferenceCondition {
  double load_pct = kNone;
  double oil_degc = kNone;  // or of the coolant, see FigureFollow::basis
  double coolant_degc = kNone;
  double water_degc = kNone;
  double air_degc = kNone;
  double start_degc = kNone;  // engine before the start
};

/// A value with its 95 % interval.
struct Estimate {
  double value = kNone;
  double low = kNone;
  double high = kNone;
};

/// One run's figure at the reference condition.
struct FigurePoint {
  std::uint32_t run = 0;  // index into the unit's runs
  TimeMs at = kNoTime;
  double hours = 0.0;
  double raw = kNone;    // at the run's own condition
  double value = kNone;  // at the reference condition
};

struct LevelChange {
  std::uint32_t run = 0;  // first run after it
  TimeMs at = kNoTime;
  double hours = 0.0;
  double before = kNone;
  double after = kNone;
  double p = 1.0;  // of a series without change, that one this large shows
};

/// When a figure will be at its limit.
struct Forecast {
  enum class State : std::uint8_t {
    none,     // no trend that could be continued, or no limit that way
    ahead,    // with an interval
    far,      // later than the data can tell of: `low` hours at least
    reached,  // at or beyond it now
  } state = State::none;
  double limit = kNone;
  double hours = kNone;  // running hours from the last run on
  double low = kNone;
  double high = kNone;  // infinite: may never be
};

/// How a set stands among its peers.
struct PeerStanding {
  bool known = false;
  double z = kNone;  // robust, in sigmas of the peers; bad is positive
  double p = 1.0;
  int rank = 0;          // 1: the worst
  int of = 0;            // sets compared
  double peers = kNone;  // their median
  bool stands_out = false;
};

/// One figure of one set.
struct FigureFollow {
  FigureKind kind{};
  Basis basis = Basis::none;
  ReferenceCondition reference;
  bool corrected = true;    // false: what should be taken out was not logged
  int runs = 0;             // behind it
  int other_basis = 0;      // runs left out, read from something else
  std::string why_not;      // why there is no trend; empty: there is one
  Estimate latest;          // level now
  double last_run = kNone;  // of the last run alone
  double worth = kNone;     // a lasting change of this size is worth a look

  std::vector<FigurePoint> points;
  std::vector<LevelChange> changes;
  std::optional<std::uint32_t> bend;  // the trend began at this point
  std::size_t trend_from = 0;         // first point of the trend
  bool has_trend = false;
  double slope_h = kNone;  // per running hour
  double slope_low = kNone;
  double slope_high = kNone;
  double slope_month = kNone;  // per month of the calendar, 30.44 days
  double slope_month_low = kNone;
  double slope_month_high = kNone;
  double p = 1.0;
  double correlation = 0.0;
  bool certain = false;     // also among all figures of all sets
  bool worthwhile = false;  // large enough to matter
  bool for_worse = false;   // the way that is bad
  // The line and its band, for pictures: level(h) +- q sqrt(...)
  LineState<double> line;
  double quantile = 1.96;

  Forecast forecast;
  PeerStanding peers;
};

/// Whether the level is nearer to the one before the change than to the one
/// after it: mended since.
inline bool is_back(const FigureFollow& figure, const LevelChange& change) {
  return std::abs(figure.latest.value - change.before) <=
         0.5 * std::abs(change.after - change.before);
}

/// Something to tell about a set.
struct SeasonFinding {
  enum class Kind : std::uint8_t {
    limit,     // a figure is at or beyond its limit
    trend,     // a figure goes the wrong way
    change,    // a figure has changed its level
    peers,     // a figure stands out among peers
    habit,     // how the set is run
    repeated,  // the same finding in run after run
    service,   // work due
  } kind = Kind::trend;
  Severity severity = Severity::note;
  std::string about;                  // figure slug, check slug or service item
  std::optional<std::size_t> figure;  // index into the set's figures
  std::optional<std::size_t> change;  // index into the figure's changes
  std::string text;                 // one sentence, where it is about no figure
  std::vector<SeasonFinding> also;  // lesser ones about the same figure
  std::vector<std::string> causes;  // in order of likelihood
  std::vector<std::string> next;    // what to check or book
  TimeMs since = kNoTime;
  double within_h = kNone;  // the limit may be reached this soon
  double weight = 0.0;      // size in what is worth a look; for the order
};

struct ServiceStanding {
  std::string item;
  double due_at_h = kNone;  // by hours
  double left_h = kNone;    // negative: overdue
  TimeMs due_on = kNoTime;  // by date
  double left_days = kNone;
  TimeMs expected = kNoTime;  // when the hours are up at the present use
  Severity severity = Severity::healthy;
};

/// How a set is used.
struct Habits {
  int runs = 0;
  double hours = 0.0;  // of running, as logged
  double hours_per_month = kNone;
  double median_run_h = kNone;
  double light_share = kNone;   // % of time at speed
  int short_runs = 0;           // from start to stop under 15 min
  int seen_runs = 0;            // from start to stop
  int starts_with_trouble = 0;  // more than one crank
  int starts_seen = 0;
  int stops_under_load = 0;
  int abrupt_stops = 0;
};

struct UnitSeason {
  std::string name;
  std::string model;
  std::string group;  // peers share it
  Rating rating;
  LogUnit pressure = LogUnit::kPa;
  LogUnit temperature = LogUnit::degC;
  bool metered = false;
  bool zone_known = false;
  double hours = 0.0;  // hour meter or counted, at the end of the last run
  int runs = 0;
  int undated = 0;
  int meter_breaks = 0;          // places where its hour meter does not go on
  TimeMs meter_break = kNoTime;  // first run after the last of them
  TimeMs first = kNoTime;
  TimeMs last = kNoTime;
  Habits habits;
  std::vector<FigureFollow> figures;    // those with any run behind them
  std::vector<SeasonFinding> findings;  // gravest first
  std::vector<ServiceStanding> service;

  [[nodiscard]] Severity verdict() const {
    Severity gravest = Severity::healthy;
    for (const SeasonFinding& f : findings) {
      gravest = worst(gravest, f.severity);
    }
    return gravest;
  }
};

/// One line of "what to book first".
struct Booking {
  std::size_t unit = 0;     // index into units
  std::size_t finding = 0;  // index into its findings
};

struct SeasonReport {
  std::string store;
  std::vector<UnitSeason> units;  // by name
  std::vector<Booking> bookings;  // most pressing first
  TimeMs first = kNoTime;
  TimeMs last = kNoTime;
  int runs = 0;
  double hours = 0.0;  // of running

  [[nodiscard]] Severity verdict() const {
    Severity gravest = Severity::healthy;
    for (const UnitSeason& unit : units) {
      gravest = worst(gravest, unit.verdict());
    }
    return gravest;
  }
};

}  // namespace telltale::host::season

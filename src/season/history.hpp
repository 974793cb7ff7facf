// UnitHistory: a set's runs as read from the store, in order of time.
#pragma once

#include <array>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "season/database.hpp"
#include "season/figure_kind.hpp"
#include "season/store.hpp"
#include "telltale/detect/severity.hpp"

namespace telltale::host::season {

/// What a figure was read from: "oil" or "coolant", "leg" or "line", ...
enum class Basis : std::uint8_t {
  none,
  oil,
  coolant,
  leg,
  line,
  wet,
  dry,
  load,
  battery,
  crank,
};
Basis basis_named(std::string_view name);
std::string_view name_of(Basis basis);

/// One run, as much of it as a season looks at.
struct PastRun {
  std::int64_t id = 0;
  TimeMs start = kNoTime;
  TimeMs end = kNoTime;
  double hours = 0.0;  // running hours of the set when it began
  double seconds = 0.0;
  double hours_start = kNone;  // hour meter
  double hours_end = kNone;
  double start_degc = kNone;
  double water_degc = kNone;
  double air_degc = kNone;
  double load_pct = kNone;
  double first_speed = kNone;
  double at_speed_s = 0.0;
  double light_load_s = kNone;
  int attempts = 0;  // 0: not seen
  bool begins_in_log = false;
  bool ends_in_log = false;
  Severity verdict = Severity::healthy;
};

/// One figure of one run.
struct PastFigure {
  std::uint32_t run = 0;  // index into runs
  Basis basis = Basis::none;
  std::int32_t n = 0;
  double value = kNone;
  double se = kNone;
  double at = kNone;
  double slope = kNone;
  double slope_se = kNone;
};

/// One finding of one run.
struct PastFinding {
  std::uint32_t run = 0;
  std::uint16_t check = 0;
  Severity severity = Severity::note;
};

struct UnitHistory {
  UnitRow unit;
  bool metered = false;     // hours are the hour meter's, else counted from 0
  bool zone_known = false;  // times are in UTC
  std::vector<PastRun> runs;
  std::array<std::vector<PastFigure>, kFigureCount> figures;
  std::vector<PastFinding> findings;
  /// Runs before which the hour meter does not go on as clock and runs say: it
  /// was changed, or the clock is wrong.
  std::vector<std::uint32_t> meter_breaks;
  std::size_t undated = 0;  // runs without a date, not among `runs`

  [[nodiscard]] const std::vector<PastFigure>& of(FigureKind kind) const {
    return figures[static_cast<std::size_t>(kind)];
  }
};

/// Everything of one set, but for the log with that hash. Runs without a date
/// are counted and left out, for nothing says where they belong; where all
/// are, the hour meter orders them.
Result<UnitHistory> load_history(Database& db, const UnitRow& unit,
                                 const std::string& but_sha256 = {});

/// Running hours at the start of each run: the hour meter's, as long as it
/// goes on as clocks and runs say; over a gap in it, and where the meter was
/// changed or is not logged, the seconds of the runs are counted instead.
void count_hours(UnitHistory& history);

}  // namespace telltale::host::season

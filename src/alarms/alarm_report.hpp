// The model of an alarm report: everything any writer may print, nothing to be
// worked out any more.
#pragma once

#include <cstdint>
#include <limits>
#include <optional>
#include <string>
#include <vector>

#include "alarms/alarm_lane.hpp"
#include "alarms/alarm_table.hpp"
#include "alarms/burst_book.hpp"
#include "alarms/cure.hpp"
#include "alarms/event.hpp"
#include "alarms/flood_watch.hpp"
#include "alarms/interval_counts.hpp"
#include "ingest/log.hpp"
#include "ingest/row_tally.hpp"
#include "telltale/detect/severity.hpp"

namespace telltale::host {

inline constexpr double kNotKnown = std::numeric_limits<double>::quiet_NaN();

/// One alarm. Figures that can't be had are NaN.
struct AlarmFigures {
  std::uint32_t alarm = 0;  // index into AlarmReport::names
  std::uint32_t raises = 0;
  std::uint32_t repeats = 0;
  std::uint32_t clears = 0;
  std::uint32_t stray_clears = 0;
  std::uint32_t acknowledgements = 0;
  double mean_acknowledge_s = kNotKnown;
  double share = 0.0;  // of all raises
  double per_day = kNotKnown;
  double per_10min = kNotKnown;
  double standing_s = kNotKnown;
  double standing_share = kNotKnown;  // of the time the journal covers
  double longest_s = kNotKnown;
  double median_s = kNotKnown;  // of the times it stood
  EventPlace longest_from;
  bool stood_before = false;  // when the journal began
  bool stands_at_end = false;
  bool spans_known = true;  // false: (some) raises have no clear
  std::uint32_t stale = 0;  // times it stood for more than 24 h
  std::uint32_t fleeting = 0;
  std::uint32_t screen_hits = 0;     // raises that completed three within 60 s
  std::uint32_t screen_bursts = 0;   // stretches of that
  std::uint32_t chatter_raises = 0;  // raises within 60 s of the one before
  double chatter_index = kNotKnown;
  double chatter_index_60 = kNotKnown;
  bool chatters_by_screen = false;
  bool chatters_by_index = false;
  EventPlace first;
  EventPlace last;
  EventPlace chatter_from;
  BurstBook::Part part;
  std::optional<Cure> cure;  // of an alarm that chatters
  AlarmLane lane;

  [[nodiscard]] bool chatters() const {
    return chatters_by_screen || chatters_by_index;
  }
};

/// How a journal tells of alarms.
enum class JournalShape : std::uint8_t {
  states,      // one row an event: came, went, acknowledged
  on_and_off,  // a column of what came and one of what went
  intervals,   // one row an alarm, with its beginning and end
  messages,    // one row an alarm when it came; clears are not told
  level,       // a log whose column names the alarms that stand
  contacts,    // a log with a column of yes and no for each alarm
  events       // given by a program, not read
};
std::string_view name_of(JournalShape shape);

/// A figure of alarm management beside what the standards call acceptable.
struct Measure {
  std::string id;     // "raises_per_day"
  std::string title;  // for people
  double value = kNotKnown;
  std::string unit;               // "%" for shares, else ""
  double acceptable = kNotKnown;  // very likely so, up to this
  double at_most = kNotKnown;     // manageable up to this
  std::string source;             // with the edition
  std::string meant_for;

  /// Not beyond what is manageable (or acceptable, where that is all).
  [[nodiscard]] bool within() const {
    const double limit = at_most == at_most ? at_most : acceptable;
    return !(value > limit);
  }
};

struct PriorityShare {
  std::string priority;
  std::uint64_t raises = 0;
  std::uint32_t alarms = 0;
};

/// What a person should know first.
struct AlarmFinding {
  std::string check;  // alarm-chatter, alarm-flood, alarm-standing
  Severity severity = Severity::attention;
  std::optional<std::uint32_t> alarm;
  EventPlace from;
  double value = kNotKnown;
  double limit = kNotKnown;
  std::string unit;
  std::string summary;
  std::string next;  // what to do about it
  std::string source;
};

struct AlarmReport {
  LogLayout layout;
  RowTally tally;
  std::vector<std::string> notes;
  JournalShape shape = JournalShape::events;
  bool clears_told = true;

  std::optional<EventPlace> from;  // of the time covered
  std::optional<EventPlace> to;
  double span_s = 0.0;
  std::uint64_t events = 0;
  std::uint64_t raises = 0;
  std::uint64_t messages = 0;  // rows that are no alarms by their class
  std::vector<std::string> units;

  AlarmTable names;
  std::vector<AlarmFigures> alarms;  // most raises first
  std::vector<Measure> measures;
  std::vector<PriorityShare> priorities;  // most raises first
  IntervalCounts counts;
  std::uint64_t flood_count = 0;
  double flood_s = 0.0;
  std::uint32_t flood_peak = 0;
  EventPlace flood_peak_at;
  std::vector<Flood> floods;
  std::uint64_t burst_count = 0;
  std::vector<Burst> bursts;
  std::vector<Follow> follows;
  std::vector<Company> company;
  std::uint32_t standing_at_end = 0;
  std::uint32_t most_stale = 0;
  double mean_standing = 0.0;
  std::vector<AlarmFinding> findings;

  [[nodiscard]] const AlarmName& name(std::uint32_t alarm) const {
    return names[alarm];
  }
  /// The gravest severity of all findings.
  [[nodiscard]] Severity verdict() const;
};

}  // namespace telltale::host

// AlarmAnalysis: events in, the figures of an alarm report out.
#pragma once

#include <cstdint>
#include <string>
#include <unordered_map>
#include <vector>

#include "alarms/alarm_report.hpp"
#include "alarms/alarm_tally.hpp"
#include "alarms/burst_book.hpp"
#include "alarms/event.hpp"
#include "alarms/flood_watch.hpp"
#include "alarms/interval_counts.hpp"
#include "alarms/standing_count.hpp"

namespace telltale::host {

/// Works through any list of events in one pass. Memory grows with the number
/// of distinct alarms, not with that of events.
class AlarmAnalysis {
 public:
  struct Options {
    /// The list has clears. Without, only raises are judged.
    bool clears_told = true;
    /// Sampling interval of a log, in seconds; delays shorter than it can't be
    /// judged. 0: events carry their own times.
    double interval_s = 0.0;
  };

  /// `names` grows as events come; an alarm's name, unit and role must be
  /// there before its first event.
  AlarmAnalysis(const AlarmTable& names, const Options& options);

  /// The list covers this moment though nothing happened. REQUIRES of this and
  /// add(): times do not step back.
  void reach(const EventPlace& place);
  void add(const AlarmEvent& event);

  /// Fills everything of the report that comes from events: names included,
  /// layout, tally, shape and notes on reading not. The analysis is used up.
  void finish(AlarmReport& report);

 private:
  void start(const EventPlace& place);
  AlarmTally& tally_of(std::uint32_t alarm);
  std::uint32_t unit_of(std::uint32_t alarm);
  void follow_standing(std::uint32_t alarm, TimeMs at);
  void count_raise(const AlarmEvent& event);
  [[nodiscard]] AlarmFigures figures_of(std::uint32_t alarm,
                                        AlarmTally& tally) const;
  [[nodiscard]] Cure cure_of(const AlarmFigures& figures,
                             const AlarmTally& tally) const;
  void split_by_priority(AlarmReport& report) const;

  const AlarmTable& names_;
  Options options_;
  std::vector<std::unique_ptr<AlarmTally>> tallies_;
  std::vector<std::uint32_t> unit_of_alarm_;
  std::unordered_map<std::string, std::uint32_t> units_;
  FloodWatch floods_;
  IntervalCounts counts_;
  StandingCount standing_;
  BurstBook bursts_;
  EventPlace from_;
  EventPlace to_;
  std::uint64_t events_ = 0;
  std::uint64_t raises_ = 0;
  std::uint64_t messages_ = 0;
};

}  // namespace telltale::host

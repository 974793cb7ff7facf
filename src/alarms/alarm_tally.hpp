// AlarmTally: the books of one alarm.
#pragma once

#include <cstdint>
#include <memory>

#include "alarms/alarm_lane.hpp"
#include "alarms/duration_histogram.hpp"
#include "alarms/event.hpp"
#include "alarms/trial_set.hpp"
#include "telltale/base/static_vector.hpp"
#include "telltale/condition/raise_screen.hpp"
#include "telltale/condition/run_lengths.hpp"

namespace telltale::host {

/// How an event changed an alarm.
enum class AlarmChange : std::uint8_t {
  none,       // nothing new: told again, or gone already
  came,       // it was not standing
  came_again  // told again, and counted: see AlarmTally
};

/// Everything that is counted of one alarm while its events go by.
///
/// Journals differ in what they tell. Where an alarm is told again while it
/// stands, that is a repetition and no raise; but an alarm whose clear was
/// never told is one that is only ever told when it comes: then each time
/// counts, and how long it stood is not known.
class AlarmTally {
 public:
  /// Stood no longer than this and did not come back within kAlone: fleeting.
  static constexpr double kFleetingS = 10.0;
  static constexpr DurationMs kAlone = seconds(60);
  static constexpr DurationMs kStale = hours(24);

  /// `clears_told`: the journal has clears at all.
  AlarmTally(TimeMs origin, bool clears_told)
      : origin_(origin), clears_told_(clears_told) {}

  AlarmChange raise(const AlarmEvent& event);
  /// Whether it stood, that is whether the clear changed anything.
  bool clear(const AlarmEvent& event);
  void acknowledge(TimeMs at);
  /// It stood already when the journal began.
  void stood(const AlarmEvent& event);
  void finish(TimeMs end);

  [[nodiscard]] bool stands() const { return stands_; }
  /// Time since the raise before the last one; a very long time before.
  [[nodiscard]] DurationMs last_run_length() const { return last_run_; }

  // Counts; complete after finish().
  RunLengths<double> runs;  // of all raises
  RaiseScreen<> screen;
  std::uint32_t repeats = 0;  // told again while it stood
  std::uint32_t clears = 0;
  std::uint32_t stray_clears = 0;  // went without having come
  std::uint32_t acknowledgements = 0;
  double acknowledge_sum_s = 0.0;  // over acknowledgements of raises
  std::uint32_t acknowledged_raises = 0;
  std::uint32_t fleeting = 0;
  std::uint32_t stale = 0;  // times it stood for more than 24 h
  double standing_s = 0.0;  // in all
  double longest_s = 0.0;
  DurationHistogram durations;       // of those that ended
  std::uint32_t chatter_raises = 0;  // raises within 60 s of the last
  EventPlace first;
  EventPlace last;
  EventPlace longest_from;
  EventPlace chatter_from;  // the first stretch of chatter
  bool stood_before = false;
  bool stands_at_end = false;
  bool pulses = false;  // (some) raises have no clear: spans are not known
  AlarmLane lane;
  std::unique_ptr<TrialSet> trials;  // from the third raise on

 private:
  struct Edge {
    TimeMs at;
    bool on = false;
  };

  void count_raise(const AlarmEvent& event);
  void edge(TimeMs at, bool on);
  void stood_until(TimeMs at, bool ended);

  TimeMs origin_;
  EventPlace since_;
  EventPlace before_;  // the raise before the last, and the one before that
  EventPlace before_last_;
  DurationMs last_run_{std::int64_t{1} << 60};
  StaticVector<Edge, 16> early_;  // until the trials begin
  std::uint32_t depth_ = 0;       // of raises with a clear of their own
  bool clears_told_;
  bool stands_ = false;
  bool pulsing_ = false;  // no clear is awaited
  bool ever_cleared_ = false;
  bool maybe_fleeting_ = false;
  bool awaits_acknowledgement_ = false;
};

}  // namespace telltale::host

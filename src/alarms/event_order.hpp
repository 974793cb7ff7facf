// EventOrder: a journal's events put in order of time.
#pragma once

#include <cstdint>
#include <functional>
#include <queue>
#include <string>
#include <vector>

#include "alarms/event.hpp"
#include "alarms/journal_rows.hpp"

namespace telltale::host {

/// How the rows of a journal follow each other, from a first pass over their
/// times.
class OrderSurvey {
 public:
  void see(const JournalRow& row);

  /// The clock was set back now and then: after that time runs on.
  [[nodiscard]] bool clock_steps() const;
  /// How long an event must wait for earlier ones that come later in the file.
  /// Longer than kMostHeld: all of the journal is held and sorted.
  [[nodiscard]] DurationMs hold() const;
  [[nodiscard]] bool sorted_in_memory() const { return hold() > kMostHeld; }
  /// The earliest row; of a journal whose clock was set, its first.
  [[nodiscard]] const EventPlace& first() const {
    return clock_steps() ? first_row_ : earliest_;
  }
  /// For people; empty where the journal is in order.
  [[nodiscard]] std::string note() const;

  static constexpr DurationMs kMostHeld = hours(1);
  static constexpr DurationMs kStep = seconds(60);

 private:
  EventPlace first_row_;
  EventPlace earliest_;
  TimeMs newest_ = kNoTime;
  TimeMs last_ = kNoTime;
  TimeMs before_step_ = kNoTime;
  std::string unit_;
  std::uint64_t rows_ = 0;
  std::uint64_t back_ = 0;   // rows earlier than the one before
  std::uint64_t steps_ = 0;  // by more than kStep
  bool other_unit_ = false;  // a step came with another unit
  DurationMs late_;          // most behind the newest
  DurationMs late_no_step_;  // the same, steps taken for the clock's
  DurationMs step_offset_;
};

/// Holds events until no earlier one can come. Memory: what is held, and the
/// ends of alarms that stand.
class EventOrder {
 public:
  using Sink = std::function<void(const AlarmEvent&)>;
  EventOrder(const OrderSurvey& survey, Sink sink);

  void push(const JournalRow& row);
  void finish();
  /// The last row, or the last event if that is later. REQUIRES: finish() was
  /// called
  [[nodiscard]] const EventPlace& last() const { return last_; }

 private:
  struct Held {
    AlarmEvent event;
    std::uint64_t number = 0;
  };
  struct Later {
    bool operator()(const Held& a, const Held& b) const {
      return a.event.at != b.event.at ? a.event.at > b.event.at
                                      : a.number > b.number;
    }
  };
  void release(TimeMs until);

  Sink sink_;
  DurationMs hold_;
  bool steps_;
  bool hold_all_;
  DurationMs offset_;
  EventPlace last_;
  TimeMs newest_ = kNoTime;
  TimeMs released_ = kNoTime;
  std::uint64_t number_ = 0;
  std::priority_queue<Held, std::vector<Held>, Later> held_;
};

}  // namespace telltale::host

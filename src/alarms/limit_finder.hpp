// LimitFinder: where a channel stood as its alarm came and went.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "alarms/cure.hpp"
#include "telltale/acquire/channel.hpp"

namespace telltale::host {

/// Finds the limit, and where the alarm clears, from readings just before and
/// at each change. Holds at most kMost changes of each kind.
class LimitFinder {
 public:
  static constexpr std::size_t kMost = 2000;

  LimitFinder(Channel channel, bool above) : channel_(channel), above_(above) {}

  /// A row of the log: the channel's reading (NaN: none) and whether the alarm
  /// stands. Rows of one unit, in order of time.
  void push(double reading, bool stands);

  /// Nothing where readings do not tell: fewer than three changes, or readings
  /// that lie the wrong way round.
  [[nodiscard]] std::optional<AlarmLimit> limit() const;

 private:
  struct Change {
    double before;
    double at;
  };
  Channel channel_;
  bool above_;
  double last_ = 0.0;
  bool any_ = false;
  bool stood_ = false;
  std::vector<Change> came_;
  std::vector<Change> went_;
};

}  // namespace telltale::host

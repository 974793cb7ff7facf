// ChannelReplay: an alarm raised again from the channel behind it, with other
// settings.
#pragma once

#include <cstdint>
#include <memory>
#include <vector>

#include "alarms/cure.hpp"
#include "alarms/trial_set.hpp"

namespace telltale::host {

/// Rows of a log through a limit with several deadbands, each with its delays.
class ChannelReplay {
 public:
  /// A raise of the replay within this of one of the log is the same.
  static constexpr DurationMs kSame = seconds(5);

  /// `interval_s`: of the log; shorter delays can't be judged.
  ChannelReplay(const AlarmLimit& limit, double interval_s);

  /// A row: the reading (NaN: none) and whether the alarm stands in the log.
  void push(TimeMs at, double reading, bool stands);
  void finish(TimeMs at);

  /// The replay raises what the log has: at least 80 % of its raises, and no
  /// more than a fifth besides.
  [[nodiscard]] bool faithful() const;
  /// Fills basis, limit and outcomes, and chooses the proposal.
  void fill(Cure& cure) const;

 private:
  struct Band {
    double deadband = 0.0;
    double clears = 0.0;  // turned so that the alarm lies above
    bool on = false;
    std::unique_ptr<TrialSet> trials;
  };

  AlarmLimit limit_;
  double limit_value_;  // turned as well
  std::vector<Band> bands_;
  TimeMs raised_ = kNoTime;    // last raise of the replay
  TimeMs recorded_ = kNoTime;  // last raise of the log that has no match
  bool stood_ = false;
  bool any_ = false;
  std::uint32_t raises_ = 0;  // of the replay as the log's settings are
};

}  // namespace telltale::host

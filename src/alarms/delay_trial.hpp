// DelayTrial: what an alarm would have done with an on-delay and an off-delay.
#pragma once

#include <cstdint>

#include "telltale/base/time.hpp"
#include "telltale/condition/raise_screen.hpp"
#include "telltale/condition/run_lengths.hpp"

namespace telltale::host {

/// On-delay: the condition must hold as long before the alarm is raised.
/// Off-delay: the alarm stands until the condition has been gone as long (OPC
/// UA part 9, ISA-18.2). Where a span is exactly the delay, the alarm is raised
/// and cleared: in doubt a trial never promises too much.
class DelayTrial {
 public:
  DelayTrial(DurationMs on, DurationMs off) : on_(on), off_(off) {}

  /// The condition comes or goes. REQUIRES: times do not step back.
  /// Both return whether an alarm was raised since the last call.
  bool condition_on(TimeMs at);
  bool condition_off(TimeMs at);
  /// Time goes by; whether an alarm was raised.
  bool settle(TimeMs at);
  /// No more will come: what stands has stood until `at`.
  bool finish(TimeMs at);

  [[nodiscard]] bool stands() const { return stands_; }
  /// When it was raised last. REQUIRES: raises() > 0
  [[nodiscard]] TimeMs raised_at() const { return runs_.last(); }
  [[nodiscard]] std::uint32_t raises() const { return runs_.raises(); }
  /// Time it stood, up to the last call.
  [[nodiscard]] double standing_s() const { return standing_s_; }
  [[nodiscard]] double index() const { return runs_.index(); }
  /// Still chatters, by the screening rule or the index.
  [[nodiscard]] bool chatters() const {
    return screen_.hits() > 0 || runs_.chatters();
  }

 private:
  bool rise(TimeMs at);
  void fall(TimeMs at);

  RunLengths<double, 20> runs_;
  RaiseScreen<> screen_;
  DurationMs on_;
  DurationMs off_;
  TimeMs due_ = kNoTime;  // when it rises (not standing) or falls (standing)
  double standing_s_ = 0.0;
  bool stands_ = false;
};

}  // namespace telltale::host

// TrialSet: all delay settings tried on one alarm at once.
#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "alarms/cure.hpp"
#include "alarms/delay_trial.hpp"

namespace telltale::host {

/// Follows the comings and goings of one alarm, or of the condition behind it,
/// and keeps books on what each setting would have cost.
class TrialSet {
 public:
  /// Raises this soon after the last raise or clear are the same occurrence.
  static constexpr DurationMs kSameOccurrence = seconds(60);

  explicit TrialSet(const CureSetting* settings, std::size_t count);

  /// REQUIRES of both: times do not step back.
  void on(TimeMs at);
  void off(TimeMs at);
  /// The journal ends; on() and off() must not be called any more.
  void finish(TimeMs at);

  [[nodiscard]] std::uint32_t occurrences() const { return occurrences_; }
  /// One a setting. REQUIRES: finish() was called
  [[nodiscard]] std::vector<CureOutcome> outcomes() const;

 private:
  struct Trial {
    explicit Trial(const CureSetting& s)
        : setting(s),
          delay(DurationMs{static_cast<std::int64_t>(s.on_delay_s * 1000)},
                DurationMs{static_cast<std::int64_t>(s.off_delay_s * 1000)}) {}
    CureSetting setting;
    DelayTrial delay;
    bool told = false;  // of the occurrence in hand
    std::uint32_t tolds = 0;
    std::uint32_t delayed = 0;
    std::uint32_t missed = 0;
    double longest_missed_s = 0.0;
    double delay_sum_s = 0.0;
    double worst_delay_s = 0.0;
  };

  void note_raise(Trial& trial);
  void end_occurrence();

  std::vector<Trial> trials_;
  std::uint32_t occurrences_ = 0;
  TimeMs occurrence_from_ = kNoTime;
  TimeMs on_since_ = kNoTime;
  TimeMs last_ = kNoTime;      // the last raise or clear
  double longest_on_s_ = 0.0;  // of the occurrence in hand
};

}  // namespace telltale::host

// Cure: settings that may take the chatter out of an alarm, and their price.
#pragma once

#include <array>
#include <cstdint>
#include <limits>
#include <optional>
#include <string>
#include <vector>

#include "support/units.hpp"
#include "telltale/acquire/channel.hpp"
#include "telltale/base/time.hpp"

namespace telltale::host {

/// One choice of settings.
struct CureSetting {
  double on_delay_s = 0.0;
  double off_delay_s = 0.0;
  double deadband = 0.0;  // in the channel's canonical unit; 0: as it is
};

/// What a setting would have done to the alarm of the journal. An occurrence
/// is one time that the alarm had something to say: raises that follow within
/// 60 s of the last raise or clear belong to the same.
struct CureOutcome {
  CureSetting setting;
  std::uint32_t raises = 0;  // left
  bool chatters = false;     // still, by the screening rule or the index
  double index = std::numeric_limits<double>::quiet_NaN();
  std::uint32_t told = 0;         // occurrences that were still told
  std::uint32_t delayed = 0;      // of these, later than before
  std::uint32_t missed = 0;       // occurrences never told
  double longest_missed_s = 0.0;  // how long the longest of them lasted
  double mean_delay_s = 0.0;      // over those told
  double worst_delay_s = 0.0;
  double standing_s = 0.0;
  /// Why it may not be used though it would work; empty where it may.
  std::string barred;
};

/// The settings tried on every alarm. Spread over what alarm handbooks give as
/// starting points (15 s for flow and pressure, 60 s for level and temperature:
/// ISA-18.2-2009, from memory).
inline constexpr std::array<CureSetting, 15> kDelaySettings = {{
    {2, 0, 0},
    {5, 0, 0},
    {10, 0, 0},
    {15, 0, 0},
    {30, 0, 0},
    {60, 0, 0},
    {0, 5, 0},
    {0, 15, 0},
    {0, 30, 0},
    {0, 60, 0},
    {0, 120, 0},
    {0, 300, 0},
    {5, 15, 0},
    {15, 15, 0},
    {60, 60, 0},
}};

/// What the outcomes rest on.
enum class CureBasis : std::uint8_t {
  none,         // nothing was tried; `why` says why
  run_lengths,  // the alarm's own comings and goings
  replay        // the channel behind it
};

/// The channel and limit behind an alarm, where they could be found.
struct AlarmLimit {
  Channel channel = Channel::none;
  bool above = true;    // alarm above the limit; else below
  double limit = 0.0;   // canonical unit
  double clears = 0.0;  // where it clears; equal to limit without a deadband
  std::uint32_t recorded = 0;    // raises in the log
  std::uint32_t reproduced = 0;  // of these, raised again by the replay
};

/// All that is known about curing one alarm.
struct Cure {
  CureBasis basis = CureBasis::none;
  std::string why;
  std::optional<AlarmLimit> limit;
  std::uint32_t occurrences = 0;
  std::uint32_t raises = 0;  // as it is
  double standing_s = 0.0;   // as it is
  std::vector<CureOutcome> outcomes;
  /// The outcome to choose: removes the chatter at the least cost.
  std::optional<std::size_t> proposal;
  /// Least time from the alarm to a shutdown that followed; NaN where none
  /// did. An on-delay must be shorter.
  double time_to_act_s = std::numeric_limits<double>::quiet_NaN();
};

/// Bars what must not be used and picks the proposal. `time_to_act_s` and the
/// outcomes are filled.
void choose_proposal(Cure& cure);

/// The channel's unit that people are shown: `wanted`, or where that is none
/// the canonical one.
LogUnit shown_unit(const AlarmLimit& limit, LogUnit wanted);

/// The deadband in that unit. REQUIRES: `unit` fits the limit's channel
double shown_deadband(const CureSetting& setting, const AlarmLimit& limit,
                      LogUnit unit);

/// "off-delay 30 s", "on-delay 5 s and off-delay 15 s", "deadband 2 °C";
/// `limit` is the channel's whose deadband it is.
std::string words_for(const CureSetting& setting,
                      const std::optional<AlarmLimit>& limit,
                      LogUnit wanted = LogUnit::none);

}  // namespace telltale::host

// LevelAnalysis: the alarm analysis of a log whose rows are read for it.
#pragma once

#include <string>
#include <vector>

#include "alarms/alarm_analysis.hpp"
#include "alarms/alarm_report.hpp"
#include "alarms/alarm_table.hpp"
#include "alarms/level_rows.hpp"
#include "ingest/log.hpp"

namespace telltale::host {

/// Sees every row of a log with alarm columns once. So that somebody who reads
/// the log anyway need not read it again.
class LevelAnalysis {
 public:
  explicit LevelAnalysis(const LogLayout& layout);
  LevelAnalysis(const LevelAnalysis&) = delete;
  LevelAnalysis& operator=(const LevelAnalysis&) = delete;

  /// `units` and `alarms` are the reader's names. REQUIRES: times do not step
  /// back.
  void see(const Row& row, const std::vector<std::string>& units,
           const std::vector<std::string>& alarms);

  /// The report without the cures that a replay of the log would give (see
  /// replay_channels). `rows` has been read to its end.
  AlarmReport finish(const LogReader& rows);

 private:
  LogLayout layout_;
  AlarmTable names_;
  AlarmAnalysis analysis_;
  LevelRows levels_;
};

/// Whether a column of the log names alarms that stand.
bool names_alarms(const LogLayout& layout);

}  // namespace telltale::host

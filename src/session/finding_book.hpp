// FindingBook: one unit's findings as they open, worsen and close, with the
// evidence for each.
#pragma once

#include <cstdint>
#include <vector>

#include "ingest/row.hpp"
#include "report/health_report.hpp"
#include "session/log_trail.hpp"
#include "telltale/detect/finding.hpp"

namespace telltale::host {

/// One finding a check, channel and run, at its highest severity.
class FindingBook {
 public:
  explicit FindingBook(const LogTrail& trail) : trail_(&trail) {}

  /// What the monitor told.
  void take(const Finding<double>& finding);
  /// A row is leaving the trail: findings that stand count it now or never.
  void forget(const TrailRow& row);

  /// The findings of that run (0: outside every run), closed and with
  /// evidence; they leave the book.
  std::vector<FindingReport> collect(std::uint16_t run, TimeMs end);

 private:
  /// Readings of a finding's channel between `since` and `until`.
  struct Window {
    std::uint64_t n = 0;
    double sum = 0.0;
    double low = 0.0;
    double high = 0.0;
    LogPlace low_at;
    LogPlace high_at;
    LogPlace first;
    LogPlace last;

    void add(const Row& row, Channel channel);
  };
  struct Entry {
    Finding<double> finding;
    TimeMs first_since = kNoTime;  // where its mildest severity began
    TimeMs counted_to = kNoTime;   // rows up to here are in the window
    Window window;
    LogPlace from;
    LogPlace to;
    bool open = true;
  };

  /// Counts the row where the finding's check believes it.
  static void count(Entry& entry, const TrailRow& row);
  Entry* find(const Finding<double>& finding);
  void count_until(Entry& entry, TimeMs until) const;
  [[nodiscard]] FindingReport report(Entry& entry) const;

  const LogTrail* trail_;
  std::vector<Entry> entries_;
};

}  // namespace telltale::host

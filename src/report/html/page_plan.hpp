// PagePlan: what of the reports is shown, and how finely, so that the page
// stays light however long and many the logs.
#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <unordered_map>

#include "report/health_report.hpp"

namespace telltale::host {

/// How finely pictures are drawn.
struct Detail {
  std::size_t svg_columns = 100;  // of one line
  std::size_t data_columns = 0;   // behind a live chart; 0: none come alive
  std::size_t cells = 80;         // of one channel against another
};

/// In full: with pictures and tables. Brief: a run in the table of verdicts, a
/// finding in a line. Left out: counted.
enum class Showing : std::uint8_t { left_out, brief, full };

/// The gravest come first, and of equals the latest runs: they are shown in
/// full while there is room. What room is left makes the pictures finer.
class PagePlan {
 public:
  /// REQUIRES: the reports stay where they are.
  explicit PagePlan(std::span<const HealthReport> reports);

  [[nodiscard]] Showing of(const FindingReport& finding) const {
    return showing(&finding);
  }
  [[nodiscard]] Showing of(const RunReport& run) const { return showing(&run); }
  [[nodiscard]] const Detail& detail() const { return detail_; }

 private:
  void choose_findings(std::span<const HealthReport> reports);
  void choose_runs(std::span<const HealthReport> reports);
  void refine();
  [[nodiscard]] Showing showing(const void* what) const {
    const auto found = showing_.find(what);
    return found == showing_.end() ? Showing::left_out : found->second;
  }

  std::unordered_map<const void*, Showing> showing_;
  Detail detail_;
  std::size_t used_ = 0;           // bytes, about
  std::size_t finding_lines_ = 0;  // drawn lines in close-ups
  std::size_t run_lines_ = 0;      // and in runs
  std::size_t scatters_ = 0;
};

}  // namespace telltale::host

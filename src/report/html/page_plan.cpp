#include "report/html/page_plan.hpp"

#include <algorithm>
#include <vector>

#include "summary/run_picture.hpp"

namespace telltale::host {
namespace {

// Bytes that things take, about, as measured on pages of made logs. The tests
// hold the page's size, not these.
constexpr std::size_t kChart = 1'300;    // axes and words of one drawing
constexpr std::size_t kColumn = 13;      // of one line, drawn or as data
constexpr std::size_t kCell = 28;        // of one channel against another
constexpr std::size_t kFinding = 3'000;  // words
constexpr std::size_t kRun = 9'500;      // tables, phases

// Of these, together with script and reading, a page of under 4 MB is made.
constexpr std::size_t kFindingBytes = 1'100'000;
constexpr std::size_t kRunBytes = 2'400'000;
constexpr std::size_t kMostBrief = 1'000;
constexpr std::size_t kMostListed = 60;

constexpr std::size_t kMostSvgColumns = 360;
constexpr std::size_t kMostDataColumns = 1'200;
constexpr std::size_t kFewestDataColumns = 150;  // or zooming shows no more

std::size_t lines_of(const RunReport& run) {
  if (!run.picture || run.picture->overview.empty()) return 0;
  std::size_t n = 0;
  for (std::size_t i = 0; i < kTrackCount; ++i) {
    n += run.picture->overview.has(i) ? 1 : 0;
  }
  return n;
}

}  // namespace

PagePlan::PagePlan(std::span<const HealthReport> reports) {
  choose_findings(reports);
  choose_runs(reports);
  refine();
}

void PagePlan::choose_findings(std::span<const HealthReport> reports) {
  std::vector<const FindingReport*> all;
  for (const HealthReport& report : reports) {
    for (const RunReport& run : report.runs) {
      for (const FindingReport& f : run.findings) all.push_back(&f);
    }
    for (const FindingReport& f : report.findings) all.push_back(&f);
  }
  std::stable_sort(all.begin(), all.end(),
                   [](const FindingReport* a, const FindingReport* b) {
                     return a->finding.severity > b->finding.severity;
                   });
  const std::size_t each =
      kFinding + 2 * (kChart + detail_.svg_columns * kColumn);
  const std::size_t full = std::min(all.size(), kFindingBytes / each);
  for (std::size_t i = 0; i < std::min(all.size(), full + kMostBrief); ++i) {
    showing_[all[i]] = i < full ? Showing::full : Showing::brief;
  }
  finding_lines_ = 2 * full;
  used_ += each * full;
}

void PagePlan::choose_runs(std::span<const HealthReport> reports) {
  std::vector<const RunReport*> all;
  for (const HealthReport& report : reports) {
    for (const RunReport& run : report.runs) all.push_back(&run);
  }
  std::stable_sort(all.begin(), all.end(),
                   [](const RunReport* a, const RunReport* b) {
                     if (a->verdict != b->verdict)
                       return a->verdict > b->verdict;
                     return a->start.logged > b->start.logged;
                   });
  // A table of hundreds of runs that are well hides the few that are not.
  const bool well_are_counted = all.size() > kMostListed;
  std::size_t bytes = 0;
  std::size_t brief = 0;
  bool room = true;
  for (const RunReport* run : all) {
    const std::size_t lines = lines_of(*run);
    const std::size_t cost = kRun +
                             lines * (kChart + detail_.svg_columns * kColumn) +
                             2 * (kChart + detail_.cells * kCell);
    room = room && bytes + cost <= kRunBytes;
    if (room) {
      bytes += cost;
      run_lines_ += lines;
      scatters_ += 2;
      showing_[run] = Showing::full;
    } else if (brief < kMostBrief &&
               (is_finding(run->verdict) || !well_are_counted)) {
      ++brief;
      showing_[run] = Showing::brief;
    }
  }
  used_ += bytes;
}

void PagePlan::refine() {
  const std::size_t all = kFindingBytes + kRunBytes;
  const std::size_t spare = all > used_ ? all - used_ : 0;
  const auto share = [spare](std::size_t percent, std::size_t pieces,
                             std::size_t bytes) {
    return spare * percent / 100 / (std::max<std::size_t>(pieces, 1) * bytes);
  };
  const std::size_t data = share(45, run_lines_, kColumn);
  const bool live = data >= kFewestDataColumns;
  if (live) detail_.data_columns = std::min(data, kMostDataColumns);
  detail_.svg_columns =
      std::min(detail_.svg_columns +
                   share(live ? 45 : 90, run_lines_ + finding_lines_, kColumn),
               kMostSvgColumns);
  detail_.cells += share(10, scatters_, kCell);
}

}  // namespace telltale::host

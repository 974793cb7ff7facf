#include "report/csv_writer.hpp"

#include <cmath>
#include <string>
#include <string_view>

#include "report/phrases.hpp"
#include "support/safe_text.hpp"
#include "telltale/condition/performance_class.hpp"

namespace telltale::host {
namespace {

void append(fmt::memory_buffer& out, std::string_view text) {
  out.append(text.data(), text.data() + text.size());
}

std::string worst_findings(const RunReport& run) {
  std::string out;
  for (const FindingReport& f : run.findings) {
    if (!out.empty()) out += "; ";
    out += fmt::format("{} ({})", f.check->info->slug,
                       name_of(f.finding.severity));
  }
  return out;
}

int count(const RunReport& run, Severity severity) {
  int n = 0;
  for (const FindingReport& f : run.findings) {
    if (f.finding.severity == severity) ++n;
  }
  return n;
}

/// A sheet is one cell a figure: value, class it reaches, how well seen.
void acceptance_cells(const RunReport& run, fmt::memory_buffer& out) {
  append(out, ",");
  if (run.acceptance) append(out, name_of(run.acceptance->held_to));
  for (const std::string_view name : kAcceptanceQuantities) {
    const AcceptanceQuantity* found = nullptr;
    if (run.acceptance) {
      for (const AcceptanceQuantity& q : run.acceptance->quantities) {
        if (q.quantity == name) found = &q;
      }
    }
    if (found == nullptr) {
      append(out, ",,,");
      continue;
    }
    const std::string value = std::isfinite(found->value)
                                  ? fmt::format("{:.6g}", found->value)
                                  : std::string();
    append(out, fmt::format(",{},{},{}", value, found->reached,
                            bound_text(found->bound)));
  }
}

}  // namespace

void write_csv_header(fmt::memory_buffer& out) {
  append(out,
         "file,unit,run,start,end,begins,ends,seconds,attempts,crank_seconds,"
         "verdict,urgent,attention,note,findings");
  for (const ChannelInfo& info : kChannels) {
    append(out, fmt::format(",{}_median,{}_min,{}_max", info.slug, info.slug,
                            info.slug));
  }
  append(out, ",acceptance_class");
  for (const std::string_view name : kAcceptanceQuantities) {
    append(out, fmt::format(",{0},{0}_class,{0}_bound", name));
  }
  append(out, "\r\n");
}

void write_csv_runs(const HealthReport& report, fmt::memory_buffer& out) {
  for (const RunReport& run : report.runs) {
    append(
        out,
        fmt::format(
            "{},{},{},{},{},{},{},{:.3f},{},{},{},{},{},{},{}",
            csv_cell(report.layout.file), csv_cell(run.unit), run.run,
            format_time(run.start.logged, report.layout),
            format_time(run.end.logged, report.layout),
            run.begins_in_log ? "log" : "start",
            run.ends == RunReport::Ends::stop     ? "stop"
            : run.ends == RunReport::Ends::abrupt ? "abrupt"
                                                  : "log",
            run.seconds, run.attempts ? fmt::format("{}", *run.attempts) : "",
            run.crank_seconds ? fmt::format("{:.3f}", *run.crank_seconds) : "",
            name_of(run.verdict), count(run, Severity::urgent),
            count(run, Severity::attention), count(run, Severity::note),
            csv_cell(worst_findings(run))));
    for (std::size_t i = 0; i < kChannelCount; ++i) {
      if (run.channels[i]) {
        const ChannelFigures& f = *run.channels[i];
        append(out,
               fmt::format(",{:.6g},{:.6g},{:.6g}", f.median, f.min, f.max));
      } else {
        append(out, ",,,");
      }
    }
    acceptance_cells(run, out);
    append(out, "\r\n");
  }
}

}  // namespace telltale::host

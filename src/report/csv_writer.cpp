#include "report/csv_writer.hpp"

#include <string>

#include "report/phrases.hpp"
#include "support/safe_text.hpp"

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

}  // namespace

void write_csv_header(fmt::memory_buffer& out) {
  append(out,
         "file,unit,run,start,end,begins,ends,seconds,attempts,crank_seconds,"
         "verdict,urgent,attention,note,findings");
  for (const ChannelInfo& info : kChannels) {
    append(out, fmt::format(",{}_median,{}_min,{}_max", info.slug, info.slug,
                            info.slug));
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
    append(out, "\r\n");
  }
}

}  // namespace telltale::host

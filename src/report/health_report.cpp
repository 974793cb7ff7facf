#include "report/health_report.hpp"

namespace telltale::host {

Severity HealthReport::verdict() const {
  Severity out = Severity::healthy;
  for (const RunReport& run : runs) out = worst(out, run.verdict);
  for (const FindingReport& report : findings) {
    out = worst(out, report.finding.severity);
  }
  return out;
}

}  // namespace telltale::host

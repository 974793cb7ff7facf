// The demo logs under datasets/: what each is made of and what a report on it
// must say, as datasets/logs.toml lists it.
#pragma once

#include <string>
#include <vector>

#include "report/health_report.hpp"
#include "support/result.hpp"
#include "support/threads.hpp"

namespace telltale::tool {

struct DemoLog {
  std::string file;     // below datasets/
  std::string profile;  // below datasets/; empty: examined without
  std::string map;      // below datasets/; empty: none needed
  std::string make;     // options of `telltale simulate`; empty: kept by hand
  std::string about;
  /// For each run, in order: "severity check" of every finding.
  std::vector<std::vector<std::string>> runs;
  std::vector<std::string> log;  // the same for findings outside every run
};

/// What was made or found, in the same form.
struct DemoOutcome {
  std::vector<std::vector<std::string>> runs;
  std::vector<std::string> log;
};

/// The list. An Error names file and key.
host::Result<std::vector<DemoLog>> read_demo_logs(const std::string& datasets);

/// The bytes of the log, and its set's profile.
struct MadeLog {
  std::string bytes;
  std::string profile;
};
host::Result<MadeLog> make_demo_log(const DemoLog& log);

/// Examines the file below `datasets`: all of it, or what of it is expected.
host::Result<host::HealthReport> report_on(
    const DemoLog& log, const std::string& datasets,
    host::Threads threads = host::Threads::more);
host::Result<DemoOutcome> examine_demo_log(const DemoLog& log,
                                           const std::string& datasets);

/// The table of all logs for datasets/README.md.
std::string demo_table(const std::vector<DemoLog>& logs);

}  // namespace telltale::tool

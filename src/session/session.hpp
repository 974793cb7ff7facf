// From a log on disk to the model of its health report.
#pragma once

#include <functional>
#include <optional>
#include <string>

#include "ingest/log.hpp"
#include "profile/profile_file.hpp"
#include "report/health_report.hpp"
#include "support/result.hpp"

namespace telltale::host {

struct SessionOptions {
  ReadOptions read;
  ProfileFile profile;
  /// --unit: the only unit to report, or the name of the set where the log
  /// has no unit column.
  std::string unit;
  /// Told the share of the log done, 0..1, now and then.
  std::function<void(double)> progress;
};

/// Reads the log twice: once to learn what kind of set it is (unless the
/// profile says all of that), once to judge it.
Result<HealthReport> examine(const std::string& path,
                             const SessionOptions& options);

}  // namespace telltale::host

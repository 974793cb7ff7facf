// From a log on disk to the model of its health report.
#pragma once

#include <functional>
#include <optional>
#include <string>

#include "ingest/log.hpp"
#include "profile/profile_file.hpp"
#include "report/health_report.hpp"
#include "session/run_observer.hpp"
#include "summary/picture_store.hpp"
#include "support/result.hpp"
#include "support/threads.hpp"

namespace telltale::host {

struct SessionOptions {
  ReadOptions read;
  ProfileFile profile;
  /// --unit: the only unit to report, or the name of the set where the log
  /// has no unit column.
  std::string unit;
  /// Told the share of the log done, 0..1, now and then.
  std::function<void(double)> progress;
  /// Asked for each unit's observer; it must outlive the examination. May give
  /// nullptr.
  std::function<RunObserver*(const UnitReport&, const Profile&)> observe;
  /// Asked for a unit's own oil-pressure line where the profile has none.
  std::function<OilLine(const std::string& unit)> own_oil_line;
  /// Where pictures of runs and findings are kept; nullptr: none are drawn.
  PictureStore* pictures = nullptr;
  /// Whether reading and figures may have threads beside the judging's. One
  /// is for whoever has the cores busy anyway; the report is the same.
  Threads threads = Threads::more;
  /// Whether the controller's own alarms are analysed besides.
  bool alarms = false;
};

/// Reads the log twice: once to learn what kind of set it is (unless the
/// profile says all of that), once to judge it.
Result<HealthReport> examine(const std::string& path,
                             const SessionOptions& options);

}  // namespace telltale::host

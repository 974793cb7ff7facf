// The one door of the alarm analysis: a journal or a log in, a report out.
#pragma once

#include <functional>
#include <memory>
#include <string>

#include "alarms/alarm_report.hpp"
#include "ingest/byte_store.hpp"
#include "ingest/log.hpp"
#include "support/result.hpp"

namespace telltale::host {

struct AlarmOptions {
  ReadOptions read;
  std::string unit;                      // only this unit; empty: all
  std::function<void(double)> progress;  // share done, 0..1; may be empty
};

/// Reads a journal, or a log with alarm columns, and works out all measures.
/// Errors: not readable, no table, no time, nothing in it that names alarms.
Result<AlarmReport> examine_alarms(const std::string& path,
                                   const AlarmOptions& options);
/// The same of bytes that are open already.
Result<AlarmReport> examine_alarms(std::shared_ptr<const ByteStore> store,
                                   const AlarmOptions& options);

/// Whether a file that can be read as a log is a journal of alarms all the
/// same, and holds no readings to judge. `as_log`: how the log reader
/// understands it.
bool is_journal(const ByteStore& store, const ReadOptions& options,
                const LogLayout& as_log);

}  // namespace telltale::host

// Many logs into one store: read on all cores, written by one.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "season/store.hpp"
#include "session/session.hpp"
#include "support/result.hpp"

namespace telltale::host::season {

struct AddOptions {
  SessionOptions session;  // how logs are read and judged
  unsigned jobs = 0;       // threads that read; 0: one a core
  /// Told, from one thread at a time: files done of all, and what went wrong
  /// with one.
  std::function<void(std::size_t done, std::size_t all)> progress;
  std::function<void(const Error&)> trouble;
};

struct AddSummary {
  std::size_t added = 0;
  std::size_t known = 0;  // were in already
  std::size_t failed = 0;
  std::size_t runs = 0;
  std::size_t runs_known = 0;
  std::size_t runs_replaced = 0;
  std::size_t unnamed = 0;  // logs that say nothing of which set
};

/// Adds logs and digest files. A log that can't be read is told and passed
/// over. What was added stays added whatever happens after: digests go in by
/// small transactions. Memory does not grow with the number of logs. Error:
/// the store failed; what was told as done is in it.
Result<AddSummary> add_logs(Store& store, const std::vector<std::string>& files,
                            const AddOptions& options);

}  // namespace telltale::host::season

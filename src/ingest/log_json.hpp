// The `log` object of the report (contract section 8).
#pragma once

#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <vector>

#include "ingest/log.hpp"
#include "telltale/base/time.hpp"

namespace telltale::host {

/// What a pass over a log's rows has shown.
struct LogExtent {
  RowTally tally;
  std::optional<TimeMs> first;  // Row::logged of the first row and the last
  std::optional<TimeMs> last;
  std::vector<std::string> notes;  // LogReader::notes()
};

/// Reads all of a log, for its tally and extent.
Result<LogExtent> extent_of(const Log& log);

/// Everything in the `log` object but `findings`. Texts hold no control
/// characters; what can't be had is null.
nlohmann::ordered_json log_json(const LogLayout& layout,
                                const LogExtent& extent);

}  // namespace telltale::host

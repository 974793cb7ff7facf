// The health report of a log whose set has a past in a store.
#pragma once

#include <string>

#include "session/session.hpp"

namespace telltale::host::season {

/// Like examine(); each run also gets its `past`, and the set's own line from
/// the store judges the oil pressure. The store is only read. An Error of the
/// store is an Error of the whole.
Result<HealthReport> examine_beside_past(const std::string& path,
                                         const SessionOptions& options,
                                         const std::string& store);

}  // namespace telltale::host::season

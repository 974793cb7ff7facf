// Tells a clock that was set forward from a gap in the log.
#pragma once

#include <span>

#include "ingest/row.hpp"

namespace telltale::host {

/// Whether the log's clock was set forward between two neighbouring rows
/// (contract section 3): the stamps leap, but readings, hour meter and
/// counters go on as if nothing had happened. `before` ends with the row before
/// the leap, `after` begins with the row behind it; rows further off show how
/// much each reading changes from row to row anyway. A set that is at rest on
/// either side is not judged: a logger that slept looks the same.
/// REQUIRES: both not empty
bool is_clock_set_forward(std::span<const Row> before,
                          std::span<const Row> after);

}  // namespace telltale::host

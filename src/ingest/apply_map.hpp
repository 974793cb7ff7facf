// Lays a map over what is known of a log.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "ingest/map_file.hpp"
#include "ingest/time_columns.hpp"
#include "ingest/understand.hpp"

namespace telltale::host {

/// Gives the columns the meaning that the map says. An Error where the map
/// names a column that the log does not have, or a channel whose unit neither
/// map nor log tells.
std::optional<Error> apply_map_columns(const LogMap& map,
                                       const std::string& log,
                                       std::vector<Column>& columns);

/// The same for the readings of a tall table, by their names.
void apply_map_readings(const LogMap& map, std::vector<Column>& readings);

/// The time columns that the map says. Where it has no format, the columns'
/// own cells tell it. REQUIRES: map.time
Result<TimeColumns> time_of_map(const LogMap& map, const std::string& log,
                                const Table& table,
                                const std::vector<std::size_t>& rows,
                                const std::vector<Column>& columns);

}  // namespace telltale::host

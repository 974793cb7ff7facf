// A store in a file: SQLite.
#pragma once

#include "season/database.hpp"

namespace telltale::host::season {

Result<std::unique_ptr<Database>> open_sqlite(const std::string& path,
                                              Access access);

}  // namespace telltale::host::season

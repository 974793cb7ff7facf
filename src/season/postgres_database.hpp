// A store on a server that speaks PostgreSQL's protocol: libpq.
#pragma once

#include "season/database.hpp"

namespace telltale::host::season {

/// `where` is a connection URI. An Error where the program was built without
/// libpq.
Result<std::unique_ptr<Database>> open_postgres(const std::string& where);

}  // namespace telltale::host::season

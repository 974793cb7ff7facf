#include "season/database.hpp"

#include "season/postgres_database.hpp"
#include "season/sqlite_database.hpp"

namespace telltale::host::season {

bool is_server(std::string_view where) {
  return where.starts_with("postgresql://") || where.starts_with("postgres://");
}

Result<std::unique_ptr<Database>> open_database(const std::string& where,
                                                Access access) {
  return is_server(where) ? open_postgres(where) : open_sqlite(where, access);
}

}  // namespace telltale::host::season

// The store's tables, version by version.
#pragma once

#include <optional>

#include "season/database.hpp"

namespace telltale::host::season {

/// The version that this program makes and understands.
inline constexpr int kSchemaVersion = 2;

/// Brings a store to kSchemaVersion, from nothing or from an older version, in
/// one transaction; a store of this version is left alone. Several programs
/// may do so at once. Error: a newer version made the store, or it is none.
std::optional<Error> migrate(Database& db);

/// The version of a store; 0: empty. Error: some other program's database.
Result<int> schema_version(Database& db);

/// For tests: only up to `version`.
std::optional<Error> migrate_to(Database& db, int version);

}  // namespace telltale::host::season

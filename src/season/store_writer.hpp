// StoreWriter: one transaction's worth of digests on their way into a store.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "season/database.hpp"
#include "season/run_digest.hpp"
#include "season/store.hpp"

namespace telltale::host::season {

/// REQUIRES: a transaction is open. Errors leave it to be rolled back.
class StoreWriter {
 public:
  explicit StoreWriter(Database& db) : db_(&db) {}

  Result<AddOutcome> add(const LogDigest& digest);
  /// Writes the rows that are held back to go in together.
  std::optional<Error> flush();

 private:
  std::optional<Error> drop_older(const LogDigest& digest, AddOutcome& outcome);
  Result<std::int64_t> put_log(const LogDigest& digest);
  Result<std::int64_t> put_unit(const UnitDigest& unit);
  std::optional<Error> put_profile(std::int64_t unit_id,
                                   const UnitDigest& unit);
  /// Whether the run is to be kept; runs that it replaces are gone then.
  Result<bool> make_room(const RunDigest& run, std::int64_t unit_id,
                         std::int64_t log_id, AddOutcome& outcome);
  std::optional<Error> put_run(const RunDigest& run, std::int64_t unit_id,
                               std::int64_t log_id);
  template <class T>
  void hold(const char* table, std::int64_t run_id, const std::vector<T>& items,
            bool numbered);
  void hold_findings(std::int64_t log_id, std::optional<std::int64_t> run_id,
                     const std::vector<FindingDigest>& findings);
  RowBatch& batch(const char* table);

  Database* db_;
  std::map<std::string, RowBatch> held_;
  std::map<std::string, std::int64_t> unit_ids_;
};

}  // namespace telltale::host::season

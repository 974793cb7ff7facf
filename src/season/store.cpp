#include "season/store.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <thread>

#include "season/schema.hpp"
#include "season/store_writer.hpp"

namespace telltale::host::season {
namespace {

/// Reads the rows of a query into a list; `read` fills one item from a row.
template <class T, class Read>
Result<std::vector<T>> list_of(Database& db, std::string_view sql,
                               Database::Values values, Read&& read) {
  auto rows = db.query(sql, values);
  if (!rows) return rows.error();
  std::vector<T> out;
  while ((*rows)->next()) {
    out.emplace_back();
    read(**rows, out.back());
  }
  if ((*rows)->trouble()) return *(*rows)->trouble();
  return out;
}

}  // namespace

Result<Store> Store::open(const std::string& where, Access access) {
  auto db = open_database(where, access);
  if (!db) return db.error();
  if (access == Access::write) {
    if (auto error = migrate(**db)) return *error;
  } else {
    const auto version = schema_version(**db);
    if (!version) return version.error();
    if (*version == 0) {
      return Error{"there is no season store in it", (*db)->name(),
                   "telltale season add LOG... --store makes one"};
    }
    // Brings an older store up to date, and refuses a newer one.
    if (auto error = migrate(**db)) return *error;
  }
  return Store(std::move(*db));
}

Result<std::vector<std::string>> Store::known_hashes() {
  const FieldValue version{std::int64_t{kDigestVersion}};
  auto hashes = list_of<std::string>(
      *db_, "SELECT sha256 FROM log WHERE digest_version >= $1", {&version, 1},
      [](const Rows& row, std::string& hash) { hash = row.text(0); });
  if (hashes) std::sort(hashes->begin(), hashes->end());
  return hashes;
}

Result<std::vector<AddOutcome>> Store::add(std::span<const LogDigest> digests) {
  std::optional<Error> error;
  // On a server, another writer may make all of it invalid: once more then.
  for (int attempt = 0; attempt < 12; ++attempt) {
    error = db_->begin();
    if (error) return *error;
    StoreWriter writer(*db_);
    std::vector<AddOutcome> outcomes;
    for (const LogDigest& digest : digests) {
      auto outcome = writer.add(digest);
      if (!outcome) {
        error = outcome.error();
        break;
      }
      outcomes.push_back(*outcome);
    }
    if (!error) error = writer.flush();
    if (!error) error = db_->commit();
    if (!error) return outcomes;
    db_->rollback();
    if (!db_->interfered()) break;
    std::this_thread::sleep_for(std::chrono::milliseconds(20 * (attempt + 1)));
  }
  return *error;
}

Result<std::vector<UnitRow>> Store::units() {
  auto units = list_of<UnitRow>(
      *db_,
      "SELECT unit.id, COUNT(run.id), COALESCE(SUM(run.seconds), 0), "
      "MIN(run.start_ms), MAX(run.end_ms), " +
          column_list<UnitDigest>("unit.") +
          " FROM unit LEFT JOIN run ON run.unit_id = unit.id "
          "GROUP BY unit.id, " +
          column_list<UnitDigest>("unit.") + " ORDER BY unit.name",
      {}, [](const Rows& row, UnitRow& unit) {
        unit.id = row.whole(0);
        unit.runs = row.whole(1);
        unit.seconds = row.number(2);
        if (!row.is_null(3)) unit.first = TimeMs{row.whole(3)};
        if (!row.is_null(4)) unit.last = TimeMs{row.whole(4)};
        read_cells(row, 5, unit.about);
      });
  if (!units) return units;
  for (UnitRow& unit : *units) {
    const FieldValue id{unit.id};
    auto limits = list_of<LimitOverride>(
        *db_,
        "SELECT " + column_list<LimitOverride>() +
            " FROM unit_limit WHERE unit_id = $1 ORDER BY check_name",
        {&id, 1}, [](const Rows& row, LimitOverride& limit) {
          read_cells(row, 0, limit);
        });
    if (!limits) return limits.error();
    unit.about.limits = std::move(*limits);
    auto service = list_of<UnitDigest::Service>(
        *db_,
        "SELECT " + column_list<UnitDigest::Service>() +
            " FROM unit_service WHERE unit_id = $1 ORDER BY name",
        {&id, 1}, [](const Rows& row, UnitDigest::Service& item) {
          read_cells(row, 0, item);
        });
    if (!service) return service.error();
    unit.about.service = std::move(*service);
  }
  return units;
}

Result<std::vector<RunRow>> Store::runs(const std::string& unit) {
  const FieldValue name{unit};
  const std::string where = unit.empty() ? "" : "WHERE unit.name = $1 ";
  return list_of<RunRow>(
      *db_,
      "SELECT run.id, unit.name, log.file, (SELECT COUNT(*) FROM finding "
      "WHERE finding.run_id = run.id), " +
          column_list<RunDigest>("run.") +
          " FROM run JOIN unit ON unit.id = run.unit_id "
          "JOIN log ON log.id = run.log_id " +
          where + "ORDER BY run.start_ms, run.id",
      unit.empty() ? Database::Values{} : Database::Values{&name, 1},
      [](const Rows& row, RunRow& run) {
        run.id = row.whole(0);
        run.unit = row.text(1);
        run.file = row.text(2);
        run.findings = static_cast<int>(row.whole(3));
        read_cells(row, 4, run.about);
      });
}

Result<std::int64_t> Store::log_count() {
  auto rows = db_->query("SELECT COUNT(*) FROM log");
  if (!rows) return rows.error();
  const std::int64_t count = (*rows)->next() ? (*rows)->whole(0) : 0;
  if ((*rows)->trouble()) return *(*rows)->trouble();
  return count;
}

Result<std::int64_t> Store::forget(const ForgetFilter& filter) {
  std::string where;
  std::vector<FieldValue> values;
  const auto narrow = [&](std::string_view condition, FieldValue value) {
    values.push_back(std::move(value));
    where += fmt::format("{}{}", where.empty() ? "" : " AND ",
                         fmt::format(fmt::runtime(condition), values.size()));
  };
  if (!filter.unit.empty()) {
    narrow("unit_id IN (SELECT id FROM unit WHERE name = ${})", filter.unit);
  }
  if (!filter.log.empty()) {
    const bool hash =
        filter.log.size() >= 8 &&
        filter.log.find_first_not_of("0123456789abcdef") == std::string::npos;
    narrow(hash ? "log_id IN (SELECT id FROM log WHERE sha256 LIKE ${})"
                : "log_id IN (SELECT id FROM log WHERE file = ${})",
           hash ? filter.log + "%" : filter.log);
  }
  if (is_set(filter.before)) {
    narrow("start_ms < ${}", filter.before.ms);
  }
  if (where.empty()) {
    return Error{"nothing says what to forget", "",
                 "give --unit, --log or --before"};
  }
  std::optional<Error> error;
  for (int attempt = 0; attempt < 12; ++attempt) {
    error = db_->begin();
    if (error) return *error;
    std::int64_t gone = 0;
    const auto step = [&](const std::string& sql, Database::Values with,
                          bool counts) {
      if (error) return;
      const auto done = db_->run(sql, with);
      if (!done) {
        error = done.error();
      } else if (counts) {
        gone = *done;
      }
    };
    step("DELETE FROM run WHERE " + where, values, true);
    step("DELETE FROM log WHERE id NOT IN (SELECT log_id FROM run)", {}, false);
    step("DELETE FROM unit WHERE id NOT IN (SELECT unit_id FROM run)", {},
         false);
    if (!error) error = db_->commit();
    if (!error) return gone;
    db_->rollback();
    if (!db_->interfered()) break;
    std::this_thread::sleep_for(std::chrono::milliseconds(20 * (attempt + 1)));
  }
  return *error;
}

}  // namespace telltale::host::season

#include "season/schema.hpp"

#include <fmt/format.h>

#include <array>
#include <chrono>
#include <span>
#include <string>
#include <thread>

namespace telltale::host::season {
namespace {

// What a version adds is never changed afterwards: a change is a new version.
// {id} is a key that counts by itself, {by_key} keeps a table in key order.

constexpr std::array kVersion1 = {
    R"(CREATE TABLE meta (key TEXT PRIMARY KEY, value TEXT NOT NULL))",

    R"(CREATE TABLE unit (
  id {id},
  name TEXT NOT NULL UNIQUE,
  model TEXT,
  stated BIGINT NOT NULL,
  pressure_unit TEXT NOT NULL,
  temperature_unit TEXT NOT NULL,
  frequency_hz DOUBLE PRECISION,
  poles BIGINT,
  legs BIGINT,
  power_kw DOUBLE PRECISION,
  voltage_v DOUBLE PRECISION,
  power_factor DOUBLE PRECISION,
  battery_v DOUBLE PRECISION,
  generator TEXT,
  cooling TEXT,
  exhaust TEXT,
  winding_class TEXT,
  class TEXT))",

    R"(CREATE TABLE unit_limit (
  unit_id BIGINT NOT NULL REFERENCES unit (id) ON DELETE CASCADE,
  check_name TEXT NOT NULL,
  note DOUBLE PRECISION,
  attention DOUBLE PRECISION,
  urgent DOUBLE PRECISION,
  delay_s DOUBLE PRECISION,
  PRIMARY KEY (unit_id, check_name)))",

    R"(CREATE TABLE unit_service (
  unit_id BIGINT NOT NULL REFERENCES unit (id) ON DELETE CASCADE,
  name TEXT NOT NULL,
  every_h DOUBLE PRECISION,
  every_months DOUBLE PRECISION,
  done_h DOUBLE PRECISION,
  done_on_ms BIGINT,
  PRIMARY KEY (unit_id, name)))",

    R"(CREATE TABLE log (
  id {id},
  sha256 TEXT NOT NULL UNIQUE,
  digest_version BIGINT NOT NULL,
  program TEXT,
  file TEXT,
  bytes BIGINT NOT NULL,
  row_count BIGINT NOT NULL,
  rejected BIGINT NOT NULL,
  first_ms BIGINT,
  last_ms BIGINT,
  zone_known BIGINT NOT NULL,
  elapsed BIGINT NOT NULL,
  interval_s DOUBLE PRECISION,
  run_count BIGINT NOT NULL,
  added_ms BIGINT NOT NULL))",

    R"(CREATE TABLE run (
  id {id},
  log_id BIGINT NOT NULL REFERENCES log (id) ON DELETE CASCADE,
  unit_id BIGINT NOT NULL REFERENCES unit (id) ON DELETE CASCADE,
  number BIGINT NOT NULL,
  start_ms BIGINT,
  end_ms BIGINT,
  begins_in_log BIGINT NOT NULL,
  ends TEXT NOT NULL,
  seconds DOUBLE PRECISION NOT NULL,
  hours_start DOUBLE PRECISION,
  hours_end DOUBLE PRECISION,
  starts DOUBLE PRECISION,
  attempts BIGINT,
  crank_seconds DOUBLE PRECISION,
  good_crank_seconds DOUBLE PRECISION,
  crank_dip_v DOUBLE PRECISION,
  rest_v DOUBLE PRECISION,
  start_degc DOUBLE PRECISION,
  water_degc DOUBLE PRECISION,
  air_degc DOUBLE PRECISION,
  load_pct DOUBLE PRECISION,
  first_speed DOUBLE PRECISION,
  at_speed_s DOUBLE PRECISION NOT NULL,
  on_load_s DOUBLE PRECISION NOT NULL,
  light_load_s DOUBLE PRECISION,
  energy_kwh DOUBLE PRECISION,
  verdict TEXT NOT NULL))",

    R"(CREATE TABLE phase (
  run_id BIGINT NOT NULL REFERENCES run (id) ON DELETE CASCADE,
  seq BIGINT NOT NULL,
  phase TEXT NOT NULL,
  from_ms BIGINT,
  to_ms BIGINT,
  PRIMARY KEY (run_id, seq)) {by_key})",

    R"(CREATE TABLE channel (
  run_id BIGINT NOT NULL REFERENCES run (id) ON DELETE CASCADE,
  channel TEXT NOT NULL,
  on_load BIGINT NOT NULL,
  samples BIGINT NOT NULL,
  mean DOUBLE PRECISION,
  sd DOUBLE PRECISION,
  min DOUBLE PRECISION,
  p05 DOUBLE PRECISION,
  median DOUBLE PRECISION,
  p95 DOUBLE PRECISION,
  max DOUBLE PRECISION,
  PRIMARY KEY (run_id, channel, on_load)) {by_key})",

    R"(CREATE TABLE load_bin (
  run_id BIGINT NOT NULL REFERENCES run (id) ON DELETE CASCADE,
  from_pct BIGINT NOT NULL,
  seconds DOUBLE PRECISION NOT NULL,
  load_pct DOUBLE PRECISION,
  frequency DOUBLE PRECISION,
  frequency_sd DOUBLE PRECISION,
  voltage DOUBLE PRECISION,
  voltage_sd DOUBLE PRECISION,
  oil_pressure DOUBLE PRECISION,
  oil_temperature DOUBLE PRECISION,
  coolant_temperature DOUBLE PRECISION,
  exhaust_temperature DOUBLE PRECISION,
  winding_temperature DOUBLE PRECISION,
  fuel_rate DOUBLE PRECISION,
  PRIMARY KEY (run_id, from_pct)) {by_key})",

    R"(CREATE TABLE temperature_bin (
  run_id BIGINT NOT NULL REFERENCES run (id) ON DELETE CASCADE,
  by_coolant BIGINT NOT NULL,
  from_degc BIGINT NOT NULL,
  seconds DOUBLE PRECISION NOT NULL,
  degc DOUBLE PRECISION,
  oil_pressure DOUBLE PRECISION,
  oil_pressure_sd DOUBLE PRECISION,
  load_pct DOUBLE PRECISION,
  PRIMARY KEY (run_id, by_coolant, from_degc)) {by_key})",

    R"(CREATE TABLE load_step (
  run_id BIGINT NOT NULL REFERENCES run (id) ON DELETE CASCADE,
  seq BIGINT NOT NULL,
  at_ms BIGINT,
  from_pct DOUBLE PRECISION,
  to_pct DOUBLE PRECISION,
  frequency_dip_pct DOUBLE PRECISION,
  recovery_s DOUBLE PRECISION,
  observable BIGINT NOT NULL,
  PRIMARY KEY (run_id, seq)) {by_key})",

    R"(CREATE TABLE finding (
  log_id BIGINT NOT NULL REFERENCES log (id) ON DELETE CASCADE,
  run_id BIGINT REFERENCES run (id) ON DELETE CASCADE,
  seq BIGINT NOT NULL,
  check_name TEXT NOT NULL,
  severity TEXT NOT NULL,
  channel TEXT,
  value DOUBLE PRECISION,
  limit_value DOUBLE PRECISION,
  unit TEXT,
  from_ms BIGINT,
  to_ms BIGINT,
  caused_by TEXT,
  subject TEXT,
  summary TEXT))",

    R"(CREATE TABLE figure (
  run_id BIGINT NOT NULL REFERENCES run (id) ON DELETE CASCADE,
  figure TEXT NOT NULL,
  basis TEXT,
  value DOUBLE PRECISION,
  se DOUBLE PRECISION,
  at DOUBLE PRECISION,
  slope DOUBLE PRECISION,
  slope_se DOUBLE PRECISION,
  n BIGINT NOT NULL,
  PRIMARY KEY (run_id, figure)) {by_key})",

    R"(CREATE INDEX run_by_unit ON run (unit_id, start_ms))",
    R"(CREATE INDEX run_by_log ON run (log_id))",
    R"(CREATE INDEX finding_by_run ON finding (run_id))",
    R"(CREATE INDEX finding_by_log ON finding (log_id))",
};

// For people with SQL: names instead of keys. Times stay milliseconds since
// 1970, which both databases turn into dates in their own way.
constexpr std::array kVersion2 = {
    R"(CREATE VIEW run_list AS
  SELECT unit.name AS unit, run.start_ms, run.seconds / 3600.0 AS hours,
         run.hours_start, run.load_pct, run.attempts, run.ends, run.verdict,
         log.file, run.id AS run_id
  FROM run JOIN unit ON unit.id = run.unit_id JOIN log ON log.id = run.log_id)",

    R"(CREATE VIEW figure_list AS
  SELECT unit.name AS unit, run.start_ms, run.hours_start, figure.figure,
         figure.value, figure.se, figure.at, figure.n, run.id AS run_id
  FROM figure JOIN run ON run.id = figure.run_id
  JOIN unit ON unit.id = run.unit_id)",

    R"(CREATE VIEW finding_list AS
  SELECT unit.name AS unit, run.start_ms, finding.severity,
         finding.check_name, finding.value, finding.limit_value, finding.unit
         AS value_unit, finding.summary, run.id AS run_id
  FROM finding JOIN run ON run.id = finding.run_id
  JOIN unit ON unit.id = run.unit_id)",
};

std::span<const char* const> statements_of(int version) {
  return version == 1 ? std::span<const char* const>(kVersion1)
                      : std::span<const char* const>(kVersion2);
}

std::string filled(std::string_view sql, const Database& db) {
  std::string out;
  for (std::size_t i = 0; i < sql.size(); ++i) {
    for (const auto& [mark, words] :
         {std::pair<std::string_view, std::string_view>{"{id}", db.own_key()},
          {"{by_key}", db.by_key()}}) {
      if (sql.substr(i, mark.size()) == mark) {
        out += words;
        i += mark.size();
      }
    }
    if (i < sql.size()) out += sql[i];
  }
  return out;
}

std::optional<Error> upgrade(Database& db, int to) {
  const auto from = schema_version(db);
  if (!from) return from.error();
  for (int version = *from + 1; version <= to; ++version) {
    for (const char* sql : statements_of(version)) {
      if (const auto done = db.run(filled(sql, db)); !done) {
        return done.error();
      }
    }
  }
  const FieldValue value{std::to_string(to)};
  const auto done =
      *from == 0 ? db.run("INSERT INTO meta (key, value) VALUES ('schema', $1)",
                          {&value, 1})
                 : db.run("UPDATE meta SET value = $1 WHERE key = 'schema'",
                          {&value, 1});
  if (!done) return done.error();
  return std::nullopt;
}

}  // namespace

Result<int> schema_version(Database& db) {
  const auto has_meta = db.has_table("meta");
  if (!has_meta) return has_meta.error();
  if (!*has_meta) {
    const auto has_run = db.has_table("run");
    if (!has_run) return has_run.error();
    if (*has_run) {
      return Error{"holds other tables", db.name(),
                   "name another file or schema: this one is no season store"};
    }
    return 0;
  }
  auto rows = db.query("SELECT value FROM meta WHERE key = 'schema'");
  if (!rows) return rows.error();
  int version = 0;
  if ((*rows)->next())
    version = std::atoi(std::string((*rows)->text(0)).c_str());
  if ((*rows)->trouble()) return *(*rows)->trouble();
  if (version <= 0) {
    return Error{"is no season store", db.name(), "name another one"};
  }
  return version;
}

std::optional<Error> migrate_to(Database& db, int version) {
  std::optional<Error> error;
  // Two programs may make a new store at once; the later one finds it made.
  for (int attempt = 0; attempt < 8; ++attempt) {
    const auto now = schema_version(db);
    if (!now) return now.error();
    if (*now > kSchemaVersion) {
      return Error{fmt::format("was made by a newer version of this program "
                               "(tables {}, known {})",
                               *now, kSchemaVersion),
                   db.name(), "use that version"};
    }
    if (*now >= version) return std::nullopt;
    error = db.begin();
    if (!error) error = upgrade(db, version);
    if (!error) error = db.commit();
    if (!error) return std::nullopt;
    db.rollback();
    std::this_thread::sleep_for(std::chrono::milliseconds(50 << attempt));
  }
  return error;
}

std::optional<Error> migrate(Database& db) {
  return migrate_to(db, kSchemaVersion);
}

}  // namespace telltale::host::season

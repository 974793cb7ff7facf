#include "season/store_writer.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cmath>

namespace telltale::host::season {
namespace {

// Two runs of one set are the same run where they share at least half of the
// shorter one's time: clocks are set now and then.
constexpr double kSameRun = 0.5;

std::int64_t now_ms() {
  using std::chrono::duration_cast;
  using std::chrono::milliseconds;
  return duration_cast<milliseconds>(
             std::chrono::system_clock::now().time_since_epoch())
      .count();
}

/// "INSERT INTO table (columns) VALUES ($1, ...) RETURNING id"
std::string insert_sql(std::string_view table, std::string_view columns,
                       std::size_t count) {
  std::string marks;
  for (std::size_t i = 1; i <= count; ++i) {
    marks += fmt::format("{}${}", i > 1 ? ", " : "", i);
  }
  return fmt::format("INSERT INTO {} ({}) VALUES ({}) RETURNING id", table,
                     columns, marks);
}

/// The one whole number that a statement answers; nothing where no row comes.
Result<std::optional<std::int64_t>> one_number(
    Database& db, std::string_view sql, const std::vector<FieldValue>& values) {
  auto rows = db.query(sql, values);
  if (!rows) return rows.error();
  std::optional<std::int64_t> found;
  if ((*rows)->next()) found = (*rows)->whole(0);
  // A statement that also changes something is done only at its end.
  while (!(*rows)->trouble() && (*rows)->next()) {
  }
  if ((*rows)->trouble()) return *(*rows)->trouble();
  return found;
}

}  // namespace

Result<AddOutcome> StoreWriter::add(const LogDigest& digest) {
  AddOutcome outcome;
  const auto known =
      one_number(*db_, "SELECT digest_version FROM log WHERE sha256 = $1",
                 {digest.sha256});
  if (!known) return known.error();
  if (*known && **known >= digest.version) {
    outcome.kind = AddOutcome::Kind::known;
    return outcome;
  }
  if (*known) {
    outcome.kind = AddOutcome::Kind::renewed;
    if (auto error = drop_older(digest, outcome)) return *error;
  }
  const auto log_id = put_log(digest);
  if (!log_id) return log_id.error();
  for (const UnitDigest& unit : digest.units) {
    const auto id = put_unit(unit);
    if (!id) return id.error();
  }
  for (const RunDigest& run : digest.runs) {
    if (!unit_ids_.contains(run.unit)) {
      UnitDigest unit;
      unit.name = run.unit;
      if (const auto id = put_unit(unit); !id) return id.error();
    }
    const std::int64_t unit_id = unit_ids_[run.unit];
    const auto keep = make_room(run, unit_id, *log_id, outcome);
    if (!keep) return keep.error();
    if (!*keep) continue;
    if (auto error = put_run(run, unit_id, *log_id)) return *error;
    ++outcome.runs;
  }
  hold_findings(*log_id, std::nullopt, digest.findings);
  return outcome;
}

std::optional<Error> StoreWriter::drop_older(const LogDigest& digest,
                                             AddOutcome&) {
  if (auto error = flush()) return error;
  const FieldValue hash{digest.sha256};
  const auto done = db_->run("DELETE FROM log WHERE sha256 = $1", {&hash, 1});
  if (!done) return done.error();
  return std::nullopt;
}

Result<std::int64_t> StoreWriter::put_log(const LogDigest& digest) {
  std::vector<FieldValue> cells;
  append_cells(digest, cells);
  cells.emplace_back(static_cast<std::int64_t>(digest.runs.size()));
  cells.emplace_back(now_ms());
  const auto id = one_number(
      *db_,
      insert_sql("log", column_list<LogDigest>() + ", run_count, added_ms",
                 cells.size()),
      cells);
  if (!id) return id.error();
  return id->value_or(0);
}

Result<std::int64_t> StoreWriter::put_unit(const UnitDigest& unit) {
  auto found =
      one_number(*db_, "SELECT id FROM unit WHERE name = $1", {unit.name});
  if (!found) return found.error();
  std::int64_t id = 0;
  std::vector<FieldValue> cells;
  append_cells(unit, cells);
  // An unnamed set is a set too; NULL would be none.
  cells[0] = unit.name;
  if (!*found) {
    found = one_number(
        *db_, insert_sql("unit", column_list<UnitDigest>(), cells.size()),
        cells);
    if (!found) return found.error();
    id = found->value_or(0);
  } else {
    id = **found;
    // What a profile states replaces what is there; what was only inferred
    // fills gaps.
    std::string set;
    const std::vector<std::string> names = columns_of<UnitDigest>();
    std::vector<FieldValue> values;
    for (std::size_t i = 1; i < names.size(); ++i) {
      if (names[i] == "stated" && !unit.stated) continue;
      const bool replaces = unit.stated || names[i].ends_with("_unit");
      values.push_back(cells[i]);
      set += fmt::format(
          "{}{} = {}", set.empty() ? "" : ", ", names[i],
          replaces ? fmt::format("COALESCE(${}, {})", values.size(), names[i])
                   : fmt::format("COALESCE({}, ${})", names[i], values.size()));
    }
    values.emplace_back(id);
    const auto done = db_->run(
        fmt::format("UPDATE unit SET {} WHERE id = ${}", set, values.size()),
        values);
    if (!done) return done.error();
  }
  unit_ids_[unit.name] = id;
  if (auto error = put_profile(id, unit)) return *error;
  return id;
}

std::optional<Error> StoreWriter::put_profile(std::int64_t unit_id,
                                              const UnitDigest& unit) {
  const FieldValue id{unit_id};
  const auto replace =
      [&](const char* table, const auto& items,
          std::vector<std::string> columns) -> std::optional<Error> {
    if (items.empty()) return std::nullopt;
    const auto gone = db_->run(
        fmt::format("DELETE FROM {} WHERE unit_id = $1", table), {&id, 1});
    if (!gone) return gone.error();
    RowBatch rows;
    rows.table = table;
    rows.columns = std::move(columns);
    rows.columns.insert(rows.columns.begin(), "unit_id");
    for (const auto& item : items) {
      rows.cells.push_back(id);
      append_cells(item, rows.cells);
    }
    return db_->insert(rows);
  };
  if (auto error =
          replace("unit_limit", unit.limits, columns_of<LimitOverride>())) {
    return error;
  }
  return replace("unit_service", unit.service,
                 columns_of<UnitDigest::Service>());
}

Result<bool> StoreWriter::make_room(const RunDigest& run, std::int64_t unit_id,
                                    std::int64_t log_id, AddOutcome& outcome) {
  if (!is_set(run.start) || !is_set(run.end)) return true;
  std::vector<std::int64_t> poorer;
  {
    const std::vector<FieldValue> values = {unit_id, log_id, run.end.ms,
                                            run.start.ms};
    auto rows = db_->query(
        "SELECT id, start_ms, end_ms, seconds, begins_in_log, ends FROM run "
        "WHERE unit_id = $1 AND log_id <> $2 AND start_ms < $3 "
        "AND end_ms > $4",
        values);
    if (!rows) return rows.error();
    while ((*rows)->next()) {
      const std::int64_t from = (*rows)->whole(1);
      const std::int64_t to = (*rows)->whole(2);
      const double shared = static_cast<double>(std::min(to, run.end.ms) -
                                                std::max(from, run.start.ms));
      const double shorter =
          static_cast<double>(std::min(to - from, run.end.ms - run.start.ms));
      if (shared < kSameRun * shorter) continue;
      const double seconds = (*rows)->number(3);
      // A run that is seen from start to stop beats a piece of it.
      const int whole = ((*rows)->whole(4) == 0 ? 1 : 0) +
                        ((*rows)->text(5) != "log" ? 1 : 0);
      const int new_whole =
          (run.begins_in_log ? 0 : 1) + (run.ends != "log" ? 1 : 0);
      if (whole > new_whole ||
          (whole == new_whole && seconds >= run.seconds - 1.0)) {
        ++outcome.runs_known;
        return false;
      }
      poorer.push_back((*rows)->whole(0));
    }
    if ((*rows)->trouble()) return *(*rows)->trouble();
  }
  if (poorer.empty()) return true;
  if (auto error = flush()) return *error;
  for (const std::int64_t id : poorer) {
    const FieldValue value{id};
    const auto gone = db_->run("DELETE FROM run WHERE id = $1", {&value, 1});
    if (!gone) return gone.error();
    ++outcome.runs_replaced;
  }
  return true;
}

std::optional<Error> StoreWriter::put_run(const RunDigest& run,
                                          std::int64_t unit_id,
                                          std::int64_t log_id) {
  std::vector<FieldValue> cells = {log_id, unit_id};
  append_cells(run, cells);
  const auto id = one_number(
      *db_,
      insert_sql("run", "log_id, unit_id, " + column_list<RunDigest>(),
                 cells.size()),
      cells);
  if (!id) return id.error();
  const std::int64_t run_id = id->value_or(0);
  hold("phase", run_id, run.phases, true);
  hold("channel", run_id, run.channels, false);
  hold("load_bin", run_id, run.load_bins, false);
  hold("temperature_bin", run_id, run.temperature_bins, false);
  hold("load_step", run_id, run.load_steps, true);
  hold("figure", run_id, run.figures, false);
  hold_findings(log_id, run_id, run.findings);
  return std::nullopt;
}

RowBatch& StoreWriter::batch(const char* table) {
  RowBatch& rows = held_[table];
  rows.table = table;
  return rows;
}

template <class T>
void StoreWriter::hold(const char* table, std::int64_t run_id,
                       const std::vector<T>& items, bool numbered) {
  RowBatch& rows = batch(table);
  if (rows.columns.empty()) {
    rows.columns = columns_of<T>();
    if (numbered) rows.columns.insert(rows.columns.begin(), "seq");
    rows.columns.insert(rows.columns.begin(), "run_id");
  }
  std::int64_t seq = 0;
  for (const T& item : items) {
    rows.cells.emplace_back(run_id);
    if (numbered) rows.cells.emplace_back(++seq);
    append_cells(item, rows.cells);
  }
}

void StoreWriter::hold_findings(std::int64_t log_id,
                                std::optional<std::int64_t> run_id,
                                const std::vector<FindingDigest>& findings) {
  RowBatch& rows = batch("finding");
  if (rows.columns.empty()) {
    rows.columns = columns_of<FindingDigest>();
    rows.columns.insert(rows.columns.begin(), {"log_id", "run_id", "seq"});
  }
  std::int64_t seq = 0;
  for (const FindingDigest& finding : findings) {
    rows.cells.emplace_back(log_id);
    rows.cells.push_back(run_id ? FieldValue{*run_id} : FieldValue{});
    rows.cells.emplace_back(++seq);
    append_cells(finding, rows.cells);
  }
}

std::optional<Error> StoreWriter::flush() {
  for (auto& [table, rows] : held_) {
    if (auto error = db_->insert(rows)) return error;
    rows.cells.clear();
  }
  return std::nullopt;
}

}  // namespace telltale::host::season

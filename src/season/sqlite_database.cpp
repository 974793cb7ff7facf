#include "season/sqlite_database.hpp"

#include <fmt/format.h>
#include <sqlite3.h>

#include <filesystem>
#include <limits>
#include <map>

namespace telltale::host::season {
namespace {

// How long a writer waits for another one.
constexpr int kPatience_ms = 120'000;

struct CloseStatement {
  void operator()(sqlite3_stmt* s) const { sqlite3_finalize(s); }
};
using Statement = std::unique_ptr<sqlite3_stmt, CloseStatement>;

std::string_view remedy_for(int code) {
  switch (code & 0xFF) {
    case SQLITE_FULL:
      return "free some space on that disk";
    case SQLITE_READONLY:
    case SQLITE_CANTOPEN:
    case SQLITE_PERM:
      return "check the folder and its permissions";
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
      return "another program holds the store; try again when it is done";
    case SQLITE_NOTADB:
      return "name another file: this one is no season store";
    case SQLITE_CORRUPT:
      return "restore the file from a copy, or add the logs to a new one";
    default:
      return "";
  }
}

class SqliteRows final : public Rows {
 public:
  SqliteRows(Statement statement, sqlite3* db, const std::string& name)
      : statement_(std::move(statement)), db_(db), name_(name) {}

  bool next() override {
    const int code = sqlite3_step(statement_.get());
    if (code == SQLITE_ROW) return true;
    if (code != SQLITE_DONE) {
      trouble_ =
          Error{sqlite3_errmsg(db_), name_, std::string(remedy_for(code))};
    }
    return false;
  }
  [[nodiscard]] const std::optional<Error>& trouble() const override {
    return trouble_;
  }
  [[nodiscard]] bool is_null(int column) const override {
    return sqlite3_column_type(statement_.get(), column) == SQLITE_NULL;
  }
  [[nodiscard]] std::int64_t whole(int column) const override {
    return sqlite3_column_int64(statement_.get(), column);
  }
  [[nodiscard]] double number(int column) const override {
    return is_null(column) ? std::numeric_limits<double>::quiet_NaN()
                           : sqlite3_column_double(statement_.get(), column);
  }
  [[nodiscard]] std::string_view text(int column) const override {
    const auto* bytes = sqlite3_column_text(statement_.get(), column);
    if (bytes == nullptr) return {};
    return {reinterpret_cast<const char*>(bytes),
            static_cast<std::size_t>(
                sqlite3_column_bytes(statement_.get(), column))};
  }

 private:
  Statement statement_;
  sqlite3* db_;
  const std::string& name_;
  std::optional<Error> trouble_;
};

class SqliteDatabase final : public Database {
 public:
  SqliteDatabase(sqlite3* db, std::string name)
      : db_(db), name_(std::move(name)) {}
  ~SqliteDatabase() override {
    inserts_.clear();
    sqlite3_close_v2(db_);
  }

  Result<std::int64_t> run(std::string_view sql, Values values) override {
    Result<Statement> statement = prepare(sql);
    if (!statement) return statement.error();
    if (!bind(statement->get(), values)) return failure();
    int code = SQLITE_ROW;
    while (code == SQLITE_ROW) code = sqlite3_step(statement->get());
    if (code != SQLITE_DONE) return failure();
    return std::int64_t{sqlite3_changes(db_)};
  }
  Result<std::unique_ptr<Rows>> query(std::string_view sql,
                                      Values values) override {
    Result<Statement> statement = prepare(sql);
    if (!statement) return statement.error();
    if (!bind(statement->get(), values)) return failure();
    return std::unique_ptr<Rows>(
        std::make_unique<SqliteRows>(std::move(*statement), db_, name_));
  }
  std::optional<Error> insert(const RowBatch& batch) override {
    const std::size_t width = batch.columns.size();
    if (batch.cells.empty()) return std::nullopt;
    Statement& statement = inserts_[batch.table];
    if (!statement) {
      std::string columns;
      std::string marks;
      for (std::size_t i = 0; i < width; ++i) {
        columns += fmt::format("{}{}", i > 0 ? ", " : "", batch.columns[i]);
        marks += fmt::format("{}${}", i > 0 ? ", " : "", i + 1);
      }
      Result<Statement> made = prepare(fmt::format(
          "INSERT INTO {} ({}) VALUES ({})", batch.table, columns, marks));
      if (!made) return made.error();
      statement = std::move(*made);
    }
    for (std::size_t i = 0; i < batch.cells.size(); i += width) {
      sqlite3_reset(statement.get());
      if (!bind(statement.get(), Values(batch.cells).subspan(i, width)) ||
          sqlite3_step(statement.get()) != SQLITE_DONE) {
        const Error error = failure();
        sqlite3_reset(statement.get());
        return error;
      }
    }
    sqlite3_reset(statement.get());
    return std::nullopt;
  }

  std::optional<Error> begin() override {
    // IMMEDIATE: wait for the other writer now, never fail half-way.
    return plain("BEGIN IMMEDIATE");
  }
  std::optional<Error> commit() override { return plain("COMMIT"); }
  void rollback() override { (void)plain("ROLLBACK"); }
  [[nodiscard]] bool interfered() const override { return false; }

  [[nodiscard]] std::string_view own_key() const override {
    return "INTEGER PRIMARY KEY";
  }
  [[nodiscard]] std::string_view by_key() const override {
    return "WITHOUT ROWID";
  }
  Result<bool> has_table(std::string_view name) override {
    const FieldValue wanted{std::string(name)};
    auto rows =
        query("SELECT 1 FROM sqlite_master WHERE type = 'table' AND name = $1",
              {&wanted, 1});
    if (!rows) return rows.error();
    const bool found = (*rows)->next();
    if ((*rows)->trouble()) return *(*rows)->trouble();
    return found;
  }
  [[nodiscard]] const std::string& name() const override { return name_; }

  /// Rollback journal: one file at rest, nothing beside it to lose or forget
  /// when it is copied. EXTRA: what was committed survives a power cut.
  std::optional<Error> settle() {
    sqlite3_busy_timeout(db_, kPatience_ms);
    sqlite3_extended_result_codes(db_, 1);
    for (const char* sql :
         {"PRAGMA journal_mode = DELETE", "PRAGMA synchronous = EXTRA",
          "PRAGMA foreign_keys = ON", "PRAGMA cache_size = -16384"}) {
      if (auto error = plain(sql)) return error;
    }
    return std::nullopt;
  }

 private:
  [[nodiscard]] Error failure() const {
    const int code = sqlite3_extended_errcode(db_);
    return {sqlite3_errmsg(db_), name_, std::string(remedy_for(code))};
  }
  std::optional<Error> plain(std::string_view sql) {
    const auto done = run(sql, {});
    if (!done) return done.error();
    return std::nullopt;
  }
  Result<Statement> prepare(std::string_view sql) {
    sqlite3_stmt* made = nullptr;
    const int code = sqlite3_prepare_v2(
        db_, sql.data(), static_cast<int>(sql.size()), &made, nullptr);
    Statement statement(made);
    if (code != SQLITE_OK) return failure();
    return statement;
  }
  static bool bind(sqlite3_stmt* statement, Values values) {
    int i = 0;
    for (const FieldValue& v : values) {
      ++i;
      int code = SQLITE_OK;
      if (const auto* whole = std::get_if<std::int64_t>(&v)) {
        code = sqlite3_bind_int64(statement, i, *whole);
      } else if (const auto* number = std::get_if<double>(&v)) {
        code = sqlite3_bind_double(statement, i, *number);
      } else if (const auto* text = std::get_if<std::string>(&v)) {
        code =
            sqlite3_bind_text(statement, i, text->data(),
                              static_cast<int>(text->size()), SQLITE_TRANSIENT);
      } else {
        code = sqlite3_bind_null(statement, i);
      }
      if (code != SQLITE_OK) return false;
    }
    return true;
  }

  sqlite3* db_;
  std::string name_;
  std::map<std::string, Statement> inserts_;
};

}  // namespace

Result<std::unique_ptr<Database>> open_sqlite(const std::string& path,
                                              Access access) {
  std::error_code ignored;
  if (std::filesystem::is_directory(path, ignored)) {
    return Error{"is a folder", path, "name a file for --store"};
  }
  if (access != Access::write && !std::filesystem::exists(path, ignored)) {
    return Error{"there is no such store", path,
                 "telltale season add LOG... --store FILE makes one"};
  }
  // Readers may have to roll back what a crash has left: they ask to write
  // too, and do without where they may not.
  std::unique_ptr<SqliteDatabase> made;
  int code = SQLITE_OK;
  for (const int flags :
       {SQLITE_OPEN_READWRITE |
            (access == Access::write ? SQLITE_OPEN_CREATE : 0),
        SQLITE_OPEN_READONLY}) {
    sqlite3* db = nullptr;
    code = sqlite3_open_v2(path.c_str(), &db, flags | SQLITE_OPEN_NOMUTEX,
                           nullptr);
    made = std::make_unique<SqliteDatabase>(db, path);
    if (code == SQLITE_OK || access != Access::read) break;
  }
  if (code != SQLITE_OK) {
    return Error{sqlite3_errstr(code), path, std::string(remedy_for(code))};
  }
  if (auto error = made->settle()) return *error;
  return std::unique_ptr<Database>(std::move(made));
}

}  // namespace telltale::host::season

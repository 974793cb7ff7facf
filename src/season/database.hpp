// Database: the little that the store asks of a database, whichever it is.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "season/field_value.hpp"
#include "support/result.hpp"

namespace telltale::host::season {

/// The answer to a query, row by row. Columns count from 0.
class Rows {
 public:
  Rows() = default;
  Rows(const Rows&) = delete;
  Rows& operator=(const Rows&) = delete;
  virtual ~Rows() = default;

  /// False at the end, or where reading failed: then trouble() tells.
  virtual bool next() = 0;
  [[nodiscard]] virtual const std::optional<Error>& trouble() const = 0;

  [[nodiscard]] virtual bool is_null(int column) const = 0;
  [[nodiscard]] virtual std::int64_t whole(int column) const = 0;
  /// NaN where it is null.
  [[nodiscard]] virtual double number(int column) const = 0;
  /// Good until the next row.
  [[nodiscard]] virtual std::string_view text(int column) const = 0;
};

/// Several rows for one table: `cells` holds one row after another.
struct RowBatch {
  std::string table;
  std::vector<std::string> columns;
  std::vector<FieldValue> cells;
};

/// One connection, used by one thread at a time. Statements are SQL that both
/// SQLite and PostgreSQL understand; parameters are $1, $2, ... in the order of
/// their first appearance. Nothing throws.
class Database {
 public:
  using Values = std::span<const FieldValue>;

  Database() = default;
  Database(const Database&) = delete;
  Database& operator=(const Database&) = delete;
  virtual ~Database() = default;

  /// A statement without an answer. Its count of changed rows.
  virtual Result<std::int64_t> run(std::string_view sql,
                                   Values values = {}) = 0;
  virtual Result<std::unique_ptr<Rows>> query(std::string_view sql,
                                              Values values = {}) = 0;
  /// Inserts a batch, as fast as this database can.
  virtual std::optional<Error> insert(const RowBatch& batch) = 0;

  /// A transaction that no other writer interferes with; where one does, the
  /// commit (or a statement before it) fails with interfered() true, and
  /// everything has to be done once more.
  virtual std::optional<Error> begin() = 0;
  virtual std::optional<Error> commit() = 0;
  virtual void rollback() = 0;
  [[nodiscard]] virtual bool interfered() const = 0;

  /// Words of the schema that differ: a key that counts by itself, and what
  /// follows a table that is kept in the order of its key.
  [[nodiscard]] virtual std::string_view own_key() const = 0;
  [[nodiscard]] virtual std::string_view by_key() const = 0;
  /// Whether a table exists.
  virtual Result<bool> has_table(std::string_view name) = 0;
  /// The store's name for people; never a password.
  [[nodiscard]] virtual const std::string& name() const = 0;
};

/// How a store is opened.
enum class Access : std::uint8_t {
  read,   // must exist
  write,  // is made where it does not exist
  change  // must exist, will be written
};

/// A file (SQLite), or postgresql://... Errors say what and what to do.
Result<std::unique_ptr<Database>> open_database(const std::string& where,
                                                Access access);

/// Whether that names a server and not a file.
bool is_server(std::string_view where);

}  // namespace telltale::host::season

// Store: the runs of all sets, kept in a database.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "season/database.hpp"
#include "season/run_digest.hpp"

namespace telltale::host::season {

/// What became of a log that was to be added.
struct AddOutcome {
  enum class Kind : std::uint8_t {
    added,
    known,   // the same bytes are in the store: nothing changed
    renewed  // they were, digested by an older version: done anew
  } kind = Kind::added;
  int runs = 0;           // new ones
  int runs_known = 0;     // another log has them as complete, or more so
  int runs_replaced = 0;  // another log had only part of them
};

/// A set, as listed.
struct UnitRow {
  std::int64_t id = 0;
  UnitDigest about;
  std::int64_t runs = 0;
  double seconds = 0.0;
  TimeMs first = kNoTime;  // start of its first run
  TimeMs last = kNoTime;   // end of its last
};

/// A run, as listed.
struct RunRow {
  std::int64_t id = 0;
  std::string unit;
  std::string file;
  RunDigest about;  // without lists
  int findings = 0;
};

/// What to forget. Empty: not by that; all that is given must fit.
struct ForgetFilter {
  std::string unit;
  std::string log;  // file name, or at least 8 digits of the hash
  TimeMs before = kNoTime;
};

class Store {
 public:
  /// Opens a store; for Access::write it is made where there is none, and
  /// brought up to date from an older version.
  static Result<Store> open(const std::string& where, Access access);

  Store(Store&&) noexcept = default;
  Store& operator=(Store&&) noexcept = default;
  ~Store() = default;

  /// Hashes of the logs that are in, digested by this version or a newer one;
  /// sorted.
  Result<std::vector<std::string>> known_hashes();
  /// Adds digests, all of them or none: one transaction. Runs that another log
  /// has too (logs that overlap) are kept once, from the log that shows most.
  Result<std::vector<AddOutcome>> add(std::span<const LogDigest> digests);

  /// Sets with their profiles, by name.
  Result<std::vector<UnitRow>> units();
  /// Runs by time; `unit` empty: of all sets.
  Result<std::vector<RunRow>> runs(const std::string& unit);
  Result<std::int64_t> log_count();
  /// Forgets runs, then logs and sets without any left; how many runs.
  Result<std::int64_t> forget(const ForgetFilter& filter);

  [[nodiscard]] Database& database() { return *db_; }
  [[nodiscard]] const std::string& name() const { return db_->name(); }

 private:
  explicit Store(std::unique_ptr<Database> db) : db_(std::move(db)) {}

  std::unique_ptr<Database> db_;
};

/// Columns and cells of one struct, by its list of fields.
template <class T>
void append_cells(const T& item, std::vector<FieldValue>& cells) {
  each_field([&cells](const char*, auto& x) { cells.push_back(to_value(x)); },
             const_cast<T&>(item));
}
template <class T>
std::vector<std::string> columns_of() {
  std::vector<std::string> names;
  T item;
  each_field([&names](const char* name, auto&) { names.emplace_back(name); },
             item);
  return names;
}
/// The same, parted by commas, each led by `prefix`.
template <class T>
std::string column_list(std::string_view prefix = "") {
  std::string out;
  for (const std::string& name : columns_of<T>()) {
    if (!out.empty()) out += ", ";
    out += std::string(prefix) + name;
  }
  return out;
}
/// Reads the fields of one struct from a row, from column `first` on. Values
/// that make no sense (another program's doing) are left at their default.
template <class T>
int read_cells(const Rows& rows, int first, T& item) {
  int column = first;
  each_field(
      [&rows, &column](const char*, auto& x) {
        using X = std::remove_cvref_t<decltype(x)>;
        FieldValue value;
        if (!rows.is_null(column)) {
          if constexpr (std::is_floating_point_v<X>) {
            value = rows.number(column);
          } else if constexpr (std::is_integral_v<X> ||
                               std::is_same_v<X, TimeMs> ||
                               std::is_same_v<X, std::optional<int>>) {
            value = rows.whole(column);
          } else {
            value = std::string(rows.text(column));
          }
        }
        (void)from_value(value, x);
        ++column;
      },
      item);
  return column;
}

}  // namespace telltale::host::season

// OtherStore: a second store in a file beside one that is open, to compare.
#pragma once

#include <string>

#include "catch.hpp"
#include "season/store.hpp"

namespace telltale::host::season {

class OtherStore {
 public:
  /// Both are stores in files.
  OtherStore(Store& store, const std::string& path) : db_(store.database()) {
    const auto attached = db_.run("ATTACH '" + path + "' AS other");
    if (!attached) FAIL(attached.error().what);
  }

  /// How many rows of `columns` only one of the two holds.
  [[nodiscard]] std::int64_t rows_apart(const std::string& table,
                                        const std::string& columns = "*") {
    return only_in("main", "other", table, columns) +
           only_in("other", "main", table, columns);
  }

 private:
  std::int64_t only_in(const std::string& one, const std::string& two,
                       const std::string& table, const std::string& columns) {
    const auto rows_of = [&](const std::string& store) {
      return "SELECT " + columns + " FROM " + store + "." + table;
    };
    auto rows = db_.query("SELECT COUNT(*) FROM (" + rows_of(one) + " EXCEPT " +
                          rows_of(two) + ")");
    if (!rows) FAIL(rows.error().what);
    REQUIRE((*rows)->next());
    return (*rows)->whole(0);
  }

  Database& db_;
};

}  // namespace telltale::host::season

// A log that is still being written: rows as soon as their lines are there.
#pragma once

#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "ingest/log.hpp"
#include "support/result.hpp"

namespace telltale::host {

/// Pushed bytes in, rows out. Understands the log from its first bytes alone,
/// so that what only later bytes would show (the order of day and month, say)
/// must be in the options or a map. Tables of one reading a row and of column
/// groups can't be read this way: an Error.
class LogStream {
 public:
  /// Enough bytes to understand most logs: a header and a good many rows.
  static constexpr std::size_t kEnoughToSniff = std::size_t{64} << 10;

  /// Understands a log by its beginning. `first_bytes` should end with a whole
  /// line; they count as fed.
  static Result<LogStream> sniff(std::string_view first_bytes,
                                 const std::string& name,
                                 const ReadOptions& options);

  LogStream(LogStream&&) noexcept;
  LogStream& operator=(LogStream&&) noexcept;
  ~LogStream();

  [[nodiscard]] const LogLayout& layout() const;

  /// More bytes, cut anywhere.
  void feed(std::string_view bytes);
  /// No more will come: the last line counts though it has no end.
  void close();

  /// The next row; false: none until more is fed. Rows are not held back to be
  /// sorted: one that comes late is dropped and counted.
  bool next(Row& row);

  [[nodiscard]] const RowTally& tally() const;
  [[nodiscard]] const std::vector<std::string>& unit_names() const;
  [[nodiscard]] const std::vector<std::string>& alarm_names() const;

 private:
  struct Impl;
  explicit LogStream(std::unique_ptr<Impl> impl);
  std::unique_ptr<Impl> impl_;
};

}  // namespace telltale::host

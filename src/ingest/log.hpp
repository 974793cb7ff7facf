// A log, opened and understood: the one door of the reading layer.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "ingest/row.hpp"
#include "ingest/row_tally.hpp"
#include "support/result.hpp"
#include "support/units.hpp"

namespace telltale::host {

class ByteStore;

enum class DateOrder : std::uint8_t { dmy, mdy, ymd };

struct ReadOptions {
  std::string map_path;  // --map; empty: none
  /// --timezone: minutes ahead of UTC of stamps that name no zone.
  std::optional<std::int32_t> utc_offset_min;
  std::optional<DateOrder> date_order;  // --date-order
  std::string rejects_path;             // --rejects; empty: none
};

/// One column of the log, as understood.
struct ColumnUse {
  std::string header;  // as in the log, in UTF-8
  /// Channel slug, or time, date, time_of_day, unit, state, alarm; empty where
  /// the column is not used.
  std::string name;
  Channel channel = Channel::none;
  LogUnit unit = LogUnit::none;  // as logged
  std::string why;  // one short clause that a technician understands
  /// Of an alarm journal: what a row's cell is to its alarm, where `name` does
  /// not say it (beginning, end, duration, priority, text); else empty.
  std::string part = {};
};

struct LogLayout {
  std::string file;
  std::uint64_t bytes = 0;
  char delimiter = ',';
  std::string encoding;
  char decimal = '.';
  std::uint64_t header_line = 0;  // the first line is 1; 0: no header
  std::string time_format;        // for people: "YYYY-MM-DD hh:mm:ss, no zone"
  bool zone_known = false;
  bool elapsed = false;
  double interval_s = 0;  // median; 0 where it can't be had
  std::vector<ColumnUse> columns;
  std::vector<std::string> notes;
};

/// Pull reader over a log's rows, in order of their analysis clock.
class LogReader {
 public:
  LogReader(LogReader&&) noexcept;
  LogReader& operator=(LogReader&&) noexcept;
  ~LogReader();

  /// The next row; false at the end of the log.
  bool next(Row& row);

  /// The share of the log's bytes that is read, 0 to 1, in steps of a block
  /// (256 kB). Cheap: for progress bars.
  [[nodiscard]] double progress() const;

  /// Complete once next() has said false.
  [[nodiscard]] const RowTally& tally() const;

  /// Names of Row::unit and of the bits of Row::alarms; grow while reading. A
  /// log without unit column has one unit named "".
  [[nodiscard]] const std::vector<std::string>& unit_names() const;
  [[nodiscard]] const std::vector<std::string>& alarm_names() const;

  /// What went wrong or was odd on the way, for people; complete at the end.
  [[nodiscard]] std::vector<std::string> notes() const;

 private:
  friend class Log;
  struct Impl;
  explicit LogReader(std::unique_ptr<Impl> impl);
  std::unique_ptr<Impl> impl_;
};

class Log {
 public:
  /// Opens and understands a log; "-" is standard input. Errors say what, where
  /// and what to do: unreadable or binary file, no header, no time column, an
  /// order of day and month that can't be seen, a map that does not fit.
  static Result<Log> open(const std::string& path, const ReadOptions& options);
  /// The same of bytes that are open already: standard input is read but once.
  static Result<Log> open(std::shared_ptr<const ByteStore> store,
                          const ReadOptions& options);

  [[nodiscard]] const LogLayout& layout() const;

  /// A map that says all that is known (see map_file.hpp): for --save-map.
  [[nodiscard]] std::string map() const;

  /// A map to edit for a log without header, which open() refuses.
  static Result<std::string> draft_map(const ByteStore& store);

  /// A reader at the first row. Only the channels `wanted` are read from
  /// cells; few of them make a pass clearly cheaper. So does reading one row
  /// `of` so many, picked by chance, the same ones each time: for whoever wants
  /// an impression. Lines passed over are in no tally. Where rows are not alike
  /// (several sets, readings one below the other) all are read all the same.
  [[nodiscard]] Result<LogReader> rows(ChannelMask wanted = kEveryChannel,
                                       std::uint32_t of = 1) const;

 private:
  friend class LogReader;
  struct Impl;
  explicit Log(std::shared_ptr<const Impl> impl);
  std::shared_ptr<const Impl> impl_;
};

/// Whether any column is a channel: a log of alarms alone has none.
bool has_channels(const LogLayout& layout);

/// A stamp as reports print it (contract section 8): "2026-06-01T08:00:00Z",
/// without Z where the zone is not known, "t+123.0" in a log of elapsed time.
/// Milliseconds are printed where there are any.
std::string format_time(TimeMs logged, const LogLayout& layout);

}  // namespace telltale::host

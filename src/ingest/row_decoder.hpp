// Cells to readings: one record of a log becomes one row.
#pragma once

#include <array>
#include <cstdint>
#include <memory>
#include <string>
#include <vector>

#include "ingest/bus_codes.hpp"
#include "ingest/column_plan.hpp"
#include "ingest/csv_source.hpp"
#include "ingest/number_cell.hpp"
#include "ingest/row.hpp"
#include "ingest/row_clock.hpp"
#include "ingest/row_tally.hpp"
#include "ingest/text_columns.hpp"
#include "ingest/unit_names.hpp"

namespace telltale::host {

inline constexpr ChannelMask kAllChannels = ~ChannelMask{0};

/// Cells of a column that were neither a number nor a known spelling of a
/// missing reading; `first_line` is where the first was.
struct OddCells {
  std::string header;
  std::uint64_t count = 0;
  std::uint64_t first_line = 0;
};

/// Turns records into rows by a plan. Keeps what must be known of earlier rows:
/// the last date, last good readings, alarm texts, the columns in force.
class RowDecoder {
 public:
  explicit RowDecoder(const DecodePlan& plan,
                      ChannelMask wanted = kAllChannels);

  /// Decodes a record. Where the answer is `accepted`, `row` is complete but
  /// for Row::clock, and Row::at is Row::logged; else it is undefined. Cells
  /// of a quoted record may be unquoted in place.
  LineFate decode(Record& record, Row& row);

  [[nodiscard]] const std::vector<std::string>& unit_names() const {
    return units_.names();
  }
  [[nodiscard]] const std::vector<std::string>& alarm_names() const {
    return alarms_.names();
  }

  [[nodiscard]] std::vector<OddCells> odd_cells() const;

  /// Headers met on the way that changed the columns, for people.
  [[nodiscard]] const std::vector<std::string>& notes() const { return notes_; }

  /// Cells of the last record, and of a row.
  [[nodiscard]] std::size_t cells() const { return cells_.size(); }
  [[nodiscard]] std::size_t width() const { return plan_.columns.size(); }

 private:
  /// A column of another role than a channel's.
  struct TextColumn {
    std::uint32_t index;
    Role role;
  };
  struct ChannelColumn {
    std::uint32_t index;
    Channel channel;
    CellScale scale;
    // Of a slow column: empty rows since its last reading, and how many may be
    // before one counts as missing.
    std::size_t empty_rows = 0;
    std::size_t empty_rows_allowed = 0;
    std::uint64_t odd_count = 0;
    std::uint64_t odd_line = 0;
  };
  using Filters = std::array<CodeFilter, kChannelCount>;

  void activate_columns();
  void add_odd_cells(std::vector<OddCells>& to) const;
  [[nodiscard]] LineFate fate_before_cutting(const Record& record) const;
  void cut(const Record& record);
  LineFate fate_of_misfit(const Record& record);
  LineFate read_cells(const Record& record, Row& row);
  void read_channels(Filters& filters, Row& row);
  bool read_unread(ChannelColumn& column, std::uint64_t line, double& logged);
  AlarmMask read_alarm(const ColumnPlan& plan, Cell cell);
  static bool is_between_readings(ChannelColumn& column, Cell cell);
  void doubt_last_cell(Row& row) const;
  bool take_new_header(const Record& record);
  Filters& filters_of(std::size_t unit);

  DecodePlan plan_;
  ChannelMask wanted_;
  std::vector<TextColumn> texts_;
  std::vector<ChannelColumn> channels_;
  std::uint32_t time_index_ = 0;
  std::uint32_t of_day_index_ = 0;
  bool has_time_ = false;
  std::vector<Cell> cells_;
  NumberCells numbers_;  // of the record in hand, where cells were plain
  RowClock clock_;
  std::vector<std::unique_ptr<Filters>> filters_;
  Filters fresh_filters_;
  StateReader states_;
  AlarmReader alarms_;
  UnitNames units_;
  std::vector<OddCells> odd_cells_;
  std::vector<std::string> notes_;
  std::uint64_t switches_ = 0;  // headers that changed the columns
  bool lost_ = false;           // under a header that is not understood
};

}  // namespace telltale::host

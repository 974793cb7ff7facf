// Cells to readings: one record of a log becomes one raw row.
#pragma once

#include <array>
#include <cstdint>
#include <memory>
#include <string>
#include <unordered_map>
#include <vector>

#include "ingest/bus_codes.hpp"
#include "ingest/column_plan.hpp"
#include "ingest/csv_source.hpp"
#include "ingest/row.hpp"
#include "ingest/row_tally.hpp"
#include "ingest/text_columns.hpp"

namespace telltale::host {

inline constexpr ChannelMask kAllChannels = ~ChannelMask{0};

/// Turns records into rows by a plan. Keeps what must be known of earlier rows
/// (the last date, last good readings, standing alarm texts).
class RowDecoder {
 public:
  explicit RowDecoder(const DecodePlan& plan,
                      ChannelMask wanted = kAllChannels);

  /// Decodes a record; `row` is complete but for Row::at, Row::clock where the
  /// answer is `accepted`, and undefined else. Cells of the record may be
  /// unquoted in place only then.
  LineFate decode(Record& record, Row& row);

  [[nodiscard]] const std::vector<std::string>& unit_names() const {
    return unit_names_;
  }
  [[nodiscard]] const std::vector<std::string>& alarm_names() const {
    return alarms_.names();
  }

  /// Cells of column `i` that were no number and no known spelling of a
  /// missing reading, and the line of the first.
  struct OddCells {
    std::uint64_t count = 0;
    std::uint64_t first_line = 0;
  };
  [[nodiscard]] const std::vector<OddCells>& odd_cells() const {
    return odd_cells_;
  }

  /// Cells of the last record.
  [[nodiscard]] std::size_t cells() const { return cells_.size(); }
  [[nodiscard]] std::size_t width() const { return width_; }

  static constexpr std::size_t kMaxUnits = 256;

 private:
  struct ActiveColumn {
    std::uint32_t index;
    Role role;
    Channel channel;
    double scale;  // canonical = cell * scale + offset
    double offset;
    const ColumnPlan* plan;
  };
  using Filters = std::array<CodeFilter, kChannelCount>;

  LineFate fate_before_cutting(const Record& record) const;
  LineFate read_cells(const Record& record, Row& row);
  bool read_time(Row& row);
  void read_number_cell(const ActiveColumn& column, Cell cell,
                        std::uint64_t line, Filters& filters, Row& row);
  bool read_unit(Cell cell, Row& row);
  Filters& filters_of(std::size_t unit);
  [[nodiscard]] double slow_number(const ActiveColumn& column, Cell cell,
                                   bool& odd) const;

  DecodePlan plan_;
  std::vector<ActiveColumn> active_;
  std::size_t width_;
  std::vector<Cell> cells_;
  StampReader time_;
  StampReader clock_;
  Cell time_cell_;
  Cell clock_cell_;
  std::int64_t last_clock_ms_ = -1;
  std::int64_t carried_days_ms_ = 0;
  std::int64_t zone_shift_ms_ = 0;
  std::vector<std::unique_ptr<Filters>> filters_;
  Filters fresh_filters_;
  StateReader states_;
  AlarmReader alarms_;
  std::vector<std::string> unit_names_;
  std::unordered_map<std::string, std::uint16_t> unit_numbers_;
  std::string last_unit_;
  std::uint16_t last_unit_number_ = 0;
  std::vector<OddCells> odd_cells_;
};

}  // namespace telltale::host

// Rows of a tall table: one record a reading, several records a row.
#pragma once

#include <array>
#include <bitset>
#include <map>
#include <memory>
#include <string>
#include <unordered_map>
#include <vector>

#include "ingest/record_reader.hpp"
#include "ingest/row_source.hpp"

namespace telltale::host {

/// Readings of a unit that are no further apart than the plan's sample_ms, and
/// of which no name comes twice, make one row; it has the first one's stamp.
class TallSource final : public RowSource {
 public:
  TallSource(std::shared_ptr<const ByteStore> store, const Survey& survey,
             ChannelMask wanted, LineLedger& ledger);

  bool next(RawRow& raw) override;
  [[nodiscard]] const std::vector<std::string>& unit_names() const override {
    return units_.names();
  }
  [[nodiscard]] const std::vector<std::string>& alarm_names() const override {
    return alarms_.names();
  }
  [[nodiscard]] double progress() const override { return reader_.progress(); }
  [[nodiscard]] std::vector<std::string> notes() const override;

 private:
  static constexpr std::size_t kMostNames = 512;

  // A reading's name and what it means.
  struct Reading {
    const ColumnPlan* plan = nullptr;  // null: not used
    CellScale scale;
    std::uint64_t odd_count = 0;
    std::uint64_t odd_line = 0;
  };
  // A row that is being put together.
  struct Sample {
    Row row;
    std::uint64_t print = 0;
    std::uint32_t lines = 0;
    std::bitset<kMostNames> names;  // that this sample has
    bool open = false;
  };
  using Filters = std::array<CodeFilter, kChannelCount>;

  LineFate take(Record& record);
  bool put(Reading& reading, std::size_t unit, std::uint64_t line,
           Sample& sample);
  void close(Sample& sample);

  std::shared_ptr<const ByteStore> store_;
  DecodePlan plan_;
  ChannelMask wanted_;
  RecordReader reader_;
  RowClock clock_;
  std::vector<Cell> cells_;
  std::size_t time_index_ = 0;
  std::size_t of_day_index_ = 0;
  std::size_t name_index_ = 0;
  std::size_t value_index_ = 0;
  std::optional<std::size_t> unit_text_index_;
  std::optional<std::size_t> set_index_;
  std::unordered_map<std::string, std::size_t> numbers_;
  std::vector<Reading> readings_;
  std::vector<Sample> samples_;  // one a unit
  std::vector<std::unique_ptr<Filters>> filters_;
  Filters fresh_filters_;
  std::vector<RawRow> ready_;
  std::size_t ready_at_ = 0;
  StateReader states_;
  AlarmReader alarms_;
  UnitNames units_;
  std::map<std::string, std::uint64_t> unknown_names_;
  bool done_ = false;
};

}  // namespace telltale::host

// Where rows come from before they are put in order.
#pragma once

#include <cstdint>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "ingest/line_ledger.hpp"
#include "ingest/row.hpp"
#include "ingest/row_decoder.hpp"
#include "ingest/survey.hpp"

namespace telltale::host {

/// A row as it lies in the log.
struct RawRow {
  Row row;
  std::string_view text;    // valid until the next call
  std::uint64_t print = 0;  // fingerprint of all that the row is made of
  std::uint32_t lines = 1;  // how many lines it takes
};

/// What somebody wants of a log; see Log::rows().
struct RowChoice {
  ChannelMask channels = kEveryChannel;
  std::uint32_t one_of = 1;
};

class RowSource {
 public:
  RowSource() = default;
  RowSource(const RowSource&) = delete;
  RowSource& operator=(const RowSource&) = delete;
  virtual ~RowSource() = default;

  /// The next row; false at the end. Lines that give none are booked.
  virtual bool next(RawRow& raw) = 0;

  [[nodiscard]] virtual const std::vector<std::string>& unit_names() const = 0;
  [[nodiscard]] virtual const std::vector<std::string>& alarm_names() const = 0;
  /// The share of the log that is read, 0 to 1.
  [[nodiscard]] virtual double progress() const = 0;
  /// What was odd on the way, for people.
  [[nodiscard]] virtual std::vector<std::string> notes() const = 0;
};

/// The source that fits the survey's plan.
std::unique_ptr<RowSource> make_row_source(
    std::shared_ptr<const ByteStore> store, const Survey& survey,
    RowChoice wanted, LineLedger& ledger);

/// Notes on cells that were no numbers.
std::vector<std::string> notes_of(const std::vector<OddCells>& odd);

}  // namespace telltale::host

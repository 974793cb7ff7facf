// Puts rows in order of time and gives them an analysis clock that never steps
// back (contract section 3).
#pragma once

#include <cstdint>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "ingest/duplicate_set.hpp"
#include "ingest/row.hpp"
#include "ingest/row_tally.hpp"
#include "telltale/base/time.hpp"

namespace telltale::host {

struct TimeOrderOptions {
  /// The log's usual interval from row to row; above 0. The analysis clock
  /// advances by it over a clock step.
  DurationMs interval{1000};
  /// The usual step between different stamps: more than the interval where
  /// several rows share a stamp. Tells a resumed clock from a late row.
  DurationMs stamp_step{1000};
  /// How far a row may come late and still be put in its place: whichever of
  /// the two allows more. A row waits this long before it is handed out; with
  /// both 0 it is handed out at once.
  std::size_t hold_rows = 10;
  DurationMs hold{60'000};
  /// A leap forward of more than this may be a clock that was set.
  DurationMs leap{600'000};
};

/// Rows in, rows out, one lane a unit:
/// - rows that come a little late are sorted in; ones too late are dropped;
/// - a row that was there before, byte for byte, is dropped;
/// - a step back after which time runs on is a clock step;
/// - a leap forward at which nothing else changes is a clock step;
/// - rows that share a stamp are spread evenly up to the next stamp.
/// Row::logged stays as logged; Row::at never falls within a unit.
class TimeOrder {
 public:
  /// A row that will not be handed out, and why.
  struct Dropped {
    LineFate fate;
    std::uint64_t line;
    std::uint32_t lines;
    std::string text;  // of a row that came too late; else empty
  };

  explicit TimeOrder(const TimeOrderOptions& options);
  TimeOrder(const TimeOrder&) = delete;  // lanes point into it
  TimeOrder& operator=(const TimeOrder&) = delete;
  ~TimeOrder();

  /// Takes a row. `text` is what it was made of, `print` its fingerprint,
  /// `lines` the lines it takes in the log.
  void push(const Row& row, std::string_view text, std::uint64_t print,
            std::uint32_t lines);
  /// No more rows will come.
  void finish();
  /// The next row that is ready; false: push more, or all are out.
  bool pop(Row& row);

  /// Rows dropped since the last call.
  std::vector<Dropped> take_dropped();
  [[nodiscard]] bool has_dropped() const { return !dropped_.empty(); }

  /// Rows held in all lanes together never exceed this.
  static constexpr std::size_t kMaxHeld = std::size_t{1} << 14;

 private:
  class Lane;

  Lane& lane_of(std::uint16_t unit);

  TimeOrderOptions options_;
  std::vector<std::unique_ptr<Lane>> lanes_;
  std::vector<Dropped> dropped_;
  DuplicateSet seen_;
  std::size_t current_ = 0;    // the lane that got a row last
  std::size_t most_held_ = 0;  // rows in one lane
  bool finished_ = false;
};

}  // namespace telltale::host

// ReadAhead: a log's rows, read on a thread of their own while the last ones
// are being judged.
#pragma once

#include <atomic>
#include <cstddef>
#include <optional>
#include <string>
#include <thread>
#include <vector>

#include "ingest/log.hpp"
#include "support/block_ring.hpp"
#include "support/prefetch.hpp"
#include "support/threads.hpp"

namespace telltale::host {

/// Hands out what a LogReader reads, row for row, a few blocks behind it. With
/// one thread blocks are read when they are asked for: rows and names are the
/// same either way.
class ReadAhead {
 public:
  ReadAhead(LogReader reader, Threads threads);
  ReadAhead(const ReadAhead&) = delete;
  ReadAhead& operator=(const ReadAhead&) = delete;
  ~ReadAhead();

  /// The next row, good until the next call; nullptr at the end of the log.
  const Row* next() {
    if (at_ == in_hand_->used && !next_block()) return nullptr;
    expect<Use::reading>(in_hand_->rows.data(), at_ + kAhead);
    return &in_hand_->rows[at_++];
  }

  /// As LogReader has them; names of all rows handed out so far, and perhaps
  /// of a few to come.
  [[nodiscard]] const std::vector<std::string>& unit_names() const {
    return unit_names_;
  }
  [[nodiscard]] const std::vector<std::string>& alarm_names() const {
    return alarm_names_;
  }
  [[nodiscard]] double progress() const { return in_hand_->progress; }

  /// The reader at its end, for its tally and notes. REQUIRES: next() has said
  /// nullptr.
  [[nodiscard]] const LogReader& reader() const { return reader_; }

 private:
  static constexpr std::size_t kRows = 1024;
  /// Rows that are asked for in advance: what another core has in its cache
  /// takes as long as it takes to judge a row.
  static constexpr std::size_t kAhead = 4;
  using Names = std::vector<std::string>;

  struct Block {
    std::vector<Row> rows;  // made when first filled
    std::size_t used = 0;   // less than all: the log ends here
    double progress = 0.0;
    std::optional<Names> unit_names;  // where they have grown
    std::optional<Names> alarm_names;
  };

  bool next_block();
  void read(Block& block);
  void read_all();

  LogReader reader_;
  BlockRing<Block> ring_;
  Block own_;  // all there is with one thread
  Block* in_hand_ = &own_;
  std::size_t at_ = 0;
  bool begun_ = false;
  Names unit_names_;
  Names alarm_names_;
  // The reader's own.
  std::size_t units_told_ = 0;
  std::size_t alarms_told_ = 0;

  std::atomic<bool> given_up_ = false;
  std::thread thread_;  // last: it uses all the others
};

}  // namespace telltale::host

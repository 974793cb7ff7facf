// RunChronicle: what is written down of runs beside the judging.
#pragma once

#include <cstddef>
#include <deque>
#include <memory>
#include <mutex>
#include <semaphore>
#include <thread>
#include <vector>

#include "session/judged_scan.hpp"
#include "session/load_test.hpp"
#include "session/run_record.hpp"
#include "session/run_recorder.hpp"
#include "support/block_ring.hpp"
#include "support/threads.hpp"

namespace telltale::host {

/// Takes the scans of a unit's runs as they are judged and keeps their phases,
/// figures and load steps: some hundred scans at a time, on a thread of its own
/// once there is enough of it, if there may be one. What comes out is the same.
class RunChronicle {
 public:
  /// REQUIRES: `profile` outlives the chronicle.
  RunChronicle(const Profile& profile, Threads threads);
  RunChronicle(const RunChronicle&) = delete;
  RunChronicle& operator=(const RunChronicle&) = delete;
  ~RunChronicle();

  struct Entry {
    JudgedScan& scan;
    /// To be filled in where the scan's phase is new or a load step began.
    ScanNote& note;
  };
  /// Room for the next scan of the run in hand; it counts from the next call
  /// of anything here on.
  Entry next();
  /// The run in hand has ended. `end`: where in the log.
  void end_run(const RunFacts& facts, const LogPlace& end);
  /// What is known of the first run that has ended and was not asked for yet.
  /// Waits until it has been worked off. REQUIRES: there is one
  RunRecord take();

 private:
  /// Scans a block: with a thread as many as make waking it a rare thing.
  static constexpr std::size_t kAlone = 256;
  static constexpr std::size_t kShared = 512;
  /// Scans asked for in advance; see ReadAhead.
  static constexpr std::size_t kAhead = 4;

  struct Block {
    void make_room(std::size_t n) {
      scans.resize(n);
      notes.resize(n);
    }

    std::size_t used = 0;
    bool ends_run = false;
    bool over = false;  // the thread may end
    RunFacts facts;     // of the run that ends
    LogPlace end;
    std::vector<JudgedScan> scans;
    std::vector<ScanNote> notes;
  };

  void hand_over();
  void begin_block();
  void work_off(Block& block);
  void work();

  bool may_thread_;
  RunRecorder recorder_;
  LoadTest load_test_;
  std::unique_ptr<Block> own_ = std::make_unique<Block>();  // without a thread
  Block* in_hand_ = own_.get();
  std::unique_ptr<BlockRing<Block>> ring_;  // with one
  std::mutex records_lock_;
  std::deque<RunRecord> records_;
  std::counting_semaphore<> ready_{0};
  std::thread thread_;  // last: it uses all the others
};

}  // namespace telltale::host

// ChannelBook: the summaries of all channels of the run in hand, kept up to
// date beside the judging.
#pragma once

#include <array>
#include <cstddef>
#include <memory>
#include <optional>
#include <semaphore>
#include <thread>

#include "summary/channel_figures.hpp"
#include "summary/channel_summary.hpp"
#include "support/block_ring.hpp"
#include "support/threads.hpp"
#include "telltale/acquire/channel.hpp"
#include "telltale/base/time.hpp"

namespace telltale::host {

/// Takes scans as they are judged and adds them up some hundred at a time,
/// channel by channel: each channel's table stays at hand meanwhile. That is
/// done on a thread of its own once there is enough of it, if there may be one;
/// the figures are the same.
class ChannelBook {
 public:
  using Values = std::array<double, kChannelCount>;
  using Figures = std::array<std::optional<ChannelFigures>, kChannelCount>;

  explicit ChannelBook(Threads threads)
      : may_thread_(threads == Threads::more) {}
  ChannelBook(const ChannelBook&) = delete;
  ChannelBook& operator=(const ChannelBook&) = delete;
  ~ChannelBook();

  /// Readings that count; see ChannelSummary::add(). REQUIRES: times rise.
  void add(TimeMs at, ChannelMask good, const Values& values);
  /// Readings that do not count; see ChannelSummary::touch().
  void touch(TimeMs at, ChannelMask good);
  /// The figures of every channel that had readings; the book is empty then.
  Figures finish();

 private:
  static constexpr std::size_t kScans = 256;

  struct Block {
    std::size_t used = 0;
    bool last = false;  // of the run
    bool over = false;  // the thread may end
    std::array<TimeMs, kScans> at;
    std::array<ChannelMask, kScans> good;
    std::array<bool, kScans> counts;
    // A little longer than they need be: of columns that lie a power of two
    // apart a cache holds few at a time.
    std::array<std::array<double, kScans + 8>, kChannelCount> values;
  };

  Block& next_scan(TimeMs at, ChannelMask good, bool counts);
  void hand_over();
  void work_off(const Block& block);
  void work();

  bool may_thread_;
  std::unique_ptr<Block> own_ = std::make_unique<Block>();  // without a thread
  Block* in_hand_ = own_.get();
  std::array<std::unique_ptr<ChannelSummary>, kChannelCount> summaries_;
  std::unique_ptr<BlockRing<Block>> ring_;  // with one
  std::binary_semaphore worked_off_{0};
  std::thread thread_;  // last: it uses all the others
};

}  // namespace telltale::host

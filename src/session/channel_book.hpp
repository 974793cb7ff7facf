// ChannelBook: the summaries of all channels of the run in hand.
#pragma once

#include <array>
#include <cstddef>
#include <memory>
#include <optional>

#include "session/judged_scan.hpp"
#include "summary/channel_figures.hpp"
#include "summary/channel_summary.hpp"
#include "telltale/acquire/channel.hpp"
#include "telltale/base/time.hpp"

namespace telltale::host {

/// Takes scans and adds them up some hundred at a time, channel by channel:
/// each channel's table stays at hand meanwhile.
class ChannelBook {
 public:
  /// A scan whose readings count; see ChannelSummary::add(). REQUIRES: times
  /// rise.
  void add(const JudgedScan& scan);
  /// Readings that do not count; see ChannelSummary::touch().
  void touch(TimeMs at, ChannelMask good);
  /// The figures of every channel that had readings; the book is empty then.
  FiguresByChannel finish();

 private:
  static constexpr std::size_t kScans = 256;

  struct Block {
    std::size_t used = 0;
    std::array<TimeMs, kScans> at;
    std::array<ChannelMask, kScans> good;
    std::array<bool, kScans> counts;
    // A little longer than they need be: of columns that lie a power of two
    // apart a cache holds few at a time.
    std::array<std::array<double, kScans + 8>, kChannelCount> values;
  };

  /// Makes room for a scan; its place in the block.
  std::size_t next_scan(TimeMs at, ChannelMask good, bool counts);
  void work_off();
  ChannelSummary& summary_of(std::size_t channel);

  std::unique_ptr<Block> block_ = std::make_unique<Block>();
  std::array<std::unique_ptr<ChannelSummary>, kChannelCount> summaries_;
};

}  // namespace telltale::host

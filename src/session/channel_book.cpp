#include "session/channel_book.hpp"

#include <span>

#include "telltale/base/bits.hpp"

namespace telltale::host {
namespace {

/// The step between the times if it is always the same, else 0.
DurationMs even_step(std::span<const TimeMs> at) {
  if (at.size() < 2) return DurationMs{0};
  const DurationMs step = at[1] - at[0];
  for (std::size_t k = 2; k < at.size(); ++k) {
    if (at[k] - at[k - 1] != step) return DurationMs{0};
  }
  return step;
}

}  // namespace

void ChannelBook::add(const JudgedScan& scan) {
  const std::size_t k = next_scan(scan.at, scan.good, true);
  const double* reading = scan.readings.data();
  for_each_bit(scan.good,
               [&](std::size_t i) { block_->values[i][k] = *reading++; });
}

void ChannelBook::touch(TimeMs at, ChannelMask good) {
  (void)next_scan(at, good, false);
}

std::size_t ChannelBook::next_scan(TimeMs at, ChannelMask good, bool counts) {
  if (block_->used == kScans) work_off();
  const std::size_t k = block_->used++;
  block_->at[k] = at;
  block_->good[k] = good;
  block_->counts[k] = counts;
  return k;
}

ChannelSummary& ChannelBook::summary_of(std::size_t channel) {
  auto& summary = summaries_[channel];
  if (!summary) summary = std::make_unique<ChannelSummary>();
  return *summary;
}

void ChannelBook::work_off() {
  Block& block = *block_;
  ChannelMask any = 0;
  ChannelMask all = kEveryChannel;  // good in every scan, and every scan counts
  for (std::size_t k = 0; k < block.used; ++k) {
    any |= block.good[k];
    all &= block.counts[k] ? block.good[k] : 0U;
  }
  const std::span at = std::span(block.at).first(block.used);
  const DurationMs even = even_step(at);
  for_each_bit(any, [&](std::size_t i) {
    if ((all >> i & 1U) != 0) {
      summary_of(i).add(at, std::span(block.values[i]).first(block.used), even);
      return;
    }
    for (std::size_t k = 0; k < block.used; ++k) {
      if ((block.good[k] >> i & 1U) == 0) continue;
      if (block.counts[k]) {
        summary_of(i).add(block.at[k], block.values[i][k]);
      } else if (summaries_[i]) {
        summaries_[i]->touch(block.at[k]);
      }
    }
  });
  block.used = 0;
}

FiguresByChannel ChannelBook::finish() {
  work_off();
  FiguresByChannel::All out;
  for (std::size_t i = 0; i < kChannelCount; ++i) {
    if (summaries_[i] && !summaries_[i]->empty()) {
      out[i] = summaries_[i]->finish();
    }
    summaries_[i].reset();
  }
  return FiguresByChannel(out);
}

}  // namespace telltale::host

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

ChannelBook::~ChannelBook() {
  if (!thread_.joinable()) return;
  in_hand_->used = 0;
  in_hand_->over = true;
  ring_->give();
  thread_.join();
}

void ChannelBook::add(TimeMs at, ChannelMask good, const Values& values) {
  Block& block = next_scan(at, good, true);
  const std::size_t k = block.used - 1;
  for_each_bit(good, [&](std::size_t i) { block.values[i][k] = values[i]; });
}

void ChannelBook::touch(TimeMs at, ChannelMask good) {
  (void)next_scan(at, good, false);
}

ChannelBook::Block& ChannelBook::next_scan(TimeMs at, ChannelMask good,
                                           bool counts) {
  if (in_hand_->used == kScans) hand_over();
  Block& block = *in_hand_;
  const std::size_t k = block.used++;
  block.at[k] = at;
  block.good[k] = good;
  block.counts[k] = counts;
  return block;
}

// A first full block says that there is enough for a thread.
void ChannelBook::hand_over() {
  if (thread_.joinable()) {
    ring_->give();
    in_hand_ = &ring_->to_fill();
    return;
  }
  work_off(*in_hand_);
  in_hand_->used = 0;
  if (!may_thread_) return;
  ring_ = std::make_unique<BlockRing<Block>>();
  in_hand_ = &ring_->to_fill();
  thread_ = std::thread([this] { work(); });
}

void ChannelBook::work() {
  for (bool over = false; !over;) {
    Block& block = ring_->to_take();
    work_off(block);
    over = block.over;
    const bool last = block.last;
    block.used = 0;
    block.last = false;
    ring_->free();
    if (last) worked_off_.release();
  }
}

void ChannelBook::work_off(const Block& block) {
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
      if (!summaries_[i]) summaries_[i] = std::make_unique<ChannelSummary>();
      summaries_[i]->add(at, std::span(block.values[i]).first(block.used),
                         even);
      return;
    }
    for (std::size_t k = 0; k < block.used; ++k) {
      if ((block.good[k] >> i & 1U) == 0) continue;
      if (!block.counts[k]) {
        if (summaries_[i]) summaries_[i]->touch(block.at[k]);
        continue;
      }
      if (!summaries_[i]) summaries_[i] = std::make_unique<ChannelSummary>();
      summaries_[i]->add(block.at[k], block.values[i][k]);
    }
  });
}

ChannelBook::Figures ChannelBook::finish() {
  if (thread_.joinable()) {
    in_hand_->last = true;
    ring_->give();
    in_hand_ = &ring_->to_fill();
    worked_off_.acquire();
  } else {
    work_off(*in_hand_);
    in_hand_->used = 0;
  }
  Figures out;
  for (std::size_t i = 0; i < kChannelCount; ++i) {
    if (summaries_[i] && !summaries_[i]->empty()) {
      out[i] = summaries_[i]->finish();
    }
    summaries_[i].reset();
  }
  return out;
}

}  // namespace telltale::host

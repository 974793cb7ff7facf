// BlockRing: a few blocks that go round between a giver and a taker, each on a
// thread of its own.
#pragma once

#include <array>
#include <cstddef>
#include <semaphore>

namespace telltale::host {

/// One thread fills blocks, another empties them, in order; neither runs ahead
/// by more than kBlocks. Blocks are reused: nothing is allocated on the way.
template <class Block, std::size_t kBlocks = 4>
class BlockRing {
 public:
  /// The giver's next block; waits until one is free. It may be filled until
  /// give().
  Block& to_fill() {
    free_.acquire();
    return blocks_[filled_ % kBlocks];
  }
  void give() {
    ++filled_;
    full_.release();
  }

  /// The taker's next block; waits until one is full. It is the taker's until
  /// free().
  Block& to_take() {
    full_.acquire();
    return blocks_[taken_ % kBlocks];
  }
  void free() {
    ++taken_;
    free_.release();
  }

  /// Lets a giver go on that waits for a free block, to be told that nobody
  /// takes any more.
  void wake_giver() { free_.release(); }

 private:
  std::array<Block, kBlocks> blocks_;
  std::size_t filled_ = 0;  // the giver's
  std::size_t taken_ = 0;   // the taker's
  std::counting_semaphore<> free_{kBlocks};
  std::counting_semaphore<> full_{0};
};

}  // namespace telltale::host

// BlockRing: a few blocks that go round between a giver and a taker, each on a
// thread of its own.
#pragma once

#include <array>
#include <cstddef>
#include <semaphore>

namespace telltale::host {

/// What two threads write at the same time lies this far apart: two lines of
/// the cache, which are fetched together.
inline constexpr std::size_t kApart = 128;

/// One thread fills blocks, another empties them, in order; neither runs ahead
/// by more than kBlocks. Blocks are reused: nothing is allocated on the way.
template <class Block, std::size_t kBlocks = 4>
class BlockRing {
 public:
  /// The giver's next block; waits until one is free. It may be filled until
  /// give().
  Block& to_fill() {
    free_.acquire();
    return blocks_[filled_ % kBlocks].block;
  }
  void give() {
    ++filled_;
    full_.release();
  }

  /// The taker's next block; waits until one is full. It is the taker's until
  /// free().
  Block& to_take() {
    full_.acquire();
    return blocks_[taken_ % kBlocks].block;
  }
  void free() {
    ++taken_;
    free_.release();
  }

  /// Lets a giver go on that waits for a free block, to be told that nobody
  /// takes any more.
  void wake_giver() { free_.release(); }

 private:
  struct alignas(kApart) Place {
    Block block;
  };
  std::array<Place, kBlocks> blocks_;
  alignas(kApart) std::size_t filled_ = 0;  // the giver's
  alignas(kApart) std::size_t taken_ = 0;   // the taker's
  alignas(kApart) std::counting_semaphore<> free_{kBlocks};
  alignas(kApart) std::counting_semaphore<> full_{0};
};

}  // namespace telltale::host

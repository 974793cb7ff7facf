// FindingQueue<R, N>: findings wait here for who would rather ask than be
// called.
#pragma once

#include <concepts>
#include <cstddef>
#include <cstdint>

#include "telltale/base/ring.hpp"
#include "telltale/detect/finding.hpp"

namespace telltale {

/// The oldest go first when more than N wait; lost() counts them.
template <std::floating_point R, std::size_t N>
class FindingQueue {
 public:
  /// Where the monitor puts them. The queue must outlive the sink.
  [[nodiscard]] FindingSink<R> sink() {
    return FindingSink<R>(
        [](void* self, const Finding<R>& finding) {
          static_cast<FindingQueue*>(self)->push(finding);
        },
        this);
  }
  /// The oldest; false: none waits.
  bool pop(Finding<R>& out) {
    if (waiting_.empty()) return false;
    out = waiting_.front();
    waiting_.pop();
    return true;
  }
  [[nodiscard]] std::size_t size() const { return waiting_.size(); }
  [[nodiscard]] std::uint32_t lost() const { return lost_; }

 private:
  void push(const Finding<R>& finding) {
    if (waiting_.full()) ++lost_;
    waiting_.push(finding);
  }

  Ring<Finding<R>, N> waiting_;
  std::uint32_t lost_ = 0;
};

}  // namespace telltale

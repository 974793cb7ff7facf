// BoundedQueue: hands things from many threads to one, never holding many.
#pragma once

#include <condition_variable>
#include <cstddef>
#include <deque>
#include <mutex>
#include <optional>
#include <utility>

namespace telltale::host::season {

template <class T>
class BoundedQueue {
 public:
  explicit BoundedQueue(std::size_t most) : most_(most) {}

  /// Waits while the queue is full. False where nobody takes any more.
  bool push(T item) {
    std::unique_lock lock(mutex_);
    room_.wait(lock, [this] { return items_.size() < most_ || closed_; });
    if (closed_) return false;
    items_.push_back(std::move(item));
    filled_.notify_one();
    return true;
  }
  /// Waits for an item; nothing when all givers are done and it is empty.
  std::optional<T> pop() {
    std::unique_lock lock(mutex_);
    filled_.wait(lock,
                 [this] { return !items_.empty() || givers_ == 0 || closed_; });
    return take();
  }
  /// An item that is there already, if any.
  std::optional<T> try_pop() {
    const std::scoped_lock lock(mutex_);
    return take();
  }
  void add_giver() {
    const std::scoped_lock lock(mutex_);
    ++givers_;
  }
  void giver_done() {
    const std::scoped_lock lock(mutex_);
    --givers_;
    filled_.notify_all();
  }
  /// Nobody takes any more: givers waiting for room go on.
  void close() {
    const std::scoped_lock lock(mutex_);
    closed_ = true;
    items_.clear();
    room_.notify_all();
    filled_.notify_all();
  }

 private:
  std::optional<T> take() {
    if (items_.empty()) return std::nullopt;
    std::optional<T> item(std::move(items_.front()));
    items_.pop_front();
    room_.notify_one();
    return item;
  }

  std::size_t most_;
  std::mutex mutex_;
  std::condition_variable room_;
  std::condition_variable filled_;
  std::deque<T> items_;
  int givers_ = 0;
  bool closed_ = false;
};

}  // namespace telltale::host::season

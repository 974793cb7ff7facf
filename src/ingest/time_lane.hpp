// One unit's rows on their way through TimeOrder.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "ingest/time_order.hpp"

namespace telltale::host {

class TimeOrder::Lane {
 public:
  Lane(const TimeOrderOptions& options, std::vector<Dropped>& dropped)
      : options_(&options), dropped_(&dropped) {}

  /// REQUIRES: row is no duplicate
  void push(const Row& row, std::string_view text, std::uint32_t lines);
  bool pop(Row& row, bool finished, std::size_t most_held);
  /// The end of the log: what waits is settled.
  void settle();

  /// The latest stamp so far, kNoTime before the first row.
  [[nodiscard]] TimeMs newest() const { return newest_; }
  [[nodiscard]] bool empty() const { return held_.waiting() == 0; }
  [[nodiscard]] TimeMs front_stamp() const { return held_[0].row.logged; }

 private:
  struct Held {
    Row row;
    std::uint32_t lines = 1;
    std::uint32_t segment = 0;  // grows by one at each step back
  };

  // Rows that wait, and behind them some that are out, as history. They go
  // round in their room: none is moved as others come and go.
  class Queue {
   public:
    [[nodiscard]] std::size_t waiting() const { return end_ - head_; }
    [[nodiscard]] std::size_t out() const { return head_ - begin_; }
    // The i-th that waits; negative: one that is out, -1 the last.
    [[nodiscard]] const Held& operator[](std::ptrdiff_t i) const {
      return slots_[(head_ + static_cast<std::size_t>(i)) &
                    (slots_.size() - 1)];
    }
    void push(const Row& row, std::uint32_t lines, std::uint32_t segment);
    // Before the i-th that waits.
    void insert(std::size_t i, const Held& held);
    void pop() { ++head_; }

   private:
    [[nodiscard]] Held& slot(std::size_t i) {
      return slots_[i & (slots_.size() - 1)];
    }
    void make_room();

    std::vector<Held> slots_;  // a power of two
    // Counted since the beginning.
    std::size_t begin_ = 0;
    std::size_t head_ = 0;
    std::size_t end_ = 0;
  };

  // A row that came after one with a later stamp, not settled yet.
  struct Late {
    Held held;
    std::string text;
  };

  void append(const Row& row, std::uint32_t lines);
  void insert_late(Late& late);
  void resolve(bool finished);
  void accept_late();
  void step_back();
  void note_distance(TimeMs stamp);
  [[nodiscard]] std::int64_t usual_step() const;
  [[nodiscard]] bool mostly_seen() const;
  [[nodiscard]] bool holds(TimeMs stamp) const;
  [[nodiscard]] std::int64_t usual_advance() const;
  void begin_group();
  [[nodiscard]] bool may_leave(const Held& front, std::size_t most_held) const;
  [[nodiscard]] bool leapt_forward(const Row& next) const;
  [[nodiscard]] bool was_set_forward() const;

  const TimeOrderOptions* options_;
  std::vector<Dropped>* dropped_;
  Queue held_;
  std::vector<Late> late_;
  TimeMs newest_ = kNoTime;
  // Distances between rows as they came, newest over oldest; 0: none.
  static constexpr std::size_t kDistances = 16;
  std::array<std::int64_t, kDistances> distances_{};
  std::size_t next_distance_ = 0;
  TimeMs arrived_ = kNoTime;
  std::uint32_t segment_ = 0;
  std::uint64_t rows_ = 0;
  std::uint64_t repeats_ = 0;  // of these, with the stamp of the one before
  // What went out last.
  TimeMs last_at_ = kNoTime;
  TimeMs last_logged_ = kNoTime;
  std::uint32_t last_segment_ = 0;
  std::int64_t offset_ms_ = 0;  // at = logged + offset
  // The group of equal stamps that is going out.
  std::size_t group_left_ = 0;
  std::size_t group_size_ = 1;
  std::size_t group_index_ = 0;
  std::int64_t group_span_ms_ = 0;
  std::int64_t distinct_step_ms_ = 0;
};

}  // namespace telltale::host

// Ordering of rows.
#include "ingest/time_order.hpp"

namespace telltale::host {

void TimeOrder::push(const Row& row) {
  ready_.push_back(row);
  Row& last = ready_.back();
  last.at = last.logged + offset_;
  if (is_set(newest_) && last.at < newest_) {
    last.clock = ClockEvent::set_back;
    const TimeMs next = newest_ + options_.interval;
    offset_ = next - last.logged;
    last.at = next;
  }
  newest_ = last.at;
}

bool TimeOrder::pop(Row& row) {
  if (head_ == ready_.size()) {
    ready_.clear();
    head_ = 0;
    return false;
  }
  row = ready_[head_++];
  return true;
}

}  // namespace telltale::host

// The lanes together.
#include "ingest/time_order.hpp"

#include <algorithm>
#include <utility>

#include "ingest/time_lane.hpp"

namespace telltale::host {

TimeOrder::TimeOrder(const TimeOrderOptions& options) : options_(options) {}
TimeOrder::~TimeOrder() = default;

TimeOrder::Lane& TimeOrder::lane_of(std::uint16_t unit) {
  while (lanes_.size() <= unit) {
    lanes_.push_back(std::make_unique<Lane>(options_, dropped_));
    most_held_ = std::max<std::size_t>(64, kMaxHeld / 4 / lanes_.size());
  }
  return *lanes_[unit];
}

void TimeOrder::push(const Row& row, std::string_view text, std::uint64_t print,
                     std::uint32_t lines) {
  Lane& lane = lane_of(row.unit);
  current_ = row.unit;
  // The same text may come again on another day of a log without dates.
  print ^= static_cast<std::uint64_t>(row.logged.ms) * 0x9E3779B97F4A7C15U;
  if (is_set(lane.newest()) && row.logged <= lane.newest() &&
      seen_.contains(print)) {
    dropped_.push_back({LineFate::duplicate, row.line, lines, ""});
    return;
  }
  seen_.insert(print);
  lane.push(row, text, lines);
}

void TimeOrder::finish() {
  finished_ = true;
  for (const auto& lane : lanes_) lane->settle();
}

bool TimeOrder::pop(Row& row) {
  if (lanes_.empty()) return false;
  if (!finished_) return lanes_[current_]->pop(row, false, most_held_);
  // The rest of all lanes, in order of their stamps.
  Lane* first = nullptr;
  for (const auto& lane : lanes_) {
    if (lane->empty()) continue;
    if (first == nullptr || lane->front_stamp() < first->front_stamp()) {
      first = lane.get();
    }
  }
  return first != nullptr && first->pop(row, true, most_held_);
}

std::vector<TimeOrder::Dropped> TimeOrder::take_dropped() {
  return std::exchange(dropped_, {});
}

}  // namespace telltale::host

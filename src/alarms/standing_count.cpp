// Alarms that stand, kept in the order in which they came.
#include "alarms/standing_count.hpp"

#include <algorithm>

namespace telltale::host {

void StandingCount::reach(TimeMs at) {
  if (!is_set(begun_)) begun_ = at_ = at;
  alarm_seconds_ += now_ * static_cast<double>((at - at_).ms) / 1000.0;
  at_ = at;
  while (next_stale_ != kNone && at - nodes_[next_stale_].since > kStale) {
    Node& node = nodes_[next_stale_];
    node.stale = true;
    most_stale_ = std::max(most_stale_, ++stale_);
    next_stale_ = node.after;
  }
}

void StandingCount::add(std::uint32_t alarm, TimeMs at) {
  reach(at);
  if (alarm >= nodes_.size()) nodes_.resize(alarm + 1U);
  Node& node = nodes_[alarm];
  if (node.stands) return;
  node = {.since = at, .before = last_, .stands = true};
  if (last_ != kNone) nodes_[last_].after = alarm;
  last_ = alarm;
  if (next_stale_ == kNone) next_stale_ = alarm;
  most_ = std::max(most_, ++now_);
}

void StandingCount::remove(std::uint32_t alarm, TimeMs at) {
  reach(at);
  if (!stands(alarm)) return;
  Node& node = nodes_[alarm];
  if (node.before != kNone) nodes_[node.before].after = node.after;
  if (node.after != kNone) nodes_[node.after].before = node.before;
  if (last_ == alarm) last_ = node.before;
  if (next_stale_ == alarm) next_stale_ = node.after;
  if (node.stale) --stale_;
  --now_;
  node = {};
}

double StandingCount::mean() const {
  if (!is_set(begun_) || at_ == begun_) return 0.0;
  return alarm_seconds_ * 1000.0 / static_cast<double>((at_ - begun_).ms);
}

}  // namespace telltale::host

#include "session/log_trail.hpp"

#include <algorithm>

namespace telltale::host {

void LogTrail::add(const Row& row) {
  TrailRow* slot = nullptr;
  if (rows_.size() < kRows) {
    slot = &rows_.emplace_back();
  } else {
    slot = &rows_[first_];
    if (forget_) forget_(*slot);
    first_ = (first_ + 1) % kRows;
  }
  static_cast<Row&>(*slot) = row;
  slot->condemned = 0;
  add_knot(row);
}

void LogTrail::condemn(TimeMs at, ChannelMask readings) {
  const std::size_t i = find(at);
  if (i < rows_.size() && row(i).at == at) {
    rows_[(first_ + i) % kRows].condemned = readings;
  }
}

void LogTrail::add_knot(const Row& row) {
  const bool due = knots_.empty() || row.clock != ClockEvent::none ||
                   (row.at - knots_.back().at).ms >= knot_spacing_ms_;
  if (!due) return;
  if (knots_.size() == kKnots) {
    for (std::size_t i = 0; i < kKnots / 2; ++i) knots_[i] = knots_[2 * i];
    knots_.resize(kKnots / 2);
    knot_spacing_ms_ *= 2;
  }
  knots_.push_back({row.at, {row.logged, row.line}});
}

std::size_t LogTrail::find(TimeMs at) const {
  std::size_t low = 0;
  std::size_t high = rows_.size();
  while (low < high) {
    const std::size_t middle = (low + high) / 2;
    if (row(middle).at < at) {
      low = middle + 1;
    } else {
      high = middle;
    }
  }
  return low;
}

LogPlace LogTrail::place(TimeMs at) const {
  if (reaches(at)) {
    const Row& found = row(std::min(find(at), rows_.size() - 1));
    return {found.logged, found.line};
  }
  if (knots_.empty()) return {};
  const auto after =
      std::lower_bound(knots_.begin(), knots_.end(), at,
                       [](const Knot& k, TimeMs t) { return k.at < t; });
  if (after == knots_.begin()) return after->place;
  if (after == knots_.end()) return knots_.back().place;
  const auto before = after - 1;
  return after->at - at < at - before->at ? after->place : before->place;
}

void LogTrail::each(TimeMs from, TimeMs to,
                    const std::function<void(const TrailRow&)>& visit) const {
  for (std::size_t i = find(from); i < rows_.size(); ++i) {
    const TrailRow& r = row(i);
    if (r.at > to) return;
    visit(r);
  }
}

bool LogTrail::reaches(TimeMs at) const {
  if (rows_.empty()) return false;
  return rows_.size() < kRows || row(0).at <= at;
}

}  // namespace telltale::host

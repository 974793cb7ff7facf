// Counting raises in the last ten minutes.
#include "alarms/flood_watch.hpp"

#include <algorithm>

namespace telltale::host {
namespace {

std::int64_t second_of(TimeMs at) {
  return at.ms >= 0 ? at.ms / 1000 : (at.ms - 999) / 1000;
}

std::size_t slot_of(std::int64_t second, std::int64_t slots) {
  const std::int64_t slot = second % slots;
  return static_cast<std::size_t>(slot < 0 ? slot + slots : slot);
}

}  // namespace

// Forgets the seconds that have left the window; how many raises remain.
std::uint32_t FloodWatch::slide_to(TimeMs at) {
  constexpr auto kSlots = static_cast<std::int64_t>(kSeconds);
  const std::int64_t second = second_of(at);
  if (!any_ || second - second_ >= kSlots) {
    by_second_.fill(0);
    within_ = 0;
  } else {
    for (std::int64_t s = second_ + 1; s <= second; ++s) {
      std::uint32_t& slot = by_second_[slot_of(s, kSlots)];
      within_ -= slot;
      slot = 0;
    }
  }
  second_ = second;
  any_ = true;
  return within_;
}

void FloodWatch::take_part(std::uint32_t alarm) {
  if (alarm >= per_alarm_.size()) per_alarm_.resize(alarm + 1U);
  PerAlarm& mine = per_alarm_[alarm];
  if (mine.flood != count_) {
    mine = {count_, 0};
    ++now_.distinct;
  }
  ++mine.raises;
  ++now_.raises;
  if (mine.raises > now_.top_raises) {
    now_.top_raises = mine.raises;
    now_.top_alarm = alarm;
  }
}

void FloodWatch::start() {
  flooding_ = true;
  ++count_;
  now_ = {};
  now_.from = recent_.front().place;
  now_.first_alarm = recent_.front().alarm;
  for (std::size_t i = 0; i < recent_.size(); ++i) {
    take_part(recent_[i].alarm);
  }
}

void FloodWatch::end(TimeMs at, bool open) {
  flooding_ = false;
  now_.to = at;
  now_.open = open;
  in_flood_ = in_flood_ + (at - now_.from.at);
  if (floods_.size() == kKept) {
    const auto least = std::min_element(
        floods_.begin(), floods_.end(),
        [](const Flood& a, const Flood& b) { return a.raises < b.raises; });
    if (least->raises >= now_.raises) return;
    floods_.erase(least);
  }
  floods_.push_back(now_);
}

void FloodWatch::raise(const EventPlace& place, std::uint32_t alarm) {
  if (flooding_) {
    // It ended when the fifth last raise left the window.
    const TimeMs fifth = recent_[recent_.size() - kEndsBelow].place.at;
    if (place.at >= fifth + kWindow) end(fifth + kWindow, false);
  }
  const std::uint32_t within = slide_to(place.at) + 1;
  ++within_;
  ++by_second_[slot_of(second_, kSeconds)];
  recent_.push({place, alarm});
  if (within > peak_) {
    peak_ = within;
    peak_at_ = place;
  }
  if (flooding_) {
    take_part(alarm);
  } else if (within > kStartsAbove) {
    start();
  }
  if (flooding_) now_.peak = std::max(now_.peak, within);
}

void FloodWatch::finish(TimeMs end_at) {
  if (!flooding_) return;
  const TimeMs fifth = recent_[recent_.size() - kEndsBelow].place.at;
  const bool open = end_at < fifth + kWindow;
  end(open ? end_at : fifth + kWindow, open);
}

}  // namespace telltale::host

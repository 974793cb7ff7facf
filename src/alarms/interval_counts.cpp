// Raises by the clock.
#include "alarms/interval_counts.hpp"

#include <algorithm>

namespace telltale::host {
namespace {

std::int64_t index_of(std::int64_t ms, std::int64_t length) {
  return ms >= 0 ? ms / length : -((-ms + length - 1) / length);
}

}  // namespace

void IntervalCounts::close(Count& count) {
  if (!count.any) return;
  if (count.here > count.most) {
    count.most = count.here;
    count.most_from = TimeMs{count.index * count.length_ms};
  }
  count.over += count.here > count.many;
}

// The picture gets a closed stretch of ten minutes.
void IntervalCounts::draw(const Count& ten_minutes) {
  if (!ten_minutes.any) return;
  if (bins_.empty()) first_index_ = ten_minutes.index;
  std::int64_t bin = (ten_minutes.index - first_index_) / per_bin_;
  while (bin >= static_cast<std::int64_t>(kBins)) {
    for (std::size_t i = 0; i < bins_.size(); i += 2) {
      const Bin second = i + 1 < bins_.size() ? bins_[i + 1] : Bin{};
      bins_[i / 2] = {std::max(bins_[i].most, second.most),
                      bins_[i].raises + second.raises};
    }
    bins_.resize((bins_.size() + 1) / 2);
    per_bin_ *= 2;
    bin = (ten_minutes.index - first_index_) / per_bin_;
  }
  if (bin >= static_cast<std::int64_t>(bins_.size())) {
    bins_.resize(static_cast<std::size_t>(bin) + 1);
  }
  Bin& to = bins_[static_cast<std::size_t>(bin)];
  to.most = std::max(to.most, ten_minutes.here);
  to.raises += ten_minutes.here;
}

void IntervalCounts::add(TimeMs at, std::uint32_t raises) {
  for (Count* count : {&ten_minutes_, &hours_, &days_}) {
    const std::int64_t index = index_of(at.ms, count->length_ms);
    if (!count->any || index > count->index) {
      if (count == &ten_minutes_) draw(*count);
      close(*count);
      count->stretches +=
          count->any ? static_cast<std::uint64_t>(index - count->index) : 1;
      count->index = index;
      count->here = 0;
      count->any = true;
    }
    count->here += raises;
  }
}

void IntervalCounts::finish() {
  draw(ten_minutes_);
  for (Count* count : {&ten_minutes_, &hours_, &days_}) {
    close(*count);
    count->any = false;
  }
}

TimeMs IntervalCounts::bins_from() const {
  return TimeMs{first_index_ * ten_minutes_.length_ms};
}

DurationMs IntervalCounts::bin_length() const {
  return {per_bin_ * ten_minutes_.length_ms};
}

}  // namespace telltale::host

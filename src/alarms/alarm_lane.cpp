// Bins that grow with the journal.
#include "alarms/alarm_lane.hpp"

#include <algorithm>

namespace telltale::host {

// The bin of a moment; makes all bins longer until it has one.
std::size_t AlarmLane::bin_of(TimeMs origin, TimeMs at) {
  const std::int64_t since = std::max<std::int64_t>(0, (at - origin).ms);
  while (since / length_ms_ >= static_cast<std::int64_t>(kBins)) {
    length_ms_ *= 2;
    for (std::size_t i = 0; i < bins_.size(); i += 2) {
      const Bin second = i + 1 < bins_.size() ? bins_[i + 1] : Bin{};
      bins_[i / 2] = {bins_[i].raises + second.raises,
                      bins_[i].standing_s + second.standing_s};
    }
    bins_.resize((bins_.size() + 1) / 2);
  }
  const auto bin = static_cast<std::size_t>(since / length_ms_);
  if (bin >= bins_.size()) bins_.resize(bin + 1);
  return bin;
}

void AlarmLane::raise(TimeMs origin, TimeMs at) {
  ++bins_[bin_of(origin, at)].raises;
}

void AlarmLane::stand(TimeMs origin, TimeMs from, TimeMs to) {
  const std::size_t last = bin_of(origin, to);
  for (std::size_t i = bin_of(origin, from); i <= last; ++i) {
    const std::int64_t begin =
        origin.ms + static_cast<std::int64_t>(i) * length_ms_;
    const std::int64_t within =
        std::min(to.ms, begin + length_ms_) - std::max(from.ms, begin);
    if (within > 0) {
      bins_[i].standing_s += static_cast<float>(within) / 1000.0F;
    }
  }
}

}  // namespace telltale::host

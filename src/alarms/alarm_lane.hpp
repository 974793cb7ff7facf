// AlarmLane: one alarm over time, for a picture.
#pragma once

#include <cstdint>
#include <vector>

#include "telltale/base/time.hpp"

namespace telltale::host {

/// Raises and standing time of an alarm in at most kBins bins of equal length.
/// The length doubles as often as the journal turns out to be longer.
class AlarmLane {
 public:
  static constexpr std::size_t kBins = 256;
  static constexpr std::int64_t kFirstLengthMs = 1000;

  struct Bin {
    std::uint32_t raises = 0;
    float standing_s = 0.0F;
  };

  /// REQUIRES of both: not before `origin`, the same in all calls.
  void raise(TimeMs origin, TimeMs at);
  void stand(TimeMs origin, TimeMs from, TimeMs to);
  /// Makes the bins as long as those of a journal that ends at `end`.
  void fit(TimeMs origin, TimeMs end) { (void)bin_of(origin, end); }

  [[nodiscard]] const std::vector<Bin>& bins() const { return bins_; }
  [[nodiscard]] DurationMs bin_length() const { return {length_ms_}; }

 private:
  std::size_t bin_of(TimeMs origin, TimeMs at);

  std::vector<Bin> bins_;
  std::int64_t length_ms_ = kFirstLengthMs;
};

}  // namespace telltale::host

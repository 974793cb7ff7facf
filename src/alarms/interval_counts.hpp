// IntervalCounts: raises by fixed stretches of ten minutes, hours and days.
#pragma once

#include <cstdint>
#include <vector>

#include "telltale/base/time.hpp"

namespace telltale::host {

/// Counts that ISA-18.2 and IEC 62682 ask for by the clock: stretches begin at
/// whole multiples of their length (days at midnight) of the times given. The
/// first and the last stretch count as whole ones.
class IntervalCounts {
 public:
  /// `raises` came at `at`. REQUIRES: times do not step back.
  void add(TimeMs at, std::uint32_t raises = 1);
  /// Nothing came at `at`, but the journal reaches as far.
  void reach(TimeMs at) { add(at, 0); }
  void finish();

  /// One length of stretch.
  struct Count {
    std::int64_t length_ms = 0;
    std::uint32_t many = 0;  // more than this is too many
    std::uint64_t stretches = 0;
    std::uint64_t over = 0;  // stretches with more than `many`
    std::uint32_t most = 0;
    TimeMs most_from = kNoTime;

    // The stretch in hand.
    std::int64_t index = 0;
    std::uint32_t here = 0;
    bool any = false;

    [[nodiscard]] double over_share() const {
      return stretches == 0
                 ? 0.0
                 : static_cast<double>(over) / static_cast<double>(stretches);
    }
  };
  [[nodiscard]] const Count& ten_minutes() const { return ten_minutes_; }
  [[nodiscard]] const Count& hours() const { return hours_; }
  [[nodiscard]] const Count& days() const { return days_; }

  /// Raises over time for a picture: at most kBins bins of equal length, each
  /// with the most raises in any ten minutes of it.
  struct Bin {
    std::uint32_t most = 0;
    std::uint32_t raises = 0;
  };
  static constexpr std::size_t kBins = 1440;
  [[nodiscard]] const std::vector<Bin>& bins() const { return bins_; }
  [[nodiscard]] TimeMs bins_from() const;
  [[nodiscard]] DurationMs bin_length() const;

 private:
  void close(Count& count);
  void draw(const Count& ten_minutes);

  Count ten_minutes_{.length_ms = 600'000, .many = 10};
  Count hours_{.length_ms = 3'600'000, .many = 30};
  Count days_{.length_ms = 86'400'000, .many = 288};
  std::vector<Bin> bins_;
  std::int64_t first_index_ = 0;
  std::int64_t per_bin_ = 1;  // stretches of ten minutes
};

}  // namespace telltale::host

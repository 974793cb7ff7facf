// FloodWatch: more alarms than anybody can follow.
#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "alarms/event.hpp"
#include "telltale/base/ring.hpp"

namespace telltale::host {

/// One flood.
struct Flood {
  EventPlace from;    // the first raise of the ten minutes that were too many
  TimeMs to;          // when fewer than five raises lay within ten minutes
  bool open = false;  // goes on where the journal ends; `to` is its end
  std::uint32_t raises = 0;
  std::uint32_t distinct = 0;  // alarms that took part
  std::uint32_t peak = 0;      // most raises within ten minutes
  std::uint32_t first_alarm = 0;
  std::uint32_t top_alarm = 0;  // the most frequent, and how often
  std::uint32_t top_raises = 0;

  [[nodiscard]] double seconds() const { return seconds_between(from.at, to); }
};

/// Floods by ISA-18.2, IEC 62682 and EEMUA 191: a flood starts with more than
/// 10 raises in 10 min and ends with fewer than 5 in 10 min. The ten minutes
/// slide: they are the last 600 s, the raise exactly 600 s ago left out.
class FloodWatch {
 public:
  static constexpr DurationMs kWindow = minutes(10);
  static constexpr std::uint32_t kStartsAbove = 10;
  static constexpr std::uint32_t kEndsBelow = 5;
  /// Of more floods than this, only the largest are kept one by one.
  static constexpr std::size_t kKept = 200;

  /// An alarm came. REQUIRES: times do not step back.
  void raise(const EventPlace& place, std::uint32_t alarm);
  /// The journal ends.
  void finish(TimeMs end);

  /// In order of time.
  [[nodiscard]] const std::vector<Flood>& floods() const { return floods_; }
  [[nodiscard]] std::uint64_t count() const { return count_; }
  /// Time in all floods together.
  [[nodiscard]] DurationMs in_flood() const { return in_flood_; }
  /// Most raises within ten minutes, and when that was.
  [[nodiscard]] std::uint32_t peak() const { return peak_; }
  [[nodiscard]] const EventPlace& peak_at() const { return peak_at_; }

 private:
  struct Raise {
    EventPlace place;
    std::uint32_t alarm = 0;
  };
  /// What a flood counts of each alarm; counts of earlier floods are stale.
  struct PerAlarm {
    std::uint64_t flood = 0;
    std::uint32_t raises = 0;
  };

  std::uint32_t slide_to(TimeMs at);
  void take_part(std::uint32_t alarm);
  void start();
  void end(TimeMs at, bool open);

  static constexpr std::size_t kSeconds = 600;
  std::array<std::uint32_t, kSeconds> by_second_{};
  std::int64_t second_ = 0;
  std::uint32_t within_ = 0;
  bool any_ = false;
  Ring<Raise, kStartsAbove + 1> recent_;
  std::vector<PerAlarm> per_alarm_;
  std::vector<Flood> floods_;
  Flood now_;
  bool flooding_ = false;
  std::uint64_t count_ = 0;
  DurationMs in_flood_;
  std::uint32_t peak_ = 0;
  EventPlace peak_at_;
};

}  // namespace telltale::host

// StandingCount: how many alarms stand at a time, and how many have gone stale.
#pragma once

#include <cstdint>
#include <vector>

#include "telltale/base/time.hpp"

namespace telltale::host {

/// "Standing" is active now; "stale" is standing for more than 24 h without a
/// break (ISA-18.2, EEMUA 191). A constant time an event.
class StandingCount {
 public:
  static constexpr DurationMs kStale = hours(24);

  /// REQUIRES of all: times do not step back.
  void begin(TimeMs at) { reach(at); }
  void add(std::uint32_t alarm, TimeMs at);
  void remove(std::uint32_t alarm, TimeMs at);
  void reach(TimeMs at);

  [[nodiscard]] bool stands(std::uint32_t alarm) const {
    return alarm < nodes_.size() && nodes_[alarm].stands;
  }
  [[nodiscard]] std::uint32_t now() const { return now_; }
  [[nodiscard]] std::uint32_t most() const { return most_; }
  [[nodiscard]] std::uint32_t stale_now() const { return stale_; }
  [[nodiscard]] std::uint32_t most_stale() const { return most_stale_; }
  /// Alarms standing on average over the time reached; 0 at its beginning.
  [[nodiscard]] double mean() const;

 private:
  static constexpr std::uint32_t kNone = 0xFFFFFFFF;
  struct Node {
    TimeMs since = kNoTime;
    std::uint32_t before = kNone;  // in order of `since`
    std::uint32_t after = kNone;
    bool stands = false;
    bool stale = false;
  };

  std::vector<Node> nodes_;
  std::uint32_t last_ = kNone;
  std::uint32_t next_stale_ = kNone;  // the oldest that is not stale yet
  std::uint32_t now_ = 0;
  std::uint32_t most_ = 0;
  std::uint32_t stale_ = 0;
  std::uint32_t most_stale_ = 0;
  TimeMs begun_ = kNoTime;
  TimeMs at_ = kNoTime;
  double alarm_seconds_ = 0.0;
};

}  // namespace telltale::host

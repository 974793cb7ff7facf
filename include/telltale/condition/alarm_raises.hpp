// AlarmRaises: the newest raises of the controller's own alarms.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>

#include "telltale/acquire/frame.hpp"
#include "telltale/base/stamp.hpp"

namespace telltale {

/// Alarms are levels: an alarm stands while its bit is there, a raise is its
/// appearance. What stands in the very first scan was not seen to appear.
/// Raises are kept across runs: they may straddle the start of one.
class AlarmRaises {
 public:
  /// More than that within ten minutes is a flood anyway.
  static constexpr std::size_t kKept = 32;

  template <class Time>
  void step(AlarmMask now, Time at) {
    raised_ = started_ ? now & ~standing_ : AlarmMask{0};
    standing_ = now;
    started_ = true;
    for_each_bit(raised_, [&](std::size_t alarm) {
      at_[next_] = Stamp(at);
      alarm_[next_] = static_cast<std::uint8_t>(alarm);
      next_ = static_cast<std::uint8_t>((next_ + 1U) % kKept);
      if (size_ < kKept) ++size_;
    });
  }

  /// Those raised by this scan.
  [[nodiscard]] AlarmMask raised() const { return raised_; }
  /// Raises kept. The newest is number 0.
  [[nodiscard]] std::size_t size() const { return size_; }
  [[nodiscard]] Stamp at(std::size_t i) const { return at_[place(i)]; }
  [[nodiscard]] std::size_t alarm(std::size_t i) const {
    return alarm_[place(i)];
  }

 private:
  [[nodiscard]] std::size_t place(std::size_t i) const {
    return (next_ + kKept - 1U - i) % kKept;
  }

  std::array<Stamp, kKept> at_{};
  std::array<std::uint8_t, kKept> alarm_{};
  AlarmMask standing_ = 0;
  AlarmMask raised_ = 0;
  std::uint8_t next_ = 0;
  std::uint8_t size_ = 0;
  bool started_ = false;
};

}  // namespace telltale

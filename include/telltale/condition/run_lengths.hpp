// RunLengths<R>: how quickly one alarm comes back, as one figure.
#pragma once

#include <array>
#include <concepts>
#include <cstddef>
#include <cstdint>
#include <limits>

#include "telltale/base/compensated.hpp"
#include "telltale/base/time.hpp"

namespace telltale {

/// Counts the run lengths of one alarm: whole seconds, at least 1, from a raise
/// to the next. Of them the chattering index
///   psi = sum over r of P_r / r,   P_r = n_r / sum n_r,   in raises per second
/// (Kondaveeti, Izadi, Shah, Shook, Kadali and Chen, Chemical Engineering
/// Research and Design 91, 2013); 0 < psi <= 1. An alarm that comes every 20 s
/// has 0.05: three raises a minute, the usual mark of chatter.
///
/// Run lengths up to kWithin seconds are counted one by one, longer ones
/// together: the memory is fixed, whatever comes.
template <std::floating_point R, std::uint16_t kWithin = 60>
class RunLengths {
 public:
  /// Fewer raises than this prove nothing: two that happen to lie 20 s apart
  /// already give 0.05. Common practice.
  static constexpr std::uint32_t kEnoughRaises = 5;
  /// At this index and above an alarm chatters.
  static constexpr R kChatters = R(0.05);

  /// The alarm came. A time before that of the last raise counts as that time.
  constexpr void raise(TimeMs at) {
    if (raises_ > 0) count(at < last_ ? std::int64_t{0} : (at - last_).ms);
    if (raises_ == 0 || at > last_) last_ = at;
    if (raises_ < std::numeric_limits<std::uint32_t>::max()) ++raises_;
  }

  [[nodiscard]] constexpr std::uint32_t raises() const { return raises_; }
  /// When it came last. REQUIRES: raises() > 0
  [[nodiscard]] constexpr TimeMs last() const { return last_; }
  /// How many run lengths were `seconds` long. REQUIRES: 1..kWithin
  [[nodiscard]] constexpr std::uint32_t count_of(std::uint16_t seconds) const {
    return counts_[static_cast<std::size_t>(seconds - 1U)];
  }
  /// How many were longer than kWithin seconds.
  [[nodiscard]] constexpr std::uint32_t longer() const { return longer_; }

  /// The chattering index; NaN below two raises: there is no run length.
  [[nodiscard]] constexpr R index() const {
    if (total() == 0) return kNone;
    const R n = static_cast<R>(total());
    return index_within() + inverse_longer_.value() / n;
  }
  /// The modified index: only run lengths up to kWithin seconds add to the sum,
  /// all of them are counted in P_r. NaN below two raises.
  [[nodiscard]] constexpr R index_within() const {
    if (total() == 0) return kNone;
    const R n = static_cast<R>(total());
    R sum = R(0);
    for (std::size_t i = kWithin; i-- > 0;) {  // small terms first
      sum += static_cast<R>(counts_[i]) / n / static_cast<R>(i + 1U);
    }
    return sum;
  }
  /// Chatters by its index, and was raised often enough to say so.
  [[nodiscard]] constexpr bool chatters() const {
    return raises_ >= kEnoughRaises && index() >= kChatters;
  }

 private:
  static constexpr R kNone = std::numeric_limits<R>::quiet_NaN();

  [[nodiscard]] constexpr std::uint32_t total() const {
    return raises_ == 0 ? 0 : raises_ - 1U;
  }
  constexpr void count(std::int64_t ms) {
    const std::int64_t seconds = ms < 1500 ? 1 : (ms + 500) / 1000;
    if (seconds <= std::int64_t{kWithin}) {
      ++counts_[static_cast<std::size_t>(seconds - 1)];
    } else {
      ++longer_;
      inverse_longer_.add(R(1) / static_cast<R>(seconds));
    }
  }

  std::array<std::uint32_t, kWithin> counts_{};
  CompensatedSum<R> inverse_longer_;
  TimeMs last_ = kNoTime;
  std::uint32_t raises_ = 0;
  std::uint32_t longer_ = 0;

  static_assert(kWithin > 0);
};

}  // namespace telltale

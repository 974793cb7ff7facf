// TimeWindow<R, N>: statistics of the samples of the last so many seconds.
#pragma once

#include <array>
#include <cmath>
#include <concepts>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <span>

#include "telltale/base/ring.hpp"
#include "telltale/base/time.hpp"
#include "telltale/condition/median.hpp"

namespace telltale {

/// Keeps the samples of the half-open window (t - length, t], t being the time
/// of the newest, N of them at most: with more the oldest go first and
/// truncated() says so. Sampling may be irregular.
///
/// Mean, sd and slope come from sums about a moving origin that are made anew
/// once per lap of the ring, so rounding cannot pile up; adding a sample costs
/// constant time on average. Minimum, maximum and quantiles are looked up on
/// demand in time proportional to the samples held.
template <std::floating_point R, std::size_t N>
class TimeWindow {
 public:
  constexpr explicit TimeWindow(DurationMs length) : length_(length) {}

  /// REQUIRES: at does not step back, x is finite.
  void add(TimeMs at, R x) {
    expire(at);
    if (samples_.full()) {
      truncated_ = true;
      drop_oldest();
    }
    if (samples_.empty() || ++since_rebuild_ >= N) {
      samples_.push({at, x});
      rebuild();
      return;
    }
    samples_.push({at, x});
    include(samples_.back(), R(1));
  }
  /// Drops what has left the window by `now`.
  void expire(TimeMs now) {
    while (!samples_.empty() && samples_.front().at <= now - length_) {
      drop_oldest();
    }
  }
  void clear() {
    samples_.clear();
    truncated_ = false;
    since_rebuild_ = 0;
    sum_ = Sums{};
  }

  [[nodiscard]] std::size_t count() const { return samples_.size(); }
  [[nodiscard]] bool empty() const { return samples_.empty(); }
  [[nodiscard]] bool truncated() const { return truncated_; }
  [[nodiscard]] DurationMs length() const { return length_; }
  /// From the oldest to the newest sample held. REQUIRES: !empty()
  [[nodiscard]] DurationMs span() const {
    return samples_.back().at - samples_.front().at;
  }

  /// NaN while empty.
  [[nodiscard]] R mean() const {
    return empty() ? kNone : origin_value_ + sum_.y / n();
  }
  /// Sample standard deviation, divisor n - 1; NaN below two samples.
  [[nodiscard]] R sd() const {
    return count() < 2 ? kNone
                       : std::sqrt(positive(sum_.yy - sum_.y * sum_.y / n()) /
                                   (n() - R(1)));
  }
  /// Least-squares slope in units a second; NaN where the times do not differ.
  [[nodiscard]] R slope() const {
    const R tt = sum_.tt - sum_.t * sum_.t / n();
    if (count() < 2 || !(tt > R(0))) return kNone;
    return (sum_.ty - sum_.t * sum_.y / n()) / tt;
  }
  /// sd about the least-squares line, divisor n - 2; NaN below three samples.
  [[nodiscard]] R residual_sd() const {
    if (count() < 3) return kNone;
    const R b = slope();
    const R yy = sum_.yy - sum_.y * sum_.y / n();
    const R ty = sum_.ty - sum_.t * sum_.y / n();
    const R rest = b == b ? yy - b * ty : yy;
    return std::sqrt(positive(rest) / (n() - R(2)));
  }
  /// +-infinity while empty.
  [[nodiscard]] R min() const {
    R least = std::numeric_limits<R>::infinity();
    for (std::size_t i = 0; i < count(); ++i) {
      if (samples_[i].x < least) least = samples_[i].x;
    }
    return least;
  }
  [[nodiscard]] R max() const {
    R most = -std::numeric_limits<R>::infinity();
    for (std::size_t i = 0; i < count(); ++i) {
      if (samples_[i].x > most) most = samples_[i].x;
    }
    return most;
  }
  /// Type 7 quantile, 0 <= p <= 1; NaN while empty.
  [[nodiscard]] R quantile(R p) const {
    std::array<R, N> copy;
    for (std::size_t i = 0; i < count(); ++i) copy[i] = samples_[i].x;
    return quantile_in_place(std::span<R>(copy.data(), count()), p);
  }
  [[nodiscard]] R median() const { return quantile(R(0.5)); }

 private:
  struct Sample {
    TimeMs at;
    R x;
  };
  struct Sums {  // about the origin: t in seconds, y the value
    R t = R(0), y = R(0), tt = R(0), ty = R(0), yy = R(0);
  };
  static constexpr R kNone = std::numeric_limits<R>::quiet_NaN();
  static constexpr R positive(R x) { return x > R(0) ? x : R(0); }

  [[nodiscard]] R n() const { return static_cast<R>(count()); }

  void include(const Sample& sample, R sign) {
    const R t = in_ms<R>(sample.at - origin_time_) * R(0.001);
    const R y = sample.x - origin_value_;
    sum_.t += sign * t;
    sum_.y += sign * y;
    sum_.tt += sign * t * t;
    sum_.ty += sign * t * y;
    sum_.yy += sign * y * y;
  }
  void drop_oldest() {
    include(samples_.front(), R(-1));
    samples_.pop();
  }
  void rebuild() {
    since_rebuild_ = 0;
    origin_time_ = samples_.back().at;
    // The window's own mean as origin keeps the squares small.
    R offset = R(0);
    const R first = samples_.front().x;
    for (std::size_t i = 0; i < count(); ++i) offset += samples_[i].x - first;
    origin_value_ = first + offset / n();
    sum_ = Sums{};
    for (std::size_t i = 0; i < count(); ++i) include(samples_[i], R(1));
  }

  Ring<Sample, N> samples_;
  DurationMs length_;
  TimeMs origin_time_{};
  R origin_value_ = R(0);
  Sums sum_;
  std::size_t since_rebuild_ = 0;
  bool truncated_ = false;
};

}  // namespace telltale

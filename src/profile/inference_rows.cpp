// Gathering of the rows that inference looks at.
#include <algorithm>
#include <cmath>
#include <limits>

#include "profile/inference.hpp"

namespace telltale::host {
namespace {

constexpr std::size_t kKept = 4096;
constexpr DurationMs kMinute = seconds(60);
constexpr double kNone = std::numeric_limits<double>::quiet_NaN();

double value_of(const Row& row, Channel channel) {
  return (row.present & bit(channel)) != 0 ? row.value[index_of(channel)]
                                           : kNone;
}

}  // namespace

const ChannelMask kInferenceChannels =
    bit(Channel::engine_speed) | bit(Channel::frequency) |
    bit(Channel::voltage_l1) | bit(Channel::voltage_l2) |
    bit(Channel::voltage_l3) | bit(Channel::voltage_line) |
    bit(Channel::current_l1) | bit(Channel::current_l2) |
    bit(Channel::current_l3) | bit(Channel::power) | bit(Channel::load) |
    bit(Channel::power_factor) | bit(Channel::battery_voltage) |
    bit(Channel::exhaust_temperature);

void Inference::add(const Row& row) {
  present_ |= row.present;
  if (seen_ % stride_ == 0) keep(row);
  ++seen_;
  follow_power(row);
}

void Inference::append(const Inference& later) {
  present_ |= later.present_;
  seen_ += later.seen_;
  highest_.kw = std::max(highest_.kw, later.highest_.kw);
  highest_.line_kva = std::max(highest_.line_kva, later.highest_.line_kva);
  // Of both as many rows as of the one that had more of them.
  while (stride_ < later.stride_) drop_every_second();
  for (std::size_t i = 0; i < later.kept_.size();
       i += stride_ / later.stride_) {
    kept_.push_back(later.kept_[i]);
  }
  if (kept_.size() > kKept) drop_every_second();
}

void Inference::drop_every_second() {
  const std::size_t left = (kept_.size() + 1) / 2;
  for (std::size_t i = 0; i < left; ++i) kept_[i] = kept_[2 * i];
  kept_.resize(left);
  stride_ *= 2;
}

void Inference::keep(const Row& row) {
  if (kept_.size() == kKept) {
    drop_every_second();
    if (seen_ % stride_ != 0) return;
  }
  double current = kNone;
  for (Channel leg :
       {Channel::current_l1, Channel::current_l2, Channel::current_l3}) {
    const double amps = value_of(row, leg);
    if (!(amps <= current) && std::isfinite(amps)) current = amps;
  }
  kept_.push_back(
      {value_of(row, Channel::engine_speed),
       value_of(row, Channel::frequency),
       value_of(row, Channel::voltage_line),
       {value_of(row, Channel::voltage_l1), value_of(row, Channel::voltage_l2),
        value_of(row, Channel::voltage_l3)},
       value_of(row, Channel::power),
       current,
       value_of(row, Channel::battery_voltage),
       value_of(row, Channel::exhaust_temperature),
       value_of(row, Channel::load)});
}

void Inference::follow_power(const Row& row) {
  constexpr Channel kVolts[] = {Channel::voltage_l1, Channel::voltage_l2,
                                Channel::voltage_l3};
  constexpr Channel kAmps[] = {Channel::current_l1, Channel::current_l2,
                               Channel::current_l3};
  const double factor = value_of(row, Channel::power_factor);
  const double pf = std::isfinite(factor) ? std::abs(factor) : 1.0;
  double kw = 0.0;
  double amps_sum = 0.0;
  bool by_leg = false;
  for (int i = 0; i < 3; ++i) {
    const double amps = value_of(row, kAmps[i]);
    const double volts = value_of(row, kVolts[i]);
    if (!std::isfinite(amps)) continue;
    amps_sum += amps;
    if (std::isfinite(volts)) {
      kw += amps * volts * pf / 1000.0;
      by_leg = true;
    }
  }
  const double measured = value_of(row, Channel::power);
  if (std::isfinite(measured)) kw = measured;
  const double line = value_of(row, Channel::voltage_line);
  const double kva =
      !by_leg && std::isfinite(line) ? amps_sum * line * pf / 1000.0 : 0.0;
  if (!is_set(first_at_)) first_at_ = row.at;

  window_.push_back({row.at, kw, kva});
  window_kw_ += kw;
  window_kva_ += kva;
  while (window_[window_first_].at <= row.at - kMinute) {
    window_kw_ -= window_[window_first_].kw;
    window_kva_ -= window_[window_first_].line_kva;
    ++window_first_;
  }
  const std::size_t count = window_.size() - window_first_;
  if (window_first_ > 4096) {  // give back what has left the window, sum anew
    window_.erase(window_.begin(),
                  window_.begin() + static_cast<std::ptrdiff_t>(window_first_));
    window_first_ = 0;
    window_kw_ = window_kva_ = 0.0;
    for (const Power& p : window_) {
      window_kw_ += p.kw;
      window_kva_ += p.line_kva;
    }
  }
  // A window that has just begun is no mean of 60 s, unless the interval is
  // that long itself.
  const bool full = row.at - first_at_ >= kMinute - seconds(1);
  if (!full && count > 1) return;
  if (!full && row.at == first_at_) return;
  highest_.kw = std::max(highest_.kw, window_kw_ / static_cast<double>(count));
  highest_.line_kva =
      std::max(highest_.line_kva, window_kva_ / static_cast<double>(count));
}

}  // namespace telltale::host

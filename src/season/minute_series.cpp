#include "season/minute_series.hpp"

#include <cmath>

namespace telltale::host::season {
namespace {

constexpr double kLeastMinute_s = 20.0;

double follow(double lagged, double now, double seconds, double lag_s) {
  if (!std::isfinite(now)) return lagged;
  if (!std::isfinite(lagged)) return now;
  return lagged + (1.0 - std::exp(-seconds / lag_s)) * (now - lagged);
}

}  // namespace

bool has_leg_volts(const Block<double>& block) {
  return std::isfinite(block[Channel::voltage_l1]) ||
         std::isfinite(block[Channel::voltage_l2]) ||
         std::isfinite(block[Channel::voltage_l3]);
}

double tracked_volts(const Block<double>& block) {
  double sum = 0.0;
  int n = 0;
  for (const Channel leg :
       {Channel::voltage_l1, Channel::voltage_l2, Channel::voltage_l3}) {
    if (!std::isfinite(block[leg])) continue;
    sum += block[leg];
    ++n;
  }
  return n > 0 ? sum / n : block[Channel::voltage_line];
}

double oil_at_nominal_speed(const Block<double>& block, const Rating& rating) {
  const double kpa = block[Channel::oil_pressure];
  const double nominal = static_cast<double>(rating.speed_rpm());
  double ratio = block[Channel::engine_speed] / nominal;
  if (!std::isfinite(ratio)) {
    ratio =
        block[Channel::frequency] / static_cast<double>(rating.frequency_hz);
  }
  if (!std::isfinite(ratio)) return kpa;
  return std::abs(ratio - 1.0) <= 0.1 ? kpa / ratio : kNone;
}

void MinuteSeries::clear() { *this = MinuteSeries{}; }

void MinuteSeries::add(const Block<double>& block, double since_running_s,
                       const Rating& rating) {
  const double seconds = static_cast<double>(block.length.ms) / 1000.0;
  lag_2min_ = follow(lag_2min_, block.load_pct, seconds, 120.0);
  lag_8min_ = follow(lag_8min_, block.load_pct, seconds, 480.0);
  if (!block.steady) return;
  const double middle = since_running_s - seconds / 2.0;
  if (seconds_ > 0.0 && middle - began_ > 2.5 * least_seconds_) close();
  if (seconds_ <= 0.0) began_ = middle;
  const TrackValues values = {block.load_pct,
                              lag_2min_,
                              lag_8min_,
                              block[Channel::frequency],
                              tracked_volts(block),
                              oil_at_nominal_speed(block, rating),
                              block[Channel::oil_temperature],
                              block[Channel::coolant_temperature],
                              block[Channel::exhaust_temperature],
                              block[Channel::battery_voltage],
                              block[Channel::raw_water_temperature],
                              block[Channel::ambient_temperature]};
  for (std::size_t i = 0; i < kTracks; ++i) {
    if (!std::isfinite(values[i])) continue;
    sum_[i] += seconds * values[i];
    weight_[i] += seconds;
  }
  middle_ += seconds * middle;
  seconds_ += seconds;
  if (seconds_ >= least_seconds_) close();
}

void MinuteSeries::finish() {
  if (seconds_ > 0.0) close();
}

void MinuteSeries::close() {
  if (seconds_ >= kLeastMinute_s) {
    Minute minute;
    minute.since_running_s = middle_ / seconds_;
    minute.seconds = seconds_;
    for (std::size_t i = 0; i < kTracks; ++i) {
      minute.mean[i] = weight_[i] > 0.0 ? sum_[i] / weight_[i] : kNone;
    }
    minutes_.push_back(minute);
    if (minutes_.size() == kMost) merge_neighbours();
  }
  sum_ = weight_ = TrackValues{};
  seconds_ = middle_ = 0.0;
}

void MinuteSeries::merge_neighbours() {
  for (std::size_t i = 0; i < kMost / 2; ++i) {
    const Minute& a = minutes_[2 * i];
    const Minute& b = minutes_[2 * i + 1];
    Minute both;
    both.seconds = a.seconds + b.seconds;
    const double share = a.seconds / both.seconds;
    both.since_running_s =
        share * a.since_running_s + (1.0 - share) * b.since_running_s;
    for (std::size_t k = 0; k < kTracks; ++k) {
      both.mean[k] = std::isfinite(a.mean[k]) && std::isfinite(b.mean[k])
                         ? share * a.mean[k] + (1.0 - share) * b.mean[k]
                     : std::isfinite(a.mean[k]) ? a.mean[k]
                                                : b.mean[k];
    }
    minutes_[i] = both;
  }
  minutes_.resize(kMost / 2);
  least_seconds_ *= 2.0;
}

}  // namespace telltale::host::season

#include "season/start_watch.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

#include "telltale/condition/median.hpp"

namespace telltale::host::season {
namespace {

// As in the checks battery-rest-low and crank-dip.
constexpr DurationMs kPreheat = seconds(45);
constexpr DurationMs kOldest = minutes(10);
constexpr DurationMs kLeastRest = seconds(30);
constexpr DurationMs kFinest{1100};

double agreement(const Rating& rating) {
  return rating.battery_v > 18.0F ? 1.0 : 0.5;
}

}  // namespace

void StartWatch::step(const Moment<double>& m) {
  if (m.began) begin(m);
  if (m.phase == Phase::stopped) rest(m);
  if (!m.in_run()) return;
  if (!std::isfinite(start_degc_) && !m.run->begins_in_log &&
      !is_set(m.run->running_since)) {
    for (const Channel channel :
         {Channel::coolant_temperature, Channel::oil_temperature}) {
      if (m[channel].good()) {
        start_degc_ = m[channel].value;
        break;
      }
    }
  }
  crank(m);
}

void StartWatch::begin(const Moment<double>& m) {
  rest_v_ = start_degc_ = dip_v_ = last_crank_v_ = kNone;
  cranking_ = false;
  fine_ = m.interval <= kFinest;
  std::vector<double> volts;
  TimeMs first = m.at;
  TimeMs last = kNoTime;
  for (const Rest& r : rests_) {
    const DurationMs age = m.at - r.at;
    if (age < kPreheat || age > kOldest) continue;
    first = std::min(first, r.at);
    last = std::max(last, r.at);
    volts.push_back(r.volts);
  }
  rests_.clear();
  if (volts.size() >= 3 && last - first >= kLeastRest) {
    rest_v_ = median_in_place(std::span<double>(volts));
  }
}

void StartWatch::rest(const Moment<double>& m) {
  const auto& volts = m[Channel::battery_voltage];
  if (!volts.good() || m.in_run()) return;
  while (!rests_.empty() && m.at - rests_.front().at > kOldest) {
    rests_.pop_front();
  }
  if (rests_.size() == kMostRests) rests_.pop_front();
  rests_.push_back({m.at, volts.value});
}

void StartWatch::crank(const Moment<double>& m) {
  const bool now = m.phase == Phase::cranking;
  // The reading after the crank may still be a neighbour.
  if (now || cranking_) {
    const auto& volts = m[Channel::battery_voltage];
    if (volts.good()) {
      if (std::isfinite(last_crank_v_)) {
        const double pair = std::abs(volts.value - last_crank_v_) <=
                                    agreement(m.profile->rating)
                                ? std::min(volts.value, last_crank_v_)
                                : std::max(volts.value, last_crank_v_);
        if (!(dip_v_ <= pair)) dip_v_ = pair;
      }
      last_crank_v_ = volts.value;
    }
  }
  if (!now) last_crank_v_ = kNone;
  cranking_ = now;
}

void StartWatch::finish(const RunFacts& facts, RunDigest& run) {
  if (facts.begins_in_log) return;
  run.rest_v = rest_v_;
  run.start_degc = start_degc_;
  run.attempts = facts.attempts;
  if (fine_ && facts.crank_seen) run.crank_dip_v = dip_v_;
}

}  // namespace telltale::host::season

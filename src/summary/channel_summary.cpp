#include "summary/channel_summary.hpp"

#include <algorithm>

namespace telltale::host {
namespace {

namespace acc = boost::accumulators;

constexpr std::int64_t kMostIntervals = 5;
/// Readings whose weight waits for the median interval, at most.
constexpr std::size_t kMostLate = 1U << 16;
constexpr std::size_t kMostSteps = 1024;

}  // namespace

void ChannelSummary::StepCount::add(std::int64_t step_ms) {
  ++count_;
  if (last_ < steps_.size() && steps_[last_].ms == step_ms) {
    ++steps_[last_].n;
    return;
  }
  const auto place = std::lower_bound(
      steps_.begin(), steps_.end(), step_ms,
      [](const Step& step, std::int64_t ms) { return step.ms < ms; });
  last_ = static_cast<std::size_t>(place - steps_.begin());
  if (place != steps_.end() && place->ms == step_ms) {
    ++place->n;
    return;
  }
  // With very many different steps the nearest known one will do.
  if (steps_.size() >= kMostSteps) {
    last_ = std::min(last_, steps_.size() - 1);
    ++steps_[last_].n;
    return;
  }
  steps_.insert(place, {step_ms, 1});
}

std::int64_t ChannelSummary::StepCount::median() const {
  std::uint64_t seen = 0;
  for (const Step& step : steps_) {
    seen += step.n;
    if (seen * 2 >= count_) return step.ms;
  }
  return 0;
}

void ChannelSummary::add(TimeMs at, double x) {
  close_reading(at);
  open_at_ = last_at_ = at;
  open_x_ = x;
  ++samples_;
}

void ChannelSummary::add(std::span<const TimeMs> at,
                         std::span<const double> x) {
  for (std::size_t k = 0; k < at.size(); ++k) add(at[k], x[k]);
}

void ChannelSummary::touch(TimeMs at) {
  close_reading(at);
  last_at_ = at;
}

void ChannelSummary::close_reading(TimeMs at) {
  if (is_set(last_at_)) {
    steps_.add((at - last_at_).ms);
    // The median is looked up each time the count has doubled.
    if (steps_.count() == look_at_) {
      surely_short_ms_ = 2 * steps_.median();
      if (look_at_ == kSettled) settle();
      look_at_ *= 2;
    }
  }
  if (!is_set(open_at_)) return;
  const std::int64_t step = (at - open_at_).ms;
  open_at_ = kNoTime;
  // Short steps count as they are; long ones wait until the median is final.
  if (step <= surely_short_ms_ || late_.size() >= kMostLate) {
    const std::int64_t cap =
        step <= surely_short_ms_
            ? step
            : std::min(step, kMostIntervals * steps_.median());
    count(open_x_, static_cast<double>(cap));
  } else {
    late_.push_back({open_x_, step});
  }
}

void ChannelSummary::settle() {
  std::vector<Late> waiting;
  waiting.swap(late_);
  for (const Late& reading : waiting) {
    if (reading.step_ms <= surely_short_ms_) {
      count(reading.x, static_cast<double>(reading.step_ms));
    } else {
      late_.push_back(reading);
    }
  }
}

void ChannelSummary::count(double x, double weight) {
  if (weight <= 0.0 || quantiles_.add_exact(x, weight)) return;
  if (!many_) begin_statistics();
  many_ = true;
  least_ = std::min(least_, x);
  most_ = std::max(most_, x);
  statistics_(x - midst_, acc::weight = weight);
  quantiles_.add(x, weight);
}

void ChannelSummary::begin_statistics() {
  const std::vector<WeightedValue> values = quantiles_.values();
  if (values.empty()) return;
  least_ = values.front().x;
  most_ = values.back().x;
  midst_ = quantiles_.quantile(0.5);
  for (const WeightedValue& value : values) {
    statistics_(value.x - midst_, acc::weight = value.weight);
  }
}

ChannelFigures ChannelSummary::finish() {
  const std::int64_t interval = std::max<std::int64_t>(1, steps_.median());
  for (const Late& late : late_) {
    count(late.x, static_cast<double>(
                      std::min(late.step_ms, kMostIntervals * interval)));
  }
  if (is_set(open_at_)) count(open_x_, static_cast<double>(interval));
  if (!many_) begin_statistics();
  ChannelFigures out;
  out.samples = samples_;
  out.mean = midst_ + acc::weighted_mean(statistics_);
  out.sd = std::sqrt(std::max(0.0, acc::lazy_weighted_variance(statistics_)));
  out.min = least_;
  out.max = most_;
  out.p05 = quantiles_.quantile(0.05);
  out.median = quantiles_.quantile(0.5);
  out.p95 = quantiles_.quantile(0.95);
  return out;
}

}  // namespace telltale::host

#include "summary/channel_summary.hpp"

#include <algorithm>
#include <utility>

namespace telltale::host {
namespace {

namespace acc = boost::accumulators;

constexpr std::int64_t kMostIntervals = 5;
/// Readings whose weight waits for the median interval, at most.
constexpr std::size_t kMostLate = 1U << 16;
constexpr std::size_t kMostSteps = 1024;

}  // namespace

void ChannelSummary::StepCount::add(std::int64_t step_ms, std::uint64_t times) {
  count_ += times;
  if (last_ < steps_.size() && steps_[last_].ms == step_ms) {
    steps_[last_].n += times;
    return;
  }
  const auto place = std::lower_bound(
      steps_.begin(), steps_.end(), step_ms,
      [](const Step& step, std::int64_t ms) { return step.ms < ms; });
  last_ = static_cast<std::size_t>(place - steps_.begin());
  if (place != steps_.end() && place->ms == step_ms) {
    place->n += times;
    return;
  }
  // With very many different steps the nearest known one will do.
  if (steps_.size() >= kMostSteps) {
    last_ = std::min(last_, steps_.size() - 1);
    steps_[last_].n += times;
    return;
  }
  steps_.insert(place, {step_ms, times});
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

void ChannelSummary::add(std::span<const TimeMs> at, std::span<const double> x,
                         DurationMs even) {
  if (!goes_on_evenly(at.front(), even, x.size())) {
    for (std::size_t k = 0; k < at.size(); ++k) add(at[k], x[k]);
    return;
  }
  steps_.add(even.ms, x.size());
  count_or_wait({&open_x_, 1}, even.ms);
  count_or_wait(x.first(x.size() - 1), even.ms);
  open_at_ = last_at_ = at.back();
  open_x_ = x.back();
  samples_ += x.size();
}

// No median is looked up on the way.
bool ChannelSummary::goes_on_evenly(TimeMs at, DurationMs even,
                                    std::size_t readings) const {
  return even.ms > 0 && is_set(open_at_) && at - open_at_ == even &&
         steps_.count() + readings < look_at_;
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
  count_or_wait({&open_x_, 1}, step);
}

// Short steps count as they are; long ones wait until the median is final.
void ChannelSummary::count_or_wait(std::span<const double> x,
                                   std::int64_t step_ms) {
  if (step_ms <= surely_short_ms_) {
    count(x, step_ms);
  } else if (alike_.x.size() + late_.size() >= kMostLate) {
    count(x, std::min(step_ms, kMostIntervals * steps_.median()));
  } else if (alike_.x.empty() || step_ms == alike_.step_ms) {
    alike_.x.insert(alike_.x.end(), x.begin(), x.end());
    alike_.step_ms = step_ms;
  } else {
    for (const double one : x) late_.push_back({one, step_ms});
  }
}

void ChannelSummary::settle() {
  Alike alike;
  std::swap(alike, alike_);
  std::vector<Late> late;
  late.swap(late_);
  count_or_wait(alike.x, alike.step_ms);
  for (const Late& one : late) count_or_wait({&one.x, 1}, one.step_ms);
}

void ChannelSummary::count(std::span<const double> x, std::int64_t weight_ms) {
  if (weight_ms <= 0) return;
  const auto weight = static_cast<double>(weight_ms);
  const std::size_t exact = quantiles_.add_exact(x, weight);
  for (const double one : x.subspan(exact)) count(one, weight);
}

void ChannelSummary::count(double x, double weight) {
  if (quantiles_.add_exact(x, weight)) return;
  if (!many_) begin_statistics(quantiles_.values());
  many_ = true;
  least_ = std::min(least_, x);
  most_ = std::max(most_, x);
  statistics_(x - midst_, acc::weight = weight);
  quantiles_.add(x, weight);
}

void ChannelSummary::begin_statistics(std::span<const WeightedValue> values) {
  if (values.empty()) return;
  least_ = values.front().x;
  most_ = values.back().x;
  midst_ = WeightedQuantiles::quantile_of(values, 0.5);
  for (const WeightedValue& value : values) {
    statistics_(value.x - midst_, acc::weight = value.weight);
  }
}

ChannelFigures ChannelSummary::finish() {
  const std::int64_t interval = std::max<std::int64_t>(1, steps_.median());
  const std::int64_t longest = kMostIntervals * interval;
  count(alike_.x, std::min(alike_.step_ms, longest));
  for (const Late& one : late_) {
    count({&one.x, 1}, std::min(one.step_ms, longest));
  }
  if (is_set(open_at_)) count({&open_x_, 1}, interval);
  const std::vector<WeightedValue> values = quantiles_.values();
  if (!many_) begin_statistics(values);
  ChannelFigures out;
  out.samples = samples_;
  out.mean = midst_ + acc::weighted_mean(statistics_);
  out.sd = std::sqrt(std::max(0.0, acc::lazy_weighted_variance(statistics_)));
  out.min = least_;
  out.max = most_;
  out.p05 = WeightedQuantiles::quantile_of(values, 0.05);
  out.median = WeightedQuantiles::quantile_of(values, 0.5);
  out.p95 = WeightedQuantiles::quantile_of(values, 0.95);
  return out;
}

}  // namespace telltale::host

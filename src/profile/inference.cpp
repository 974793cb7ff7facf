// Every rule of inference is one small function that says what it concluded.
#include "profile/inference.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace telltale::host {
namespace {

constexpr std::size_t kKept = 4096;
constexpr DurationMs kMinute = seconds(60);
constexpr double kNone = std::numeric_limits<double>::quiet_NaN();

double value_of(const Row& row, Channel channel) {
  return (row.present & bit(channel)) != 0 ? row.value[index_of(channel)]
                                           : kNone;
}

/// Median of the members that are numbers; NaN if there are none.
template <class Rows, class Get>
double median(const Rows& rows, Get get) {
  std::vector<double> values;
  for (const auto& row : rows) {
    const double x = get(row);
    if (std::isfinite(x)) values.push_back(x);
  }
  if (values.empty()) return kNone;
  const auto middle =
      values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle;
}

/// How far the middle half of the values spreads, over their median.
template <class Rows, class Get>
double relative_spread(const Rows& rows, Get get) {
  std::vector<double> values;
  for (const auto& row : rows) {
    const double x = get(row);
    if (std::isfinite(x)) values.push_back(x);
  }
  if (values.size() < 4) return 0.0;
  std::sort(values.begin(), values.end());
  const std::size_t n = values.size();
  return (values[n * 3 / 4] - values[n / 4]) / values[n / 2];
}

/// A system of the contract's list: leg to neutral, leg to leg.
struct System {
  double leg;
  double line;
  std::uint8_t legs;
};
constexpr std::array kSystems = {
    System{110, 220, 2}, System{115, 200, 3}, System{120, 208, 3},
    System{120, 240, 2}, System{127, 220, 3}, System{220, 380, 3},
    System{230, 400, 3}, System{240, 415, 3}, System{254, 440, 3},
    System{277, 480, 3}, System{400, 690, 3}};
constexpr double kFarOff = 0.12;

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

void Inference::keep(const Row& row) {
  if (kept_.size() == kKept) {  // every second one goes, the stride doubles
    for (std::size_t i = 0; i < kKept / 2; ++i) kept_[i] = kept_[2 * i];
    kept_.resize(kKept / 2);
    stride_ *= 2;
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

std::vector<Inference::Thin> Inference::running() const {
  double fastest = 0.0;
  for (const Thin& row : kept_) {
    if (row.speed > fastest && row.speed < 10000) fastest = row.speed;
  }
  std::vector<Thin> out;
  for (const Thin& row : kept_) {
    const bool by_speed = std::isfinite(row.speed) && fastest > 0;
    const bool turns = by_speed                ? row.speed > 0.3 * fastest
                       : std::isfinite(row.hz) ? row.hz > 30
                                               : true;
    if (turns) out.push_back(row);
  }
  return out;
}

std::vector<Inference::Thin> Inference::on_load(
    const std::vector<Thin>& rows) const {
  std::vector<Thin> out;
  for (const Thin& row : rows) {
    const bool loaded = std::isfinite(row.load) ? row.load >= 5
                        : std::isfinite(row.power)
                            ? row.power >= 0.05 * highest_.kw
                            : row.current > 1;
    if (loaded) out.push_back(row);
  }
  return out.empty() ? rows : out;
}

void Inference::infer_speed(const std::vector<Thin>& rows, Rating& rating,
                            std::vector<std::string>& told) const {
  if (is_known(rating.frequency_hz)) return;
  const double hz = median(rows, [](const Thin& r) { return r.hz; });
  if (hz > 40 && hz < 72) {
    rating.frequency_hz = hz < 55 ? 50.0F : 60.0F;
    told.push_back(fmt::format(
        "nominal frequency taken to be {} Hz (on-load median {:.2f} Hz)",
        rating.frequency_hz, hz));
    return;
  }
  const auto speed = [](const Thin& r) { return r.speed; };
  const double rpm = median(rows, speed);
  if (!(rpm > 0) || relative_spread(rows, speed) > 0.08) return;
  for (const float f : {50.0F, 60.0F}) {
    for (const int poles : {2, 4, 6, 8}) {
      const double nominal = 120.0 * static_cast<double>(f) / poles;
      if (std::abs(rpm / nominal - 1.0) > 0.06) continue;
      rating.frequency_hz = f;
      if (rating.poles == 0) rating.poles = static_cast<std::uint8_t>(poles);
      told.push_back(fmt::format(
          "no frequency column: nominal frequency taken to be {} Hz and {} "
          "poles (median speed {:.0f} rpm)",
          f, poles, rpm));
      return;
    }
  }
}

void Inference::infer_poles(const std::vector<Thin>& rows, Rating& rating,
                            std::vector<std::string>& told) const {
  if (rating.poles != 0 || !is_known(rating.frequency_hz)) return;
  const double rpm = median(rows, [](const Thin& r) { return r.speed; });
  if (!(rpm > 0)) return;
  const double exact = 120.0 * static_cast<double>(rating.frequency_hz) / rpm;
  const int poles = 2 * static_cast<int>(std::lround(exact / 2.0));
  if (poles < 2 || poles > 12 || std::abs(exact / poles - 1.0) > 0.08) {
    told.push_back(fmt::format(
        "speed (median {:.0f} rpm) fits no number of poles at {} Hz: nominal "
        "speed is not known",
        rpm, rating.frequency_hz));
    return;
  }
  rating.poles = static_cast<std::uint8_t>(poles);
  told.push_back(fmt::format("{} poles (median speed {:.0f} rpm)", poles, rpm));
}

void Inference::infer_volts(const std::vector<Thin>& rows, Rating& rating,
                            std::vector<std::string>& told) const {
  const double line = median(rows, [](const Thin& r) { return r.line; });
  double leg = 0.0;
  int legs_seen = 0;
  for (int i = 0; i < 3; ++i) {
    const double volts = median(rows, [i](const Thin& r) { return r.legs[i]; });
    if (!(volts > 10)) continue;
    leg += volts;
    ++legs_seen;
  }
  leg = legs_seen > 0 ? leg / legs_seen : kNone;
  int amps_seen = 0;
  for (Channel channel :
       {Channel::current_l1, Channel::current_l2, Channel::current_l3}) {
    amps_seen += (present_ & bit(channel)) != 0 ? 1 : 0;
  }
  const int most = std::max(legs_seen, amps_seen);
  if (rating.legs == 0) {
    const double ratio = line / leg;
    if (most == 3 || (ratio > 1.6 && ratio < 1.85)) {
      rating.legs = 3;
    } else if (most == 2 || (ratio > 1.9 && ratio < 2.1)) {
      rating.legs = 2;
    } else if (most == 1 || std::isfinite(leg)) {
      rating.legs = 1;
    }
  }
  if (is_known(rating.voltage_v)) return;
  if (!(leg > 10) && !(line > 10)) return;

  // The listed system nearest to what was measured, of those that fit the
  // number of legs; a single leg may be any system's leg or line.
  const System* nearest = nullptr;
  double least = kFarOff;
  bool as_single = false;
  const auto offer = [&](const System& system, double off, bool single) {
    if (off < least - 1e-9) {
      least = off;
      nearest = &system;
      as_single = single;
    }
  };
  for (const System& system : kSystems) {
    const double by_leg = std::abs(leg / system.leg - 1.0);
    const double by_line = std::abs(line / system.line - 1.0);
    if (rating.legs <= 1) {
      const double only = std::isfinite(leg) ? leg : line;
      offer(system, std::abs(only / system.leg - 1.0), true);
      if (!std::isfinite(leg) && rating.legs == 0) {
        offer(system, by_line, false);
      }
      continue;
    }
    if (system.legs != rating.legs) continue;
    const double off = std::isfinite(by_leg) && std::isfinite(by_line)
                           ? std::max(by_leg, by_line)
                       : std::isfinite(by_leg) ? by_leg
                                               : by_line;
    offer(system, off, false);
  }
  if (nearest == nullptr) {
    told.push_back(fmt::format(
        "volts ({:.0f}) fit no listed system: nominal volts are not known",
        std::isfinite(line) ? line : leg));
    return;
  }
  if (rating.legs == 0)
    rating.legs = as_single ? std::uint8_t{1} : nearest->legs;
  rating.voltage_v =
      static_cast<float>(as_single ? nearest->leg : nearest->line);
  const std::string seen = std::isfinite(line)
                               ? fmt::format("{:.1f} V leg to leg", line)
                               : fmt::format("{:.1f} V leg to neutral", leg);
  told.push_back(
      as_single ? fmt::format("nominal volts taken to be {:.0f} V, single leg "
                              "(on-load median {})",
                              nearest->leg, seen)
                : fmt::format("nominal volts taken to be {:.0f}/{:.0f} V, {} "
                              "(on-load median {})",
                              nearest->leg, nearest->line,
                              rating.legs == 2 ? "split-phase" : "three-phase",
                              seen));
}

void Inference::infer_rest(const std::vector<Thin>& rows, Rating& rating,
                           std::vector<std::string>& told) const {
  if (!is_known(rating.battery_v)) {
    const double volts = median(rows, [](const Thin& r) { return r.battery; });
    if (volts > 6 && volts < 36) {
      rating.battery_v = volts < 18 ? 12.0F : 24.0F;
      told.push_back(fmt::format("{} V battery system (median {:.1f} V)",
                                 rating.battery_v, volts));
    }
  }
  if (rating.exhaust == Exhaust::unknown) {
    const double exhaust =
        median(rows, [](const Thin& r) { return r.exhaust; });
    if (std::isfinite(exhaust)) {
      rating.exhaust = exhaust > 150 ? Exhaust::dry : Exhaust::wet;
      told.push_back(fmt::format(
          "exhaust sensor taken to sit {} (on-load median {:.0f} °C)",
          exhaust > 150 ? "in the dry gas" : "after the raw-water injection",
          exhaust));
    }
  }
}

Profile Inference::complete(const ProfileFile& file,
                            std::vector<std::string>& told) const {
  Profile out;
  Rating& rating = out.rating;
  rating = rating_of(file);
  for (const LimitOverride& change : file.limits) out.limits.push_back(change);
  for (const ProfileFile::Service& item : file.service) {
    out.service.push_back({item.name, item.every_h, item.every_months,
                           item.done_h, item.done_on.value_or(kNoTime)});
  }

  const std::vector<Thin> turning = running();
  const std::vector<Thin> loaded = on_load(turning);
  infer_speed(loaded, rating, told);
  infer_poles(loaded, rating, told);
  infer_volts(loaded, rating, told);
  infer_rest(loaded, rating, told);

  if (!is_known(rating.power_kw) && (present_ & bit(Channel::load)) == 0) {
    double scale = highest_.kw;
    if (scale <= 0.0 && highest_.line_kva > 0.0) {
      const double share = rating.legs == 3   ? 1.0 / std::sqrt(3.0)
                           : rating.legs == 2 ? 0.5
                                              : 1.0;
      scale = highest_.line_kva * share;
    }
    if (scale > 0.0) {
      out.load_scale_kw = static_cast<float>(scale);
      told.push_back(fmt::format(
          "power rating not known: on load means above 5 % of this log's "
          "highest 60 s mean, {:.3g} kW",
          scale));
    }
  }
  return out;
}

}  // namespace telltale::host

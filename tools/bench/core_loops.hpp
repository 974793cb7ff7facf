// The loops of core_bench: made-up rows, and judging them.
#pragma once

#include <array>
#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <ctime>
#include <memory>
#include <string_view>
#include <vector>

#include "telltale/telltale.hpp"

namespace telltale::bench {

/// Rows made beforehand: a run of one hour, its start and its stop, played
/// again and again while time goes on.
constexpr std::size_t kRows = 4096;
constexpr std::size_t kUsualRows = 400'000;
constexpr auto kLogged = std::to_array<Channel>(
    {Channel::engine_speed, Channel::frequency, Channel::voltage_l1,
     Channel::voltage_l2, Channel::voltage_line, Channel::current_l1,
     Channel::current_l2, Channel::power, Channel::oil_pressure,
     Channel::coolant_temperature, Channel::exhaust_temperature,
     Channel::battery_voltage, Channel::fuel_level, Channel::engine_hours});
using Row = std::array<double, kLogged.size()>;

inline Profile made_profile() {
  Profile profile;
  profile.rating.frequency_hz = 60.0F;
  profile.rating.poles = 2;
  profile.rating.legs = 2;
  profile.rating.power_kw = 8.0F;
  profile.rating.voltage_v = 240.0F;
  profile.rating.battery_v = 12.0F;
  profile.rating.exhaust = Exhaust::wet;
  return profile;
}

/// The steps in which a logger writes each of them.
constexpr std::array<double, kLogged.size()> kPerUnit = {
    1, 10, 10, 10, 1, 10, 10, 100, 10, 10, 10, 100, 10, 10};

/// A healthy set: 5 min at rest, a run under a load that changes every ten
/// minutes, at rest again.
inline std::vector<Row> made_rows() {
  std::vector<Row> rows(kRows);
  std::uint32_t seed = 1;
  const auto noise = [&seed] {
    seed = seed * 1664525U + 1013904223U;
    return static_cast<double>(static_cast<std::int32_t>(seed)) / 2147483648.0;
  };
  for (std::size_t i = 0; i < kRows; ++i) {
    const bool runs = i >= 300 && i < kRows - 300;
    const double on = runs ? 1.0 : 0.0;
    const bool loaded = i >= 420 && i < kRows - 600;
    const double load =
        loaded ? 0.35 + 0.1 * static_cast<double>(i / 600 % 4) : 0.0;
    rows[i] = {on * (3600 + 5 * noise()),
               on * (60 + 0.05 * noise()),
               on * (120 + 0.5 * noise()),
               on * (120 + 0.5 * noise()),
               on * (240 + noise()),
               on * (33 * load + 0.2 * noise()),
               on * (33 * load + 0.2 * noise()),
               on * (8 * load + 0.02 * noise()),
               on * (320 + 3 * noise()),
               82 + 0.3 * noise(),
               40 + 10 * load + 0.5 * noise(),
               (runs ? 14.1 : 12.8) + 0.02 * noise(),
               70 + 0.1 * noise(),
               1234.0 + static_cast<double>(i) / 3600};
    for (std::size_t k = 0; k < kLogged.size(); ++k) {
      rows[i][k] = std::round(rows[i][k] * kPerUnit[k]) / kPerUnit[k];
    }
  }
  return rows;
}

template <class R>
void take(void* told, const Finding<R>& /*finding*/) {
  ++*static_cast<std::uint64_t*>(told);
}

inline double ns_per_sample(std::clock_t from, std::size_t samples) {
  return static_cast<double>(std::clock() - from) * (1e9 / CLOCKS_PER_SEC) /
         static_cast<double>(samples);
}

/// From ready frames: conditioning and checks.
template <class R, class List>
double judge_frames(const std::vector<Row>& rows, std::size_t samples) {
  const Profile profile = made_profile();
  std::vector<Frame<R>> frames;
  FrameBuilder<R> builder;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const TimeMs at{static_cast<std::int64_t>(i) * 1000};
    for (std::size_t k = 0; k < kLogged.size(); ++k) {
      builder.put(kLogged[k], at, static_cast<R>(rows[i][k]));
    }
    frames.push_back(builder.frame(at));
  }
  const auto monitor = std::make_unique<Monitor<R, List>>();
  if (monitor->configure(profile).error != SetupError::none) std::exit(2);
  std::uint64_t told = 0;
  const FindingSink<R> sink(take<R>, &told);
  const auto start = std::clock();
  for (std::size_t i = 0; i < samples; ++i) {
    Frame<R>& frame = frames[i % kRows];
    frame.at = TimeMs{static_cast<std::int64_t>(i) * 1000};
    monitor->step(frame, sink);
  }
  return ns_per_sample(start, samples);
}

/// From single readings: the frame builder too, as a box does.
template <class R, class List>
double judge_readings(const std::vector<Row>& rows, std::size_t samples) {
  const Profile profile = made_profile();
  const auto box = std::make_unique<Box<R, List>>();
  if (box->configure(profile).error != SetupError::none) std::exit(2);
  std::uint64_t told = 0;
  const FindingSink<R> sink(take<R>, &told);
  const auto start = std::clock();
  for (std::size_t i = 0; i < samples; ++i) {
    const TimeMs at{static_cast<std::int64_t>(i) * 1000};
    const Row& row = rows[i % kRows];
    for (std::size_t k = 0; k < kLogged.size(); ++k) {
      box->readings().put(kLogged[k], at, static_cast<R>(row[k]));
    }
    box->scan(at, sink);
  }
  return ns_per_sample(start, samples);
}

using Loop = double (*)(const std::vector<Row>&, std::size_t);
struct Case {
  std::string_view name;
  Loop loop;
  std::size_t samples;
  std::vector<double> ns{};
};

/// One loop for each check alone. In a file of its own: what is compiled for
/// one check must not stand in the way of what is compiled for all.
std::vector<Case> one_by_one();
/// And of none.
Case without_checks();

}  // namespace telltale::bench

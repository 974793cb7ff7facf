// Evidence for and against a clock that was set forward.
#include "ingest/clock_step.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

namespace telltale::host {
namespace {

using enum Channel;

std::optional<double> reading(const Row& row, Channel channel) {
  if ((row.present & bit(channel)) == 0) return std::nullopt;
  return row.value[index_of(channel)];
}

// Whether the set turns; nothing where no channel says so.
std::optional<bool> turns(const Row& row) {
  struct Sign {
    Channel channel;
    double above;
  };
  for (const Sign& sign : {Sign{engine_speed, 300.0}, Sign{frequency, 20.0},
                           Sign{voltage_line, 50.0}, Sign{voltage_l1, 30.0},
                           Sign{power, 0.2}, Sign{oil_pressure, 60.0}}) {
    if (const auto value = reading(row, sign.channel)) {
      return *value > sign.above;
    }
  }
  return std::nullopt;
}

// The finest step that an hour meter with these readings can show.
double resolution_of(double a, double b) {
  for (const double step : {1.0, 0.1, 0.05}) {
    const auto whole = [&](double hours) {
      return std::abs(hours / step - std::round(hours / step)) < 1e-6;
    };
    if (whole(a) && whole(b)) return step;
  }
  return 0.01;
}

enum class Meter { silent, ran_on, stood_still };

Meter judge_hours(const Row& a, const Row& b, double leap_h) {
  const auto before = reading(a, engine_hours);
  const auto after = reading(b, engine_hours);
  if (!before || !after) return Meter::silent;
  const double advance = *after - *before;
  const double step = resolution_of(*before, *after);
  if (advance >= std::max(0.5 * leap_h, 2 * step)) return Meter::ran_on;
  if (advance < 0) return Meter::ran_on;  // another meter: no evidence
  if (leap_h < 2 * step) return Meter::silent;
  return advance <= step + 1e-9 ? Meter::stood_still : Meter::ran_on;
}

// The largest change between neighbours that both sides show.
double usual_change(std::span<const Row> rows, Channel channel) {
  double most = 0;
  for (std::size_t i = 1; i < rows.size(); ++i) {
    const auto a = reading(rows[i - 1], channel);
    const auto b = reading(rows[i], channel);
    if (a && b) most = std::max(most, std::abs(*b - *a));
  }
  return most;
}

// Readings that a real pause would change; load may change at any time.
constexpr std::array kSteady = {coolant_temperature,
                                oil_temperature,
                                oil_pressure,
                                winding_temperature,
                                exhaust_temperature,
                                raw_water_temperature,
                                ambient_temperature,
                                fuel_level,
                                battery_voltage,
                                engine_speed,
                                frequency};

}  // namespace

bool is_clock_set_forward(std::span<const Row> before,
                          std::span<const Row> after) {
  const Row& a = before.back();
  const Row& b = after.front();
  if (turns(a) != std::optional(true) || turns(b) != std::optional(true)) {
    return false;
  }
  const auto starts_before = reading(a, start_count);
  const auto starts_after = reading(b, start_count);
  if (starts_before && starts_after && *starts_before != *starts_after) {
    return false;
  }
  const double leap_h = static_cast<double>((b.logged - a.logged).ms) / 3.6e6;
  if (judge_hours(a, b, leap_h) == Meter::ran_on) return false;
  std::size_t compared = 0;
  for (const Channel channel : kSteady) {
    const auto x = reading(a, channel);
    const auto y = reading(b, channel);
    if (!x || !y) continue;
    ++compared;
    const double usual =
        std::max(usual_change(before, channel), usual_change(after, channel));
    // Twice the usual, and half a percent for columns of few digits.
    const double allowed = 2 * usual + 0.005 * std::abs(*x) + 1e-9;
    if (std::abs(*y - *x) > allowed) return false;
  }
  return compared > 0;
}

}  // namespace telltale::host

// Questions that are a plain value against a limit.
#include <algorithm>
#include <cmath>

#include "simulate/truth/judge.hpp"
#include "simulate/truth/watch.hpp"

namespace telltale::host::sim {
namespace {

using Gate = bool (*)(const View&);
using Value = double (*)(const View&);

class LimitQuestion : public Question {
 public:
  LimitQuestion(Watch watch, Gate gate, Value value, Value shift = nullptr)
      : watch_(std::move(watch)), gate_(gate), value_(value), shift_(shift) {}

  void see(const View& view) override {
    const double shift = shift_ == nullptr ? 0.0 : shift_(view);
    watch_.see(view.now().t, view.now().dt, gate_(view), value_(view), shift);
  }
  void answer(const View&, const TrueRun&, std::vector<Verdict>& out) override {
    watch_.answer(out);
  }

 private:
  Watch watch_;
  Gate gate_;
  Value value_;
  Value shift_;
};

constexpr Degree kAttention = Degree::attention;
constexpr Degree kUrgent = Degree::urgent;

bool steady(const View& v) { return v.steady(); }
bool running(const View& v) { return v.running(); }
double hertz(const View& v) { return v.hertz_pct(); }

// Contract section 6: under 10 % load the band widens upward by the class
// droop, by 6 % for an asynchronous set.
double no_load_room(const View& v) {
  if (v.now().load_pct >= 10.0) return 0.0;
  if (v.rating().asynchronous) return 6.0;
  constexpr double kDroop[] = {8.0, 5.0, 3.0};
  return kDroop[v.rating().performance_class - 1];
}

template <std::size_t Which>
double volts(const View& v) {
  return v.volts_pct(Which);
}

void add(Questions& out, Watch watch, Gate gate, Value value,
         Value shift = nullptr) {
  out.push_back(
      std::make_unique<LimitQuestion>(std::move(watch), gate, value, shift));
}

void add_voltage(Questions& out, Channel channel, Value value) {
  add(out,
      {"voltage-high",
       channel,
       "%",
       Side::above,
       {{kAttention, 6.0, 30.0}, {kUrgent, 15.0, 10.0}}},
      steady, value);
  add(out,
      {"voltage-low",
       channel,
       "%",
       Side::below,
       {{kAttention, -10.0, 30.0}, {kUrgent, -15.0, 10.0}}},
      steady, value);
}

void add_electrical(const Rating& rating, Questions& out) {
  add(out,
      {"frequency-high",
       Channel::frequency,
       "%",
       Side::above,
       {{kAttention, 5.0, 30.0}, {kUrgent, 8.0, 10.0}}},
      steady, hertz, no_load_room);
  add(out,
      {"frequency-low",
       Channel::frequency,
       "%",
       Side::below,
       {{kAttention, -5.0, 30.0}, {kUrgent, -10.0, 10.0}}},
      steady, hertz);
  constexpr double kSwing[] = {2.5, 1.5, 0.5};
  add(out,
      {"frequency-hunting",
       Channel::frequency,
       "%",
       Side::above,
       {{kAttention, kSwing[rating.performance_class - 1], 30.0},
        {kUrgent, 5.0, 30.0}}},
      steady, [](const View& v) { return v.now().hunting_pct; });
  add(out,
      {"speed-frequency-mismatch",
       Channel::engine_speed,
       "%",
       Side::above,
       {{kAttention, 1.0, 60.0}}},
      steady, [](const View& v) { return std::abs(v.now().rpm_error_pct); });
  add_voltage(out, Channel::voltage_l1, volts<0>);
  if (rating.legs > 1) {
    add_voltage(out, Channel::voltage_l2, volts<1>);
    add_voltage(out, Channel::voltage_line, volts<3>);
    add(out,
        {"voltage-unbalance",
         Channel::voltage_l1,
         "%",
         Side::above,
         {{kAttention, 3.0, 60.0}, {kUrgent, 5.0, 60.0}}},
        steady, [](const View& v) {
          double sum = 0.0;
          for (std::size_t i = 0; i < v.legs(); ++i) sum += v.volts_pct(i);
          const double mean = 100.0 + sum / static_cast<double>(v.legs());
          double most = 0.0;
          for (std::size_t i = 0; i < v.legs(); ++i) {
            most = std::max(most, std::abs(100.0 + v.volts_pct(i) - mean));
          }
          return 100.0 * most / mean;
        });
    add(
        out,
        {"leg-imbalance",
         Channel::current_l1,
         "%",
         Side::above,
         {{kAttention, 40.0, 600.0}}},
        [](const View& v) { return v.at_speed(); },
        [](const View& v) {
          double low = 1e9;
          double high = 0.0;
          for (std::size_t i = 0; i < v.legs(); ++i) {
            low = std::min(low, v.amps_pct(i));
            high = std::max(high, v.amps_pct(i));
          }
          return high - low;
        });
  }
  if (rating.legs > 2) add_voltage(out, Channel::voltage_l3, volts<2>);
  add(
      out,
      {"over-excitation",
       Channel::voltage_l1,
       "%",
       Side::above,
       {{kUrgent, 5.0, 10.0}}},
      [](const View& v) { return v.at_speed() && v.at_speed_s() > 10.0; },
      [](const View& v) { return std::min(v.hertz_pct(), v.volts_pct(0)); });
}

void add_engine(const Rating& rating, Questions& out) {
  const double rated_krpm = rating.speed_rpm() / 1000.0;
  add(
      out,
      {"oil-pressure-low",
       Channel::oil_pressure,
       "kPa",
       Side::below,
       {{kAttention, std::max(110.0, 47.0 * rated_krpm), 3.0},
        {kUrgent, std::max(80.0, 28.0 * rated_krpm), 3.0}}},
      [](const View& v) {
        const double speed =
            v.value(Channel::engine_speed) / v.rating().speed_rpm();
        return v.running() && v.running_s() > 10.0 &&
               std::abs(speed - 1.0) < 0.1;
      },
      [](const View& v) { return v.value(Channel::oil_pressure); });
  add(out,
      {"oil-pressure-unsteady",
       Channel::oil_pressure,
       "% of mean",
       Side::above,
       {{kAttention, 5.0, 60.0}}},
      steady, [](const View& v) { return v.now().oil_flutter_pct; });
  const bool sea = rating.cooling == Cooling::sea_water;
  add(out,
      {"coolant-high",
       Channel::coolant_temperature,
       "degC",
       Side::above,
       {{kAttention, sea ? 75.0 : 95.0, 10.0},
        {kUrgent, sea ? 85.0 : 105.0, 10.0}}},
      running,
      [](const View& v) { return v.value(Channel::coolant_temperature); });
  const bool dry = rating.exhaust == Exhaust::dry;
  add(out,
      {"exhaust-high",
       Channel::exhaust_temperature,
       "degC",
       Side::above,
       {{kAttention, dry ? 550.0 : 75.0, 10.0},
        {kUrgent, dry ? 650.0 : 95.0, 10.0}}},
      running,
      [](const View& v) { return v.value(Channel::exhaust_temperature); });
  const double insulation = rating.winding_class == 'H'   ? 180.0
                            : rating.winding_class == 'B' ? 130.0
                                                          : 155.0;
  add(out,
      {"winding-high",
       Channel::winding_temperature,
       "degC",
       Side::above,
       {{kAttention, insulation - 20.0, 10.0}, {kUrgent, insulation, 10.0}}},
      running,
      [](const View& v) { return v.value(Channel::winding_temperature); });
  add(
      out,
      {"early-load",
       Channel::coolant_temperature,
       "% of rating",
       Side::above,
       {{kAttention, 50.0, 30.0}}},
      [](const View& v) {
        return v.running() && v.value(Channel::coolant_temperature) < 40.0;
      },
      [](const View& v) { return v.now().load_pct; });
  const double blocks = rating.battery_v / 12.0;
  add(
      out,
      {"charging-low",
       Channel::battery_voltage,
       "V",
       Side::below,
       {{kAttention, 13.0 * blocks, 60.0}, {kUrgent, 12.4 * blocks, 60.0}}},
      [](const View& v) { return v.running() && v.running_s() > 300.0; },
      [](const View& v) { return v.battery(); });
  add(out,
      {"charging-high",
       Channel::battery_voltage,
       "V",
       Side::above,
       {{kAttention, 15.0 * blocks, 30.0}, {kUrgent, 15.5 * blocks, 30.0}}},
      running, [](const View& v) { return v.value(Channel::battery_voltage); });
}

}  // namespace

void add_limit_questions(const Scenario& scenario, Questions& out) {
  add_electrical(scenario.set.rating, out);
  add_engine(scenario.set.rating, out);
}

}  // namespace telltale::host::sim

// Limits with delay and deadband, and the three ways an alarm list goes bad.
#include "simulate/alarm_book.hpp"

namespace telltale::host::sim {
namespace {

constexpr std::array<std::string_view, 24> kNames = {
    "Low oil pressure",
    "Oil pressure shutdown",
    "High coolant temperature",
    "Coolant temperature shutdown",
    "High exhaust temperature",
    "Battery low",
    "Charge failure",
    "Overload",
    "Under frequency",
    "Over frequency",
    "Under voltage",
    "Over voltage",
    "Fuel low",
    "Failed to start",
    "Emergency stop",
    // From here on: what the alarm faults raise.
    "Enclosure door",
    "Remote panel lost",
    "Sender supply low",
    "Input module lost",
    "Fan feedback",
    "Level sender fault",
    "Bus error",
    "Output short",
    "Service reminder",
};

constexpr int kDoor = 15;
constexpr int kFloodCount = 8;
constexpr int kReminder = 23;

enum Bit : int {
  kOilLow,
  kOilStop,
  kCoolantHigh,
  kCoolantStop,
  kExhaustHigh,
  kBatteryLow,
  kChargeFailure,
  kOverload,
  kUnderFrequency,
  kOverFrequency,
  kUnderVoltage,
  kOverVoltage,
  kFuelLow,
  kFailedToStart,
  kEmergency,
};

constexpr AlarmMask mask(int bit) { return AlarmMask{1} << bit; }

}  // namespace

std::span<const std::string_view> alarm_names() { return kNames; }

AlarmBook::AlarmBook(const SetSpec& set, std::span<const Fault> faults,
                     std::uint64_t seed)
    : set_(&set), faults_(faults), random_(seed, "alarms") {}

void AlarmBook::reset() {
  latched_ = 0;
  trip_ = false;
}

void AlarmBook::judge(int bit, bool bad, bool good, double dt, double delay_s) {
  double& held = held_s_[static_cast<std::size_t>(bit)];
  held = bad ? held + dt : 0.0;
  if (bad && held >= delay_s) standing_ |= mask(bit);
  if (good) standing_ &= ~mask(bit);
}

void AlarmBook::step(const Snapshot& now, double running_s, bool start_failed,
                     bool emergency) {
  const ControllerSpec& spec = set_->controller;
  const Rating& rating = set_->rating;
  const double dt = now.dt;
  const bool armed = running_s > spec.trip_inhibit_s;
  const double oil = value_of(now, Channel::oil_pressure);
  const double coolant = value_of(now, Channel::coolant_temperature);
  const double exhaust = value_of(now, Channel::exhaust_temperature);
  const double battery =
      value_of(now, Channel::battery_voltage) * 12.0 / rating.battery_v;
  const double hertz = value_of(now, Channel::frequency) / rating.frequency_hz;
  const double volts = value_of(now, Channel::voltage_l1) / rating.leg_volts();
  const double fuel = value_of(now, Channel::fuel_level);
  const double exhaust_limit = rating.exhaust == Exhaust::dry ? 620.0 : 88.0;

  judge(kOilLow, armed && oil < spec.trip_oil_kpa + 30.0,
        !armed || oil > spec.trip_oil_kpa + 45.0, dt, 2.0);
  judge(kCoolantHigh, coolant > 99.0, coolant < 96.0, dt, 3.0);
  judge(kExhaustHigh, running_s > 0.0 && exhaust > exhaust_limit,
        exhaust < exhaust_limit - 5.0, dt, 3.0);
  judge(kBatteryLow, battery<11.6, battery> 12.1, dt, 20.0);
  judge(kChargeFailure, running_s > 120.0 && battery < 12.9,
        running_s <= 0.0 || battery > 13.2, dt, 60.0);
  judge(kOverload, now.load_pct > 112.0, now.load_pct < 105.0, dt, 30.0);
  judge(kUnderFrequency, armed && hertz < 0.90, !armed || hertz > 0.93, dt,
        5.0);
  judge(kOverFrequency, armed && hertz > 1.10, !armed || hertz < 1.08, dt, 5.0);
  judge(kUnderVoltage, armed && volts < 0.85, !armed || volts > 0.88, dt, 5.0);
  judge(kOverVoltage, armed && volts > 1.15, !armed || volts < 1.12, dt, 5.0);
  judge(kFuelLow, fuel<8.0, fuel> 10.0, dt, 10.0);
  judge(kFailedToStart, start_failed, false, dt, 0.0);
  judge(kEmergency, emergency, false, dt, 0.0);

  const bool oil_stop =
      armed && spec.trip_oil_kpa > 0.0 && oil < spec.trip_oil_kpa;
  judge(kOilStop, oil_stop, false, dt, 3.0);
  judge(kCoolantStop,
        running_s > 0.0 && spec.trip_coolant_c > 0.0 &&
            coolant > spec.trip_coolant_c,
        false, dt, 3.0);
  const AlarmMask stops = mask(kOilStop) | mask(kCoolantStop);
  if (running_s > 0.0 && (standing_ & stops) != 0) trip_ = true;
  if (running_s > 0.0 && spec.trip_overspeed_pct > 0.0 &&
      value_of(now, Channel::engine_speed) >
          rating.speed_rpm() * spec.trip_overspeed_pct / 100.0) {
    standing_ |= mask(kOverFrequency);
    trip_ = true;
  }
  if (emergency && running_s > 0.0) trip_ = true;
  // What stopped the engine stays on the panel until the next start.
  latched_ |= standing_ & (stops | mask(kFailedToStart) | mask(kEmergency));
  standing_ |= latched_;

  for (const Fault& fault : faults_) {
    if (now.t < fault.at_s || now.t >= fault.until_s) continue;
    if (fault.kind == FaultKind::alarm_chatter) chatter(fault, now.t);
    if (fault.kind == FaultKind::alarm_flood) flood(fault, now.t);
    if (fault.kind == FaultKind::alarm_standing) {
      const bool stands = now.t < fault.at_s + fault.full_size() * 3600.0;
      judge(kReminder, stands, !stands, dt, 0.0);
    }
  }
}

// Raised and cleared about so many times a minute, for a minute and a half at
// a time, while the value sits at its limit.
void AlarmBook::chatter(const Fault& fault, double t) {
  if (t < chatter_next_) return;
  if (t > chatter_until_) {
    const bool first = chatter_until_ < 0.0;
    standing_ &= ~mask(kDoor);
    chatter_next_ = first ? t : t + random_.between(480.0, 900.0);
    chatter_until_ = chatter_next_ + 90.0;
    return;
  }
  const double half = 30.0 / fault.full_size();
  standing_ ^= mask(kDoor);
  chatter_next_ = t + half * random_.between(0.75, 1.25);
}

// So many raises spread over ten minutes, then quiet: each alarm of the list
// comes up in turn and stays for a while.
void AlarmBook::flood(const Fault& fault, double t) {
  const double since = t - fault.at_s;
  if (since > 660.0) {
    for (int i = 0; i < kFloodCount; ++i) standing_ &= ~mask(kDoor + i);
    return;
  }
  if (since > 600.0 || t < flood_next_) return;
  const int bit = kDoor + static_cast<int>(random_.below(kFloodCount));
  // An alarm that already stands clears first; it rises again next time.
  if ((standing_ & mask(bit)) != 0) {
    standing_ &= ~mask(bit);
    flood_next_ = t + 4.0;
    return;
  }
  standing_ |= mask(bit);
  flood_next_ = t + 600.0 / fault.full_size() * random_.between(0.6, 1.2);
}

}  // namespace telltale::host::sim

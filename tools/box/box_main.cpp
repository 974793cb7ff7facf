// A small box program to start from: readings in, event records out.
//
// On a real box replace `Sensors` by your ADC, bus and clock, and `Records` by
// your flash or radio; the rest stays as it is. Here the sensors are made up:
// an hour's run whose charging fails after twenty minutes. The records go to
// standard output; `telltale events -` tells what they say.
#include <cstdint>
#include <cstdio>

#include "telltale/telltale.hpp"

namespace {

using namespace telltale;

/// What this box watches: name only what its sensors can tell, and pay only
/// for that. AllChecks is all of them.
using Watched =
    CheckList<FrequencyHigh, FrequencyLow, VoltageHigh, VoltageLow,
              OilPressureLow, CoolantHigh, ExhaustHigh, ExhaustJump,
              ChargingLow, ChargingHigh, AbruptStop, DataGap, SensorDropout>;

/// The rating plate of the set the box is screwed to.
Profile plate() {
  Profile profile;
  profile.rating.frequency_hz = 60.0F;
  profile.rating.poles = 2;
  profile.rating.legs = 1;
  profile.rating.power_kw = 8.0F;
  profile.rating.voltage_v = 120.0F;
  profile.rating.battery_v = 12.0F;
  profile.rating.exhaust = Exhaust::wet;
  profile.interval_s = 1.0F;
  return profile;
}

/// Made-up sensors. Each channel comes in its own time.
struct Sensors {
  static constexpr std::int64_t kStart = 60;    // seconds
  static constexpr std::int64_t kFails = 1260;  // the charger
  static constexpr std::int64_t kStop = 3660;

  template <class AnyBox>
  static void read(std::int64_t second, AnyBox& box) {
    const TimeMs now = TimeMs{} + seconds(second);
    const bool runs = second >= kStart && second < kStop;
    const float turning = runs ? 1.0F : 0.0F;
    auto& readings = box.readings();
    readings.put(Channel::frequency, now, 60.0F * turning);
    readings.put(Channel::voltage_l1, now, 121.0F * turning);
    readings.put(Channel::oil_pressure, now, 310.0F * turning);
    readings.put(Channel::battery_voltage, now,
                 !runs             ? 12.7F
                 : second < kFails ? 14.1F
                                   : 12.3F);
    // Temperatures come every five seconds; between them the last one stands.
    if (second % 5 == 0) {
      readings.put(Channel::coolant_temperature, now, runs ? 82.0F : 30.0F);
      readings.put(Channel::exhaust_temperature, now, runs ? 45.0F : 25.0F);
    }
  }
};

/// Where findings go: one record each.
struct Records {
  std::uint16_t sequence = 0;

  void keep(const Finding<float>& finding) {
    const EventRecord::Bytes bytes =
        encode_event(finding, sequence++, /*wall_clock=*/false);
    std::fwrite(bytes.data(), 1, bytes.size(), stdout);
  }
  FindingSink<float> sink() {
    return FindingSink<float>(
        [](void* self, const Finding<float>& finding) {
          static_cast<Records*>(self)->keep(finding);
        },
        this);
  }
};

// All the memory there is, known when the program is linked.
using Watcher = Box<float, Watched>;
Watcher box;
Profile profile;
Records records;
std::uint8_t saved[Watcher::kStateBytes];  // flash or battery-backed RAM

}  // namespace

int main() {
  profile = plate();
  if (box.configure(profile).error != SetupError::none) return 1;
  // After a power cut go on where it stopped. The first time there is nothing.
  if (box.load(saved) != StateError::none) {
    std::fputs("box: starting afresh\n", stderr);
  }
  const FindingSink<float> sink = records.sink();
  for (std::int64_t second = 0; second < 3720; ++second) {
    Sensors::read(second, box);
    box.scan(TimeMs{} + seconds(second), sink);
    // Two such blocks in turn, so that one is whole whenever the power goes.
    if (second % 60 == 59) box.save(saved);
  }
  return 0;
}

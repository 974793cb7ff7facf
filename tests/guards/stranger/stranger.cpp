// Ten lines with the installed core: a battery that is not charged.
#include <cstdio>
#include <telltale/telltale.hpp>

int main() {
  const telltale::Profile profile{.rating = {.frequency_hz = 60.0F}};
  telltale::BoxMonitor monitor;
  telltale::FrameBuilder<float> readings;
  const telltale::FindingSink<float> sink(
      [](void*, const telltale::Finding<float>& found) {
        if (found.check != telltale::ChargingLow<float>::info.id) return;
        std::printf("charging-low: %.1f\n", static_cast<double>(found.value));
      },
      nullptr);
  if (monitor.configure(profile).error != telltale::SetupError::none) return 1;
  for (telltale::TimeMs now{0}; now.ms < 3'600'000; now.ms += 1000) {
    readings.put(telltale::Channel::frequency, now, 60.0F);
    readings.put(telltale::Channel::battery_voltage, now, 12.6F);
    monitor.step(readings.frame(now), sink);
  }
  monitor.flush(sink);
}

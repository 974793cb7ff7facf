// A box's program: every check in both precisions over a short run, linked
// without the C++ library. Exit code 0: it found what it should have found.
#include <cstdint>

#include "telltale/advise/cautions.hpp"
#include "telltale/assess/causes.hpp"
#include "telltale/telltale.hpp"

namespace {

using namespace telltale;

template <class R>
struct Heard {
  unsigned findings = 0;
  std::uint16_t check = 0;
};

template <class R>
Monitor<R, AllChecks> monitor;
template <class R>
FrameBuilder<R> readings;

/// An hour on load with a battery that is not charged.
template <class R>
bool finds_the_flat_battery() {
  static Profile profile;
  profile.rating.frequency_hz = 60.0F;
  profile.rating.poles = 2;
  profile.rating.battery_v = 12.0F;
  if (monitor<R>.configure(profile).error != SetupError::none) return false;
  Heard<R> heard;
  const FindingSink<R> sink(
      [](void* self, const Finding<R>& finding) {
        auto& h = *static_cast<Heard<R>*>(self);
        if (finding.event == FindingEvent::opened) ++h.findings;
        h.check = finding.check;
      },
      &heard);
  for (std::int64_t second = 0; second < 3600; ++second) {
    const TimeMs now{second * 1000};
    const bool odd = second % 2 != 0;
    readings<R>.put(Channel::engine_speed, now, R(3600) + (odd ? R(1) : R(0)));
    readings<R>.put(Channel::battery_voltage, now,
                    R(12.7) + (odd ? R(0.02) : R(0)));
    monitor<R>.step(readings<R>.frame(now), sink);
  }
  monitor<R>.flush(sink);
  return heard.findings == 1 && heard.check == ChargingLow<R>::info.id;
}

}  // namespace

int main() {
  return finds_the_flat_battery<float>() && finds_the_flat_battery<double>()
             ? 0
             : 1;
}

// LastReadings: what is remembered of a channel from scan to scan.
#include "telltale/condition/last_readings.hpp"

#include <cmath>

#include "catch.hpp"

namespace telltale {
namespace {

constexpr Channel kChannel = Channel::coolant_temperature;
constexpr std::size_t kPlace = index_of(kChannel);

/// Shows one scan in which the channel reads `value`.
void show(LastReadings<double>& last, Quality quality, double value) {
  Frame<double> frame;
  frame.set(kChannel, quality, value);
  const ChannelMask good = frame.with(Quality::good);
  if (good != 0) {
    if ((last.seen() & good) != 0) {
      last.learn(kPlace, value, last.moved(kPlace, value));
    } else {
      last.begin(kPlace, value);
    }
  }
  last.close_scan(frame, good);
}

TEST_CASE("last readings: a channel in whole degrees has a resolution of one") {
  LastReadings<double> last;
  CHECK(std::isinf(last.smallest_step(kPlace)));
  for (const double x : {70.0, 70.0, 73.0, 72.0, 72.0, 74.0}) {
    show(last, Quality::good, x);
  }
  CHECK(last.smallest_step(kPlace) == 1.0);
  CHECK(last.value(kPlace) == 74.0);
}

TEST_CASE("last readings: what is missing breaks the chain, not the memory") {
  LastReadings<double> last;
  CHECK(last.seen() == 0);
  show(last, Quality::good, 70.0);
  CHECK(last.unbroken() == bit(kChannel));
  show(last, Quality::missing, 0.0);
  CHECK(last.unbroken() == 0);
  CHECK(last.seen() == bit(kChannel));
  show(last, Quality::good, 90.0);
  // The jump across the gap is a step, and no usual one.
  CHECK(last.smallest_step(kPlace) == 20.0);
  CHECK(last.usual_step(kPlace) == 0.0);
  CHECK(last.unbroken() == bit(kChannel));
}

TEST_CASE("last readings: the usual step follows slowly") {
  LastReadings<double> last;
  show(last, Quality::good, 0.0);
  for (int i = 1; i <= 200; ++i) {
    show(last, Quality::good, i % 2 == 0 ? 0.0 : 2.0);
  }
  CHECK(last.usual_step(kPlace) == Approx(2.0).epsilon(0.001));
}

TEST_CASE("last readings: what cannot be is known for one scan") {
  LastReadings<double> last;
  show(last, Quality::implausible, 4000.0);
  CHECK(last.impossible() == bit(kChannel));
  show(last, Quality::good, 70.0);
  CHECK(last.impossible() == 0);
}

}  // namespace
}  // namespace telltale

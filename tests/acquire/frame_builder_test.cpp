// FrameBuilder and Frame: how readings in their own time become qualities.
#include "telltale/acquire/frame_builder.hpp"

#include <cmath>
#include <limits>

#include "catch.hpp"

namespace telltale {
namespace {

constexpr double kNone = std::numeric_limits<double>::quiet_NaN();
constexpr Channel kOil = Channel::oil_pressure;
constexpr Channel kCoolant = Channel::coolant_temperature;

TimeMs at_second(double s) {
  return TimeMs{static_cast<std::int64_t>(s * 1000)};
}

TEST_CASE("frame builder: fresh, then held, then missing") {
  FrameBuilder<double> builder;
  builder.put(kOil, at_second(0.5), 320.0);
  for (int s = 1; s <= 13; ++s) {
    const Frame<double> frame = builder.frame(at_second(s));
    INFO(s);
    const Quality expected = s == 1    ? Quality::good
                             : s <= 10 ? Quality::held
                                       : Quality::missing;
    CHECK(frame.quality(kOil) == expected);
    CHECK(frame[kOil].usable() == (s <= 10));
    CHECK(std::isnan(frame[kOil].value) == (s > 10));
    CHECK(frame.quality(kCoolant) == Quality::absent);
  }
}

TEST_CASE("frame builder: a reading from before the last scan is not fresh") {
  FrameBuilder<double> builder;
  builder.declare(kOil);
  CHECK(builder.frame(at_second(1)).quality(kOil) == Quality::missing);
  builder.put(kOil, at_second(1), 320.0);
  CHECK(builder.frame(at_second(2)).quality(kOil) == Quality::held);
  builder.put(kOil, at_second(2.001), 321.0);
  CHECK(builder.frame(at_second(3)).quality(kOil) == Quality::good);
}

TEST_CASE("frame builder: what cannot be is told once, then missing") {
  FrameBuilder<double> builder;
  builder.put(kCoolant, at_second(0.5), 3000.0);
  const Frame<double> first = builder.frame(at_second(1));
  CHECK(first.quality(kCoolant) == Quality::implausible);
  CHECK(first[kCoolant].value == 3000.0);
  CHECK_FALSE(first[kCoolant].usable());
  CHECK(builder.frame(at_second(2)).quality(kCoolant) == Quality::missing);
}

TEST_CASE("frame builder: NaN says that a reading should be there") {
  FrameBuilder<double> builder;
  builder.put(kOil, at_second(0.5), 320.0);
  CHECK(builder.frame(at_second(1)).quality(kOil) == Quality::good);
  builder.put(kOil, at_second(1.5), kNone);
  CHECK(builder.frame(at_second(2)).quality(kOil) == Quality::missing);
  // The one before is still young enough.
  CHECK(builder.frame(at_second(3)).quality(kOil) == Quality::held);
}

TEST_CASE("frame builder: several readings at once are as one by one") {
  FrameBuilder<double> together;
  FrameBuilder<double> singly;
  // Good ones, one that cannot be, one that is lost and comes back, and a
  // second scan at the same time.
  const std::array<double, 4> coolant = {80.0, 3000.0, 81.0, 82.0};
  for (int i = 0; i < 4; ++i) {
    const TimeMs at = at_second(i == 3 ? 2 : i);
    std::array<double, kChannelCount> values;
    values.fill(kNone);
    values[index_of(kCoolant)] = coolant[static_cast<std::size_t>(i)];
    if (i != 1) values[index_of(kOil)] = 300.0 + i;
    if (i == 1) {
      together.put(kOil, at, kNone);
      singly.put(kOil, at, kNone);
    }
    const ChannelMask channels =
        i == 1 ? bit(kCoolant) : bit(kCoolant) | bit(kOil);
    together.put(channels, at, values);
    for_each_bit(channels, [&](std::size_t k) {
      singly.put(static_cast<Channel>(k), at, values[k]);
    });
    const Frame<double> a = together.frame(at);
    const Frame<double> b = singly.frame(at);
    INFO("scan " << i);
    for (const Channel channel : {kCoolant, kOil, Channel::frequency}) {
      CHECK(a.quality(channel) == b.quality(channel));
      const double x = a[channel].value;
      const double y = b[channel].value;
      CHECK((x == y || (std::isnan(x) && std::isnan(y))));
    }
  }
}

TEST_CASE("frame: every quality is a set, and they part the channels") {
  Frame<float> frame;
  frame.set(kOil, Quality::good, 300.0F);
  frame.set(kCoolant, Quality::held, 80.0F);
  CHECK(frame.with(Quality::good) == bit(kOil));
  CHECK(frame.with(Quality::held) == bit(kCoolant));
  CHECK(frame.present() == (bit(kOil) | bit(kCoolant)));
  CHECK(frame.with(Quality::absent) == (kEveryChannel & ~frame.present()));
  frame.condemn(bit(kOil), Quality::spike);
  CHECK(frame.quality(kOil) == Quality::spike);
  CHECK(frame.condemned() == bit(kOil));
  CHECK_FALSE(frame[kOil].good());
  frame.set(kOil, Quality::missing);
  CHECK(frame.quality(kOil) == Quality::missing);
  CHECK(std::isnan(frame[kOil].value));
}

}  // namespace
}  // namespace telltale

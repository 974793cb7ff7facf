// AlarmRaises: appearances, newest first, across more of them than are kept.
#include "telltale/condition/alarm_raises.hpp"

#include "catch.hpp"

namespace telltale {
namespace {

TimeMs at_second(int s) { return TimeMs{std::int64_t{1000} * s}; }

TEST_CASE("alarm raises: what stands at first was not seen to appear") {
  AlarmRaises raises;
  raises.step(0b101, at_second(0));
  CHECK(raises.raised() == 0);
  CHECK(raises.size() == 0);
  raises.step(0b111, at_second(1));
  CHECK(raises.raised() == 0b010);
  CHECK(raises.alarm(0) == 1);
}

TEST_CASE("alarm raises: an alarm that stands is raised once") {
  AlarmRaises raises;
  raises.step(0, at_second(0));
  for (int s = 1; s < 10; ++s) raises.step(0b1, at_second(s));
  CHECK(raises.size() == 1);
  CHECK(raises.at(0).full(at_second(9)) == at_second(1));
}

TEST_CASE("alarm raises: the newest stay, newest first") {
  AlarmRaises raises;
  for (int s = 0; s < 200; ++s) {
    // Alarm s/2 mod 8 comes on even seconds and goes on odd ones.
    const AlarmMask now = s % 2 == 0 ? AlarmMask{1} << s / 2 % 8 : 0;
    raises.step(now, at_second(s));
  }
  REQUIRE(raises.size() == AlarmRaises::kKept);
  for (std::size_t i = 0; i < raises.size(); ++i) {
    const int s = 198 - 2 * static_cast<int>(i);
    CHECK(raises.at(i).full(at_second(199)) == at_second(s));
    CHECK(raises.alarm(i) == static_cast<std::size_t>(s / 2 % 8));
  }
}

}  // namespace
}  // namespace telltale

// Floods against hand-made lists with the limits of ISA-18.2 and EEMUA 191:
// more than 10 raises in 10 min, until fewer than 5.
#include "alarms/flood_watch.hpp"

#include <initializer_list>

#include "catch.hpp"

namespace telltale::host {
namespace {

EventPlace at_s(int s) { return {TimeMs{s * 1000}, TimeMs{s * 1000}, 1}; }

FloodWatch watched(std::initializer_list<int> raises, int end_s) {
  FloodWatch watch;
  for (const int s : raises) watch.raise(at_s(s), 0);
  watch.finish(TimeMs{end_s * 1000});
  return watch;
}

TEST_CASE("twelve raises 30 s apart are a flood") {
  FloodWatch watch;
  for (int i = 0; i < 12; ++i) watch.raise(at_s(i * 30), 0);
  watch.finish(TimeMs{3'600'000});
  REQUIRE(watch.count() == 1);
  CHECK(watch.peak() == 12);
  const Flood& flood = watch.floods().front();
  CHECK(flood.from.at == TimeMs{0});
  CHECK(flood.raises == 12);
  CHECK(flood.peak == 12);
  // The raise at 210 s is the fifth last: at 810 s only four are left.
  CHECK(flood.to == TimeMs{810'000});
  CHECK_FALSE(flood.open);
}

TEST_CASE("raises 61 s apart are never more than ten within ten minutes") {
  FloodWatch watch;
  for (int i = 0; i < 200; ++i) watch.raise(at_s(i * 61), 0);
  watch.finish(TimeMs{200 * 61'000});
  CHECK(watch.peak() == 10);
  CHECK(watch.count() == 0);
  CHECK(watch.in_flood().ms == 0);
}

TEST_CASE("ten raises in ten minutes are no flood, eleven are") {
  const auto ten = watched({0, 1, 2, 3, 4, 5, 6, 7, 8, 9}, 4000);
  CHECK(ten.count() == 0);
  const auto eleven = watched({0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10}, 4000);
  CHECK(eleven.count() == 1);
}

TEST_CASE("the raise exactly ten minutes ago is out of the window") {
  const auto out = watched({0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 600}, 4000);
  CHECK(out.count() == 0);
  const auto in = watched({0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 599}, 4000);
  CHECK(in.count() == 1);
}

TEST_CASE("a flood goes on at five in ten minutes and ends below") {
  FloodWatch watch;
  for (int s = 0; s < 11; ++s) watch.raise(at_s(s), 0);
  // One every 119 s: five lie within any ten minutes, or six.
  for (int i = 1; i <= 10; ++i) watch.raise(at_s(10 + i * 119), 0);
  watch.finish(TimeMs{10'000'000});
  REQUIRE(watch.count() == 1);
  CHECK(watch.floods().front().raises == 21);
  // Fifth last of all: 10 + 6 * 119.
  CHECK(watch.floods().front().to == TimeMs{(724 + 600) * 1000});
}

TEST_CASE("a flood that the journal cuts off is open") {
  const auto cut = watched({0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10}, 300);
  REQUIRE(cut.count() == 1);
  CHECK(cut.floods().front().open);
  CHECK(cut.in_flood().ms == 300'000);
}

TEST_CASE("a flood tells what came first and what came most") {
  FloodWatch watch;
  watch.raise(at_s(0), 7);
  for (int i = 1; i < 12; ++i) {
    watch.raise(at_s(i), i % 3 == 0 ? 4U : 2U);
  }
  watch.finish(TimeMs{4'000'000});
  const Flood& flood = watch.floods().front();
  CHECK(flood.first_alarm == 7);
  CHECK(flood.top_alarm == 2);
  CHECK(flood.top_raises == 8);
  CHECK(flood.distinct == 3);
}

}  // namespace
}  // namespace telltale::host

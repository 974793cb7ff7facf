// The C interface, used from C11.
#include "telltale/c_interface.hpp"

#include <algorithm>

#include "c_user.h"
#include "catch.hpp"

namespace telltale {
namespace {

TEST_CASE("C hears of a finding by polling, across a power cut too") {
  for (const int cut : {-1, 620, 700}) {
    c_story story{};
    REQUIRE(c_user_run(&story, cut) == 0);
    CHECK(story.polled == 1);
    CHECK(story.untold == 0);
    CHECK(story.first.check == ChargingLow<float>::info.id);
    CHECK(story.first.channel == TELLTALE_battery_voltage);
    CHECK(story.first.severity == TELLTALE_ATTENTION);
    CHECK(story.first.limit == 13.0F);
    CHECK(story.first.since_ms >= 600'000);
    CHECK(story.first.since_ms <= 640'000);

    EventRecord record;
    EventRecord::Bytes bytes;
    std::copy(std::begin(story.record), std::end(story.record), bytes.begin());
    REQUIRE(decode_event(bytes, record) == RecordError::none);
    CHECK(record.finding.check == story.first.check);
    CHECK(record.finding.since.ms == story.first.since_ms);
    CHECK(record.sequence == 9);
  }
}

TEST_CASE("C hears of it by callback, and nothing waits then") {
  c_story story{};
  story.use_callback = 1;
  REQUIRE(c_user_run(&story, -1) == 0);
  CHECK(story.called == 1);
  CHECK(story.polled == 0);
}

TEST_CASE("C can ask whether all could be told") {
  uint32_t in_run = 0;
  uint32_t after = 0;
  REQUIRE(c_user_all_at_once(&in_run, &after));
  // Twelve values find room: two of the voltage-low ones do not.
  CHECK(in_run == 1);
  CHECK(after == 1);
}

TEST_CASE("C is told why a set-up is refused") {
  uint16_t check = 0;
  CHECK(c_user_wrong_limits(&check) == TELLTALE_LIMITS_IN_WRONG_ORDER);
  CHECK(check == CoolantHigh<float>::info.id);
  CHECK(c_user_wrong_plate() == TELLTALE_BAD_PLATE);
}

TEST_CASE("C enumerations are those of the core") {
  CHECK(TELLTALE_STATE_FAULT == static_cast<int>(EngineState::fault));
  CHECK(TELLTALE_STATE_COOL_DOWN == static_cast<int>(EngineState::cool_down));
  CHECK(TELLTALE_URGENT == static_cast<int>(Severity::urgent));
  CHECK(TELLTALE_NOTE == static_cast<int>(Severity::note));
  CHECK(TELLTALE_CLOSED == static_cast<int>(FindingEvent::closed));
  CHECK(TELLTALE_oil_pressure == static_cast<int>(Channel::oil_pressure));
}

}  // namespace
}  // namespace telltale

#include "telltale/advise/event_record.hpp"

#include <cmath>

#include "catch.hpp"

namespace telltale {
namespace {

Finding<float> some_finding() {
  Finding<float> finding;
  finding.check = 31;
  finding.channel = Channel::battery_voltage;
  finding.severity = Severity::attention;
  finding.event = FindingEvent::worsened;
  finding.unit = Unit::V;
  finding.run = 513;
  finding.value = 12.5F;
  finding.limit = 13.0F;
  finding.since = TimeMs{1'780'300'800'123};
  finding.until = TimeMs{1'780'300'860'123};
  return finding;
}

// Written out by hand from the table in the header, so that a change of the
// layout can't go unseen: 1780300800123 ms is 0x019E8232607B, 60 s is 0xEA60.
TEST_CASE("every byte of a record") {
  const EventRecord::Bytes bytes = encode_event(some_finding(), 0x0102, true);
  const std::uint8_t expected[30] = {
      0x54,
      1,
      31,
      0,
      static_cast<std::uint8_t>(Channel::battery_voltage),
      0x13,
      static_cast<std::uint8_t>(Unit::V),
      1,
      0x7B,
      0x60,
      0x32,
      0x82,
      0x9E,
      0x01,
      0x60,
      0xEA,
      0,
      0,
      0x01,
      0x02,  // run 513
      0,
      0,
      0x48,
      0x41,  // 12.5
      0,
      0,
      0x50,
      0x41,  // 13.0
      0x02,
      0x01};
  for (std::size_t i = 0; i < 30; ++i) {
    INFO("byte " << i);
    CHECK(int{bytes[i]} == int{expected[i]});
  }
}

TEST_CASE("a record comes back") {
  EventRecord out;
  REQUIRE(decode_event(encode_event(some_finding(), 7, true), out) ==
          RecordError::none);
  const Finding<float> in = some_finding();
  CHECK(out.sequence == 7);
  CHECK(out.wall_clock);
  CHECK(out.finding.check == in.check);
  CHECK(out.finding.channel == in.channel);
  CHECK(out.finding.severity == in.severity);
  CHECK(out.finding.event == in.event);
  CHECK(out.finding.unit == in.unit);
  CHECK(out.finding.run == in.run);
  CHECK(out.finding.value == in.value);
  CHECK(out.finding.limit == in.limit);
  CHECK(out.finding.since == in.since);
  CHECK(out.finding.until == in.until);
}

TEST_CASE("odd contents: no channel, no value, times before the origin") {
  Finding<float> in = some_finding();
  in.channel = Channel::none;
  in.value = Finding<float>::kNone;
  in.since = TimeMs{-5000};
  in.until = in.since + hours(24 * 60);  // longer than the field holds
  EventRecord out;
  REQUIRE(decode_event(encode_event(in, 0, false), out) == RecordError::none);
  CHECK(out.finding.channel == Channel::none);
  CHECK(std::isnan(out.finding.value));
  CHECK(out.finding.since.ms == -5000);
  CHECK((out.finding.until - out.finding.since).ms == 0xFFFFFFFF);
  CHECK(!out.wall_clock);
}

TEST_CASE("any flipped bit is noticed") {
  const EventRecord::Bytes good = encode_event(some_finding(), 7, true);
  for (std::size_t bit = 0; bit < EventRecord::kBytes * 8; ++bit) {
    EventRecord::Bytes bad = good;
    bad[bit / 8] = static_cast<std::uint8_t>(bad[bit / 8] ^ 1U << bit % 8);
    EventRecord out;
    CHECK(decode_event(bad, out) != RecordError::none);
  }
}

TEST_CASE("empty flash is blank, not damaged") {
  EventRecord out;
  EventRecord::Bytes bytes{};
  CHECK(decode_event(bytes, out) == RecordError::blank);
  bytes.fill(0xFF);
  CHECK(decode_event(bytes, out) == RecordError::blank);
  bytes[0] = 0x55;
  CHECK(decode_event(bytes, out) == RecordError::not_a_record);
  bytes[0] = EventRecord::kMark;
  CHECK(decode_event(bytes, out) == RecordError::other_version);
}

// A right CRC over an id that no table has.
TEST_CASE("a channel nobody knows is refused") {
  EventRecord::Bytes bytes = encode_event(some_finding(), 7, true);
  bytes[4] = 200;
  put_little_endian(std::span<std::uint8_t>(bytes).subspan(30, 2),
                    crc16(std::span<const std::uint8_t>(bytes).first(30)));
  EventRecord out;
  CHECK(decode_event(bytes, out) == RecordError::damaged);
}

}  // namespace
}  // namespace telltale

// Times in 32 bits: order, spans and the full time across a lap of the word,
// and what happens to a time that lies far back.
#include "telltale/base/box_time.hpp"

#include "catch.hpp"

namespace telltale {
namespace {

/// 2026-05-19T08:00Z, and a moment whose low word is about to begin anew.
constexpr TimeMs kDay{1'779'177'600'000};
constexpr TimeMs kLapEnds{(std::int64_t{415} << 32) - 500};

TEST_CASE("box time: the full time comes back, to two milliseconds") {
  for (const TimeMs then : {kDay, kLapEnds, TimeMs{0}, TimeMs{1}}) {
    for (const DurationMs later : {DurationMs{0}, seconds(1), hours(480)}) {
      const TimeMs now = then + later;
      const TimeMs back = full(BoxTime(then), now);
      CHECK(back - then >= DurationMs{-1});
      CHECK(back - then <= DurationMs{1});
    }
  }
}

TEST_CASE("box time: order and spans hold across a lap of the word") {
  const BoxTime before(kLapEnds);
  const BoxTime after(kLapEnds + seconds(1));
  CHECK(before < after);
  CHECK(after - before == BoxSpan(1000));
  CHECK(before - after == BoxSpan(-1000));
  CHECK(before + BoxSpan(1000) == after);
  CHECK(after - BoxSpan(1000) == before);
}

TEST_CASE("box time: none is none, and no time is taken for it") {
  CHECK(!is_set(BoxTime(kNoTime)));
  CHECK(full(BoxTime(kNoTime), kDay) == kNoTime);
  CHECK(is_set(BoxTime(TimeMs{0})));
  CHECK(is_set(BoxTime(TimeMs{std::int64_t{1} << 32})));
}

TEST_CASE("box time: what lies far back is brought to 20 days ago") {
  BoxTime t(kDay);
  keep_young<float>(t, BoxTime(kDay + hours(19 * 24)));
  CHECK(t == BoxTime(kDay));
  const BoxTime now(kDay + hours(21 * 24));
  keep_young<float>(t, now);
  CHECK(now - t == BoxSpan(hours(20 * 24)));
  CHECK(kept_span<float>(hours(400 * 24)) == BoxSpan(hours(20 * 24)));
  CHECK(kept_span<double>(hours(400 * 24)) == hours(400 * 24));
}

}  // namespace
}  // namespace telltale

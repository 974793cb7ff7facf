// short-cool-down: no-load time before the stop when the last 10 on-load
// minutes averaged over 50 %; note < 120 s (contract section 6).
#include "telltale/detect/checks/short_cool_down.hpp"

#include "catch.hpp"
#include "judge.hpp"

namespace telltale::test {
namespace {

constexpr const char* kSlug = "short-cool-down";

MadeRun cooled(double pct, double s) {
  MadeRun run;
  run.rest(60.0).start().warm().load(pct, 900.0).load(0.0, s);
  return run.coast().rest(60.0);
}

TEST_CASE("short-cool-down: just under and just over 120 s") {
  CHECK(judge(cooled(60.0, 125.0)).findings() == "");
  const Outcome out = judge(cooled(60.0, 110.0));
  CHECK(out.findings() == "short-cool-down note");
  const Told& told = *out.first(kSlug);
  CHECK(told.finding.unit == Unit::s);
  CHECK(told.finding.limit == 120.0);
  CHECK(told.finding.value == Approx(110.0).margin(2.0));
  CHECK(told.finding.detail[0] == Approx(60.0).margin(0.5));
  CHECK(told.until - told.since == Approx(110.0).margin(2.0));
}

TEST_CASE("short-cool-down: only after heavy running") {
  CHECK(judge(cooled(49.0, 30.0)).findings() == "");
  CHECK(judge(cooled(51.0, 30.0)).findings() == "short-cool-down note");
}

TEST_CASE("short-cool-down: the last ten minutes count, not the run") {
  MadeRun easy;
  easy.rest(60.0).start().warm().load(80.0, 1800.0).load(30.0, 700.0);
  CHECK(judge(easy.load(0.0, 20.0).coast().rest(60.0)).findings() == "");
  MadeRun heavy;
  heavy.rest(60.0).start().warm().load(30.0, 1800.0).load(80.0, 700.0);
  CHECK(judge(heavy.load(0.0, 20.0).coast().rest(60.0)).findings() ==
        "short-cool-down note");
}

TEST_CASE("short-cool-down: no unloading at all is another finding") {
  MadeRun run;
  run.rest(60.0).start().warm().load(60.0, 900.0).coast(8.0).rest(60.0);
  CHECK(!judge(run).found(kSlug));
}

TEST_CASE("short-cool-down: blind without a rating, a stop or ten minutes") {
  MadeRun run = cooled(60.0, 30.0);
  Profile profile = run.plate().profile();
  profile.rating.power_kw = kUnknown;
  profile.load_scale_kw = 4.8F;
  CHECK(judge(run, profile).blind(kSlug) == Blind::no_rating);
  MadeRun ends;
  ends.rest(60.0).start().warm().load(60.0, 900.0);
  CHECK(judge(ends).blind(kSlug) == Blind::stop_not_seen);
  MadeRun brief;
  brief.rest(60.0).start().load(20.0, 120.0).load(60.0, 240.0).stop();
  CHECK(judge(brief).blind(kSlug) == Blind::never_on_load);
}

TEST_CASE("short-cool-down: a profile changes the limit") {
  CHECK(judge(cooled(60.0, 110.0),
              with_limit(Plate{}.profile(), kSlug, {.note = 60.0F}))
            .findings() == "");
}

}  // namespace
}  // namespace telltale::test

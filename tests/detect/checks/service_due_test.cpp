// service-due: hours or months since last done, against the log's last time
// stamp, never today's clock; note within 10 %, attention past due (contract
// section 6).
#include "telltale/detect/checks/service_due.hpp"

#include "catch.hpp"
#include "judge.hpp"

namespace telltale::test {
namespace {

constexpr const char* kSlug = "service-due";

/// The meter of the made run stands at 1200.2 h at its end.
Profile serviced(const ServiceItem& item) {
  Profile profile = Plate{}.profile();
  REQUIRE(profile.service.push_back(item));
  return profile;
}
Severity by_hours(float done_h) {
  return judge(usual_run(5.0),
               serviced({.name = "oil", .every_h = 200.0F, .done_h = done_h}))
      .severity(kSlug);
}
/// Days before the log, which is of 2026-06-01.
Severity by_date(int days, bool wall_clock = true) {
  Profile profile = serviced({.name = "impeller",
                              .every_months = 12.0F,
                              .done_on = MadeRun::kBegin - hours(24 * days)});
  profile.wall_clock = wall_clock;
  return judge(usual_run(5.0), profile).severity(kSlug);
}

TEST_CASE("service-due: by hours") {
  CHECK(by_hours(1100.0F) == Severity::not_judged);
  CHECK(by_hours(1021.0F) == Severity::not_judged);  // 89.6 %
  CHECK(by_hours(1019.0F) == Severity::note);        // 90.6 %
  CHECK(by_hours(1001.0F) == Severity::note);
  CHECK(by_hours(999.0F) == Severity::attention);
}

TEST_CASE("service-due: by months, against the log's own time") {
  CHECK(by_date(300) == Severity::not_judged);
  CHECK(by_date(325) == Severity::not_judged);
  CHECK(by_date(332) == Severity::note);
  CHECK(by_date(364) == Severity::note);
  CHECK(by_date(367) == Severity::attention);
}

TEST_CASE("service-due: no date can be told in a log of elapsed time") {
  CHECK(by_date(900, false) == Severity::not_judged);
}

TEST_CASE("service-due: the larger of hours and months counts") {
  const ServiceItem both{.name = "oil",
                         .every_h = 200.0F,
                         .every_months = 12.0F,
                         .done_h = 1150.0F,
                         .done_on = MadeRun::kBegin - hours(24 * 400)};
  const Outcome out = judge(usual_run(5.0), serviced(both));
  CHECK(out.severity(kSlug) == Severity::attention);
  // 400 days of 12 months.
  CHECK(out.first(kSlug)->finding.value == Approx(109.5).margin(0.5));
}

TEST_CASE("service-due: the most urgent job is named, the others counted") {
  Profile profile =
      serviced({.name = "oil", .every_h = 200.0F, .done_h = 1015.0F});
  REQUIRE(profile.service.push_back(
      {.name = "filter", .every_h = 400.0F, .done_h = 700.0F}));
  REQUIRE(profile.service.push_back(
      {.name = "belt", .every_h = 500.0F, .done_h = 1100.0F}));
  const Outcome out = judge(usual_run(5.0), profile);
  const Told& told = *out.first(kSlug);
  CHECK(told.finding.severity == Severity::attention);
  CHECK(told.finding.unit == Unit::pct);
  CHECK(told.finding.value == Approx(125.0).margin(0.5));
  CHECK(told.finding.limit == 100.0);
  CHECK(told.finding.detail[0] == 1.0);
  CHECK(told.finding.detail[1] == Approx(1200.2).margin(0.2));
  CHECK(told.finding.detail[2] == 2.0);
}

TEST_CASE("service-due: nothing in the profile, nothing to judge") {
  const Outcome out = judge(usual_run(5.0));
  CHECK(!out.found(kSlug));
  CHECK(out.blind(kSlug) == Blind::nothing_due);
}

TEST_CASE("service-due: without an hour meter the date still counts") {
  MadeRun run = usual_run(5.0);
  run.without(Channel::engine_hours);
  const Profile profile =
      serviced({.name = "oil",
                .every_h = 200.0F,
                .every_months = 12.0F,
                .done_h = 1.0F,
                .done_on = MadeRun::kBegin - hours(24 * 400)});
  CHECK(judge(run, profile).severity(kSlug) == Severity::attention);
}

TEST_CASE("service-due: a profile changes the limits") {
  Profile profile =
      serviced({.name = "oil", .every_h = 200.0F, .done_h = 1010.0F});
  profile = with_limit(profile, kSlug, {.note = 97.0F});
  CHECK(!judge(usual_run(5.0), profile).found(kSlug));
}

}  // namespace
}  // namespace telltale::test

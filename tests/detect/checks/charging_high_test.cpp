// charging-high: attention > 15.0 V, urgent > 15.5 V, 30 s; doubled for 24 V
// (contract section 6).
#include "telltale/detect/checks/charging_high.hpp"

#include <string>

#include "catch.hpp"
#include "judge.hpp"

namespace telltale::test {
namespace {

constexpr const char* kSlug = "charging-high";

MadeRun charging(double volts, double s = 120.0, const Plate& plate = {}) {
  MadeRun run = usual_run(20.0, plate);
  run.fault(Channel::battery_voltage, during(900.0, s, to(volts)));
  return run;
}
Severity severity(double volts, const Plate& plate = {}) {
  return judge(charging(volts, 120.0, plate)).severity(kSlug);
}

TEST_CASE("charging-high: 12 V and 24 V limits") {
  CHECK(severity(15.0) == Severity::not_judged);
  CHECK(severity(15.02) == Severity::attention);
  CHECK(severity(15.5) == Severity::attention);
  CHECK(severity(15.52) == Severity::urgent);
  CHECK(severity(30.0, kEuropean) == Severity::not_judged);
  CHECK(severity(30.05, kEuropean) == Severity::attention);
  CHECK(severity(31.05, kEuropean) == Severity::urgent);
}

TEST_CASE("charging-high: what is told") {
  const Outcome out = judge(charging(15.3));
  CHECK(out.findings() == "charging-high attention");
  const Told& told = *out.first(kSlug);
  CHECK(told.finding.channel == Channel::battery_voltage);
  CHECK(told.finding.unit == Unit::V);
  CHECK(told.finding.value == 15.3);
  CHECK(told.finding.limit == 15.0);
  CHECK(told.since == 900.0);
}

TEST_CASE("charging-high: just before and just after 30 s") {
  CHECK(!judge(charging(15.3, 29.0)).found(kSlug));
  CHECK(judge(charging(15.3, 32.0)).found(kSlug));
}

TEST_CASE("charging-high: a charger on the battery at rest is not judged") {
  MadeRun run;
  run.rest(600.0).start().warm().stop();
  run.fault(Channel::battery_voltage, during(0.0, 600.0, to(15.3)));
  CHECK(!judge(run).found(kSlug));
}

TEST_CASE("charging-high: the causes name cold-compensated and equalising") {
  std::string causes;
  for (const auto& cause : ChargingHigh<double>::advice.causes) {
    causes += std::string(cause) + " ";
  }
  CHECK(causes.find("cold") != std::string::npos);
  CHECK(causes.find("equalis") != std::string::npos);
}

TEST_CASE("charging-high: a profile changes the limits") {
  CHECK(!judge(charging(15.3),
               with_limit(Plate{}.profile(), kSlug, {.attention = 15.4F}))
             .found(kSlug));
}

}  // namespace
}  // namespace telltale::test

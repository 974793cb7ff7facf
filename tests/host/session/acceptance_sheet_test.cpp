// A load test with a closed form, from log to acceptance sheet.
#include "session/acceptance_sheet.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "catch.hpp"
#include "session/session.hpp"
#include "temp_file.hpp"

namespace telltale::host {
namespace {

// An analytic set: 50 Hz at rated load, a droop of 4 %, and after each step a
// swing A (t / tau) exp(1 - t / tau) on top of an exponential approach.
constexpr double kHz = 50.0;
constexpr double kDroop = 0.04;
constexpr double kTau = 0.5;
constexpr double kSwing = 2.5;  // Hz for a step of the whole rating
constexpr double kVolts = 400.0;

struct Step {
  double at, load;  // s, share of rating
};
// Ends on load, as an overload test would.
const std::vector<Step> kPlan = {{0, 0.0},   {120, 0.3}, {300, 0.6},
                                 {480, 0.9}, {660, 0.6}, {840, 0.0}};

double settled(double load) { return kHz * (1.0 + kDroop * (1.0 - load)); }

double frequency(double t) {
  std::size_t i = 0;
  while (i + 1 < kPlan.size() && kPlan[i + 1].at <= t) ++i;
  if (i == 0) return settled(0.0);
  const double since = (t - kPlan[i].at) / kTau;
  const double size = kPlan[i].load - kPlan[i - 1].load;
  return settled(kPlan[i].load) +
         (settled(kPlan[i - 1].load) - settled(kPlan[i].load)) *
             std::exp(-since) -
         kSwing * size * since * std::exp(1.0 - since);
}

double load(double t) {
  double out = 0.0;
  for (const Step& step : kPlan) {
    if (step.at <= t) out = step.load;
  }
  return out;
}

test::TempFile load_test_log(double interval) {
  std::string text = "Time (s),Frequency (Hz),Voltage L1-L2 (V),Power (kW)\n";
  const int rows = static_cast<int>(std::lround(1020.0 / interval));
  for (int i = 0; i < rows; ++i) {
    const double t = i * interval;
    text += fmt::format("{:.2f},{:.5f},{:.1f},{:.2f}\n", t, frequency(t),
                        kVolts, 20.0 * load(t));
  }
  return test::TempFile(text);
}

Acceptance sheet_at(double interval) {
  const test::TempFile log = load_test_log(interval);
  SessionOptions options;
  ProfileFile& profile = options.profile;
  profile.frequency_hz = 50.0F;
  profile.power_kw = 20.0F;
  profile.voltage_v = 400.0F;
  profile.legs = 3;
  profile.performance = PerformanceClass::G2;
  const auto report = examine(log.path(), options);
  REQUIRE(static_cast<bool>(report));
  REQUIRE(report->runs.size() == 1);
  REQUIRE(report->runs[0].acceptance.has_value());
  return *report->runs[0].acceptance;
}

AcceptanceQuantity find(const Acceptance& sheet, const std::string& name) {
  for (const AcceptanceQuantity& q : sheet.quantities) {
    if (q.quantity == name) return q;
  }
  FAIL("no " << name);
  return {};
}

/// The furthest from rated after a step, and when the curve is within
/// `half_band` of its new level for good, from the step: evaluated every 0.1
/// ms.
struct Truth {
  double deviation_pct = 0.0;
  double leaves = -1.0;
  double reenters = 0.0;
};
Truth dense(const Step& from, const Step& to, double half_band) {
  Truth out;
  for (double t = 0.0; t < 25.0; t += 1e-4) {
    const double f = frequency(to.at + t);
    const double off = 100.0 * (f - kHz) / kHz;
    const bool further =
        to.load > from.load ? off < out.deviation_pct : off > out.deviation_pct;
    if (further) out.deviation_pct = off;
    // The band stands about the new level; the old one is left at once.
    if (std::abs(f - settled(to.load)) > half_band) out.reenters = t;
    if (out.leaves < 0.0 && std::abs(f - settled(from.load)) > half_band) {
      out.leaves = t;
    }
  }
  return out;
}

TEST_CASE("a load test gives the quantities of ISO 8528-5") {
  const Acceptance sheet = sheet_at(0.1);
  CHECK(sheet.held_to == PerformanceClass::G2);
  CHECK(sheet.interval_s == Approx(0.1));

  const AcceptanceQuantity droop = find(sheet, "frequency_droop");
  CHECK(droop.value == Approx(100.0 * kDroop).margin(0.02));
  CHECK(droop.reached == "G2");
  CHECK(droop.allowed == Approx(5.0));
  CHECK(droop.bound == Bound::exact);

  double dip = 0.0, rise = 0.0;
  for (std::size_t i = 1; i < kPlan.size(); ++i) {
    const Truth truth = dense(kPlan[i - 1], kPlan[i], 0.5);
    dip = std::min(dip, truth.deviation_pct);
    rise = std::max(rise, truth.deviation_pct);
  }
  const AcceptanceQuantity deepest = find(sheet, "frequency_dip");
  CHECK(deepest.value == Approx(dip).margin(0.02));
  CHECK(deepest.bound == Bound::exact);
  const AcceptanceQuantity highest = find(sheet, "frequency_rise");
  CHECK(highest.value == Approx(rise).margin(0.05));

  CHECK(find(sheet, "voltage_deviation").value == Approx(0.0).margin(1e-9));
  CHECK(find(sheet, "frequency_band").value < 0.05);
}

TEST_CASE("the recovery time counts to the last re-entry") {
  const Acceptance sheet = sheet_at(0.1);
  double on = 0.0;
  for (std::size_t i = 1; i < 4; ++i) {
    // Tolerance bands of G2 and G3: 2 % in full width.
    const Truth truth = dense(kPlan[i - 1], kPlan[i], 0.01 * kHz);
    on = std::max(on, truth.reenters - std::max(truth.leaves, 0.0));
  }
  const AcceptanceQuantity recovery = find(sheet, "frequency_recovery_load_on");
  CHECK(recovery.value == Approx(on).margin(0.1));
  CHECK(recovery.reached == "G3");
  CHECK(recovery.bound == Bound::exact);
}

TEST_CASE("a slow log tells less, and says so") {
  const Acceptance sheet = sheet_at(1.0);
  CHECK(find(sheet, "frequency_droop").value == Approx(4.0).margin(0.05));
  CHECK(find(sheet, "frequency_dip").bound == Bound::lower);
  CHECK(find(sheet, "frequency_band").bound == Bound::lower);
  // Five samples fit into the 5 s of G2, not into the 3 s of G3.
  const AcceptanceQuantity back = find(sheet, "frequency_recovery_load_on");
  CHECK(back.bound == Bound::exact);
  CHECK(back.reached == "G2");

  const Acceptance coarse = sheet_at(5.0);
  const AcceptanceQuantity recovery =
      find(coarse, "frequency_recovery_load_on");
  CHECK(recovery.bound == Bound::not_observable);
  CHECK(std::isnan(recovery.value));
  CHECK(recovery.reached.empty());
}

// ISO 8528-5 keeps its transient limits for load steps a set can take at once.
TEST_CASE("a step from nothing to full load is not held to the class") {
  LoadTestRecord seen;
  seen.hz = kHz;
  seen.rated = true;
  seen.interval_s = 0.1;
  seen.levels = {{0, 50, 400, 100, 100},
                 {50, 50, 400, 100, 100},
                 {100, 50, 400, 100, 100}};
  TestStep step;
  step.size_pct = 100.0;
  step.interval_s = 0.1;
  for (auto& answer : step.hz) answer = {-30.0, 20.0};
  seen.steps = {step};
  const auto sheet = acceptance_of(seen, PerformanceClass::G2);
  REQUIRE(sheet.has_value());
  for (const AcceptanceQuantity& q : sheet->quantities) {
    CHECK(q.quantity != "frequency_dip");
  }
}

TEST_CASE("running about is no load test") {
  LoadTestRecord seen;
  seen.hz = kHz;
  seen.rated = true;
  seen.levels = {{10, 50, 0, 100, 0}, {20, 50, 0, 100, 0}, {35, 50, 0, 100, 0}};
  TestStep step;
  step.size_pct = 25.0;
  seen.steps = {step};
  CHECK_FALSE(acceptance_of(seen, PerformanceClass::G1).has_value());
}

}  // namespace
}  // namespace telltale::host

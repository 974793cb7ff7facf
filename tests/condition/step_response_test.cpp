// ISO 8528-5 step quantities on responses with closed-form answers.
#include "telltale/condition/step_response.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <vector>

#include "catch.hpp"

namespace telltale {
namespace {

std::vector<StepSample<double>> sampled(const std::function<double(double)>& f,
                                        double dt, double until) {
  std::vector<StepSample<double>> out;
  const int n = static_cast<int>(std::lround(until / dt));
  for (int i = 0; i <= n; ++i) out.push_back({i * dt, f(i * dt)});
  return out;
}

// f(t) = f_r - A (t / tau) exp(1 - t / tau): leaves and re-enters f_r +/- b at
// t = -tau W(-b / (A e)) (Lambert W by scipy.special; octave-control's step of
// the same transfer function peaks and re-enters alike).
TEST_CASE("an isochronous dip is measured as it is") {
  struct Case {
    double rated, a, tau, band, leaves, reenters, deviation;
  };
  const Case cases[] = {
      {50, 3.5, 0.8, 0.25, 0.021596916363, 4.246668548413, -7},
      {50, 3.5, 0.8, 0.5, 0.044445252189, 3.548452157427, -7},
      {60, 6, 1.0, 0.3, 0.018741962005, 5.743864518391, -10}};
  for (const Case& c : cases) {
    const auto f = [&](double t) {
      return c.rated - c.a * (t / c.tau) * std::exp(1 - t / c.tau);
    };
    const auto samples = sampled(f, 0.001, 30);
    const auto r =
        step_response<double>(samples, c.rated, c.rated, c.band, true, 5.0);
    CHECK(r.deviation_pct == Approx(c.deviation).epsilon(1e-9));
    CHECK(r.leaves == Approx(c.leaves).margin(1e-6));
    CHECK(r.reenters == Approx(c.reenters).margin(1e-6));
    CHECK(r.recovery() == Approx(c.reenters - c.leaves).margin(2e-6));
  }
}

// The error of the re-entry falls with the square of the interval: 1.1e-7,
// 1.1e-5, 1.2e-3, 0.096 s at 1, 10, 100 ms and 1 s (reference notes).
TEST_CASE("coarser sampling errs by no more than it must") {
  const auto f = [](double t) {
    return 50 - 3.5 * (t / 0.8) * std::exp(1 - t / 0.8);
  };
  const double dt[] = {0.001, 0.01, 0.1, 1.0};
  const double allowed[] = {2e-7, 2e-5, 2e-3, 0.1};
  for (int i = 0; i < 4; ++i) {
    const auto r =
        step_response<double>(sampled(f, dt[i], 60), 50, 50, 0.25, true, 5.0);
    CHECK(r.reenters == Approx(4.246668548413).margin(allowed[i]));
  }
}

// Second order, wn 4, zeta 0.4, as a droop governor going from 50 to 49 Hz:
// re-enters 49 +/- 0.25 at 0.9014389659 s and +/- 0.1 at 1.2099319625 s, on a
// later swing than the first (scipy.signal.step).
TEST_CASE("recovery counts to the last re-entry, not the first") {
  const double wn = 4, zeta = 0.4, wd = wn * std::sqrt(1 - zeta * zeta);
  const auto f = [&](double t) {
    const double decay = std::exp(-zeta * wn * t);
    const double y =
        1 - decay * (std::cos(wd * t) + zeta * wn / wd * std::sin(wd * t));
    return 50 - y;
  };
  const auto samples = sampled(f, 0.001, 20);
  const auto wide = step_response<double>(samples, 50, 50, 0.25, true, 5.0);
  CHECK(wide.extreme == Approx(48.7461732780).epsilon(1e-7));
  CHECK(wide.settled == Approx(49).margin(1e-6));
  CHECK(wide.reenters == Approx(0.9014389659).margin(1e-5));
  const auto narrow = step_response<double>(samples, 50, 50, 0.1, true, 5.0);
  CHECK(narrow.reenters == Approx(1.2099319625).margin(1e-5));
}

TEST_CASE("not back by the end is no number, never zero") {
  const auto ramp = sampled([](double t) { return 50 - t; }, 0.1, 10);
  const auto r = step_response<double>(ramp, 50, 50, 0.25, true, 1.0);
  CHECK(std::isnan(r.reenters));
  CHECK(std::isnan(r.recovery()));
}

TEST_CASE("a step that never leaves the band needs no recovery") {
  const auto flat = sampled([](double) { return 60.05; }, 1, 20);
  const auto r = step_response<double>(flat, 60, 60, 0.6, true, 5.0);
  CHECK(r.recovery() == 0);
}

// A slow ramp from 50 to 49.7: it is within the new band, at 49.95, before it
// is out of the old one, at 49.75.
TEST_CASE("overlapping bands leave nothing to recover from") {
  const auto f = [](double t) { return 50 - std::min(0.3, 0.1 * t); };
  const auto r =
      step_response<double>(sampled(f, 0.01, 20), 50, 50, 0.25, true, 5.0);
  CHECK_FALSE(r.never_left);
  CHECK(r.recovery() == 0);
}

}  // namespace
}  // namespace telltale

#include "session/acceptance_sheet.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <limits>
#include <string>
#include <string_view>
#include <utility>

#include "telltale/condition/performance_class.hpp"

namespace telltale::host {
namespace {

constexpr double kNone = std::numeric_limits<double>::quiet_NaN();
constexpr double kJudgedStep = 25.0;     // % of rating
constexpr double kFullStep = 80.0;       // the class limits end before that
constexpr double kLeastSpan = 40.0;      // % of rating, of the levels
constexpr double kLeastReadings = 10.0;  // of a level
constexpr double kBandInterval = 0.5;    // s; hunting is slower than that
constexpr std::size_t kClasses = std::size(kClassLimits);

using Limit = float ClassLimits::*;

/// Signed: a dip is allowed so far below rated, a rise so far above.
double allowed_by(std::size_t performance, Limit limit) {
  return static_cast<double>(kClassLimits[performance].*limit);
}

double limit_of(std::size_t performance, Limit limit) {
  return std::abs(allowed_by(performance, limit));
}

/// Classes reached, counted from G1; 0: not even that.
std::size_t classes_kept(double magnitude, Limit limit) {
  std::size_t kept = 0;
  while (kept < kClasses && magnitude <= limit_of(kept, limit)) ++kept;
  return kept;
}

std::string class_text(std::size_t kept) {
  if (kept == 0) return "none";
  return std::string(name_of(static_cast<PerformanceClass>(kept - 1)));
}

/// The limits that go with load on and with load off.
struct Side {
  bool on;
  std::string_view swing;  // of frequency and volts
  std::string_view when;
  Limit hz;
  Limit volts;
};
constexpr Side kLoadOn{true, "dip", "load_on", &ClassLimits::dip,
                       &ClassLimits::voltage_dip};
constexpr Side kLoadOff{false, "rise", "load_off", &ClassLimits::rise,
                        &ClassLimits::voltage_rise};

/// The worst of one signal (frequency or volts) over all judged steps: the
/// lowest it went with load on, the highest with load off.
struct Worst {
  bool lowest;
  double deviation_pct = lowest ? HUGE_VAL : -HUGE_VAL;
  double recovery_s[kClasses] = {};
  double interval_s = 0.0;
  bool any = false;

  void add(const TestStep::Answer (&answers)[kClasses], double interval) {
    any = true;
    interval_s = std::max(interval_s, interval);
    const double deviation = answers[0].deviation_pct;
    deviation_pct = lowest ? std::min(deviation_pct, deviation)
                           : std::max(deviation_pct, deviation);
    for (std::size_t c = 0; c < kClasses; ++c) {
      const double took = answers[c].recovery_s;
      recovery_s[c] =
          std::max(recovery_s[c], std::isfinite(took) ? took : HUGE_VAL);
    }
  }
};

class Sheet {
 public:
  Sheet(const LoadTestRecord& seen, PerformanceClass held_to)
      : seen_(seen), held_to_(static_cast<std::size_t>(held_to)) {
    out_.held_to = held_to;
    out_.interval_s = seen.interval_s;
  }

  Acceptance fill() && {
    droop();
    if (seen_.widest_band_hz >= 0.0) {
      value("frequency_band", 100.0 * seen_.widest_band_hz / seen_.hz,
            &ClassLimits::band,
            seen_.interval_s <= kBandInterval ? Bound::exact : Bound::lower);
    }
    steps(kLoadOn);
    steps(kLoadOff);
    voltage_deviation();
    return std::move(out_);
  }

 private:
  void value(std::string name, double pct, Limit limit, Bound bound) {
    out_.quantities.push_back(
        {.quantity = std::move(name),
         .value = pct,
         .unit = "%",
         .reached = class_text(classes_kept(std::abs(pct), limit)),
         .bound = bound,
         .allowed = allowed_by(held_to_, limit)});
  }

  /// No load to rated load, along the line through the steady levels.
  void droop() {
    double n = 0, load = 0, hz = 0;
    for (const TestLevel& level : seen_.levels) {
      if (level.n < kLeastReadings) continue;
      n += 1;
      load += level.load_pct;
      hz += level.hz;
    }
    if (n < 2) return;
    load /= n;
    hz /= n;
    double ll = 0, lf = 0;
    for (const TestLevel& level : seen_.levels) {
      if (level.n < kLeastReadings) continue;
      ll += (level.load_pct - load) * (level.load_pct - load);
      lf += (level.load_pct - load) * (level.hz - hz);
    }
    if (!(ll > 0.0)) return;
    // In percent of rated frequency over 100 % of load.
    const double pct = 100.0 * (-100.0 * lf / ll) / seen_.hz;
    value("frequency_droop", pct, &ClassLimits::droop, Bound::exact);
  }

  void voltage_deviation() {
    double low = HUGE_VAL, high = -HUGE_VAL;
    for (const TestLevel& level : seen_.levels) {
      if (level.volts_n < kLeastReadings) continue;
      low = std::min(low, level.volts);
      high = std::max(high, level.volts);
    }
    if (high < low || !(seen_.nominal_v > 0.0)) return;
    value("voltage_deviation", 100.0 * (high - low) / (2.0 * seen_.nominal_v),
          &ClassLimits::voltage_deviation, Bound::exact);
  }

  void steps(const Side& side) {
    Worst hz{side.on};
    Worst volts{side.on};
    for (const TestStep& step : seen_.steps) {
      const bool judged = step.alone && side.on == (step.size_pct > 0.0) &&
                          std::abs(step.size_pct) >= kJudgedStep;
      // The limits for load on do not cover a step from nothing to full load.
      if (!judged || step.size_pct > kFullStep) continue;
      hz.add(step.hz, step.interval_s);
      if (step.has_volts) volts.add(step.volts, step.interval_s);
    }
    transient("frequency", side, hz, side.hz, &ClassLimits::recovery_s);
    transient("voltage", side, volts, side.volts,
              &ClassLimits::voltage_recovery_s);
  }

  void transient(std::string_view signal, const Side& side, const Worst& worst,
                 Limit swing, Limit back) {
    if (!worst.any) return;
    const std::size_t kept = classes_kept(std::abs(worst.deviation_pct), swing);
    // A swing is seen whole if twenty samples fit into its recovery time.
    const double time = limit_of(kept == 0 ? 0 : kept - 1, back);
    value(fmt::format("{}_{}", signal, side.swing), worst.deviation_pct, swing,
          worst.interval_s * 20.0 <= time + 1e-9 ? Bound::exact : Bound::lower);
    recovery(fmt::format("{}_recovery_{}", signal, side.when), worst, back);
  }

  /// Each class has its own tolerance band and so its own recovery time. A
  /// class is reached where five samples fit into the time it allows.
  void recovery(std::string name, const Worst& worst, Limit limit) {
    const auto observable = [&](std::size_t c) {
      return worst.interval_s * 5.0 <= limit_of(c, limit) + 1e-9;
    };
    std::size_t kept = 0;
    while (kept < kClasses && observable(kept) &&
           worst.recovery_s[kept] <= limit_of(kept, limit)) {
      ++kept;
    }
    const std::size_t by = kept == 0 ? 0 : kept - 1;
    const double took = worst.recovery_s[by];
    const bool seen = observable(by);
    const bool back = std::isfinite(took);
    out_.quantities.push_back({.quantity = std::move(name),
                               .value = seen && back ? took : kNone,
                               .unit = "s",
                               .reached = seen ? class_text(kept) : "",
                               .bound = !seen  ? Bound::not_observable
                                        : back ? Bound::exact
                                               : Bound::lower,
                               .allowed = allowed_by(held_to_, limit)});
  }

  const LoadTestRecord& seen_;
  std::size_t held_to_;
  Acceptance out_;
};

bool is_load_test(const LoadTestRecord& seen) {
  if (!seen.rated || !std::isfinite(seen.hz) || seen.levels.size() < 3) {
    return false;
  }
  const bool stepped = std::any_of(
      seen.steps.begin(), seen.steps.end(), [](const TestStep& step) {
        return step.alone && std::abs(step.size_pct) >= kJudgedStep;
      });
  const auto [low, high] =
      std::minmax_element(seen.levels.begin(), seen.levels.end(),
                          [](const TestLevel& a, const TestLevel& b) {
                            return a.load_pct < b.load_pct;
                          });
  return stepped && high->load_pct - low->load_pct >= kLeastSpan;
}

}  // namespace

std::optional<Acceptance> acceptance_of(const LoadTestRecord& seen,
                                        PerformanceClass held_to) {
  if (!is_load_test(seen)) return std::nullopt;
  return Sheet(seen, held_to).fill();
}

}  // namespace telltale::host

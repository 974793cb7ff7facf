// follow_figure: slopes through load and weather, coverage by repetition, what
// short series and odd hours give.
#include "season/follow.hpp"

#include <cmath>
#include <numbers>

#include "catch.hpp"
#include "noise.hpp"
#include "season/reference.hpp"

namespace telltale::host::season {
namespace {

constexpr double kLoadEffect = 0.25;  // K per %
constexpr double kSeaEffect = 0.8;    // K per K
constexpr double kFalseAlarm = 1e-4;

/// A year of runs whose exhaust follows load and sea, and wear besides.
UnitHistory year_of_runs(Noise& noise, int runs, double slope_per_h,
                         double correlation = 0.0) {
  UnitHistory history;
  history.unit.about.rating.power_kw = 8.0F;
  history.unit.about.rating.frequency_hz = 60.0F;
  const std::vector<double> left =
      noise.series(static_cast<std::size_t>(runs), correlation);
  double hours = 500.0;
  for (int i = 0; i < runs; ++i) {
    const double year = static_cast<double>(i) / runs;
    PastRun run;
    run.id = i + 1;
    run.start = TimeMs{1'767'225'600'000 +
                       static_cast<std::int64_t>(year * 365.0 * 86.4e6)};
    run.seconds = 7200.0;
    run.hours = run.hours_start = hours;
    hours += 1.0 + 2.0 * noise.uniform();
    run.water_degc =
        15.0 - 8.0 * std::cos(2.0 * std::numbers::pi * year) + noise.normal();
    run.load_pct = 50.0 + 12.0 * noise.normal();
    PastFigure figure;
    figure.run = static_cast<std::uint32_t>(i);
    figure.basis = Basis::wet;
    figure.at = run.load_pct;
    figure.value = 40.0 + kLoadEffect * (run.load_pct - 50.0) +
                   kSeaEffect * (run.water_degc - 15.0) +
                   slope_per_h * (run.hours - 500.0) +
                   left[static_cast<std::size_t>(i)];
    history.runs.push_back(run);
    history.figures[static_cast<std::size_t>(FigureKind::exhaust_at_load)]
        .push_back(figure);
  }
  return history;
}

FigureFollow followed(const UnitHistory& history) {
  const UnitHistory* const one[] = {&history};
  return follow_figure(history, FigureKind::exhaust_at_load, references_of(one),
                       kFalseAlarm);
}

// Half of a wave of the sea's temperature over the season looks like wear to
// whoever does not take it out. 300 series: one standard error is 1.3 %.
TEST_CASE("95 % intervals hold the slope under load, sea and noise") {
  for (const double correlation : {0.0, 0.4}) {
    Noise noise(61);
    int covered = 0;
    int changes = 0;
    constexpr int kSeries = 300;
    constexpr double kSlope = 0.02;
    for (int s = 0; s < kSeries; ++s) {
      const FigureFollow f =
          followed(year_of_runs(noise, 60, kSlope, correlation));
      REQUIRE(f.has_trend);
      CHECK(f.corrected);
      covered += f.slope_low <= kSlope && kSlope <= f.slope_high ? 1 : 0;
      changes += f.changes.empty() && !f.bend ? 0 : 1;
    }
    INFO("correlation " << correlation);
    CHECK(covered >= 0.91 * kSeries);
    CHECK(covered <= 0.99 * kSeries);
    CHECK(changes <= 2);
  }
}

TEST_CASE("a set that nothing changed in shows no wear") {
  Noise noise(62);
  int told = 0;
  constexpr int kSeries = 300;
  for (int s = 0; s < kSeries; ++s) {
    told += followed(year_of_runs(noise, 60, 0.0)).p < 0.05 ? 1 : 0;
  }
  // 15 expected; 29 are beyond 3.7 standard errors.
  CHECK(told <= 29);
}

TEST_CASE("the reference is rounded and the same in every report") {
  Noise noise(63);
  const FigureFollow f = followed(year_of_runs(noise, 60, 0.0));
  CHECK(f.reference.load_pct == 50.0);
  CHECK(f.reference.water_degc == 15.0);
  CHECK(f.latest.value == Approx(40.0).margin(1.0));
  CHECK(f.latest.low < f.latest.value);
}

TEST_CASE("few runs have a level and say what is missing") {
  Noise noise(64);
  const FigureFollow f = followed(year_of_runs(noise, 5, 0.0));
  CHECK_FALSE(f.has_trend);
  CHECK(f.why_not == "not enough data: 5 runs, 8 needed");
  CHECK(std::isfinite(f.latest.low));
  CHECK(f.forecast.state == Forecast::State::none);
}

TEST_CASE("an hour meter that stands still gives no trend") {
  Noise noise(65);
  UnitHistory history = year_of_runs(noise, 20, 0.0);
  for (PastRun& run : history.runs) run.hours = 500.0;
  const FigureFollow f = followed(history);
  CHECK_FALSE(f.has_trend);
  CHECK(f.why_not == "not enough data: the hour meter stands still");
}

// Ageing from one service to the next: the trend is the one since.
TEST_CASE("after a step back the trend begins anew") {
  Noise noise(66);
  UnitHistory history = year_of_runs(noise, 60, 0.1);
  auto& figures =
      history.figures[static_cast<std::size_t>(FigureKind::exhaust_at_load)];
  for (std::size_t i = 30; i < 60; ++i) figures[i].value -= 8.0;
  const FigureFollow f = followed(history);
  REQUIRE(f.changes.size() == 1);
  CHECK(std::abs(static_cast<int>(f.changes[0].run) - 30) <= 5);
  CHECK(f.changes[0].after < f.changes[0].before);
  REQUIRE(f.has_trend);
  CHECK(f.trend_from == f.changes[0].run);
  CHECK(f.slope_low <= 0.1);
  CHECK(f.slope_high >= 0.1);
  CHECK(f.slope_low > 0.0);
}

}  // namespace
}  // namespace telltale::host::season

// OwnPast: a run beside the set's earlier ones.
#include "season/past.hpp"

#include <cmath>

#include "catch.hpp"
#include "noise.hpp"
#include "small_digest.hpp"
#include "telltale/condition/oil_viscosity.hpp"
#include "temp_folder.hpp"

namespace telltale::host::season {
namespace {

constexpr double kSlope = 400.0;  // kPa per log10 of viscosity
constexpr double kHot = 90.0;

double pressure_at(double degc) {
  return 300.0 + kSlope * (log_viscosity(degc) - log_viscosity(kHot));
}

/// Forty runs of an oil circuit with a relief valve at 400 kPa.
LogDigest forty_runs() {
  Noise noise(23);
  LogDigest log = small_digest("Heron", 0, 40);
  for (RunDigest& run : log.runs) {
    RunFigure& figure = run.figures[0];
    figure.at = 90.0 + 2.0 * noise.normal();
    figure.value = pressure_at(figure.at) + noise.normal();
    figure.slope = kSlope + 8.0 * noise.normal();
    run.temperature_bins.clear();
    for (int from = 40; from <= 90; from += 5) {
      TemperatureBin bin;
      bin.from_degc = from;
      bin.degc = from + 2.5;
      bin.seconds = 600.0;
      bin.oil_pressure = std::min(400.0, pressure_at(bin.degc));
      run.temperature_bins.push_back(bin);
    }
  }
  return log;
}

struct Kept {
  test::TempFolder folder;
  LogDigest log = forty_runs();
  Store store;

  Kept()
      : store(std::move(*Store::open(folder.path() + "/s.db", Access::write))) {
    REQUIRE(store.add({&log, 1}));
  }
};

RunDigest today(double kpa, double degc) {
  RunDigest run = small_run("Heron", 60);
  run.figures[0].value = kpa;
  run.figures[0].at = degc;
  return run;
}

TEST_CASE("the past is brought to today's condition") {
  Kept kept;
  const auto past = OwnPast::load(kept.store, "");
  REQUIRE(past);
  // Cooler than ever: more pressure is no news.
  const RunPast cool = past->beside(today(pressure_at(84.0), 84.0));
  REQUIRE(cool.figures.size() == 1);
  CHECK(cool.runs == 40);
  CHECK(cool.figures[0].usual == Approx(pressure_at(84.0)).margin(6.0));
  CHECK_FALSE(cool.figures[0].unusual);
  const RunPast low = past->beside(today(0.9 * pressure_at(90.0), 90.0));
  CHECK(low.figures[0].unusual);
  CHECK(low.figures[0].worse);
  const RunPast high = past->beside(today(1.1 * pressure_at(90.0), 90.0));
  CHECK(high.figures[0].unusual);
  CHECK_FALSE(high.figures[0].worse);
}

TEST_CASE("no run is compared with itself or with later ones") {
  Kept kept;
  const auto without = OwnPast::load(kept.store, kept.log.sha256);
  REQUIRE(without);
  CHECK_FALSE(without->beside(today(300.0, 90.0)).why_not.empty());
  const auto past = OwnPast::load(kept.store, "");
  CHECK(past->beside(kept.log.runs[10]).runs == 10);
  CHECK_FALSE(past->beside(kept.log.runs[0]).why_not.empty());
  CHECK_FALSE(past->beside(small_run("Nobody", 60)).why_not.empty());
}

TEST_CASE("the own line holds down to where the relief valve opens") {
  Kept kept;
  const auto past = OwnPast::load(kept.store, "");
  const OilLine line = past->oil_line("Heron");
  REQUIRE(line.known);
  CHECK_FALSE(line.by_coolant);
  // At the speed after the start, 3 % above nominal.
  CHECK(line.slope_kpa == Approx(1.03 * kSlope).epsilon(0.02));
  CHECK(static_cast<double>(line.intercept_kpa) +
            static_cast<double>(line.slope_kpa) * log_viscosity(kHot) ==
        Approx(1.03 * 300.0).epsilon(0.01));
  CHECK(line.high_degc == Approx(92.5));
  // 400 kPa belong to some 74 degC.
  CHECK(line.low_degc >= 70.0F);
  CHECK(line.low_degc <= 80.0F);
  CHECK_FALSE(past->oil_line("Nobody").known);
}

TEST_CASE("before and after a service") {
  test::TempFolder folder;
  auto store = Store::open(folder.path() + "/s.db", Access::write);
  LogDigest log = forty_runs();
  log.units[0].service[0].done_on = log.runs[25].start;
  for (std::size_t i = 25; i < 40; ++i) log.runs[i].figures[0].value += 20.0;
  REQUIRE(store->add({&log, 1}));
  const auto past = OwnPast::load(*store, "");
  const RunPast told = past->beside(today(320.0, 90.0));
  CHECK(told.service == "oil");
  CHECK(told.figures[0].before_service == Approx(300.0).margin(3.0));
  CHECK(told.figures[0].after_service == Approx(320.0).margin(3.0));
  CHECK(told.figures[0].service_told);
}

}  // namespace
}  // namespace telltale::host::season

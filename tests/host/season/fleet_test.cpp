// A fleet over a year, from logs to what to book: eight sets under varying
// load, sea and air; one wears, one changes, six are well.
#include "season/fleet.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <string>
#include <thread>

#include "catch.hpp"
#include "season/add_logs.hpp"
#include "simulate/everyday.hpp"
#include "simulate/oil_circuit.hpp"
#include "simulate/presets.hpp"
#include "simulate/write.hpp"
#include "temp_folder.hpp"

namespace telltale::host::season {
namespace {

constexpr int kRuns = 60;
constexpr double kDay = 86400.0;
constexpr double kEvery_s = 6.0 * kDay;
constexpr std::size_t kWorn = 2;     // loses 5 % of hot pressure per 100 h
constexpr std::size_t kChanged = 5;  // charges 0.9 V less from run 41 on
constexpr int kFirstChanged = 40;    // runs count from 0
constexpr double kLoss_pct = 6.5;    // of the hot pressure, at the end

/// Sets of a kind differ a little: some percent of pressure, some kelvin.
sim::Scenario scenario_of(std::size_t index) {
  sim::Scenario out =
      *sim::preset_scenario("split-8", 70 + index, 7800.0, 15.0);
  const double aside = static_cast<double>(index) - 3.5;
  out.set.oil.hot_kpa *= 1.0 + 0.008 * aside;
  out.set.service.clear();
  out.environment.season_k = 8.0;
  out.environment.day_k = 4.0;
  out.format.unit_column = "Set " + std::to_string(index + 1);
  sim::repeat_runs(out, kRuns, kEvery_s);
  if (index == kWorn) {
    out.faults.push_back({.kind = sim::FaultKind::oil_pressure_fade,
                          .size = kLoss_pct,
                          .ramp_s = kEvery_s * kRuns});
  }
  if (index == kChanged) {
    out.faults.push_back({.kind = sim::FaultKind::charging_low,
                          .at_s = kEvery_s * (kFirstChanged - 0.5),
                          .size = 13.3,
                          .ramp_s = 0.0});
  }
  return out;
}

/// Writes the logs and adds them.
struct FleetStore {
  test::TempFolder folder;
  std::string path = folder.path() + "/fleet.db";

  FleetStore() {
    std::vector<std::string> logs(8);
    const auto write = [&](std::size_t i) {
      logs[i] = folder.path() + "/" + std::to_string(i) + ".csv";
      std::ofstream log(logs[i], std::ios::binary);
      (void)sim::write_log(scenario_of(i), [&log](std::string_view bytes) {
        return static_cast<bool>(log.write(
            bytes.data(), static_cast<std::streamsize>(bytes.size())));
      });
    };
    std::thread half([&] {
      for (std::size_t i = 0; i < 4; ++i) write(i);
    });
    for (std::size_t i = 4; i < 8; ++i) write(i);
    half.join();
    Result<Store> store = Store::open(path, Access::write);
    REQUIRE(store);
    AddOptions adding;
    adding.session.profile.power_kw = 8.0F;
    adding.session.profile.frequency_hz = 60.0F;
    const auto done = add_logs(*store, logs, adding);
    REQUIRE(done);
    REQUIRE(done->runs == 8 * kRuns);
  }
};

const SeasonReport& fleet() {
  static const FleetStore kStore;
  static const SeasonReport kReport = [] {
    Result<Store> store = Store::open(kStore.path, Access::read);
    return *season_of(*store);
  }();
  return kReport;
}

const FigureFollow& figure_of(std::size_t unit, FigureKind kind) {
  const auto& figures = fleet().units[unit].figures;
  const auto found =
      std::find_if(figures.begin(), figures.end(),
                   [kind](const FigureFollow& f) { return f.kind == kind; });
  REQUIRE(found != figures.end());
  return *found;
}

/// The slope that the model itself has at that temperature, kPa per hour.
double true_slope(const FigureFollow& figure) {
  const sim::Scenario scenario = scenario_of(kWorn);
  const sim::OilCircuit oil(scenario.set.oil);
  double h = 0, y = 0, hh = 0, hy = 0;
  const double n = static_cast<double>(figure.points.size());
  for (const FigurePoint& point : figure.points) {
    const double at_s =
        static_cast<double>((point.at - scenario.clock).ms) / 1000.0 + 3600.0;
    const double loss = scenario.faults[0].share(at_s) * kLoss_pct / 100.0;
    const double kpa = oil.steady(1.0, figure.reference.oil_degc, 1.0,
                                  loss > 0.0 ? oil.clearance_for(loss) : 1.0);
    h += point.hours / n;
    y += kpa / n;
    hh += point.hours * point.hours / n;
    hy += point.hours * kpa / n;
  }
  return (hy - h * y) / (hh - h * h);
}

TEST_CASE("a fall of 5 % per 100 h under load and weather is found") {
  const FigureFollow& oil = figure_of(kWorn, FigureKind::hot_oil_pressure);
  REQUIRE(oil.has_trend);
  CHECK(oil.certain);
  const double slope = true_slope(oil);
  CHECK(100.0 * slope / oil.points.front().value ==
        Approx(-0.05).margin(0.004));
  CHECK(oil.slope_low <= slope);
  CHECK(slope <= oil.slope_high);
  CHECK(oil.for_worse);
}

TEST_CASE("a step is dated within five runs") {
  const FigureFollow& volts = figure_of(kChanged, FigureKind::charging_voltage);
  REQUIRE(volts.changes.size() == 1);
  CHECK(std::abs(static_cast<int>(volts.changes[0].run) - kFirstChanged) <= 5);
  CHECK(volts.changes[0].before == Approx(14.2).margin(0.1));
  CHECK(volts.changes[0].after == Approx(13.3).margin(0.1));
}

TEST_CASE("only the two are named, the gravest first") {
  const SeasonReport& report = fleet();
  REQUIRE(report.units.size() == 8);
  for (std::size_t i = 0; i < report.units.size(); ++i) {
    INFO(report.units[i].name);
    const bool ill = i == kWorn || i == kChanged;
    CHECK(report.units[i].findings.empty() != ill);
    for (const SeasonFinding& f : report.units[i].findings) {
      CHECK(f.about == (i == kWorn ? "hot_oil_pressure" : "charging_voltage"));
      CHECK_FALSE(f.next.empty());
    }
  }
  REQUIRE(report.bookings.size() == 2);
}

TEST_CASE("hours and habits come from the runs") {
  for (const UnitSeason& unit : fleet().units) {
    CHECK(unit.metered);
    CHECK(unit.runs == kRuns);
    CHECK(unit.hours == Approx(1240.0 + kRuns * 2.1).margin(8.0));
    CHECK(unit.habits.hours_per_month > 8.0);
    CHECK(unit.habits.short_runs == 0);
    CHECK(unit.group == "8 kW, 60 Hz");
  }
}

TEST_CASE("an unknown set is an error") {
  test::TempFolder folder;
  Result<Store> store = Store::open(folder.path() + "/s.db", Access::write);
  REQUIRE(store);
  CHECK_FALSE(season_of(*store, "Nobody"));
  CHECK(season_of(*store)->units.empty());
}

}  // namespace
}  // namespace telltale::host::season

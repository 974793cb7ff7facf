// How long a season's report takes, by its parts.
//
//   season_bench [SETS] [RUNS] [ROUNDS]
//
// A fleet is made up run by run, without logs (100 sets of 500 runs each where
// nothing else is said), kept in a store in the temporary folder, and its
// report worked out and written as text. Medians are printed.
#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <random>
#include <string>
#include <vector>

#include "season/fleet.hpp"
#include "season/season_text.hpp"
#include "telltale/condition/oil_viscosity.hpp"

namespace {

using Clock = std::chrono::steady_clock;
using namespace telltale;
using namespace telltale::host;
using namespace telltale::host::season;

constexpr double kDay_ms = 86.4e6;

/// One run's weather and load, and the figures that come of them.
class MadeUpSet {
 public:
  MadeUpSet(int index, int runs) : index_(index), runs_(runs), chance_(index) {}

  LogDigest digest() {
    LogDigest log;
    log.program = "bench";
    log.file = fmt::format("set-{}.csv", index_);
    log.sha256 = fmt::format("{:064d}", index_);
    UnitDigest about;
    about.name = fmt::format("Set {:03d}", index_);
    about.model = "made up";
    about.rating.power_kw = 8.0F;
    about.rating.frequency_hz = 60.0F;
    about.rating.voltage_v = 240.0F;
    log.units = {about};
    for (int i = 0; i < runs_; ++i) log.runs.push_back(run(i));
    return log;
  }

 private:
  double noise(double sd) { return sd * normal_(chance_); }

  RunDigest run(int i) {
    RunDigest r;
    r.unit = fmt::format("Set {:03d}", index_);
    r.number = i + 1;
    const double year = 365.25 * (i + noise(0.2)) / runs_;
    r.start =
        TimeMs{1'767'225'600'000 + static_cast<std::int64_t>(year * kDay_ms)};
    r.end = TimeMs{r.start.ms + 7'200'000};
    r.ends = "stop";
    r.seconds = 7200.0;
    r.at_speed_s = 7100.0;
    r.hours_start = 100.0 + 2.0 * i;
    r.hours_end = r.hours_start + 2.0;
    r.attempts = 1;
    r.water_degc = 16.0 - 8.0 * std::cos(year / 58.1) + noise(1.0);
    r.air_degc = r.water_degc + noise(3.0);
    r.start_degc = r.air_degc + std::abs(noise(5.0));
    r.load_pct = std::clamp(50.0 + noise(15.0), 5.0, 100.0);
    const double oil = 88.0 + 0.1 * r.load_pct + 0.2 * r.water_degc;
    const double wear = index_ % 25 == 3 ? 0.01 * i : 0.0;
    figure(r, FigureKind::hot_oil_pressure, "oil",
           300.0 - wear + 380.0 * (log_viscosity(oil) - log_viscosity(95.0)) +
               noise(2.0),
           oil, 380.0 + noise(20.0), 20.0);
    figure(r, FigureKind::frequency_at_load, "load",
           61.5 - 0.02 * r.load_pct + noise(0.03), r.load_pct, -0.02, 0.004);
    figure(r, FigureKind::droop, "load", 3.2 + noise(0.2));
    figure(r, FigureKind::voltage_at_load, "leg",
           120.0 - 0.01 * r.load_pct + noise(0.3), r.load_pct, -0.01, 0.003);
    figure(r, FigureKind::exhaust_at_load, "wet",
           40.0 + 0.2 * r.load_pct + 0.9 * r.water_degc + noise(1.0),
           r.load_pct, 0.2, 0.02);
    figure(r, FigureKind::coolant_at_load, "load",
           79.0 + 0.05 * r.load_pct + noise(0.6), r.load_pct, 0.05, 0.01);
    figure(r, FigureKind::charging_voltage, "battery",
           14.3 - 0.01 * r.air_degc + noise(0.03), r.air_degc);
    figure(r, FigureKind::crank_seconds, "crank",
           std::round(10.0 * (2.2 - 0.02 * r.start_degc + noise(0.2))) / 10.0,
           r.start_degc);
    figure(r, FigureKind::crank_attempts, "crank", 1.0);
    figure(r, FigureKind::crank_dip, "crank",
           9.9 + 0.01 * r.start_degc + noise(0.1), r.start_degc);
    figure(r, FigureKind::light_load_share, "load",
           std::clamp(20.0 + noise(15.0), 0.0, 100.0));
    return r;
  }
  static void figure(RunDigest& r, FigureKind kind, const char* basis,
                     double value, double at = kNone, double slope = kNone,
                     double slope_se = kNone) {
    RunFigure f;
    f.kind = kind;
    f.basis = basis;
    f.value = value;
    f.se = 0.001 * std::abs(value);
    f.at = at;
    f.slope = slope;
    f.slope_se = slope_se;
    f.n = 100;
    r.figures.push_back(f);
  }

  int index_;
  int runs_;
  std::mt19937_64 chance_;
  std::normal_distribution<double> normal_;
};

[[noreturn]] void give_up(const Error& error) {
  fmt::print(stderr, "season_bench: {}: {}\n", error.where, error.what);
  std::exit(2);
}

double seconds_since(Clock::time_point from) {
  return std::chrono::duration<double>(Clock::now() - from).count();
}

double processor_seconds() {
  return static_cast<double>(std::clock()) / CLOCKS_PER_SEC;
}

struct Timing {
  std::vector<double> wall;
  std::vector<double> processor;

  template <class F>
  void time(F&& work) {
    const Clock::time_point from = Clock::now();
    const double busy = processor_seconds();
    work();
    wall.push_back(seconds_since(from));
    processor.push_back(processor_seconds() - busy);
  }
  void print(const char* what) {
    const auto middle = [](std::vector<double>& x) {
      std::sort(x.begin(), x.end());
      return x[x.size() / 2];
    };
    fmt::print("{:<10} {:6.2f} s, {:6.2f} s of processor time\n", what,
               middle(wall), middle(processor));
  }
};

}  // namespace

int main(int count, char** words) {
  const auto word = [&](int i, int otherwise) {
    return count > i ? std::max(1, std::atoi(words[i])) : otherwise;
  };
  const int sets = word(1, 100);
  const int runs = word(2, 500);
  const int rounds = word(3, 5);
  const std::string path = (std::filesystem::temp_directory_path() /
                            fmt::format("season_bench_{}.db", ::getpid()))
                               .string();
  {
    Result<Store> store = Store::open(path, Access::write);
    if (!store) give_up(store.error());
    for (int i = 0; i < sets; ++i) {
      const LogDigest log = MadeUpSet(i, runs).digest();
      if (const auto done = store->add({&log, 1}); !done) {
        give_up(done.error());
      }
    }
  }
  fmt::print("{} sets, {} runs each, {} MB of store\n", sets, runs,
             std::filesystem::file_size(path) / 1'000'000);
  Timing reading;
  Timing report;
  Timing text;
  for (int i = 0; i < rounds; ++i) {
    Result<Store> store = Store::open(path, Access::read);
    if (!store) give_up(store.error());
    SeasonReport made;
    report.time([&] {
      Result<SeasonReport> done = season_of(*store);
      if (!done) give_up(done.error());
      made = std::move(*done);
    });
    reading.time([&] {
      const Result<std::vector<UnitRow>> units = store->units();
      if (!units) give_up(units.error());
      for (const UnitRow& unit : *units) {
        (void)load_history(store->database(), unit);
      }
    });
    text.time([&] {
      fmt::memory_buffer out;
      write_season_text(made, {}, out);
    });
  }
  reading.print("reading");
  report.print("the report");
  text.print("its text");
  std::filesystem::remove(path);
  return 0;
}

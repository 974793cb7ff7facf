// From a log on disk to the model: the same findings as the core has sample by
// sample, evidence that can be recomputed from the lines it names, phases in
// hindsight.
#include "session/session.hpp"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <map>
#include <string>
#include <vector>

#include "catch.hpp"
#include "judge.hpp"
#include "made_log.hpp"
#include "temp_file.hpp"

namespace telltale::test {
namespace {

struct Sample {
  const char* name;
  MadeRun run;
};

MadeRun with(MadeRun run, Channel channel, MadeRun::Fault fault) {
  run.fault(channel, std::move(fault));
  return run;
}
/// One run a trouble, as varied as the checks.
std::vector<Sample> samples() {
  std::vector<Sample> out;
  out.push_back({"healthy", usual_run(20.0)});
  out.push_back({"coolant", with(usual_run(20.0), Channel::coolant_temperature,
                                 creeping(900.0, 300.0, 25.0))});
  out.push_back({"battery", with(usual_run(20.0), Channel::battery_voltage,
                                 during(900.0, 300.0, to(12.1)))});
  out.push_back({"oil", with(usual_run(20.0), Channel::oil_pressure,
                             during(1000.0, 60.0, to(60.0)))});
  out.push_back({"exhaust", with(usual_run(20.0), Channel::exhaust_temperature,
                                 creeping(1000.0, 40.0, 60.0))});
  out.push_back({"volts", with(usual_run(20.0), Channel::voltage_l2,
                               during(1000.0, 90.0, times(0.88)))});
  MadeRun fast = usual_run(20.0);
  fast.turn(during(1000.0, 60.0, to(64.0 / 60.0)));
  out.push_back({"fast", fast});
  MadeRun gap = usual_run(20.0);
  gap.gap(1000.0, 1090.0);
  out.push_back({"gap", gap});
  MadeRun spike = usual_run(20.0);
  spike.single(Channel::coolant_temperature, 1000.0, 20.0);
  out.push_back({"spike", spike});
  MadeRun alarms = usual_run(20.0);
  for (int i = 0; i < 4; ++i) alarms.alarm(0, 900.0 + 10 * i, 905.0 + 10 * i);
  out.push_back({"alarms", alarms});
  MadeRun stop;
  stop.rest(60.0).start().warm().load(50.0, 2400.0).coast(8.0).rest(60.0);
  out.push_back({"stop under load", stop});
  MadeRun tries;
  tries.rest(120.0).crank(12.0).rest(30.0).crank(6.0).rest(30.0).start();
  tries.warm().load(60.0, 900.0).stop();
  out.push_back({"tries", tries});
  MadeRun european = usual_run(20.0, kEuropean);
  european.fault(Channel::battery_voltage, during(900.0, 200.0, to(25.4)));
  out.push_back({"european", european});
  return out;
}

host::HealthReport examined(const MadeRun& run,
                            const LogSpelling& spelling = {}) {
  const TempFile file(csv_of(run, spelling));
  host::SessionOptions options;
  options.profile = stated_by(run.plate());
  auto report = host::examine(file.path(), options);
  REQUIRE(static_cast<bool>(report));
  return std::move(*report);
}
std::vector<const host::FindingReport*> all_of(const host::HealthReport& r) {
  std::vector<const host::FindingReport*> out;
  for (const auto& f : r.findings) out.push_back(&f);
  for (const auto& run : r.runs) {
    for (const auto& f : run.findings) out.push_back(&f);
  }
  return out;
}

TEST_CASE("session: a log brings what its samples bring one by one") {
  for (const Sample& sample : samples()) {
    INFO(sample.name);
    const host::HealthReport report = examined(sample.run);
    const Outcome told = judge(sample.run);
    std::map<std::pair<std::string, Channel>, const Told*> gravest;
    for (const Told& t : told.told) {
      const Told*& known = gravest[{t.slug, t.finding.channel}];
      if (known == nullptr || t.finding.severity > known->finding.severity) {
        known = &t;
      }
    }
    const auto reported = all_of(report);
    CHECK(reported.size() == gravest.size());
    for (const host::FindingReport* f : reported) {
      const std::string slug(f->check->info->slug);
      INFO(slug);
      const auto at = gravest.find({slug, f->finding.channel});
      REQUIRE(at != gravest.end());
      const Told& t = *at->second;
      CHECK(f->finding.severity == t.finding.severity);
      CHECK(f->finding.limit == Approx(t.finding.limit));
      CHECK(MadeRun::seconds_of(f->from.logged) ==
            Approx(t.since).margin(1e-3));
      CHECK(f->finding.value ==
            Approx(told.last(slug, f->finding.channel)->finding.value)
                .epsilon(1e-6));
    }
    REQUIRE(report.runs.size() == told.runs.size());
    for (std::size_t i = 0; i < report.runs.size(); ++i) {
      CHECK(report.runs[i].start.logged == told.runs[i].facts.start);
      CHECK(report.runs[i].end.logged == told.runs[i].facts.end);
    }
  }
}

TEST_CASE("session: evidence can be recomputed from the lines it names") {
  int recomputed = 0;
  for (const Sample& sample : samples()) {
    INFO(sample.name);
    const std::vector<std::string> lines = lines_of(csv_of(sample.run));
    const std::vector<std::string> header = cells_of(lines[0]);
    const host::HealthReport report = examined(sample.run);
    for (const host::FindingReport* f : all_of(report)) {
      const std::string slug(f->check->info->slug);
      INFO(slug);
      REQUIRE(f->from.line >= 2);
      REQUIRE(f->to.line >= f->from.line);
      REQUIRE(f->to.line <= lines.size());
      if (f->finding.channel == Channel::none) continue;
      const std::string name(info_of(f->finding.channel).slug);
      std::size_t column = 0;
      while (column < header.size() &&
             header[column].rfind(name + " (", 0) != 0) {
        ++column;
      }
      // A load that was derived from power has no column of its own.
      if (column == header.size()) {
        CHECK(f->finding.channel == Channel::load);
        continue;
      }
      const auto value_at = [&](std::uint64_t line) {
        return std::strtod(cells_of(lines[line - 1])[column].c_str(), nullptr);
      };
      for (const host::Evidence& e : f->evidence) {
        INFO(e.label);
        if (e.label == "lowest" || e.label == "highest") {
          CHECK(value_at(e.from.line) == Approx(e.value).epsilon(1e-6));
          ++recomputed;
        }
        if (e.label != "mean") continue;
        double sum = 0.0;
        double low = INFINITY;
        double high = -INFINITY;
        std::uint64_t n = 0;
        for (std::uint64_t line = e.from.line; line <= e.to.line; ++line) {
          if (cells_of(lines[line - 1])[column].empty()) continue;
          const double x = value_at(line);
          sum += x;
          low = std::min(low, x);
          high = std::max(high, x);
          ++n;
        }
        CHECK(n == e.readings);
        CHECK(sum / static_cast<double>(n) == Approx(e.value).epsilon(1e-6));
        for (const host::Evidence& other : f->evidence) {
          if (other.label == "lowest") CHECK(other.value == Approx(low));
          if (other.label == "highest") CHECK(other.value == Approx(high));
        }
        ++recomputed;
      }
    }
  }
  CHECK(recomputed > 20);
}

TEST_CASE("session: phases follow one another and fit the plan") {
  const MadeRun run = usual_run(20.0);
  const host::HealthReport report = examined(run);
  REQUIRE(report.runs.size() == 1);
  const host::RunReport& r = report.runs[0];
  std::vector<Phase> phases;
  for (std::size_t i = 0; i < r.phases.size(); ++i) {
    phases.push_back(r.phases[i].phase);
    const bool last = i + 1 == r.phases.size();
    CHECK(r.phases[i].to.logged ==
          (last ? r.end.logged : r.phases[i + 1].from.logged));
    CHECK(r.phases[i].from.logged < r.phases[i].to.logged);
  }
  CHECK(r.phases[0].from.logged == r.start.logged);
  CHECK(phases == std::vector<Phase>{Phase::cranking, Phase::running_up,
                                     Phase::no_load, Phase::on_load,
                                     Phase::cool_down, Phase::stopping});
  // rest 120, crank 3, run up 3, no load 30, load from 156 to 1656, 180 of
  // cool-down, coast 6.
  CHECK(MadeRun::seconds_of(r.start.logged) == Approx(120.0).margin(1.0));
  CHECK(MadeRun::seconds_of(r.phases[3].from.logged) ==
        Approx(156.0).margin(1.0));
  CHECK(MadeRun::seconds_of(r.phases[4].from.logged) ==
        Approx(1656.0).margin(1.0));
  CHECK(MadeRun::seconds_of(r.phases[5].from.logged) ==
        Approx(1836.0).margin(2.0));
  CHECK(MadeRun::seconds_of(r.end.logged) == Approx(1842.0).margin(1.0));
  CHECK(r.seconds == Approx(1722.0).margin(2.0));
  CHECK(r.attempts == 1);
  CHECK(*r.crank_seconds == Approx(3.0).margin(1.0));
  CHECK(r.ends == host::RunReport::Ends::stop);
}

// Four hours at a row a second: more rows than are remembered, so every place
// must have been looked up while its row still was.
TEST_CASE("session: times of a long run are those of its rows") {
  MadeRun run = usual_run(240.0);
  run.fault(Channel::coolant_temperature, during(900.0, 300.0, to(97.0)));
  const host::HealthReport report = examined(run);
  REQUIRE(report.runs.size() == 1);
  const host::RunReport& r = report.runs[0];
  // A header and a row for every second from 0 on.
  const auto is_exact = [](const host::LogPlace& place) {
    return place.line ==
           static_cast<std::uint64_t>(MadeRun::seconds_of(place.logged)) + 2;
  };
  CHECK(MadeRun::seconds_of(r.start.logged) == Approx(120.0).margin(1.0));
  CHECK(is_exact(r.start));
  for (const host::PhaseSpan& span : r.phases) {
    CHECK(is_exact(span.from));
    CHECK(is_exact(span.to));
  }
  CHECK(r.phases.front().from.logged == r.start.logged);
  REQUIRE(r.findings.size() == 1);
  CHECK(is_exact(r.findings[0].to));
  CHECK(MadeRun::seconds_of(r.findings[0].to.logged) ==
        Approx(1200.0).margin(2.0));
}

// Service is told once, for the state the log ends in; a run's verdict is the
// gravest of the findings it still has.
TEST_CASE("session: service due makes no earlier run unhealthy") {
  MadeRun run;
  for (int i = 0; i < 2; ++i) {
    run.rest(60.0).start().warm().load(50.0, 900.0).load(0.0, 300.0).stop();
    run.rest(700.0);
  }
  const TempFile file(csv_of(run));
  host::SessionOptions options;
  options.profile = stated_by(run.plate());
  options.profile.service.push_back({"oil", 1.0F, 0.0F, 0.0F, {}});
  const auto report = host::examine(file.path(), options);
  REQUIRE(report);
  REQUIRE(report->runs.size() == 2);
  CHECK(report->runs[0].findings.empty());
  CHECK(report->runs[0].verdict == Severity::healthy);
  REQUIRE(report->runs[1].findings.size() == 1);
  CHECK(report->runs[1].findings[0].check->info->slug == "service-due");
  CHECK(report->runs[1].verdict ==
        report->runs[1].findings[0].finding.severity);
}

TEST_CASE("session: the stop and the crank are no part of the statistics") {
  const host::HealthReport report = examined(usual_run(20.0));
  const auto& figures = report.runs[0].channels;
  // Speed stands over 100 % of nominal while running; running up from 40 %.
  const auto& speed = *figures[index_of(Channel::engine_speed)];
  CHECK(speed.min > 0.4 * 3600.0);
  CHECK(speed.p05 > 3500.0);
  // Volts on the battery sag to 10.6 V while cranking and stand at 12.7 at
  // rest.
  const auto& battery = *figures[index_of(Channel::battery_voltage)];
  CHECK(battery.min > 13.0);
  CHECK(battery.sd < 0.02);
  // Running from 123 to 1836: a reading a second.
  CHECK(speed.samples == Approx(1713).margin(4));
}

// Rows at 0, 1, .. 900 s, running in all of them: 901 readings.
TEST_CASE("session: every row of a log that is running throughout counts") {
  MadeRun run;
  run.load(40.0, 900.0);
  const host::HealthReport report = examined(run);
  REQUIRE(report.runs.size() == 1);
  const host::RunReport& r = report.runs[0];
  CHECK(r.channels[index_of(Channel::oil_pressure)]->samples == 901);
  CHECK(MadeRun::seconds_of(r.start.logged) == 0.0);
  CHECK(MadeRun::seconds_of(r.end.logged) == 900.0);
  CHECK(r.seconds == 900.0);
  REQUIRE(!r.phases.empty());
  CHECK(MadeRun::seconds_of(r.phases.back().to.logged) == 900.0);
}

TEST_CASE("session: a log in US units brings the same") {
  for (const Sample& sample : samples()) {
    INFO(sample.name);
    LogSpelling us;
    us.us_units = true;
    const host::HealthReport metric = examined(sample.run);
    const host::HealthReport imperial = examined(sample.run, us);
    const auto a = all_of(metric);
    const auto b = all_of(imperial);
    REQUIRE(a.size() == b.size());
    for (std::size_t i = 0; i < a.size(); ++i) {
      CHECK(a[i]->check == b[i]->check);
      CHECK(a[i]->finding.value == Approx(b[i]->finding.value).epsilon(1e-5));
      CHECK(a[i]->from.line == b[i]->from.line);
    }
  }
}

TEST_CASE("session: elapsed time is told as such") {
  LogSpelling spelling;
  spelling.elapsed = true;
  const host::HealthReport report = examined(usual_run(5.0), spelling);
  CHECK(report.layout.elapsed);
  REQUIRE(report.runs.size() == 1);
  CHECK(host::format_time(report.runs[0].start.logged, report.layout) ==
        "t+120.0");
}

TEST_CASE("session: a reading condemned as a spike is no worst reading") {
  MadeRun run = with(usual_run(20.0), Channel::coolant_temperature,
                     during(900.0, 300.0, to(97.0)));
  run.noise(Channel::coolant_temperature, 0.3, 9)
      .single(Channel::coolant_temperature, 1000.0, 140.0);
  bool seen = false;
  const host::HealthReport report = examined(run);
  for (const host::FindingReport* f : all_of(report)) {
    if (f->check->info->slug != "coolant-high") continue;
    seen = true;
    CHECK(f->finding.value < 98.0);
    for (const host::Evidence& e : f->evidence) {
      if (e.label == "highest") CHECK(e.value < 98.0);
    }
  }
  CHECK(seen);
}

TEST_CASE("session: a check that was blind says why") {
  MadeRun run = usual_run(20.0);
  run.without(Channel::oil_pressure).without(Channel::exhaust_temperature);
  std::map<std::string, std::string> why;
  const host::HealthReport report = examined(run);
  for (const host::NotChecked& item : report.runs[0].not_checked()) {
    why[std::string(item.check->info->slug)] = item.why;
  }
  for (const char* slug : {"oil-pressure-low", "oil-pressure-fade",
                           "oil-pressure-slow", "oil-pressure-unsteady",
                           "exhaust-high", "exhaust-jump", "exhaust-climb"}) {
    INFO(slug);
    REQUIRE(why.count(slug) == 1);
    CHECK(why[slug].find("no such channel") != std::string::npos);
  }
  CHECK(why.count("coolant-high") == 0);
}

}  // namespace
}  // namespace telltale::test

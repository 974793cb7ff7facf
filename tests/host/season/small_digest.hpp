// A digest with something in every table.
#pragma once

#include <string>

#include "checks/catalogue.hpp"
#include "season/run_digest.hpp"

namespace telltale::host::season {

inline constexpr std::int64_t kDay_ms = 86'400'000;

/// Run number `day` of a set, two hours long, on that day of 2026.
inline RunDigest small_run(const std::string& unit, int day) {
  RunDigest run;
  run.unit = unit;
  run.start = TimeMs{1'767'225'600'000 + day * kDay_ms};
  run.end = TimeMs{run.start.ms + 7'200'000};
  run.ends = "stop";
  run.seconds = 7200.0;
  run.hours_start = 100.0 + 2.0 * day;
  run.hours_end = run.hours_start + 2.0;
  run.attempts = 1;
  run.load_pct = 50.0;
  run.first_speed = 1.03;
  run.at_speed_s = 7100.0;
  run.light_load_s = 300.0;
  run.verdict = Severity::note;
  run.phases = {{Phase::on_load, run.start, run.end}};
  ChannelDigest channel;
  channel.channel = Channel::oil_pressure;
  channel.figures.samples = 7200;
  channel.figures.mean = 300.25;
  run.channels = {channel};
  LoadBin load;
  load.from_pct = 50;
  load.seconds = 6000.0;
  load.frequency = 60.5;
  run.load_bins = {load};
  TemperatureBin warmth;
  warmth.from_degc = 90;
  warmth.seconds = 6000.0;
  warmth.degc = 91.5;
  warmth.oil_pressure = 300.0;
  run.temperature_bins = {warmth};
  run.load_steps = {{run.start, 10.0, 60.0, 4.5, 2.0, true}};
  FindingDigest finding;
  finding.check = "light-load";
  finding.severity = Severity::note;
  finding.value = 55.0;
  finding.summary = "light; \"quoted\"\nsecond line, naïve";
  run.findings = {finding};
  RunFigure figure;
  figure.kind = FigureKind::hot_oil_pressure;
  figure.basis = "oil";
  figure.value = 300.0 - 0.1 * day;
  figure.se = 0.2;
  figure.at = 91.5;
  figure.slope = 400.0;
  figure.slope_se = 9.0;
  figure.n = 100;
  run.figures = {figure};
  return run;
}

/// A log with runs on the given days; its hash goes by unit and first day.
inline LogDigest small_digest(const std::string& unit, int from, int count) {
  LogDigest log;
  log.program = "test";
  log.file = unit + ".csv";
  log.sha256 = std::string(48, 'a') +
               std::to_string(1'000'000'000'000'000 + from * 1000 + count);
  for (const char c : unit) {
    log.sha256[static_cast<std::size_t>(c) % 48] = c == 'b' ? 'c' : 'b';
  }
  log.bytes = 1000;
  log.rows = 10;
  UnitDigest about;
  about.name = unit;
  about.model = "M 8";
  about.rating.power_kw = 8.0F;
  about.rating.frequency_hz = 60.0F;
  LimitOverride limit;
  limit.check = check_named("coolant-high")->info->id;
  limit.attention = 105.0F;
  about.limits = {limit};
  about.service = {{"oil", 200.0, 12.0, 50.0, TimeMs{1'760'000'000'000}}};
  log.units = {about};
  for (int i = 0; i < count; ++i) {
    log.runs.push_back(small_run(unit, from + i));
    log.runs.back().number = i + 1;
  }
  return log;
}

}  // namespace telltale::host::season

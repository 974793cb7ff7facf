#include "season/digest_recorder.hpp"

#include <algorithm>
#include <cmath>

#include "season/run_figures.hpp"

namespace telltale::host::season {
namespace {

constexpr double kLightLoad_pct = 30.0;
constexpr double kLeastAtSpeed_s = 600.0;  // for a share of light load
constexpr DurationMs kCrankInterval{2500};
constexpr DurationMs kFirstSpeedAfter = seconds(90);

// Load bins wider than these hold nothing that a healthy or ailing set does.
constexpr int kLowestBin = -10;
constexpr int kHighestBin = 150;

}  // namespace

void DigestRecorder::Gathered::add(double seconds, double x) {
  if (!std::isfinite(x) || !(seconds > 0.0)) return;
  weight += seconds;
  const double off = x - mean;
  mean += off * seconds / weight;
  square += seconds * off * (x - mean);
}
double DigestRecorder::Gathered::value() const {
  return weight > 0.0 ? mean : kNone;
}
double DigestRecorder::Gathered::sd() const {
  return weight > 0.0 ? std::sqrt(square / weight) : kNone;
}

void DigestRecorder::clear() {
  minutes_.clear();
  for (auto& summary : on_load_) summary.reset();
  load_cells_.clear();
  oil_cells_.clear();
  coolant_cells_.clear();
  load_ = water_ = air_ = Gathered{};
  at_speed_s_ = on_load_s_ = light_s_ = energy_kwh_ = 0.0;
  hours_start_ = hours_end_ = starts_ = first_speed_ = kNone;
  load_rated_ = leg_volts_ = has_load_ = has_energy_ = false;
}

void DigestRecorder::step(const Moment<double>& m) {
  start_.step(m);
  if (!m.in_run()) return;
  interval_ = m.interval;
  load_rated_ = load_rated_ || m.load_rated;
  const auto& hours = m[Channel::engine_hours];
  if (hours.good()) {
    if (!std::isfinite(hours_start_)) hours_start_ = hours.value;
    hours_end_ = hours.value;
  }
  if (m[Channel::start_count].good()) starts_ = m[Channel::start_count].value;
  if (!std::isfinite(first_speed_) && m.steady &&
      m.since_running() >= kFirstSpeedAfter) {
    first_speed_ = m.turn_level;
  }
  follow_on_load(m);
  if (m.block != nullptr) follow_block(m);
}

void DigestRecorder::follow_on_load(const Moment<double>& m) {
  const bool counts = m.phase == Phase::on_load && !m.falling;
  for_each_bit(m.frame->with(Quality::good), [&](std::size_t i) {
    if (!counts) {
      if (on_load_[i]) on_load_[i]->touch(m.at);
      return;
    }
    if (!on_load_[i]) on_load_[i] = std::make_unique<ChannelSummary>();
    on_load_[i]->add(m.at, m.frame->values[i]);
  });
}

void DigestRecorder::follow_block(const Moment<double>& m) {
  const Block<double>& block = *m.block;
  // The block that was open when the set began to turn is of the rest.
  if (block.from < m.run->start) return;
  const double seconds = static_cast<double>(block.length.ms) / 1000.0;
  const DurationMs since = m.since_running();
  if (since.ms < 0) return;
  minutes_.add(block, static_cast<double>(since.ms) / 1000.0, rating_);
  leg_volts_ = leg_volts_ || has_leg_volts(block);
  air_.add(seconds, block[Channel::ambient_temperature]);
  const double kw =
      std::isfinite(block[Channel::power])
          ? block[Channel::power]
          : block.load_pct / 100.0 * static_cast<double>(rating_.power_kw);
  if (std::isfinite(kw)) {
    energy_kwh_ += kw * seconds / 3600.0;
    has_energy_ = true;
  }
  if (!m.at_speed()) return;
  at_speed_s_ += seconds;
  if (m.phase == Phase::on_load) {
    on_load_s_ += seconds;
    water_.add(seconds, block[Channel::raw_water_temperature]);
  }
  if (m.load_rated && std::isfinite(block.load_pct)) {
    has_load_ = true;
    load_.add(seconds, block.load_pct);
    if (block.load_pct < kLightLoad_pct) light_s_ += seconds;
  }
  if (block.steady) bin(block);
}

void DigestRecorder::bin(const Block<double>& block) {
  const double seconds = static_cast<double>(block.length.ms) / 1000.0;
  if (load_rated_ && std::isfinite(block.load_pct)) {
    const int from =
        std::clamp(static_cast<int>(std::floor(block.load_pct / 10.0)) * 10,
                   kLowestBin, kHighestBin);
    LoadCell& cell = load_cells_[from];
    cell.seconds += seconds;
    const std::array<double, 9> values = {block.load_pct,
                                          block[Channel::frequency],
                                          tracked_volts(block),
                                          block[Channel::oil_pressure],
                                          block[Channel::oil_temperature],
                                          block[Channel::coolant_temperature],
                                          block[Channel::exhaust_temperature],
                                          block[Channel::winding_temperature],
                                          block[Channel::fuel_rate]};
    for (std::size_t i = 0; i < values.size(); ++i) {
      cell.of[i].add(seconds, values[i]);
    }
  }
  bin_warmth(block, Channel::oil_temperature);
  bin_warmth(block, Channel::coolant_temperature);
}

void DigestRecorder::bin_warmth(const Block<double>& block, Channel channel) {
  const double degc = block[channel];
  const double kpa = oil_at_nominal_speed(block, rating_);
  if (!std::isfinite(degc) || !std::isfinite(kpa)) return;
  const double seconds = static_cast<double>(block.length.ms) / 1000.0;
  auto& cells =
      channel == Channel::oil_temperature ? oil_cells_ : coolant_cells_;
  WarmthCell& cell = cells[static_cast<int>(std::floor(degc / 5.0)) * 5];
  cell.seconds += seconds;
  cell.degc.add(seconds, degc);
  cell.kpa.add(seconds, kpa);
  cell.load.add(seconds, block.load_pct);
}

void DigestRecorder::fill_bins(RunDigest& run) const {
  for (const auto& [from, cell] : load_cells_) {
    LoadBin bin;
    bin.from_pct = from;
    bin.seconds = cell.seconds;
    bin.load_pct = cell.of[0].value();
    bin.frequency = cell.of[1].value();
    bin.frequency_sd = cell.of[1].sd();
    bin.voltage = cell.of[2].value();
    bin.voltage_sd = cell.of[2].sd();
    bin.oil_pressure = cell.of[3].value();
    bin.oil_temperature = cell.of[4].value();
    bin.coolant_temperature = cell.of[5].value();
    bin.exhaust_temperature = cell.of[6].value();
    bin.winding_temperature = cell.of[7].value();
    bin.fuel_rate = cell.of[8].value();
    run.load_bins.push_back(bin);
  }
  for (const bool by_coolant : {false, true}) {
    for (const auto& [from, cell] : by_coolant ? coolant_cells_ : oil_cells_) {
      TemperatureBin bin;
      bin.by_coolant = by_coolant;
      bin.from_degc = from;
      bin.seconds = cell.seconds;
      bin.degc = cell.degc.value();
      bin.oil_pressure = cell.kpa.value();
      bin.oil_pressure_sd = cell.kpa.sd();
      bin.load_pct = cell.load.value();
      run.temperature_bins.push_back(bin);
    }
  }
}

void DigestRecorder::add_simple_figure(FigureKind kind, const char* basis,
                                       double value, double at,
                                       RunDigest& run) const {
  if (!std::isfinite(value)) return;
  RunFigure figure;
  figure.kind = kind;
  figure.basis = basis;
  figure.value = value;
  figure.at = at;
  figure.n = 1;
  run.figures.push_back(std::move(figure));
}

void DigestRecorder::fill_figures(const RunFacts& facts, RunDigest& run) const {
  FigureContext about;
  about.rating = rating_;
  about.load_rated = load_rated_;
  about.leg_volts = leg_volts_;
  about.begins_in_log = facts.begins_in_log;
  // Inference has told dry from wet by the on-load median (contract section 5).
  about.wet_exhaust = rating_.exhaust != Exhaust::dry;
  run.figures = figures_of(minutes_.minutes(), about);
  add_simple_figure(FigureKind::crank_seconds, "crank", run.good_crank_seconds,
                    run.start_degc, run);
  if (run.attempts) {
    add_simple_figure(FigureKind::crank_attempts, "crank",
                      static_cast<double>(*run.attempts), kNone, run);
  }
  add_simple_figure(FigureKind::crank_dip, "crank", run.crank_dip_v,
                    run.start_degc, run);
  if (has_load_ && at_speed_s_ >= kLeastAtSpeed_s) {
    add_simple_figure(FigureKind::light_load_share, "load",
                      100.0 * light_s_ / at_speed_s_, kNone, run);
  }
}

void DigestRecorder::end_run(const RunFacts& facts, const RunReport& report) {
  minutes_.finish();
  RunDigest run;
  run.unit = unit_;
  run.number = report.run;
  start_.finish(facts, run);
  if (report.attempts && facts.crank_seen && interval_ <= kCrankInterval) {
    run.crank_seconds = static_cast<double>(facts.crank_ms) / 1000.0;
    if (is_set(facts.running_since)) {
      run.good_crank_seconds =
          static_cast<double>(facts.last_crank_ms) / 1000.0;
    }
  }
  run.hours_start = hours_start_;
  run.hours_end = hours_end_;
  run.starts = starts_;
  run.first_speed = first_speed_;
  run.water_degc = water_.value();
  run.air_degc = air_.value();
  run.load_pct = load_.value();
  run.at_speed_s = at_speed_s_;
  run.on_load_s = on_load_s_;
  run.light_load_s = has_load_ ? light_s_ : kNone;
  if (has_energy_) run.energy_kwh = energy_kwh_;
  for (std::size_t i = 0; i < kChannelCount; ++i) {
    if (!on_load_[i] || on_load_[i]->empty()) continue;
    run.channels.push_back(
        {static_cast<Channel>(i), true, on_load_[i]->finish()});
  }
  fill_bins(run);
  fill_figures(facts, run);
  runs_.push_back(std::move(run));
  clear();
}

}  // namespace telltale::host::season

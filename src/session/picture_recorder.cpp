#include "session/picture_recorder.hpp"

#include <algorithm>
#include <utility>

namespace telltale::host {
namespace {

PictureColumn column_of(const Moment<double>& m, ChannelMask blank) {
  PictureColumn column;
  column.first = column.last = m.at;
  column.alarms = m.frame->alarms;
  const Frame<double>& frame = *m.frame;
  // What was taken in this scan, condemned or not.
  for_each_bit(frame.with(Quality::good) | frame.condemned(),
               [&](std::size_t i) {
                 column.range[i].add(static_cast<float>(frame.values[i]));
               });
  column.blank = blank & frame.with(Quality::missing);
  column.range[kLoadTrack].add(static_cast<float>(m.load_pct));
  return column;
}

double worth_of(Severity verdict) {
  if (verdict >= Severity::attention) return 3.0;
  return verdict == Severity::note ? 1.5 : 1.0;
}

}  // namespace

DurationMs PictureRecorder::margin(DurationMs interval) {
  return std::max(seconds(90), DurationMs{interval.ms * 6});
}

void PictureRecorder::row(const Row& row) {
  if (waiting_ == rows_.size()) {
    rows_[0] = rows_[1];
    --waiting_;
  }
  rows_[waiting_] = {row.at, row.logged, row.blank,
                     row.clock != ClockEvent::none};
  ++waiting_;
}

void PictureRecorder::step(const HostMonitor& monitor, bool began) {
  const Moment<double>& m = monitor.moment();
  const Unjudged row = rows_[0];
  rows_[0] = rows_[1];
  if (waiting_ > 0) --waiting_;
  interval_ = m.interval;
  if (row.clock_set || clock_.pieces().empty()) clock_.set(row.at, row.logged);
  const PictureColumn scan = column_of(m, row.blank);
  pyramid_.add(scan);
  close_ups_.step(m.at, m.interval, pyramid_);
  if (began) begin_run(m);
  if (run_) {
    follow_run(monitor, scan);
  } else if (tail_) {
    if (m.at <= tail_until_) tail_->overview.add(scan);
    if (m.at >= tail_until_) close_tail();
  }
}

void PictureRecorder::begin_run(const Moment<double>& m) {
  close_tail();
  run_ = std::make_shared<RunPicture>();
  run_->start = m.run->start;
  TimeMs from = run_->start - margin(m.interval);
  if (is_set(last_end_)) from = std::max(from, last_end_);
  const Picture before = pyramid_.window(from, m.at - DurationMs{1});
  for (const PictureColumn& column : before.columns()) {
    run_->overview.add(column);
  }
}

void PictureRecorder::follow_run(const HostMonitor& monitor,
                                 const PictureColumn& scan) {
  const Moment<double>& m = monitor.moment();
  RunPicture& run = *run_;
  run.overview.add(scan);
  run.load_rated = run.load_rated || m.load_rated;
  const bool settled =
      m.at_speed() && !m.falling &&
      (m.run->begins_in_log || m.since_running() > seconds(10));
  for (std::size_t i = 0; i < kTrackCount; ++i) {
    if (i < kChannelCount && !m[static_cast<Channel>(i)].good()) continue;
    run.good[i].add(scan.range[i]);
    if (settled) run.at_speed[i].add(scan.range[i]);
  }
  if (settled) follow_scatters(m);
  if (m.block == nullptr) return;
  const auto& fade = monitor.check<OilPressureFade>();
  run.oil.learnt = fade.learnt();
  run.oil.learnt_at = fade.learnt_at();
  run.droop.hz_per_percent = monitor.check<FrequencyDroop>().hz_per_percent();
}

void PictureRecorder::follow_scatters(const Moment<double>& m) {
  RunPicture& run = *run_;
  const auto& kpa = m[Channel::oil_pressure];
  const auto& oil = m[Channel::oil_temperature];
  run.oil.own = m.profile->oil_line;
  run.oil.by_coolant = run.oil.own.known ? run.oil.own.by_coolant
                                         : m.lacks(Channel::oil_temperature);
  const auto& celsius =
      run.oil.by_coolant ? m[Channel::coolant_temperature] : oil;
  if (kpa.good() && celsius.usable()) {
    run.oil.cells.add(m.at, celsius.value, kpa.value);
  }
  const auto& hz = m[Channel::frequency];
  if (m.steady && hz.good() && m.load_pct == m.load_pct) {
    run.droop.cells.add(m.at, m.load_pct, hz.value);
  }
}

void PictureRecorder::end_run(const RunFacts& facts, RunReport& run) {
  if (!run_) return;
  run_->end = last_end_ = facts.end;
  if (run_->droop.hz_per_percent == run_->droop.hz_per_percent) {
    run_->droop.place_line();
  }
  run.picture = run_;
  close_ups_.attach(static_cast<std::uint16_t>(run.run), run.findings);
  tail_ = std::move(run_);
  run_.reset();
  tail_until_ = facts.end + margin(interval_);
  tail_worth_ = worth_of(run.verdict);
}

void PictureRecorder::close_tail() {
  if (!tail_) return;
  tail_->clock = clock_.between(tail_->overview.from(), tail_->overview.to());
  store_->keep(std::move(tail_), tail_worth_);
  tail_.reset();
}

void PictureRecorder::finish(std::vector<FindingReport>& loose) {
  close_tail();
  close_ups_.attach(0, loose);
  close_ups_.finish(interval_, pyramid_);
}

}  // namespace telltale::host

#include "session/run_recorder.hpp"

namespace telltale::host {
namespace {

/// Scans kept back while the speed is below its level: is it a stop or a sag?
constexpr std::size_t kMostHeld = 4096;

}  // namespace

void RunRecorder::step(const Moment<double>& m, TimeMs phase_since) {
  if (!m.in_run()) return;
  follow_phase(m, phase_since);
  follow_readings(m);
}

void RunRecorder::follow_phase(const Moment<double>& m, TimeMs since) {
  if (!spans_.empty() && spans_.back().phase == m.phase) return;
  // A phase told in hindsight begins before the scan that told it.
  const TimeMs from = is_set(since) ? since : m.at;
  while (!spans_.empty() && spans_.back().from >= from) spans_.pop_back();
  if (!spans_.empty() && spans_.back().phase == m.phase) return;
  spans_.push_back({m.phase, from, trail_->place(from)});
}

void RunRecorder::follow_readings(const Moment<double>& m) {
  const ChannelMask good = m.frame->with(Quality::good);
  const bool counts = (bit(m.phase) & kSelfRunning) != 0;
  if (!counts) {
    // The speed fell for good: what was held back belongs to the stop.
    for (const Held& held : held_) book_.touch(held.at, held.good);
    held_.clear();
    book_.touch(m.at, good);
    return;
  }
  const bool undecided = is_set(m.sag_since) || m.falling;
  if (undecided && held_.size() < kMostHeld) {
    held_.push_back({m.at, good, m.frame->values});
    return;
  }
  for (const Held& h : held_) book_.add(h.at, h.good, h.values);
  held_.clear();
  book_.add(m.at, good, m.frame->values);
}

void RunRecorder::finish_phases(const RunFacts& run, RunReport& out) const {
  bool loaded = false;
  std::size_t last_no_load = spans_.size();
  for (std::size_t i = 0; i < spans_.size(); ++i) {
    if (spans_[i].phase == Phase::on_load) loaded = true;
    if (spans_[i].phase == Phase::no_load && loaded) last_no_load = i;
    if (spans_[i].phase == Phase::on_load) last_no_load = spans_.size();
  }
  for (std::size_t i = 0; i < spans_.size(); ++i) {
    if (spans_[i].from >= run.end && i > 0) break;
    const bool followed = i + 1 < spans_.size() && spans_[i + 1].from < run.end;
    const TimeMs to = followed ? spans_[i + 1].from : run.end;
    const LogPlace end =
        followed ? spans_[i + 1].place : trail_->place(run.end);
    Phase phase = spans_[i].phase;
    if (i == last_no_load && run.ends == RunEnd::stop) {
      phase = Phase::cool_down;
    }
    out.phases.push_back({phase, spans_[i].place, end, spans_[i].from, to});
  }
}

void RunRecorder::finish(const RunFacts& run, RunReport& out) {
  if (run.ends != RunEnd::stop) {
    for (const Held& h : held_) book_.add(h.at, h.good, h.values);
  }
  finish_phases(run, out);
  out.channels = book_.finish();
  spans_.clear();
  held_.clear();
}

}  // namespace telltale::host

#include "session/run_recorder.hpp"

namespace telltale::host {
namespace {

/// Scans kept back while the speed is below its level: is it a stop or a sag?
constexpr std::size_t kMostHeld = 4096;

}  // namespace

void RunRecorder::step(const JudgedScan& scan, const ScanNote& note) {
  if (spans_.empty() || spans_.back().phase != scan.phase) {
    follow_phase(scan.phase, note);
  }
  follow_readings(scan);
}

void RunRecorder::follow_phase(Phase phase, const ScanNote& note) {
  // A phase told in hindsight begins before the scan that told it.
  while (!spans_.empty() && spans_.back().from >= note.phase_since) {
    spans_.pop_back();
  }
  if (!spans_.empty() && spans_.back().phase == phase) return;
  spans_.push_back({phase, note.phase_since, note.phase_place});
}

void RunRecorder::follow_readings(const JudgedScan& scan) {
  const bool counts = (bit(scan.phase) & kSelfRunning) != 0;
  if (!counts) {
    // The speed fell for good: what was held back belongs to the stop.
    for (const JudgedScan& held : held_) book_.touch(held.at, held.good);
    held_.clear();
    book_.touch(scan.at, scan.good);
    return;
  }
  if (scan.sagging && held_.size() < kMostHeld) {
    held_.push_back(scan);
    return;
  }
  for (const JudgedScan& held : held_) book_.add(held);
  held_.clear();
  book_.add(scan);
}

void RunRecorder::finish_phases(const RunFacts& run, const LogPlace& end,
                                RunRecord& out) const {
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
    const LogPlace& until = followed ? spans_[i + 1].place : end;
    Phase phase = spans_[i].phase;
    if (i == last_no_load && run.ends == RunEnd::stop) {
      phase = Phase::cool_down;
    }
    out.phases.push_back({phase, spans_[i].place, until, spans_[i].from, to});
  }
}

void RunRecorder::finish(const RunFacts& run, const LogPlace& end,
                         RunRecord& out) {
  if (run.ends != RunEnd::stop) {
    for (const JudgedScan& held : held_) book_.add(held);
  }
  finish_phases(run, end, out);
  out.channels = book_.finish();
  spans_.clear();
  held_.clear();
}

}  // namespace telltale::host

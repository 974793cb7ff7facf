#include "session/unit_session.hpp"

#include <algorithm>
#include <limits>
#include <utility>

#include "session/blind_text.hpp"
#include "telltale/assess/causes.hpp"
#include "telltale/base/bits.hpp"

namespace telltale::host {
namespace {

constexpr double kNone = std::numeric_limits<double>::quiet_NaN();

ClockStep as_clock_step(ClockEvent event) {
  switch (event) {
    case ClockEvent::set_back:
      return ClockStep::set_back;
    case ClockEvent::set_forward:
      return ClockStep::set_forward;
    case ClockEvent::none:
      break;
  }
  return ClockStep::none;
}

template <template <class> class C>
bool is(const FindingReport& report) {
  return report.finding.check == C<double>::info.id;
}

/// Gravest first; what follows from something else after what does not; then
/// by time.
bool before(const FindingReport& a, const FindingReport& b) {
  if (a.finding.severity != b.finding.severity) {
    return a.finding.severity > b.finding.severity;
  }
  const bool a_follows = a.caused_by != nullptr;
  const bool b_follows = b.caused_by != nullptr;
  if (a_follows != b_follows) return b_follows;
  return a.finding.since < b.finding.since;
}

Severity gravest(const std::vector<FindingReport>& findings) {
  Severity out = Severity::healthy;
  for (const FindingReport& report : findings) {
    out = worst(out, report.finding.severity);
  }
  return out;
}

}  // namespace

UnitSession::UnitSession(std::string name, const Profile& profile,
                         std::vector<std::string> service_names,
                         Threads threads)
    : name_(std::move(name)),
      profile_(profile),
      service_names_(std::move(service_names)),
      book_(trail_),
      chronicle_(profile_, threads) {
  setup_ = monitor_.configure(profile_);
  trail_.on_forget([this](const TrailRow& row) { book_.forget(row); });
}

void UnitSession::step(const Row& row) {
  builder_.put(row.present, row.at, row.value);
  for_each_bit(row.blank, [&](std::size_t i) {
    builder_.put(static_cast<Channel>(i), row.at, kNone);
  });
  builder_.put(row.state);
  builder_.put_alarms(row.alarms);
  trail_.add(row);
  if (pictures_) pictures_->row(row);

  DurationMs jump{};
  if (row.clock != ClockEvent::none && is_set(last_at_)) {
    jump = (row.logged - last_logged_) - (row.at - last_at_);
  }
  const bool new_time = row.at != last_at_;
  last_at_ = row.at;
  last_logged_ = row.logged;
  const Frame<double> frame = builder_.frame(row.at);
  after(monitor_.step(frame, sink(), as_clock_step(row.clock), jump));
  // The monitor judges a scan when the next one comes.
  if (new_time) judged_place_ = {row.logged, row.line};
}

FindingSink<double> UnitSession::sink() {
  return FindingSink<double>(
      [](void* context, const Finding<double>& finding) {
        auto* self = static_cast<UnitSession*>(context);
        self->mark_condemned();
        self->take(finding);
      },
      this);
}

void UnitSession::mark_condemned() {
  const Moment<double>& m = monitor_.moment();
  const ChannelMask condemned = m.frame->condemned();
  if (condemned != 0) trail_.condemn(m.at, condemned);
}

void UnitSession::finish() {
  after(monitor_.judge_last(sink()));
  after(monitor_.flush(sink()));
  while (recorded_ < runs_.size()) collect_record(runs_[recorded_]);
  for (FindingReport& report : book_.collect(0, last_at_)) {
    loose_.push_back(std::move(report));
  }
  if (pictures_) pictures_->finish(loose_);
  // Service is told once, for the state the log ends in.
  for (std::size_t i = 0; i + 1 < runs_.size(); ++i) {
    std::erase_if(runs_[i].findings, is<ServiceDue>);
    runs_[i].verdict = gravest(runs_[i].findings);
  }
}

void UnitSession::take(const Finding<double>& finding) {
  book_.take(finding);
  if (pictures_) pictures_->take(finding);
}

void UnitSession::after(const HostMonitor::Event& event) {
  if (event.run_ended) end_run();
  if (event.run_began) {
    run_start_ = trail_.place(monitor_.conditioner().phases().facts().start);
  }
  if (!event.judged) return;
  mark_condemned();
  const Moment<double>& m = monitor_.moment();
  if (m.turn_source != TurnSource::none) turn_source_ = m.turn_source;
  if (m.in_run()) write_down(m);
  if (observer_ != nullptr) observer_->step(m);
  if (pictures_) pictures_->step(monitor_, event.run_began);
}

void UnitSession::end_run() {
  const RunFacts& facts = monitor_.ended_run();
  RunReport run;
  run.unit = name_;
  run.run = static_cast<int>(runs_.size()) + 1;
  run.start = run_start_;
  run.end = trail_.place(facts.end);
  run.begins_in_log = facts.begins_in_log;
  run.ends =
      facts.ends == RunEnd::stop ? RunReport::Ends::stop : RunReport::Ends::log;
  const bool ran = is_set(facts.running_since);
  const double span_s =
      static_cast<double>((facts.end - facts.start).ms - facts.gap_ms) / 1000.0;
  run.seconds = ran ? span_s : 0.0;
  if (!facts.begins_in_log) {
    run.attempts = facts.attempts;
    const double interval_s =
        static_cast<double>(monitor_.conditioner().interval().value().ms) /
        1000.0;
    // A crank that fell between two samples has no length to tell.
    if (facts.crank_seen && interval_s <= 2.5) {
      run.crank_seconds = facts.crank_ms / 1000.0;
    }
  }
  chronicle_.end_run(facts, run.end);
  written_phase_.reset();
  // The runs of the monitor count up as these do, but a split may have begun
  // the next one in the same step.
  const auto number = static_cast<std::uint16_t>(runs_.size() + 1);
  run.findings = book_.collect(number, facts.end);
  judge_together(run);
  tell_what_was_blind(run);
  if (observer_ != nullptr || pictures_) collect_record(run);
  if (observer_ != nullptr) observer_->end_run(facts, run);
  if (pictures_) pictures_->end_run(facts, run);
  runs_.push_back(std::move(run));
  // Of the run that has just ended it need not be waited for.
  while (recorded_ + 1 < runs_.size()) collect_record(runs_[recorded_]);
}

void UnitSession::write_down(const Moment<double>& m) {
  const auto [scan, note] = chronicle_.next();
  scan.at = m.at;
  scan.load_pct = m.load_pct;
  scan.interval_ms = static_cast<std::int32_t>(m.interval.ms);
  scan.phase = m.phase;
  scan.load_rated = m.load_rated;
  scan.steady = m.steady;
  scan.sagging = is_set(m.sag_since) || m.falling;
  scan.step_began = m.step_began;
  scan.read(m.frame->with(Quality::good), m.frame->values);
  if (!m.step_began && written_phase_ == m.phase) return;
  note.place = judged_place_;
  note.step_from_pct = m.step_from_pct;
  const TimeMs since = monitor_.conditioner().phases().phase_since();
  note.phase_since = is_set(since) ? since : m.at;
  note.phase_place = trail_.place(note.phase_since);
  written_phase_ = m.phase;
}

/// REQUIRES: `run` is the first that has none yet
void UnitSession::collect_record(RunReport& run) {
  RunRecord record = chronicle_.take();
  run.phases = std::move(record.phases);
  run.channels = std::move(record.channels);
  run.load_steps = std::move(record.load_steps);
  run.acceptance = std::move(record.acceptance);
  // It is kept until the log's end: without the room that it has grown into.
  run.phases.shrink_to_fit();
  run.load_steps.shrink_to_fit();
  run.findings.shrink_to_fit();
  ++recorded_;
}

void UnitSession::judge_together(RunReport& run) {
  std::vector<FindingReport>& reports = run.findings;
  const auto replaced = [&reports](const FindingReport& report) {
    return std::any_of(reports.begin(), reports.end(),
                       [&](const FindingReport& other) {
                         return replaced_by(report.finding, other.finding);
                       });
  };
  std::vector<FindingReport> kept;
  for (FindingReport& report : reports) {
    if (!replaced(report)) kept.push_back(report);
  }
  reports = std::move(kept);

  std::vector<Finding<double>> findings;
  findings.reserve(reports.size());
  for (const FindingReport& report : reports) {
    findings.push_back(report.finding);
  }
  bool stopped_under_load = false;
  for (FindingReport& report : reports) {
    for (const LimitOverride& change : profile_.limits) {
      if (change.check == report.finding.check)
        report.limit_from_profile = true;
    }
    const std::uint16_t cause =
        cause_of(report.finding, std::span<const Finding<double>>(findings));
    if (cause != 0) report.caused_by = check_of(cause);
    if (is<OverExcitation>(report) && last_stop_loaded_) {
      report.caused_by = check_named(StopUnderLoad<double>::info.slug);
    }
    if (is<StopUnderLoad>(report)) stopped_under_load = true;
    if (is<AbruptStop>(report)) {
      run.ends = RunReport::Ends::abrupt;
      const double first = report.finding.detail[0];
      if (first >= 0 && first < static_cast<double>(kChannelCount)) {
        report.first_out = static_cast<Channel>(static_cast<int>(first));
      }
      std::erase_if(report.evidence,
                    [](const Evidence& e) { return e.label == "first out"; });
    }
    if (is<ServiceDue>(report)) {
      const auto item = static_cast<std::size_t>(report.finding.detail[0]);
      if (item < service_names_.size()) report.subject = service_names_[item];
      std::erase_if(report.evidence,
                    [](const Evidence& e) { return e.label == "item"; });
    }
  }
  run.verdict = gravest(reports);
  last_stop_loaded_ = stopped_under_load;
  std::stable_sort(reports.begin(), reports.end(), before);
}

void UnitSession::tell_what_was_blind(RunReport& run) const {
  std::vector<NotChecked> list;
  const ChannelMask present = monitor_.moment().frame->present();
  const double interval_s =
      static_cast<double>(monitor_.conditioner().interval().value().ms) /
      1000.0;
  for (const Coverage& coverage : monitor_.coverage()) {
    if (coverage.judged || coverage.blind == Blind::none) continue;
    const CheckCard* check = check_of(coverage.check);
    list.push_back(
        {check, blind_text(coverage.blind, *check->info, present, interval_s)});
  }
  if (list.empty()) return;
  run.blind_list =
      !runs_.empty() && runs_.back().not_checked() == list
          ? runs_.back().blind_list
          : std::make_shared<const std::vector<NotChecked>>(std::move(list));
}

}  // namespace telltale::host

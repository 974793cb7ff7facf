#include "session/session.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <deque>
#include <memory>
#include <thread>
#include <utility>
#include <vector>

#include "alarms/examine_alarms.hpp"
#include "alarms/level_analysis.hpp"
#include "alarms/log_replay.hpp"
#include "ingest/byte_store.hpp"
#include "ingest/read_ahead.hpp"
#include "session/first_pass.hpp"
#include "session/unit_session.hpp"

namespace telltale::host {
namespace {

std::vector<std::string> service_names(const ProfileFile& file) {
  std::vector<std::string> names;
  for (const ProfileFile::Service& item : file.service) {
    names.push_back(item.name);
  }
  return names;
}

/// One log being examined.
class Examination {
 public:
  Examination(const Log& log, const SessionOptions& options)
      : log_(log), options_(options) {}

  Result<HealthReport> run() {
    Result<std::vector<Inference>> inferred = first_pass(log_, threads());
    if (!inferred) return inferred.error();
    inferred_ = std::move(*inferred);
    Result<LogReader> reader = log_.rows();
    if (!reader) return reader.error();
    ReadAhead rows(std::move(*reader), threads());
    std::optional<LevelAnalysis> alarms;
    if (options_.alarms && names_alarms(log_.layout())) {
      alarms.emplace(log_.layout());
    }
    while (const Row* row = rows.next()) {
      if (!out_.first) out_.first = row->logged;
      out_.last = row->logged;
      UnitSession* unit = session_of(row->unit, rows);
      if (unit != nullptr) {
        unit->step(*row);
        if (alarms) alarms->see(*row, rows.unit_names(), rows.alarm_names());
      }
      if (failure_) return *failure_;
      tell_progress(rows.progress());
    }
    for (auto& unit : units_) {
      if (unit) unit->finish();
    }
    gather(rows.reader());
    if (alarms && !rows.alarm_names().empty()) {
      auto report =
          std::make_shared<AlarmReport>(alarms->finish(rows.reader()));
      replay_channels(log_, *report);
      out_.alarms = std::move(report);
    }
    return std::move(out_);
  }

 private:
  void tell_progress(double share) {
    if (share == told_) return;
    told_ = share;
    if (options_.progress) options_.progress(share);
  }
  /// Units of a log that each may have a thread of their own.
  static constexpr std::size_t kThreadEach = 4;

  /// More than one where there are cores and enough work for them.
  [[nodiscard]] Threads threads() const {
    constexpr std::uint64_t kWorthIt = 64U << 10;  // bytes
    const bool more = options_.threads == Threads::more &&
                      log_.layout().bytes >= kWorthIt &&
                      std::thread::hardware_concurrency() > 1;
    return more ? Threads::more : Threads::one;
  }
  /// nullptr: a unit that --unit leaves out.
  UnitSession* session_of(std::uint16_t index, const ReadAhead& rows) {
    if (index >= units_.size()) units_.resize(index + 1U);
    if (units_[index] || left_out(index)) return units_[index].get();
    const std::string& logged = rows.unit_names()[index];
    if (!logged.empty() && !options_.unit.empty() && logged != options_.unit) {
      if (index >= skipped_.size()) skipped_.resize(index + 1U);
      skipped_[index] = true;
      return nullptr;
    }
    UnitReport unit;
    unit.name = !logged.empty()          ? logged
                : !options_.unit.empty() ? options_.unit
                                         : options_.profile.name.value_or("");
    const Profile profile = complete_profile(index, unit);
    units_[index] = std::make_unique<UnitSession>(
        unit.name, profile, service_names(options_.profile),
        inferred_.size() <= kThreadEach ? threads() : Threads::one);
    if (options_.pictures != nullptr) {
      units_[index]->keep_pictures(*options_.pictures);
    }
    const Setup setup = units_[index]->setup();
    if (setup.error != SetupError::none) {
      failure_ = Error{fmt::format("the limits of {} contradict each other",
                                   check_of(setup.check)->info->slug),
                       "profile", "mend [limits]"};
    }
    if (options_.observe) {
      units_[index]->observe(options_.observe(unit, units_[index]->profile()));
    }
    out_.units.push_back(std::move(unit));
    return units_[index].get();
  }
  [[nodiscard]] bool left_out(std::uint16_t index) const {
    return index < skipped_.size() && skipped_[index];
  }
  Profile complete_profile(std::uint16_t index, UnitReport& unit) const {
    static const Inference kNothing;
    const Inference& seen =
        index < inferred_.size() ? inferred_[index] : kNothing;
    Profile profile = seen.complete(options_.profile, unit.inferred);
    profile.wall_clock = !log_.layout().elapsed;
    if (log_.layout().interval_s > 0) {
      profile.interval_s = static_cast<float>(log_.layout().interval_s);
    }
    if (!profile.oil_line.known && options_.own_oil_line) {
      profile.oil_line = options_.own_oil_line(unit.name);
    }
    unit.rating = profile.rating;
    return profile;
  }

  void gather(const LogReader& rows) {
    out_.layout = log_.layout();
    out_.tally = rows.tally();
    out_.alarm_names = rows.alarm_names();
    out_.notes = out_.layout.notes;
    for (const std::string& note : rows.notes()) out_.notes.push_back(note);
    bool turns = false;
    for (auto& unit : units_) {
      if (!unit) continue;
      turns = turns || unit->turn_source() != TurnSource::none;
      note_alarm_names(*unit, rows);
      // One by one, so that no run is there twice; all of them at once where
      // they are the first.
      std::deque<RunReport>& rest = unit->runs();
      if (out_.runs.empty()) std::swap(out_.runs, rest);
      for (; !rest.empty(); rest.pop_front()) {
        out_.runs.push_back(std::move(rest.front()));
      }
      for (FindingReport& finding : unit->loose()) {
        out_.findings.push_back(std::move(finding));
      }
    }
    const auto earlier = [](const RunReport& a, const RunReport& b) {
      return a.start.logged < b.start.logged;
    };
    if (!std::is_sorted(out_.runs.begin(), out_.runs.end(), earlier)) {
      std::stable_sort(out_.runs.begin(), out_.runs.end(), earlier);
    }
    for (const UnitReport& unit : out_.units) {
      for (const std::string& sentence : unit.inferred) {
        out_.notes.push_back(unit.name.empty() || out_.units.size() < 2
                                 ? sentence
                                 : fmt::format("{}: {}", unit.name, sentence));
      }
    }
    out_.shows_running = turns;
    if (!turns && !out_.units.empty()) {
      out_.notes.push_back(
          "no column tells whether the engine turns (speed, frequency, volts "
          "or state): no run could be told apart");
    } else if (out_.runs.empty() && !out_.units.empty()) {
      out_.notes.push_back("the set stood still all through the log: no run");
    }
  }
  void note_alarm_names(UnitSession& unit, const LogReader& rows) const {
    const auto name = [&rows](FindingReport& report) {
      const std::string_view slug = report.check->info->slug;
      if (slug != "alarm-chatter" && slug != "alarm-standing") return;
      const double index = report.finding.detail[0];
      const auto& names = rows.alarm_names();
      if (index >= 0 && index < static_cast<double>(names.size())) {
        report.subject = names[static_cast<std::size_t>(index)];
      }
      std::erase_if(report.evidence,
                    [](const Evidence& e) { return e.label == "alarm"; });
    };
    for (RunReport& run : unit.runs()) {
      for (FindingReport& report : run.findings) name(report);
    }
    for (FindingReport& report : unit.loose()) name(report);
  }

  const Log& log_;
  const SessionOptions& options_;
  HealthReport out_;
  std::vector<Inference> inferred_;
  std::vector<std::unique_ptr<UnitSession>> units_;
  std::vector<bool> skipped_;
  std::optional<Error> failure_;
  double told_ = 0.0;
};

}  // namespace

Result<HealthReport> examine(const std::string& path,
                             const SessionOptions& options) {
  const auto bytes = ByteStore::open(path);
  if (!bytes) return bytes.error();
  Result<Log> log = Log::open(*bytes, options.read);
  if (!log) return log.error();
  if (is_journal(**bytes, options.read, log->layout())) {
    return Error{"a journal of alarms, not readings over time",
                 (*bytes)->name(),
                 "telltale alarms reads it, and telltale columns shows how"};
  }
  return Examination(*log, options).run();
}

}  // namespace telltale::host

#include "season/digest_log.hpp"

#include <algorithm>
#include <deque>
#include <filesystem>

#include "report/phrases.hpp"
#include "season/content_id.hpp"
#include "season/digest_recorder.hpp"
#include "support/safe_text.hpp"
#include "telltale/base/version.hpp"

namespace telltale::host::season {
namespace {

class Digesting {
 public:
  explicit Digesting(const ProfileFile& profile) : profile_(profile) {}

  RunObserver* observe(const UnitReport& unit, const Profile& profile) {
    recorders_.emplace_back(unit.name, profile.rating);
    return &recorders_.back();
  }

  LogDigest gather(const HealthReport& report) {
    report_ = &report;
    out_.program = kVersion;
    const LogLayout& layout = report.layout;
    out_.file =
        printable(std::filesystem::path(layout.file).filename().string(), 200);
    out_.bytes = layout.bytes;
    out_.rows = report.tally.rows;
    out_.rejected = report.tally.rejected;
    out_.zone_known = layout.zone_known;
    out_.elapsed = layout.elapsed;
    if (layout.interval_s > 0.0) out_.interval_s = layout.interval_s;
    if (report.first) out_.first = time(*report.first);
    if (report.last) out_.last = time(*report.last);
    for (const UnitReport& unit : report.units) {
      out_.units.push_back(unit_digest(unit));
    }
    for (DigestRecorder& recorder : recorders_) {
      for (RunDigest& run : recorder.runs()) add_run(std::move(run));
    }
    for (const FindingReport& f : report.findings) {
      out_.findings.push_back(finding(f));
    }
    return std::move(out_);
  }

 private:
  /// Elapsed time is no date: it is not kept.
  [[nodiscard]] TimeMs time(TimeMs logged) const {
    return report_->layout.elapsed ? kNoTime : logged;
  }

  [[nodiscard]] UnitDigest unit_digest(const UnitReport& unit) const {
    UnitDigest out;
    out.name = printable(unit.name, 200);
    out.rating = unit.rating;
    out.model = printable(profile_.model.value_or(""), 200);
    out.stated = profile_.power_kw || profile_.voltage_v || profile_.model ||
                 !profile_.limits.empty() || !profile_.service.empty();
    out.limits = profile_.limits;
    for (const ProfileFile::Service& item : profile_.service) {
      out.service.push_back({printable(item.name, 200),
                             item.every_h > 0 ? item.every_h : kNone,
                             item.every_months > 0 ? item.every_months : kNone,
                             item.done_h, item.done_on.value_or(kNoTime)});
    }
    for (const ColumnUse& column : report_->layout.columns) {
      if (column.channel == Channel::none) continue;
      if (quantity_of(column.unit) == Quantity::pressure) {
        out.pressure = column.unit;
      }
      if (quantity_of(column.unit) == Quantity::temperature) {
        out.temperature = column.unit;
      }
    }
    return out;
  }

  void add_run(RunDigest run) {
    for (const RunReport& told : report_->runs) {
      if (told.unit != run.unit || told.run != run.number) continue;
      complete(told, run);
      run.unit = printable(run.unit, 200);
      out_.runs.push_back(std::move(run));
      return;
    }
  }
  void complete(const RunReport& told, RunDigest& run) const {
    run.start = time(told.start.logged);
    run.end = time(told.end.logged);
    run.begins_in_log = told.begins_in_log;
    run.ends = told.ends == RunReport::Ends::stop     ? "stop"
               : told.ends == RunReport::Ends::abrupt ? "abrupt"
                                                      : "log";
    run.seconds = told.seconds;
    run.verdict = told.verdict;
    for (const PhaseSpan& span : told.phases) {
      run.phases.push_back(
          {span.phase, time(span.from.logged), time(span.to.logged)});
    }
    for (std::size_t i = 0; i < kChannelCount; ++i) {
      if (!told.channels[i]) continue;
      run.channels.push_back(
          {static_cast<Channel>(i), false, *told.channels[i]});
    }
    for (const LoadStep& step : told.load_steps) {
      run.load_steps.push_back(
          {time(step.logged), static_cast<double>(step.from_pct),
           static_cast<double>(step.to_pct),
           static_cast<double>(step.frequency_dip_pct),
           static_cast<double>(step.recovery_s), step.observable});
    }
    for (const FindingReport& f : told.findings) {
      run.findings.push_back(finding(f));
    }
  }
  [[nodiscard]] FindingDigest finding(const FindingReport& f) const {
    const ValueText text(UnitSystem::metric, report_->layout);
    FindingDigest out;
    out.check = f.check->info->slug;
    out.severity = f.finding.severity;
    if (f.finding.channel != Channel::none) {
      out.channel = info_of(f.finding.channel).slug;
    }
    out.value = f.finding.value;
    out.limit = f.finding.limit;
    out.unit = name_of(f.finding.unit);
    out.from = time(f.from.logged);
    out.to = time(f.to.logged);
    if (f.caused_by != nullptr) out.caused_by = f.caused_by->info->slug;
    out.subject = printable(f.subject, 200);
    out.summary = summary_of(f, text);
    return out;
  }

  const ProfileFile& profile_;
  const HealthReport* report_ = nullptr;
  std::deque<DigestRecorder> recorders_;
  LogDigest out_;
};

}  // namespace

Result<Digested> digest_log(const std::string& path, SessionOptions options,
                            const std::string& sha256) {
  std::string id = sha256;
  if (id.empty()) {
    Result<std::string> found = content_id(path);
    if (!found) return found.error();
    id = *found;
  }
  const ProfileFile profile = options.profile;
  Digesting digesting(profile);
  options.observe = [&digesting](const UnitReport& unit,
                                 const Profile& complete) {
    return digesting.observe(unit, complete);
  };
  Result<HealthReport> report = examine(path, options);
  if (!report) return report.error();
  if (report->tally.rows == 0) {
    return Error{"not one usable row", path,
                 "see telltale columns for how it was read"};
  }
  Digested out{std::move(*report), {}};
  out.digest = digesting.gather(out.report);
  out.digest.sha256 = id;
  return out;
}

}  // namespace telltale::host::season

#include "session/close_ups.hpp"

#include <algorithm>

namespace telltale::host {
namespace {

/// What came before a stop explains it: that much is shown at least.
DurationMs least_before(std::string_view slug) {
  if (slug == "abrupt-stop") return minutes(6);
  if (slug == "fuel-starvation" || slug == "stop-under-load" ||
      slug == "short-cool-down" || slug == "over-excitation") {
    return minutes(2);
  }
  return {};
}

double worth_of(Severity severity) {
  return severity >= Severity::attention ? 3.0 : 1.5;
}

}  // namespace

CloseUps::Stretch* CloseUps::find(const Finding<double>& finding) {
  for (Stretch& stretch : stretches_) {
    const bool same = !stretch.settled &&
                      stretch.finding.check == finding.check &&
                      stretch.finding.channel == finding.channel;
    const bool carried =
        stretch.finding.run == 0 && stretch.open && finding.run != 0;
    if (same && (stretch.finding.run == finding.run || carried)) {
      return &stretch;
    }
  }
  return nullptr;
}

void CloseUps::take(const Finding<double>& finding) {
  Stretch* stretch = find(finding);
  if (stretch == nullptr) {
    stretches_.push_back({});
    stretch = &stretches_.back();
    stretch->finding = finding;
    stretch->picture = std::make_shared<Picture>(PicturePyramid::kReach);
  } else {
    Finding<double>& held = stretch->finding;
    if (finding.severity > held.severity) {
      held.severity = finding.severity;
      held.since = finding.since;
    }
    held.until = std::max(held.until, finding.until);
    held.run = finding.run;
  }
  stretch->open = finding.event != FindingEvent::closed;
  stretch->drawn = false;
}

CloseUps::Margins CloseUps::margins(const Finding<double>& finding,
                                    DurationMs interval) {
  const DurationMs length = finding.until - finding.since;
  const DurationMs least{std::max(
      interval.ms * 15, std::min<std::int64_t>(60'000, length.ms * 2))};
  const DurationMs margin{std::max(least.ms, length.ms / 3)};
  const std::string_view slug = check_of(finding.check)->info->slug;
  return {std::max(margin, least_before(slug)), margin};
}

void CloseUps::draw(Stretch& stretch, DurationMs interval,
                    const PicturePyramid& past) {
  const Finding<double>& f = stretch.finding;
  stretch.drawn = true;
  const bool again = is_set(stretch.drawn_since);
  if (again && stretch.drawn_since == f.since) {
    // Much later: what was drawn says more than one long line with two dots.
    const DurationMs was = stretch.drawn_until - f.since;
    if ((f.until - f.since).ms > 12 * std::max(was.ms, interval.ms * 10)) {
      return;
    }
  }
  stretch.drawn_since = f.since;
  stretch.drawn_until = f.until;
  const Margins room = margins(f, interval);
  *stretch.picture = past.window(f.since - room.before, f.until + room.after);
  if (!again) store_->keep(stretch.picture, worth_of(f.severity));
}

void CloseUps::step(TimeMs now, DurationMs interval,
                    const PicturePyramid& past) {
  for (Stretch& stretch : stretches_) {
    if (stretch.drawn || (stretch.open && !stretch.settled)) continue;
    const DurationMs after = margins(stretch.finding, interval).after;
    if (now >= stretch.finding.until + after) draw(stretch, interval, past);
  }
  std::erase_if(stretches_,
                [](const Stretch& s) { return s.settled && s.drawn; });
}

void CloseUps::attach(std::uint16_t run, std::vector<FindingReport>& findings) {
  for (Stretch& stretch : stretches_) {
    if (stretch.settled || stretch.finding.run != run) continue;
    stretch.settled = true;
    const auto owner = std::find_if(
        findings.begin(), findings.end(), [&](const FindingReport& report) {
          return report.finding.check == stretch.finding.check &&
                 report.finding.channel == stretch.finding.channel;
        });
    if (owner == findings.end()) {
      stretch.drawn = true;  // replaced by a graver one: nobody will look
    } else {
      // Evidence may have moved the ends.
      stretch.finding.until =
          std::max(stretch.finding.until, stretch.finding.since);
      owner->close_up = stretch.picture;
    }
  }
}

void CloseUps::finish(DurationMs interval, const PicturePyramid& past) {
  for (Stretch& stretch : stretches_) {
    if (!stretch.drawn) draw(stretch, interval, past);
  }
  stretches_.clear();
}

}  // namespace telltale::host

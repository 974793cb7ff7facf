// Compiled once for all tests: every check, in both precisions.
#include "judge.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <memory>
#include <set>
#include <utility>

#include "catch.hpp"
#include "telltale/acquire/frame_builder.hpp"
#include "telltale/monitor.hpp"
#include "telltale/telltale.hpp"

namespace telltale::test {
namespace {

template <template <class> class... Cs>
std::vector<const CheckInfo*> infos(CheckList<Cs...>) {
  return {&Cs<float>::info...};
}
const std::vector<const CheckInfo*>& all_infos() {
  static const std::vector<const CheckInfo*> kInfos = infos(AllChecks{});
  return kInfos;
}
std::string slug_of(std::uint16_t id) {
  for (const CheckInfo* info : all_infos()) {
    if (info->id == id) return std::string(info->slug);
  }
  return "?";
}

/// Checks that tell something once, at the end of a run or of an instant: there
/// is nothing to close.
bool tells_single_events(const std::string& slug) {
  static const std::set<std::string> kOnce = {
      "light-load",     "stop-under-load",  "short-cool-down",
      "abrupt-stop",    "battery-rest-low", "service-due",
      "hours-mismatch", "clock-step",       "sensor-frozen"};
  return kOnce.count(slug) > 0;
}

/// Each of these has a test of its own that fails until it is mended.
const std::set<std::string> kKnownLooseEnds = {"load-step-response",
                                               "leg-imbalance"};

template <class R>
Finding<double> widened(const Finding<R>& f) {
  Finding<double> out;
  out.check = f.check;
  out.channel = f.channel;
  out.severity = f.severity;
  out.event = f.event;
  out.unit = f.unit;
  out.run = f.run;
  out.value = static_cast<double>(f.value);
  out.limit = static_cast<double>(f.limit);
  out.since = f.since;
  out.until = f.until;
  for (std::size_t i = 0; i < f.detail.size(); ++i) {
    out.detail[i] = static_cast<double>(f.detail[i]);
  }
  return out;
}

template <class R>
Frame<R> narrowed(const Frame<double>& frame) {
  Frame<R> out;
  out.at = frame.at;
  out.alarms = frame.alarms;
  out.state = frame.state;
  for (std::size_t i = 0; i < kChannelCount; ++i) {
    const auto channel = static_cast<Channel>(i);
    out.set(channel, frame.quality(channel), static_cast<R>(frame.values[i]));
  }
  return out;
}

template <class R>
class Listener {
 public:
  explicit Listener(const Profile& profile)
      : profile_(profile), monitor_(std::make_unique<Made>()) {
    REQUIRE(monitor_->configure(profile_).error == SetupError::none);
  }

  void step(const Frame<R>& frame, const MadeScan& scan) {
    after(monitor_->step(frame, sink(), scan.clock, scan.clock_jump));
  }
  Outcome finish() {
    after(monitor_->flush(sink()));
    return std::move(outcome_);
  }

 private:
  using Made = Monitor<R, AllChecks>;

  FindingSink<R> sink() {
    return FindingSink<R>(
        [](void* self, const Finding<R>& finding) {
          static_cast<Listener*>(self)->hear(finding);
        },
        this);
  }
  void hear(const Finding<R>& finding) {
    Told told;
    told.slug = slug_of(finding.check);
    told.finding = widened(finding);
    told.at = MadeRun::seconds_of(monitor_->conditioner().last_at());
    told.since = MadeRun::seconds_of(finding.since);
    told.until = MadeRun::seconds_of(finding.until);
    outcome_.told.push_back(std::move(told));
  }
  void after(const typename Made::Event& event) {
    if (event.run_ended) {
      RunSeen run{monitor_->ended_run(), {}};
      for (const Coverage& c : monitor_->coverage()) {
        run.fared.push_back({slug_of(c.check), c.judged, c.blind});
      }
      outcome_.runs.push_back(std::move(run));
    }
    const Phase phase = monitor_->moment().phase;
    // The flush at the end of the log leaves no phase behind.
    if (!event.judged || phase == Phase::unknown) return;
    auto& phases = outcome_.phases;
    if (phases.empty() || phases.back().phase != phase) {
      const TimeMs now = monitor_->conditioner().last_at();
      const TimeMs since =
          full(monitor_->conditioner().phases().phase_since(), now);
      phases.push_back({phase, is_set(since) ? MadeRun::seconds_of(since)
                                             : MadeRun::seconds_of(now)});
    }
  }

  Profile profile_;
  std::unique_ptr<Made> monitor_;
  Outcome outcome_;
};

/// Each reading at a time of its own, in the last milliseconds before the scan.
void put_apart(FrameBuilder<double>& builder, const Frame<double>& frame) {
  for (std::size_t i = 0; i < kChannelCount; ++i) {
    const auto channel = static_cast<Channel>(i);
    const TimeMs at =
        frame.at - DurationMs{static_cast<std::int64_t>(kChannelCount - i)};
    switch (frame.quality(channel)) {
      case Quality::good:
      case Quality::implausible:
        builder.put(channel, at, frame.values[i]);
        break;
      case Quality::missing:
        builder.put(channel, at, Reading<double>{}.value);
        break;
      default:
        break;
    }
  }
  builder.put(frame.state);
  builder.put_alarms(frame.alarms);
}

}  // namespace

std::string Outcome::findings() const {
  std::map<std::string, Severity> gravest;
  for (const Told& t : told) {
    Severity& known = gravest[t.slug];
    known = worst(known, t.finding.severity);
  }
  std::string out;
  for (const auto& [slug, severity] : gravest) {
    if (!out.empty()) out += ", ";
    out += slug + " " + std::string(name_of(severity));
  }
  return out;
}
const Told* Outcome::first(std::string_view slug, Channel channel) const {
  for (const Told& t : told) {
    const bool same = channel == Channel::none || t.finding.channel == channel;
    if (t.slug == slug && same) return &t;
  }
  return nullptr;
}
const Told* Outcome::last(std::string_view slug, Channel channel) const {
  const Told* out = nullptr;
  for (const Told& t : told) {
    const bool same = channel == Channel::none || t.finding.channel == channel;
    if (t.slug == slug && same) out = &t;
  }
  return out;
}
const Told* Outcome::first(std::string_view slug, Severity severity) const {
  for (const Told& t : told) {
    if (t.slug == slug && t.finding.severity == severity) return &t;
  }
  return nullptr;
}
bool Outcome::found(std::string_view slug) const {
  return first(slug) != nullptr;
}
Severity Outcome::severity(std::string_view slug) const {
  Severity out = Severity::not_judged;
  for (const Told& t : told) {
    if (t.slug == slug) out = worst(out, t.finding.severity);
  }
  return out;
}
Blind Outcome::blind(std::string_view slug, std::size_t run) const {
  REQUIRE(run < runs.size());
  for (const Fared& fared : runs[run].fared) {
    if (fared.slug == slug) return fared.blind;
  }
  FAIL("no check is called " << slug);
  return Blind::none;
}
std::uint32_t Outcome::judged(std::string_view slug, std::size_t run) const {
  REQUIRE(run < runs.size());
  for (const Fared& fared : runs[run].fared) {
    if (fared.slug == slug) return fared.judged;
  }
  FAIL("no check is called " << slug);
  return 0;
}

Outcome judge_by(const std::vector<MadeScan>& scans, const Profile& profile,
                 Feeding feeding) {
  if (feeding == Feeding::single_precision) {
    Listener<float> listener(profile);
    for (const MadeScan& scan : scans) {
      listener.step(narrowed<float>(scan.frame), scan);
    }
    return listener.finish();
  }
  Listener<double> listener(profile);
  FrameBuilder<double> builder;
  for (const MadeScan& scan : scans) {
    if (feeding == Feeding::scans) {
      listener.step(scan.frame, scan);
    } else {
      put_apart(builder, scan.frame);
      listener.step(builder.frame(scan.frame.at), scan);
    }
  }
  return listener.finish();
}

std::string difference(const Outcome& a, const Outcome& b, double slack_s) {
  if (a.findings() != b.findings()) {
    return "[" + a.findings() + "] against [" + b.findings() + "]";
  }
  const auto same = [slack_s](const Told& x, const Told& y) {
    return x.slug == y.slug && x.finding.channel == y.finding.channel &&
           x.finding.event == y.finding.event &&
           x.finding.severity == y.finding.severity &&
           std::abs(x.at - y.at) <= slack_s &&
           std::abs(x.since - y.since) <= slack_s;
  };
  const auto lacks = [&](const Outcome& one, const Outcome& other) {
    for (const Told& x : one.told) {
      const bool there = std::any_of(other.told.begin(), other.told.end(),
                                     [&](const Told& y) { return same(x, y); });
      if (!there) {
        return x.slug + " at " + std::to_string(x.at) + " since " +
               std::to_string(x.since);
      }
    }
    return std::string();
  };
  const std::string there = lacks(a, b);
  if (!there.empty()) return "only the first has " + there;
  const std::string here = lacks(b, a);
  return here.empty() ? "" : "only the second has " + here;
}

std::string loose_ends(const Outcome& outcome,
                       const std::set<std::string>& known) {
  struct Story {
    const Told* last = nullptr;
    bool open = false;
  };
  std::map<std::pair<std::string, Channel>, Story> stories;
  const auto complaint = [](const Told& t, const char* what) {
    return t.slug + " at " + std::to_string(t.at) + ": " + what;
  };
  for (const Told& t : outcome.told) {
    if (known.count(t.slug) > 0) continue;
    Story& story = stories[{t.slug, t.finding.channel}];
    if (!is_finding(t.finding.severity)) return complaint(t, "no severity");
    if (t.since > t.at + 1e-6) return complaint(t, "begins in the future");
    if (t.until < t.since - 1e-6) return complaint(t, "ends before it began");
    if (t.until > t.at + 1e-6) return complaint(t, "lasts into the future");
    if (story.open && t.finding.unit != story.last->finding.unit) {
      return complaint(t, "changes its unit");
    }
    if (t.finding.event == FindingEvent::opened) {
      if (story.open && !tells_single_events(t.slug)) {
        return complaint(t, "opens twice");
      }
      story.open = true;
    } else {
      if (!story.open) return complaint(t, "goes on, but never opened");
      const bool milder = t.finding.severity < story.last->finding.severity;
      if (milder) return complaint(t, "becomes milder");
      if (t.finding.event == FindingEvent::closed) story.open = false;
    }
    story.last = &t;
  }
  for (const auto& [key, story] : stories) {
    // What opened outside every run may stand as long as the log.
    if (story.open && story.last->finding.run != 0 &&
        !tells_single_events(key.first)) {
      return complaint(*story.last, "never closes");
    }
  }
  return "";
}

Outcome judge(const MadeRun& run, const Profile& profile) {
  const std::vector<MadeScan> scans = run.scans();
  Outcome out = judge_by(scans, profile, Feeding::scans);
  CHECK(loose_ends(out, kKnownLooseEnds) == "");
  CHECK(difference(out, judge_by(scans, profile, Feeding::reading_by_reading),
                   0.0) == "");
  CHECK(difference(out, judge_by(scans, profile, Feeding::single_precision),
                   1.01 * run.interval_s()) == "");
  return out;
}
Outcome judge(const MadeRun& run) { return judge(run, run.plate().profile()); }

Profile with_limit(Profile profile, std::string_view slug,
                   LimitOverride change) {
  change.check = id_of(slug);
  REQUIRE(profile.limits.push_back(change));
  return profile;
}
std::uint16_t id_of(std::string_view slug) { return info_of_check(slug).id; }
const std::vector<std::string>& all_slugs() {
  static const std::vector<std::string> kSlugs = [] {
    std::vector<std::string> out;
    for (const CheckInfo* info : all_infos()) out.emplace_back(info->slug);
    return out;
  }();
  return kSlugs;
}
const CheckInfo& info_of_check(std::string_view slug) {
  for (const CheckInfo* info : all_infos()) {
    if (info->slug == slug) return *info;
  }
  FAIL("no check is called " << slug);
  return *all_infos().front();
}

}  // namespace telltale::test

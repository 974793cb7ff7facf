// The tool's own findings through the alarm analysis: a check that opens and
// closes again and again on a log cries wolf itself.
#include <bit>
#include <cmath>
#include <filesystem>
#include <limits>
#include <set>
#include <string>

#include "alarms/alarm_analysis.hpp"
#include "catch.hpp"
#include "checks/catalogue.hpp"
#include "ingest/log.hpp"
#include "profile/inference.hpp"
#include "telltale/telltale.hpp"

namespace telltale::test {
namespace {

using host::AlarmReport;

/// A monitor whose findings go to an alarm analysis at the time they are told.
class Watched {
 public:
  explicit Watched(const Profile& profile) : analysis_(names_, {}) {
    const Setup setup = monitor_.configure(profile);
    REQUIRE(setup.error == SetupError::none);
  }

  void step(const host::Row& row) {
    constexpr double kNone = std::numeric_limits<double>::quiet_NaN();
    for (ChannelMask rest = row.present; rest != 0; rest &= rest - 1U) {
      const auto i = static_cast<std::size_t>(std::countr_zero(rest));
      builder_.put(static_cast<Channel>(i), row.at, row.value[i]);
    }
    for (ChannelMask rest = row.blank; rest != 0; rest &= rest - 1U) {
      const auto i = static_cast<std::size_t>(std::countr_zero(rest));
      builder_.put(static_cast<Channel>(i), row.at, kNone);
    }
    builder_.put(row.state);
    builder_.put_alarms(row.alarms);
    now_ = {row.at, row.logged, row.line};
    analysis_.reach(now_);
    monitor_.step(builder_.frame(row.at), sink());
  }

  AlarmReport finish() {
    monitor_.flush(sink());
    AlarmReport report;
    analysis_.finish(report);
    return report;
  }

 private:
  FindingSink<double> sink() {
    return FindingSink<double>(
        [](void* self, const Finding<double>& finding) {
          static_cast<Watched*>(self)->take(finding);
        },
        this);
  }
  void take(const Finding<double>& finding) {
    std::string name(host::check_of(finding.check)->info->slug);
    if (finding.channel != Channel::none) {
      name += ' ';
      name += info_of(finding.channel).slug;
    }
    bool fresh = false;
    host::AlarmEvent event;
    event.at = now_.at;
    event.logged = now_.logged;
    event.line = now_.line;
    event.alarm = names_.number_of("", name, fresh);
    event.kind = finding.event == FindingEvent::closed
                     ? host::EventKind::cleared
                     : host::EventKind::raised;
    analysis_.add(event);
  }

  HostMonitor monitor_;
  FrameBuilder<double> builder_;
  host::AlarmTable names_;
  host::AlarmAnalysis analysis_;
  host::EventPlace now_;
};

AlarmReport findings_as_alarms(const std::string& path,
                               const std::string& profile_path) {
  const auto log = host::Log::open(path, {});
  REQUIRE(log);
  host::Inference inference;
  auto rows = log->rows(host::kInferenceChannels);
  REQUIRE(rows);
  host::Row row;
  while (rows->next(row)) inference.add(row);
  host::ProfileFile file;
  if (std::filesystem::exists(profile_path)) {
    auto read = host::read_profile(profile_path);
    REQUIRE(read);
    file = *read;
  }
  std::vector<std::string> told;
  Profile profile = inference.complete(file, told);
  profile.wall_clock = !log->layout().elapsed;
  profile.interval_s = static_cast<float>(log->layout().interval_s);
  Watched watched(profile);
  auto all = log->rows();
  REQUIRE(all);
  while (all->next(row)) watched.step(row);
  return watched.finish();
}

TEST_CASE("no check of ours chatters on the demo logs") {
  namespace fs = std::filesystem;
  const fs::path folder = fs::path(TELLTALE_DATASETS);
  std::size_t logs = 0;
  std::uint64_t raises = 0;
  for (const auto& entry :
       fs::recursive_directory_iterator(folder / "faults")) {
    if (entry.path().extension() != ".csv") continue;
    INFO(entry.path().parent_path().filename().string());
    const AlarmReport report = findings_as_alarms(
        entry.path().string(),
        (folder / "profiles" / (entry.path().stem().string() + ".toml"))
            .string());
    ++logs;
    raises += report.raises;
    for (const host::AlarmFigures& f : report.alarms) {
      INFO(report.name(f.alarm).name << " raised " << f.raises << " times");
      CHECK_FALSE(f.chatters());
    }
  }
  CHECK(logs > 40);
  CHECK(raises > logs / 2);
}

}  // namespace
}  // namespace telltale::test

// judge(): every check over a made run, and what they told.
#pragma once

#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "made_run.hpp"
#include "telltale/condition/phase.hpp"
#include "telltale/detect/check.hpp"
#include "telltale/detect/finding.hpp"

namespace telltale::test {

/// Something the monitor told; times in seconds since the log began.
struct Told {
  std::string slug;
  Finding<double> finding;
  double at = 0.0;  // the scan that brought it
  double since = 0.0;
  double until = 0.0;
};

/// How one check fared in one run.
struct Fared {
  std::string slug;
  std::uint32_t judged = 0;
  Blind blind = Blind::none;
};

struct RunSeen {
  RunFacts facts;
  std::vector<Fared> fared;
};

struct PhaseSeen {
  Phase phase = Phase::unknown;
  double since = 0.0;
};

/// What came of a run.
struct Outcome {
  std::vector<Told> told;
  std::vector<RunSeen> runs;
  std::vector<PhaseSeen> phases;

  /// "charging-low attention, overload urgent": every check that found
  /// something, at its gravest, in order of name. Empty: all well.
  [[nodiscard]] std::string findings() const;
  /// The first event of that check (and channel); nullptr: silent.
  [[nodiscard]] const Told* first(std::string_view slug,
                                  Channel channel = Channel::none) const;
  /// The last event: its value is the worst seen.
  [[nodiscard]] const Told* last(std::string_view slug,
                                 Channel channel = Channel::none) const;
  /// The first event of that severity.
  [[nodiscard]] const Told* first(std::string_view slug, Severity) const;
  [[nodiscard]] bool found(std::string_view slug) const;
  [[nodiscard]] Severity severity(std::string_view slug) const;
  [[nodiscard]] Blind blind(std::string_view slug, std::size_t run = 0) const;
  [[nodiscard]] std::uint32_t judged(std::string_view slug,
                                     std::size_t run = 0) const;
};

/// Shows the scans to all checks in double precision. The same scans in single
/// precision, and reading by reading through a FrameBuilder, must bring the
/// same findings at the same times, and no finding may leave loose ends: that
/// is asserted on the way.
Outcome judge(const MadeRun& run, const Profile& profile);
/// By the plate's own profile.
Outcome judge(const MadeRun& run);

/// How a run is shown to the monitor.
enum class Feeding { scans, single_precision, reading_by_reading };
/// One way alone, asserting nothing.
Outcome judge_by(const std::vector<MadeScan>& scans, const Profile& profile,
                 Feeding feeding);
/// The first difference that matters; empty where there is none.
std::string difference(const Outcome& a, const Outcome& b, double slack_s);

/// What is wrong with the stories the findings tell: a finding opens once,
/// worsens, closes, under one check, channel and unit; its times are in order.
/// Empty where all is well.
/// `known`: checks whose loose ends have a test of their own.
std::string loose_ends(const Outcome& outcome,
                       const std::set<std::string>& known = {});

/// Changes one limit of a profile.
Profile with_limit(Profile profile, std::string_view slug,
                   LimitOverride change);

/// Id of a check; the test fails where no check has that name.
std::uint16_t id_of(std::string_view slug);
/// Every check's slug, in the order of the ids.
const std::vector<std::string>& all_slugs();
/// Channels without which a check is blind.
const CheckInfo& info_of_check(std::string_view slug);

}  // namespace telltale::test

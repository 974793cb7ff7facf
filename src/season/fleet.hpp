// season_of: everything that a store tells about its sets, worked out.
#pragma once

#include "season/season_report.hpp"
#include "season/store.hpp"

namespace telltale::host::season {

/// Of a whole report on sets that nothing changed in, the probability that it
/// tells of a change of level; shared out evenly over all its series
/// (Bonferroni). For trends and for peers it is the rate at which Benjamini
/// and Hochberg's procedure lets false ones among those it tells.
inline constexpr double kReportFalseAlarm = 0.01;

/// Reads every set of the store, follows its figures, compares peers, and says
/// what to book. Never looks at today's clock: "now" is the store's last time
/// stamp. `unit`: keep this set only (it is compared with all); an unknown one
/// is an Error.
Result<SeasonReport> season_of(Store& store, const std::string& unit = {});

/// The same for sets that are read already.
SeasonReport season_of(std::vector<UnitHistory> histories);

/// Sets with the same answer are peers: the profile's model, else rating and
/// frequency. Empty: no peers, for nothing says what kind it is.
std::string peer_group(const UnitDigest& unit);

}  // namespace telltale::host::season

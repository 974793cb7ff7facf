// What to book, for which set, and in which order.
#pragma once

#include <string>
#include <vector>

#include "season/season_report.hpp"

namespace telltale::host::season {

/// Fills a set's findings, gravest first, from its figures, habits and
/// service, and from what its last runs said again and again.
void find_bookings(const UnitHistory& history, UnitSeason& unit);

/// All findings of all sets: by severity, then by how soon a limit may be
/// reached, then by size.
std::vector<Booking> in_order(const std::vector<UnitSeason>& units);

/// Drops all other sets, and their bookings.
void keep_only(const std::string& unit, SeasonReport& report);

}  // namespace telltale::host::season

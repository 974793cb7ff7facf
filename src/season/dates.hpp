// Dates as a season's tables print them.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

#include "telltale/base/time.hpp"

namespace telltale::host::season {

inline constexpr double kDaysPerMonth = 30.4375;

TimeMs days_after(TimeMs at, double days);

/// "2026-06-01"; "no date" where there is none.
std::string date_text(TimeMs at);
/// "2026-06-01 08:00"
std::string minute_text(TimeMs at);
/// ISO 8601 to the second, with Z where the zone is known.
std::string iso_text(TimeMs at, bool utc);
/// The first moment of "2026-06-01"; nothing if it is no date.
std::optional<TimeMs> parse_date(std::string_view text);

/// At most so many characters; a longer text ends in an ellipsis.
std::string cut(std::string_view text, std::size_t columns);

}  // namespace telltale::host::season

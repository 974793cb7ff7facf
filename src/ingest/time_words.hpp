// How a log's time is written, in words for people.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "ingest/column_plan.hpp"
#include "ingest/dialect.hpp"
#include "ingest/header_place.hpp"

namespace telltale::host {

/// "DD.MM.YYYY and hh:mm:ss", "milliseconds since 1970", "elapsed h:mm:ss".
std::string words_for_time(const DecodePlan& plan);

/// "UTC", "zone +01:00".
std::string words_for_zone(std::int32_t minutes);

/// What is noted where neither stamps nor options name a zone.
inline constexpr std::string_view kNoZoneNote =
    "times are as logged: the stamps name no zone; --timezone gives one";

/// "2026-06-01" of a day in milliseconds since 1970.
std::string words_for_day(std::int64_t ms);

/// Whether the stamps say themselves how far they are from UTC.
bool has_own_zone(const DecodePlan& plan);

/// The one date that the text above a log's header names, in milliseconds
/// since 1970; nothing where it names none, several, or one whose order of day
/// and month is open.
std::optional<std::int64_t> day_in_preamble(const Table& table,
                                            const HeaderPlace& place);

}  // namespace telltale::host

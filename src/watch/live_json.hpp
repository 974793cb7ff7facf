// One line of JSON for what happens while a log is watched, and for event
// records of a box.
#pragma once

#include <cstdint>
#include <memory>
#include <string>
#include <vector>

#include "ingest/log.hpp"
#include "telltale/advise/event_record.hpp"
#include "watch/live_unit.hpp"

namespace telltale::host {

/// A finding that opens, changes or closes. Each line ends with a line feed.
std::string finding_line(const LiveFinding& live, const std::string& unit,
                         const LogLayout& layout);

/// What the watching came to: rows, runs, and what still stands.
std::string summary_line(const std::vector<const LiveUnit*>& units,
                         const LogLayout& layout, std::uint64_t rejected);

/// An event record of a box.
std::string record_line(const EventRecord& record);
/// The same for people.
std::string record_text(const EventRecord& record);

}  // namespace telltale::host

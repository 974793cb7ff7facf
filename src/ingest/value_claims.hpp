// Columns whose names say too little: readings decide, or a note says what
// would.
#pragma once

#include <optional>
#include <string>

#include "ingest/channel_match.hpp"
#include "ingest/column.hpp"

namespace telltale::host {

/// The channel that a name such as "volts", "pressure", "battery", "f" means by
/// the size of its readings; nothing where they do not decide.
std::optional<ChannelClaim> claim_by_values(const Column& column);

/// A note that shows the map lines which would settle a column that could be
/// several channels; empty where it is nothing of the kind.
std::string ambiguity_note(const Column& column, std::size_t index);

/// Why no channel claims a column, in a clause.
std::string reason_unknown(const Column& column);

}  // namespace telltale::host

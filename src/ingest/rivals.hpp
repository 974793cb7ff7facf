// Several columns that claim one channel.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "ingest/channel_match.hpp"
#include "ingest/column.hpp"

namespace telltale::host {

/// A column's claim.
struct Bid {
  std::size_t column;
  ChannelClaim claim;
};

/// The one column of `bids` that is to be the channel: the only one that holds
/// readings, the clearly better match (both say so in their `why`), or any of
/// equal ones. Nothing, and a note with the map lines, where that leaves more
/// than one: never a silent pick. REQUIRES: bids not empty, of one channel
std::optional<std::size_t> settle(std::vector<Column>& columns,
                                  std::vector<Bid> bids,
                                  std::vector<std::string>& notes);

}  // namespace telltale::host

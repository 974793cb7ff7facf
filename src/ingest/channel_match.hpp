// Which channels a header may name.
#pragma once

#include <string>
#include <vector>

#include "ingest/header_name.hpp"
#include "telltale/acquire/channel.hpp"

namespace telltale::host {

/// One way to understand a header.
struct ChannelClaim {
  Channel channel = Channel::none;
  int score = 0;    // higher is better; compare claims on one channel
  std::string why;  // what speaks for it
};

/// All claims that the header's words support, best first. A word of something
/// else (mains, set point, boost), or a unit that the channel can't have,
/// rules a claim out; words that are not known weaken it.
std::vector<ChannelClaim> claims_of(const HeaderName& name);

}  // namespace telltale::host

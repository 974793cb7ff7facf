// Why a check judged nothing, in words.
#pragma once

#include <string>

#include "telltale/detect/check.hpp"

namespace telltale::host {

/// One clause for "not checked: ...". `present`: the channels the log has.
std::string blind_text(Blind why, const CheckInfo& check, ChannelMask present,
                       double interval_s);

}  // namespace telltale::host

// What a header says of time.
#pragma once

#include <initializer_list>
#include <string_view>

#include "ingest/header_name.hpp"

namespace telltale::host {

/// Whether one of the header's words, a number behind it left out, is one of
/// these.
bool says(const HeaderName& header,
          std::initializer_list<std::string_view> words);

bool says_date(const HeaderName& header);
bool says_clock(const HeaderName& header);    // a time of day, or a stamp
bool says_elapsed(const HeaderName& header);  // time since a start
bool says_epoch(const HeaderName& header);

/// Whether a header speaks of time at all.
bool is_time_header(const HeaderName& header);

}  // namespace telltale::host

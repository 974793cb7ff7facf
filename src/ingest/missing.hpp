// The ways in which loggers write "no reading".
#pragma once

#include <string_view>

namespace telltale::host {

/// Whether a cell says that there is no reading: blank, dashes, question marks
/// or asterisks, and words such as N/A, NaN, null, none, open, OL, ERR, #N/A,
/// inf, in any case. REQUIRES: text is trimmed
bool is_missing_word(std::string_view text);

/// Whether a cell says no more than that nothing was logged here: empty, NaN,
/// null, NA. A sensor's error (OPEN, ERR) says more.
bool is_left_out(std::string_view text);

}  // namespace telltale::host

// Words of a header.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace telltale::host {

/// Splits at blanks, marks, and changes of case; letters folded. A leg stays
/// together with its number: "L1-N" gives "l1", "n"; units whose case changes
/// inside stay whole: "GenkW" gives "gen", "kw".
std::vector<std::string> split_words(std::string_view text);

}  // namespace telltale::host

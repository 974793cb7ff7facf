// Exit codes of the program (contract section 2).
#pragma once

namespace telltale::tool {

inline constexpr int kNothingFound = 0;  // nothing at or above --fail-on
inline constexpr int kSomethingFound = 1;
inline constexpr int kCouldNotDo = 2;  // unreadable file, bad option, ...

}  // namespace telltale::tool

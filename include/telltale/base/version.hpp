// Versions: of the library, and of the bytes it writes (kept apart).
#pragma once

namespace telltale {

inline constexpr int kVersionMajor = 0;
inline constexpr int kVersionMinor = 1;
inline constexpr int kVersionPatch = 0;
/// Of saved states; counts up whenever what a state holds changes.
inline constexpr int kStateVersion = 2;
inline constexpr const char* kVersion = "0.1.0";

}  // namespace telltale

// Letters without case and accents, for comparing words of many languages.
#pragma once

#include <string>
#include <string_view>

namespace telltale::host {

/// `text` (UTF-8) in small ASCII letters: case and accents dropped, German and
/// Nordic letters by their base letter (ö, ø -> o; å -> a; ß -> ss; æ -> ae).
/// Other characters, letters beyond these included, are kept as they are.
std::string fold_letters(std::string_view text);

}  // namespace telltale::host

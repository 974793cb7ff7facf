// What every HTML report carries along: style, script, and their hashes.
#pragma once

#include <span>
#include <string_view>

namespace telltale::host::embedded {

std::string_view style();
/// The script in pieces: the chart library, then our own.
std::span<const std::string_view> script();
/// "sha256-..." as a Content-Security-Policy names them.
std::string_view style_hash();
std::string_view script_hash();
/// The chart library's copyright and licence.
std::string_view licence();

}  // namespace telltale::host::embedded

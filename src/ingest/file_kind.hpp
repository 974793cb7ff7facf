// Tells a log from a file that only pretends to be one.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "support/result.hpp"

namespace telltale::host {

/// An Error where `head`, the first bytes of a file, is no text: a known
/// format by its signature (with what to do), or bytes that no encoding of
/// text explains. UTF-16 is text. Nothing where it may be a log.
std::optional<Error> refuse_binary(std::string_view head,
                                   const std::string& name);

}  // namespace telltale::host

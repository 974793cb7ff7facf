// PageFrame: how every page of ours begins and ends.
#pragma once

#include <fmt/format.h>

#include <string>
#include <string_view>

#include "telltale/detect/severity.hpp"

namespace telltale::host {

/// A page that needs no other file. It asks for nothing, and a strict content
/// policy lets nothing run but the one script of the health report, if that.
struct PageFrame {
  std::string_view mast;  // what kind of page it is
  std::string title;      // plain text
  bool script = false;    // the charts' script may run

  void open(fmt::memory_buffer& out) const;
  /// After the main part, before </body>.
  static void open_foot(fmt::memory_buffer& out);
  static void close(fmt::memory_buffer& out);
};

/// Sign and word of a severity: never by colour alone.
std::string badge(Severity severity);

/// What a severity asks of the reader, as a sentence's end.
std::string_view meaning_of(Severity severity);

/// <p> with the badge of the gravest and what it asks.
std::string headline(Severity severity);

/// The last part of a path: where a log lay is nobody's business.
std::string_view base_name(std::string_view path);

}  // namespace telltale::host

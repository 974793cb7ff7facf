// Severity: how much a finding matters; "not judged" is a value of its own.
#pragma once

#include <cstdint>
#include <string_view>

namespace telltale {

/// Lowest first; the words are those of contract section 1.
enum class Severity : std::uint8_t {
  not_judged,  // the check was blind
  healthy,     // looked, found nothing
  note,        // worth knowing
  attention,   // look at it before the next trip
  urgent       // do not run it, or stop, until looked at
};

constexpr std::string_view name_of(Severity severity) {
  constexpr std::string_view kNames[] = {"not judged", "healthy", "note",
                                         "attention", "urgent"};
  return kNames[static_cast<unsigned>(severity)];
}

/// The graver of the two. Truth table: anything found beats healthy, and
/// healthy beats not judged, so that a blind check neither hides a finding
/// nor spoils a clean sheet; what was not judged is listed beside it.
constexpr Severity worst(Severity a, Severity b) { return a < b ? b : a; }

constexpr bool is_finding(Severity severity) {
  return severity >= Severity::note;
}

}  // namespace telltale

// What a column's header says: its words, its unit, its leg, its zone.
#pragma once

#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "ingest/unit_text.hpp"

namespace telltale::host {

struct HeaderName {
  std::string text;                  // trimmed, on one line
  std::set<std::string> concepts;    // explicit ones
  std::string implied;               // the quantity the unit alone says, or ""
  std::vector<std::string> foreign;  // words of something else
  std::vector<std::string> unknown;  // words not in the table
  std::vector<std::string> tokens;   // all words, folded, in order
  bool numbered = false;             // holds a bare number: "temp 1"
  std::optional<UnitText> unit;
  bool unit_in_cells = false;   // it stands behind the readings
  std::string unit_text;        // as the header spells it
  std::optional<int> zone_min;  // "GMT-05:00", "UTC"
};

/// Splits "Oil Press (psi)", "oil_press_psi", "Coolant [°F]", "GenFreq/Hz",
/// "L1-N Volts", "AmpsL1", "Öldruck bar" and the like.
HeaderName parse_header(std::string_view header);

}  // namespace telltale::host

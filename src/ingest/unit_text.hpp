// Units as headers and cells spell them.
#pragma once

#include <optional>
#include <string_view>

#include "support/units.hpp"

namespace telltale::host {

/// A spelled unit: readings times `scale` are in `unit`. A unit that is one,
/// but that no channel is logged in (kWh, kvar, knots, ...), has unit `none`.
struct UnitText {
  LogUnit unit = LogUnit::none;
  double scale = 1.0;

  friend bool operator==(const UnitText&, const UnitText&) = default;
};

/// What "psi", "°F", "deg C", "kgf/cm²", "U/min", "l/h", "%" ... mean; case
/// matters only where it must (mW, MW). Nothing where it is no unit known
/// here. Factors: NIST SP 811 appendix B.
std::optional<UnitText> unit_of_text(std::string_view text);

}  // namespace telltale::host

// Whether a log of that scenario can show a verdict at all.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "simulate/truth/truth.hpp"

namespace telltale::host::sim {

/// What a log must hold for a check to be answered.
struct Need {
  std::string_view check;
  ChannelMask all;    // each of these channels
  ChannelMask any;    // and one of these; 0: none
  double interval_s;  // rows no further apart; 0: any
};

/// The need of a check; nothing where any log will do. `interval_s` may hang
/// on the performance class.
std::optional<Need> need_of(std::string_view check, int performance_class);

/// Why the log cannot show it; empty when it can.
std::string not_observable(const Verdict& verdict, const Scenario& scenario);

}  // namespace telltale::host::sim

// Whether a log of that scenario can show a verdict at all.
#pragma once

#include <string>

#include "simulate/truth/truth.hpp"

namespace telltale::host::sim {

/// Why the log cannot show it; empty when it can.
std::string not_observable(const Verdict& verdict, const Scenario& scenario);

}  // namespace telltale::host::sim

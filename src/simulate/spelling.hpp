// Words of a log: headers, states, units, codes for a missing reading.
#pragma once

#include <string>
#include <string_view>

#include "simulate/log_format.hpp"
#include "simulate/scenario.hpp"

namespace telltale::host::sim {

/// The header of a channel's column in UTF-8.
std::string header_of(const SensorSpec& sensor, HeaderStyle style);
/// The unit as a unit row or a cell has it; may be empty.
std::string_view unit_text(LogUnit unit);
/// The controller's word for a state.
std::string_view state_word(EngineState state);
/// What a bus gives for "not available" after scaling, canonical unit: the
/// full-scale codes of SAE J1939-71 parameters. NaN where there is none.
double bus_code(Channel channel);

}  // namespace telltale::host::sim

// Fault numbers of the engine bus (SAE J1939-73): SPN and FMI.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace telltale::host {

struct FaultCode {
  std::uint32_t spn = 0;  // what: 0..524287
  std::uint32_t fmi = 0;  // in which way: 0..31
};

/// "SPN 110 FMI 0", "SPN110/FMI0", "spn:100, fmi:1", "110/0", "SPN=110 FMI=0".
/// Bare numbers parted by a slash or dash count only where `bare` says so.
std::optional<FaultCode> fault_code_of(std::string_view text, bool bare);

/// Of an SPN and an FMI in columns of their own.
std::optional<FaultCode> fault_code_of(std::string_view spn,
                                       std::string_view fmi);

/// "SPN 110 FMI 0".
std::string name_of(FaultCode code);

/// "engine coolant temperature: above normal range, most severe"; an SPN that
/// is not known here is told by its number.
std::string text_of(FaultCode code);

}  // namespace telltale::host

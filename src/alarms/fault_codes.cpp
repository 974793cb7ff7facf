// Numbers to words.
#include "alarms/fault_codes.hpp"

#include <fmt/format.h>

#include <array>
#include <charconv>

namespace telltale::host {
namespace {

struct Parameter {
  std::uint32_t spn;
  std::string_view name;
};

// Parameters of SAE J1939-71 that a generating set may report; from public
// lists.
constexpr std::array kParameters = {
    Parameter{92, "engine load at current speed"},
    Parameter{100, "engine oil pressure"},
    Parameter{102, "boost pressure"},
    Parameter{105, "intake manifold temperature"},
    Parameter{108, "barometric pressure"},
    Parameter{110, "engine coolant temperature"},
    Parameter{158, "battery voltage at the key switch"},
    Parameter{167, "charging system voltage"},
    Parameter{168, "battery voltage"},
    Parameter{171, "ambient air temperature"},
    Parameter{173, "exhaust gas temperature"},
    Parameter{175, "engine oil temperature"},
    Parameter{183, "fuel rate"},
    Parameter{190, "engine speed"},
    Parameter{247, "engine hours"},
    Parameter{1122, "alternator bearing 1 temperature"},
    Parameter{1123, "alternator bearing 2 temperature"},
    Parameter{1124, "alternator winding 1 temperature"},
    Parameter{1125, "alternator winding 2 temperature"},
    Parameter{1126, "alternator winding 3 temperature"},
    Parameter{2436, "generator frequency"},
    Parameter{2440, "generator line-to-line voltage"},
    Parameter{2444, "generator line-to-neutral voltage"},
    Parameter{2448, "generator current"},
    Parameter{2452, "generator real power"},
    Parameter{2464, "generator power factor"},
};

// Failure modes of SAE J1939-73; the words are ours.
constexpr std::array<std::string_view, 22> kModes = {
    "above normal range, most severe",
    "below normal range, most severe",
    "erratic, intermittent or incorrect",
    "voltage high or shorted high",
    "voltage low or shorted low",
    "current low or open circuit",
    "current high or grounded",
    "mechanical system not responding",
    "abnormal frequency, pulse width or period",
    "abnormal update rate",
    "abnormal rate of change",
    "root cause unknown",
    "bad device or component",
    "out of calibration",
    "special instructions",
    "above normal range, least severe",
    "above normal range, moderately severe",
    "below normal range, least severe",
    "below normal range, moderately severe",
    "received network data in error",
    "data drifted high",
    "data drifted low"};

std::optional<std::uint32_t> number_of(std::string_view text) {
  std::uint32_t value = 0;
  const char* const end = text.data() + text.size();
  const auto read = std::from_chars(text.data(), end, value);
  if (read.ec != std::errc() || read.ptr != end) return std::nullopt;
  return value;
}

std::optional<FaultCode> checked(std::optional<std::uint32_t> spn,
                                 std::optional<std::uint32_t> fmi) {
  if (!spn || !fmi || *spn > 524'287 || *fmi > 31) return std::nullopt;
  return FaultCode{*spn, *fmi};
}

// The number behind a label, "spn 110" and "spn110" alike.
std::optional<std::uint32_t> labelled(std::string_view text,
                                      std::string_view label) {
  for (std::size_t i = 0; i + label.size() < text.size(); ++i) {
    bool same = true;
    for (std::size_t k = 0; k < label.size(); ++k) {
      same = same && (text[i + k] | 0x20) == label[k];
    }
    if (!same) continue;
    std::size_t from = i + label.size();
    while (from < text.size() && (text[from] == ' ' || text[from] == ':' ||
                                  text[from] == '=' || text[from] == '-')) {
      ++from;
    }
    std::size_t to = from;
    while (to < text.size() && text[to] >= '0' && text[to] <= '9') ++to;
    if (to > from) return number_of(text.substr(from, to - from));
  }
  return std::nullopt;
}

}  // namespace

std::optional<FaultCode> fault_code_of(std::string_view text, bool bare) {
  if (text.size() > 200) return std::nullopt;
  if (const auto code = checked(labelled(text, "spn"), labelled(text, "fmi"))) {
    return code;
  }
  if (!bare) return std::nullopt;
  const std::size_t mark = text.find_first_of("/-.:");
  if (mark == text.npos) return std::nullopt;
  return fault_code_of(text.substr(0, mark), text.substr(mark + 1));
}

std::optional<FaultCode> fault_code_of(std::string_view spn,
                                       std::string_view fmi) {
  return checked(number_of(spn), number_of(fmi));
}

std::string name_of(FaultCode code) {
  return fmt::format("SPN {} FMI {}", code.spn, code.fmi);
}

std::string text_of(FaultCode code) {
  std::string what = fmt::format("parameter {}", code.spn);
  for (const Parameter& parameter : kParameters) {
    if (parameter.spn == code.spn) what = parameter.name;
  }
  const std::string mode =
      code.fmi < kModes.size() ? std::string(kModes[code.fmi])
      : code.fmi == 31         ? std::string("condition exists")
                               : fmt::format("failure mode {}", code.fmi);
  return what + ": " + mode;
}

}  // namespace telltale::host

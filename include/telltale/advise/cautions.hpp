// The usual cautions for work on a generating set, by the bits of
// telltale::caution. General safety practice (US Coast Guard and NIOSH on
// carbon monoxide, OSHA 29 CFR 1910.147 and .333 on isolating, ABYC P-1 on hot
// surfaces); they do not replace local codes.
#pragma once

#include <array>
#include <cstdint>
#include <string_view>

#include "telltale/detect/check.hpp"

namespace telltale {

struct CautionText {
  std::uint8_t bit;
  std::string_view text;
};

inline constexpr std::array kCautions = {
    CautionText{caution::kShock,
                "AC voltage kills: work on live terminals only if qualified; "
                "else stop the set, block automatic start, isolate shore power "
                "and inverter, and measure that it is dead."},
    CautionText{caution::kWater,
                "With a wet exhaust every crank pumps sea water towards the "
                "cylinders: close the sea cock for long cranking, and turn the "
                "engine by hand first if water may have got in."},
    CautionText{caution::kExhaust,
                "Exhaust parts burn, and a hot or leaking exhaust lets carbon "
                "monoxide into the boat, which nobody can see or smell: "
                "ventilate, keep a working alarm, get out at the first "
                "headache or dizziness."},
    CautionText{caution::kBattery,
                "Charging batteries give off explosive gas: ventilate first, "
                "no sparks, negative lead off first and on last."},
    CautionText{caution::kCoolant,
                "Never open the cap of a hot cooling circuit."},
    CautionText{caution::kRotating,
                "Keep hands, tools and clothing clear of belts and couplings; "
                "the set may start by itself unless automatic start is "
                "blocked."},
    CautionText{caution::kHotOil,
                "Hot oil and hot metal burn: let it cool before opening "
                "anything."},
    CautionText{caution::kFuel,
                "Spilled fuel burns: catch it, keep flames and sparks away, "
                "and never search for a leak under pressure with the hand."}};

/// Who decides in the end.
inline constexpr std::string_view kDeference =
    "The maker's handbook, local codes and licensed people decide.";

}  // namespace telltale

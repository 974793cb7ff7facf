// Words that name a leg of the generator.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace telltale::host {

/// A word for a leg, perhaps with a quantity in front or a second leg behind:
/// l1, l1n, l12, va, vab, u1, ul1n, i1, ia, an, ab.
struct LegToken {
  std::string_view quantity;  // "", "voltage", "current"
  std::string first;          // "l1", "l2", "l3"
  std::string second;         // "", "neutral" or a leg
};

/// Nothing where the word (folded) is no leg.
std::optional<LegToken> leg_token(std::string_view token);

/// 1 to 3 for 1 2 3, a b c, r and t (an s alone means seconds); 0 for any
/// other.
int leg_number(char c);

/// "l1" for 1.
std::string leg_name(int number);

/// Writes "l-l", "phase to phase", "vll", "l-n" and the like as the one word
/// "linetoline" or "linetoneutral". "LL" and "LN" alone count beside a word for
/// volts only: "LL" is also a low-low limit.
void join_line_pairs(std::vector<std::string>& tokens);

}  // namespace telltale::host

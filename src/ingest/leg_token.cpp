// Legs by their letters and numbers.
#include "ingest/leg_token.hpp"

#include <algorithm>
#include <cstddef>

namespace telltale::host {
namespace {

bool is_digit(char c) { return c >= '0' && c <= '9'; }

constexpr std::string_view kLineToLine = "linetoline";
constexpr std::string_view kLineToNeutral = "linetoneutral";

bool is_any(std::string_view word, auto... words) {
  return ((word == words) || ...);
}

bool is_line(std::string_view word) {
  return is_any(word, "l", "line", "ph", "phase");
}

bool is_volts(std::string_view word) {
  return is_any(word, "v", "u", "vac", "volt", "volts", "voltage", "voltages",
                "spannung", "tension", "tensione", "spanning", "spenning");
}

// What "l-l" and "l-n" mean at `at`, and how many words they take there.
struct LinePair {
  std::string_view word;
  std::size_t tokens = 0;
};
LinePair pair_at(const std::vector<std::string>& tokens, std::size_t at) {
  std::size_t next = at + 1;
  if (next < tokens.size() && tokens[next] == "to") ++next;
  if (tokens[at] == "l2" && next < tokens.size() && tokens[next] == "l") {
    return {kLineToLine, 2};  // "L2L" is split behind the digit
  }
  if (!is_line(tokens[at]) || next >= tokens.size()) return {};
  const std::string_view second = tokens[next];
  if (second == tokens[at]) return {kLineToLine, next + 1 - at};
  if (is_any(second, "n", "neutral")) return {kLineToNeutral, next + 1 - at};
  return {};
}

std::string_view pair_word(std::string_view word, bool beside_volts) {
  if (is_any(word, "ltl", "ph2ph")) return kLineToLine;
  if (is_any(word, "ltn", "ph2n")) return kLineToNeutral;
  if (!beside_volts) return "";
  if (word == "ll") return kLineToLine;
  return word == "ln" ? kLineToNeutral : "";
}

}  // namespace

int leg_number(char c) {
  switch (c) {
    case '1':
    case 'a':
    case 'r':
      return 1;
    case '2':
    case 'b':
      return 2;
    case '3':
    case 'c':
    case 't':
      return 3;
    default:
      return 0;
  }
}

std::string leg_name(int number) {
  return {'l', static_cast<char>('0' + number)};
}

void join_line_pairs(std::vector<std::string>& tokens) {
  // "vll", "ul l", "vln": the letter of volts parted from the rest.
  for (std::size_t i = 0; i < tokens.size(); ++i) {
    const std::string word = tokens[i];
    const bool followed =
        i + 1 < tokens.size() && is_any(tokens[i + 1], "l", "n");
    if (is_any(word, "vll", "ull", "vln", "uln") ||
        (is_any(word, "vl", "ul") && followed)) {
      tokens[i] = word.substr(0, 1);
      tokens.insert(tokens.begin() + static_cast<std::ptrdiff_t>(i) + 1,
                    word.substr(1));
    }
  }
  const bool volts = std::any_of(tokens.begin(), tokens.end(), is_volts);
  for (std::size_t i = 0; i < tokens.size(); ++i) {
    if (const LinePair pair = pair_at(tokens, i); pair.tokens > 0) {
      const auto first = tokens.begin() + static_cast<std::ptrdiff_t>(i);
      tokens.erase(first + 1, first + static_cast<std::ptrdiff_t>(pair.tokens));
      tokens[i] = pair.word;
    } else if (const auto word = pair_word(tokens[i], volts); !word.empty()) {
      tokens[i] = word;
    }
  }
}

std::optional<LegToken> leg_token(std::string_view token) {
  LegToken leg;
  std::string_view rest = token;
  bool with_quantity = false;
  for (std::string_view start :
       {"volts", "volt", "amps", "amp", "ct", "v", "u", "i", "a"}) {
    // "a1" is amps of a leg, but "ab" is a pair of legs.
    const bool pair = start == "a" && rest.size() > 1 && !is_digit(rest[1]);
    if (rest.size() > start.size() && rest.starts_with(start) && !pair) {
      leg.quantity =
          start.front() == 'v' || start.front() == 'u' ? "voltage" : "current";
      rest.remove_prefix(start.size());
      with_quantity = true;
      break;
    }
  }
  bool named = false;  // "l1", "ph1", "phase1": surely a leg
  for (std::string_view start : {"phase", "leg", "line", "ph", "l"}) {
    if (rest.size() > start.size() && rest.starts_with(start) &&
        leg_number(rest[start.size()]) != 0 &&
        (start != "l" || is_digit(rest[start.size()]))) {
      rest.remove_prefix(start.size());
      named = true;
      break;
    }
  }
  if (rest.empty() || rest.size() > 3) return std::nullopt;
  const int first = leg_number(rest.front());
  if (first == 0) return std::nullopt;
  const bool digit = is_digit(rest.front());
  if (!named && !with_quantity) {
    // "an", "ab", "bc", "12", "1n": only with its partner.
    if (rest.size() != 2 || digit) return std::nullopt;
  }
  leg.first = leg_name(first);
  rest.remove_prefix(1);
  if (rest.starts_with('l') && rest.size() == 2) rest.remove_prefix(1);
  if (rest == "n") {
    leg.second = "neutral";
  } else if (!rest.empty()) {
    const int second = leg_number(rest.front());
    if (second == 0 || rest.size() != 1 || is_digit(rest.front()) != digit) {
      return std::nullopt;
    }
    leg.second = leg_name(second);
  }
  return leg;
}

}  // namespace telltale::host

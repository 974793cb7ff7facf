// Legs by their letters and numbers.
#include "ingest/leg_token.hpp"

namespace telltale::host {
namespace {

bool is_digit(char c) { return c >= '0' && c <= '9'; }

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

std::optional<LegToken> leg_token(std::string_view token) {
  LegToken leg;
  std::string_view rest = token;
  bool with_quantity = false;
  for (std::string_view start :
       {"volts", "volt", "amps", "amp", "v", "u", "i"}) {
    if (rest.size() > start.size() && rest.starts_with(start)) {
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

// Time zones as texts name them.
#include <algorithm>
#include <array>
#include <cstddef>
#include <string>

#include "ingest/fold_letters.hpp"
#include "ingest/stamp_format.hpp"

namespace telltale::host {
namespace {

bool is_digit(char c) { return c >= '0' && c <= '9'; }

bool is_letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') ||
         static_cast<unsigned char>(c) >= 0x80;
}

}  // namespace

std::optional<int> parse_zone(std::string_view text) {
  while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
  while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
  if (text.size() >= 2 && text.front() == '(' && text.back() == ')') {
    return parse_zone(text.substr(1, text.size() - 2));
  }
  struct Named {
    std::string_view name;
    int minutes;
  };
  constexpr std::array kZones = {
      Named{"z", 0},      Named{"utc", 0},    Named{"gmt", 0},
      Named{"ut", 0},     Named{"est", -300}, Named{"edt", -240},
      Named{"cst", -360}, Named{"cdt", -300}, Named{"mst", -420},
      Named{"mdt", -360}, Named{"pst", -480}, Named{"pdt", -420},
      Named{"wet", 0},    Named{"west", 60},  Named{"cet", 60},
      Named{"cest", 120}, Named{"mez", 60},   Named{"mesz", 120},
      Named{"eet", 120},  Named{"eest", 180}, Named{"bst", 60},
  };
  std::size_t letters = 0;
  while (letters < text.size() && is_letter(text[letters])) ++letters;
  const std::string name = fold_letters(text.substr(0, letters));
  std::string_view offset = text.substr(letters);
  int base = 0;
  if (!name.empty()) {
    const auto* found =
        std::find_if(kZones.begin(), kZones.end(),
                     [&](const Named& zone) { return zone.name == name; });
    if (found == kZones.end()) return std::nullopt;
    if (offset.empty()) return found->minutes;
    if (found->minutes != 0) return std::nullopt;
  }
  while (!offset.empty() && offset.front() == ' ') offset.remove_prefix(1);
  if (offset.empty()) return std::nullopt;
  if (offset.front() != '+' && offset.front() != '-') return std::nullopt;
  const int sign = offset.front() == '-' ? -1 : 1;
  offset.remove_prefix(1);
  int hours = 0;
  int minutes = 0;
  std::size_t digits = 0;
  while (digits < offset.size() && is_digit(offset[digits])) ++digits;
  const auto two = [](std::string_view d) {
    return d.size() == 1 ? d[0] - '0' : (d[0] - '0') * 10 + (d[1] - '0');
  };
  if (digits == offset.size() && digits >= 1 && digits <= 2) {
    hours = two(offset);
  } else if (digits == offset.size() && digits == 4) {
    hours = two(offset.substr(0, 2));
    minutes = two(offset.substr(2));
  } else if (digits >= 1 && digits <= 2 && offset.size() == digits + 3 &&
             offset[digits] == ':' && is_digit(offset[digits + 1]) &&
             is_digit(offset[digits + 2])) {
    hours = two(offset.substr(0, digits));
    minutes = two(offset.substr(digits + 1));
  } else {
    return std::nullopt;
  }
  if (hours > 23 || minutes > 59) return std::nullopt;
  return base + sign * (hours * 60 + minutes);
}

}  // namespace telltale::host

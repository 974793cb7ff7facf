// Letters and their meanings.
#include "ingest/letter_symbols.hpp"

#include <algorithm>
#include <array>
#include <initializer_list>

#include "ingest/leg_token.hpp"
#include "ingest/words.hpp"

namespace telltale::host {
namespace {

using Words = std::initializer_list<std::string_view>;

bool is_any(std::string_view word, Words words) {
  return std::find(words.begin(), words.end(), word) != words.end();
}

// Whether a word beside the letter says one of the concepts.
bool beside(const HeaderName& name, std::size_t at, Words wanted) {
  for (std::size_t i = 0; i < name.tokens.size(); ++i) {
    if (i == at) continue;
    const auto meaning = look_up_word(name.tokens[i]);
    if (meaning && std::any_of(meaning->begin(), meaning->end(),
                               [&](const HeaderWord& word) {
                                 return is_any(word.text, wanted);
                               })) {
      return true;
    }
  }
  return false;
}

bool has_unit(const HeaderName& name, Quantity quantity) {
  return name.unit && quantity_of(name.unit->unit) == quantity;
}

bool names_leg(const HeaderName& name) {
  return name.concepts.contains("l1") || name.concepts.contains("l2") ||
         name.concepts.contains("l3");
}

bool is_leg_word(std::string_view token) {
  return is_any(token, {"phase", "ph", "leg"}) ||
         is_any(token, {"l1", "l2", "l3"});
}

// "A L1", "A ph1": amps of a leg.
bool before_leg(const HeaderName& name, std::size_t at) {
  return at + 1 < name.tokens.size() && is_leg_word(name.tokens[at + 1]);
}

std::string_view quantity_of_letter(const HeaderName& name, std::size_t at) {
  const bool alone = name.tokens.size() == 1;
  switch (name.tokens[at].front()) {
    case 't':
      return has_unit(name, Quantity::temperature) ||
                     beside(name, at,
                            {"oil", "coolant", "exhaust", "water", "winding",
                             "ambient", "air", "lube", "engine", "room", "sump",
                             "stator", "jacket", "enclosure", "alternator",
                             "wind"})
                 ? "temperature"
                 : "";
    case 'p':
      if (has_unit(name, Quantity::power)) return "power";
      if (has_unit(name, Quantity::pressure)) return "pressure";
      if (beside(name, at, {"oil", "lube"})) return "pressure";
      return beside(name, at, {"generator", "total", "active", "real"})
                 ? "power"
                 : "";
    case 'u':
    case 'v':
      return "voltage";
    case 'i':
      return !alone || has_unit(name, Quantity::current) ? "current" : "";
    case 'a':
      return before_leg(name, at) ? "current" : "";
    case 'n':
      return beside(name, at, {"engine"}) ? "speed" : "";
    case 'f':
      return has_unit(name, Quantity::rotation) ||
                     beside(name, at, {"generator"})
                 ? "frequency"
                 : "";
    default:
      return "";
  }
}

// "L1-N", "phase A", "volts B", "winding 2 volts".
std::string_view place_of_letter(const HeaderName& name, std::size_t at) {
  constexpr std::array<std::string_view, 4> kLegs = {"", "l1", "l2", "l3"};
  const char letter = name.tokens[at].front();
  if (letter == 'n' && names_leg(name)) return "neutral";
  const int leg = leg_number(letter);
  if (leg == 0 || at == 0) return "";
  const bool electrical =
      name.concepts.contains("voltage") || name.concepts.contains("current");
  return is_leg_word(name.tokens[at - 1]) || electrical
             ? kLegs[static_cast<std::size_t>(leg)]
             : "";
}

}  // namespace

std::string_view meaning_of_letter(const HeaderName& name, std::size_t at) {
  const std::string_view quantity = quantity_of_letter(name, at);
  return quantity.empty() ? place_of_letter(name, at) : quantity;
}

}  // namespace telltale::host

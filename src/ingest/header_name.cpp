// Taking headers apart.
#include "ingest/header_name.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <cstddef>

#include "ingest/fold_letters.hpp"
#include "ingest/foreign_words.hpp"
#include "ingest/leg_token.hpp"
#include "ingest/letter_symbols.hpp"
#include "ingest/split_words.hpp"
#include "ingest/stamp_format.hpp"
#include "ingest/words.hpp"
#include "support/safe_text.hpp"

namespace telltale::host {
namespace {

bool is_digit(char c) { return c >= '0' && c <= '9'; }

std::string on_one_line(std::string_view text) {
  std::string out;
  for (std::size_t i = 0; i < text.size(); ++i) {
    char c = text[i];
    if (c == '\xC2' && i + 1 < text.size() && text[i + 1] == '\xA0') {
      c = ' ';  // no-break space
      ++i;
    }
    const bool blank = c == ' ' || c == '\t' || c == '\n' || c == '\r';
    if (!blank) {
      out += c;
    } else if (!out.empty() && out.back() != ' ') {
      out += ' ';
    }
  }
  while (!out.empty() && out.back() == ' ') out.pop_back();
  if (out.size() >= 2 && out.front() == '\'' && out.back() == '\'') {
    out = out.substr(1, out.size() - 2);
  }
  return out;
}

std::string_view trim(std::string_view text) {
  while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
  while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
  return text;
}

// The quantity word that a unit implies.
std::string_view concept_of(LogUnit unit) {
  switch (quantity_of(unit)) {
    case Quantity::temperature:
      return "temperature";
    case Quantity::pressure:
      return "pressure";
    case Quantity::voltage:
      return "voltage";
    case Quantity::current:
      return "current";
    case Quantity::power:
      return unit == LogUnit::kVA ? "" : "power";
    case Quantity::ratio:
      return unit == LogUnit::pct ? "percent" : "";
    case Quantity::rotation:
      return unit == LogUnit::rpm ? "rpm" : "frequency";
    case Quantity::flow:
      return "rate";
    case Quantity::time:
      return unit == LogUnit::h ? "hours" : "";
    case Quantity::volume:
    case Quantity::none:
      break;
  }
  return "";
}

class Parser {
 public:
  explicit Parser(std::string_view header) {
    name_.text = printable(on_one_line(header));
  }

  HeaderName run() {
    std::string rest = take_brackets(name_.text);
    if (!name_.unit) take_unit_after_mark(rest);
    tokens_ = split_words(rest);
    join_line_pairs(tokens_);
    join_line_pairs(bracket_words_);
    name_.tokens = tokens_;
    if (!name_.unit) take_unit_tokens();
    read_tokens();
    for (const std::string& extra : bracket_words_) {
      // Words in brackets help where they are known and are noise else.
      if (const auto meaning = look_up_word(extra)) add(*meaning);
      if (const auto leg = leg_token(extra)) add_leg(*leg);
    }
    imply_quantity();
    pardon_foreign(name_);
    return std::move(name_);
  }

 private:
  // Brackets hold a unit, a zone or a remark.
  std::string take_brackets(std::string_view text) {
    std::string out;
    std::size_t at = 0;
    while (at < text.size()) {
      const std::size_t open = text.find_first_of("([{<", at);
      if (open == text.npos) break;
      constexpr std::string_view kOpen = "([{<";
      constexpr std::string_view kClose = ")]}>";
      const std::size_t close = text.find(kClose[kOpen.find(text[open])], open);
      const std::size_t end = close == text.npos ? text.size() : close;
      const std::string_view inside =
          trim(text.substr(open + 1, end - open - 1));
      out += text.substr(at, open - at);
      out += ' ';
      take_remark(inside);
      at = close == text.npos ? text.size() : close + 1;
    }
    out += text.substr(std::min(at, text.size()));
    return out;
  }

  void take_remark(std::string_view inside) {
    if (const auto unit = unit_of_text(inside)) {
      set_unit(*unit, inside);
    } else if (const auto zone = parse_zone(inside)) {
      name_.zone_min = zone;
    } else {
      for (std::string& word : split_words(inside)) {
        const auto unit_word = unit_of_text(word);
        if (unit_word && word.size() > 1 && !name_.unit) {
          set_unit(*unit_word, word);
        }
        bracket_words_.push_back(std::move(word));
      }
    }
  }

  // "GenFreq/Hz", "Temp, °F", "Coolant - degC", "Oil Press in psi",
  // "Date Time, GMT-05:00". The longest end that is a unit counts, so that
  // "Rate/gal/h" is no hour.
  void take_unit_after_mark(std::string& rest) {
    struct Cut {
      std::size_t keep;
      std::size_t from;
    };
    std::vector<Cut> cuts;
    for (std::string_view mark :
         {",", "/", ":", "|", ";", " - ", " in ", "="}) {
      for (std::size_t at = rest.find(mark); at != std::string::npos;
           at = rest.find(mark, at + mark.size())) {
        cuts.push_back({at, at + mark.size()});
        // "kg/cm2", "l/h" hold the mark themselves: from the word's start.
        const std::size_t word = rest.find_last_of(" ,_", at);
        if (mark == "/" && word != std::string::npos) {
          cuts.push_back({word, word + 1});
        }
      }
    }
    std::sort(cuts.begin(), cuts.end(),
              [](const Cut& a, const Cut& b) { return a.from < b.from; });
    for (const Cut& cut : cuts) {
      if (cut.keep > 0 && take_end(rest, cut.keep, cut.from)) return;
    }
  }

  // The header's end from `from` on, if it is a unit or a zone: rest keeps
  // what is before `keep`.
  bool take_end(std::string& rest, std::size_t keep, std::size_t from) {
    const std::string_view end = trim(std::string_view(rest).substr(from));
    if (const auto zone = parse_zone(end)) {
      name_.zone_min = zone;
    } else if (const auto unit = unit_of_text(end)) {
      set_unit(*unit, end);
    } else {
      return false;
    }
    rest.resize(keep);
    return true;
  }

  // "oil_press_psi", "Batt V", "coolant_deg_c", "oil press kg cm2".
  void take_unit_tokens() {
    for (std::size_t count = 3; count >= 1; --count) {
      if (tokens_.size() <= count || tokens_.back() == "1") continue;
      std::string joined;
      for (std::size_t i = tokens_.size() - count; i < tokens_.size(); ++i) {
        if (!joined.empty() && count > 1 && joined == "l") joined += '/';
        joined += tokens_[i];
      }
      auto unit = unit_of_text(joined == "k" ? "K" : joined);
      if (!unit) continue;
      if (joined.size() == 1 && !single_letter_is_unit(joined.front())) {
        continue;
      }
      set_unit(*unit, joined);
      tokens_.resize(tokens_.size() - count);
      return;
    }
  }

  // "Phase A", "Volts C", "L1-N": a lone letter that names a leg.
  bool single_letter_is_unit(char letter) const {
    const std::string& before = tokens_[tokens_.size() - 2];
    if (before == "phase" || before == "ph" || before == "leg" ||
        before == "bank" || before == "line" || before == "l") {
      return false;
    }
    const bool electrical = says("voltage") || says("current") || says("power");
    if ((letter == 'c' || letter == 'f') && electrical) return false;
    if (letter == 'a' && says("voltage")) return false;
    if (letter == 'h' && electrical) return false;
    return true;
  }

  // Whether a word of the header says the concept.
  [[nodiscard]] bool says(std::string_view concept_word) const {
    return std::any_of(
        tokens_.begin(), tokens_.end(), [&](const std::string& token) {
          const auto meaning = look_up_word(token);
          return meaning && std::any_of(meaning->begin(), meaning->end(),
                                        [&](const HeaderWord& word) {
                                          return word.text == concept_word;
                                        });
        });
  }

  void set_unit(const UnitText& unit, std::string_view spelled) {
    name_.unit = unit;
    name_.unit_text = spelled;
  }

  void add(const std::vector<HeaderWord>& words) {
    for (const HeaderWord& word : words) {
      if (word.kind == WordKind::concept_word) name_.concepts.insert(word.text);
      if (word.kind == WordKind::foreign) name_.foreign.push_back(word.text);
    }
  }

  void add_leg(const LegToken& leg) {
    if (!leg.quantity.empty()) name_.concepts.emplace(leg.quantity);
    name_.concepts.insert(leg.first);
    if (!leg.second.empty()) name_.concepts.insert(leg.second);
  }

  [[nodiscard]] bool followed_by(std::size_t i, std::string_view word) const {
    return i + 1 < tokens_.size() && tokens_[i + 1] == word;
  }

  // "winding 2 volts": the winding's number is the leg's.
  [[nodiscard]] int winding_leg(std::size_t i) const {
    const std::string& token = tokens_[i];
    const std::size_t end = token.find_first_of("0123456789");
    const auto meaning = look_up_word(token.substr(0, end));
    if (!meaning || meaning->front().text != "winding" || !is_electrical()) {
      return 0;
    }
    const bool joined = end != std::string::npos && end + 1 == token.size();
    if (joined) return leg_number(token.back());
    const bool apart = i + 1 < tokens_.size() && tokens_[i + 1].size() == 1;
    return apart ? leg_number(tokens_[i + 1].front()) : 0;
  }

  [[nodiscard]] bool is_electrical() const {
    if (name_.unit) {
      const Quantity quantity = quantity_of(name_.unit->unit);
      return quantity == Quantity::voltage || quantity == Quantity::current;
    }
    return says("voltage") || says("current");
  }

  void read_tokens() {
    for (std::size_t i = 0; i < tokens_.size(); ++i) {
      const std::string& token = tokens_[i];
      // "at current speed": no amperes.
      if (token == "current" &&
          (followed_by(i, "speed") || followed_by(i, "engine") ||
           followed_by(i, "value"))) {
        if (followed_by(i, "speed")) ++i;
        continue;
      }
      // "Battery Potential / Power Input 1": no kilowatts.
      if (token == "power" && followed_by(i, "input")) {
        ++i;
        continue;
      }
      // "LO press" is lube oil, "LO oil press" is too low.
      if (token == "lo") {
        if (name_.concepts.contains("oil") || followed_by(i, "oil") ||
            followed_by(i, "lube")) {
          name_.foreign.push_back(token);
        } else {
          name_.concepts.insert("lube");
          name_.concepts.insert("oil");
        }
        continue;
      }
      // "phase 1", "leg 2"
      if ((token == "phase" || token == "ph" || token == "leg" ||
           token == "line") &&
          i + 1 < tokens_.size() && tokens_[i + 1].size() == 1 &&
          leg_number(tokens_[i + 1].front()) != 0) {
        name_.concepts.insert(leg_name(leg_number(tokens_[i + 1].front())));
        ++i;
        continue;
      }
      if (const int leg = winding_leg(i); leg != 0) {
        name_.concepts.insert(leg_name(leg));
        if (!is_digit(token.back())) ++i;
        continue;
      }
      if (std::all_of(token.begin(), token.end(), is_digit)) {
        name_.numbered = true;
        continue;
      }
      if (token.size() == 1) {
        if (const auto meaning = meaning_of_letter(name_, i);
            !meaning.empty()) {
          name_.concepts.emplace(meaning);
          continue;
        }
      }
      if (const auto meaning = look_up_word(token)) {
        add(*meaning);
        if (!name_.unit && token.size() > 1) {
          if (const auto unit = unit_of_text(token)) set_unit(*unit, token);
        }
        continue;
      }
      if (const auto leg = leg_token(token)) {
        add_leg(*leg);
        continue;
      }
      if (const auto unit = unit_of_text(token);
          unit && !name_.unit && token.size() > 1) {
        set_unit(*unit, token);
        continue;
      }
      // "diesel1", "gen2", "dg1", "temp2": the word and its number.
      std::size_t digits = token.size();
      while (digits > 0 && is_digit(token[digits - 1])) --digits;
      if (digits > 0 && digits < token.size()) {
        if (const auto meaning = look_up_word(token.substr(0, digits))) {
          add(*meaning);
          name_.numbered = true;
          continue;
        }
        if (digits == 1) {  // "g1", "t4"
          name_.numbered = true;
          continue;
        }
      }
      name_.unknown.push_back(token);
    }
  }

  void imply_quantity() {
    // "L1-N" and "L1-L2" alone can only be volts.
    const auto legs = name_.concepts.count("l1") + name_.concepts.count("l2") +
                      name_.concepts.count("l3");
    const bool between =
        legs == 2 || (legs == 1 && name_.concepts.contains("neutral"));
    const bool bare =
        name_.concepts.size() == legs + name_.concepts.count("neutral") +
                                     name_.concepts.count("generator");
    if (between && bare) name_.concepts.insert("voltage");
    if (!name_.unit) return;
    const std::string_view quantity = concept_of(name_.unit->unit);
    if (quantity.empty() || name_.concepts.contains(std::string(quantity))) {
      return;
    }
    name_.implied = quantity;
  }

  HeaderName name_;
  std::vector<std::string> tokens_;
  std::vector<std::string> bracket_words_;
};

}  // namespace

HeaderName parse_header(std::string_view header) {
  return Parser(header).run();
}

}  // namespace telltale::host

// State words and alarm texts.
#include "ingest/text_columns.hpp"

#include <algorithm>
#include <array>
#include <cstddef>

#include "ingest/fold_letters.hpp"
#include "ingest/missing.hpp"
#include "ingest/split_words.hpp"

namespace telltale::host {
namespace {

struct StateWord {
  std::string_view words;  // all must be there, parted by blanks
  EngineState state;
};

// The first line that fits wins: what is more certain stands first. English,
// then German, French, Spanish, Italian, Dutch, Norwegian.
using enum EngineState;
constexpr std::array kStates = {
    StateWord{"no fault", unknown},
    StateWord{"not running", stopped},
    StateWord{"not started", stopped},
    StateWord{"fault", fault},
    StateWord{"faulted", fault},
    StateWord{"lockout", fault},
    StateWord{"locked", fault},
    StateWord{"lock out", fault},
    StateWord{"shutdown", fault},
    StateWord{"shut down", fault},
    StateWord{"tripped", fault},
    StateWord{"trip", fault},
    StateWord{"emergency", fault},
    StateWord{"failed", fault},
    StateWord{"fail", fault},
    StateWord{"failure", fault},
    StateWord{"estop", fault},
    StateWord{"storung", fault},
    StateWord{"stoerung", fault},
    StateWord{"defaut", fault},
    StateWord{"fallo", fault},
    StateWord{"guasto", fault},
    StateWord{"feil", fault},
    StateWord{"cool", cool_down},
    StateWord{"cooldown", cool_down},
    StateWord{"cooling", cool_down},
    StateWord{"cooling down", cool_down},
    StateWord{"nachlauf", cool_down},
    StateWord{"abkuhlung", cool_down},
    StateWord{"refroidissement", cool_down},
    StateWord{"enfriamiento", cool_down},
    StateWord{"raffreddamento", cool_down},
    StateWord{"nakoelen", cool_down},
    StateWord{"preheat", preheat},
    StateWord{"preheating", preheat},
    StateWord{"pre heat", preheat},
    StateWord{"pre heating", preheat},
    StateWord{"preglow", preheat},
    StateWord{"glow", preheat},
    StateWord{"glowing", preheat},
    StateWord{"heating", preheat},
    StateWord{"prestart", preheat},
    StateWord{"pre start", preheat},
    StateWord{"prelube", preheat},
    StateWord{"vorgluhen", preheat},
    StateWord{"vorgluehen", preheat},
    StateWord{"prechauffage", preheat},
    StateWord{"precalentamiento", preheat},
    StateWord{"preriscaldamento", preheat},
    StateWord{"voorgloeien", preheat},
    StateWord{"crank", cranking},
    StateWord{"cranking", cranking},
    StateWord{"starter", cranking},
    StateWord{"anlassen", cranking},
    StateWord{"run down", stopping},
    StateWord{"rundown", stopping},
    StateWord{"spin down", stopping},
    StateWord{"coasting", stopping},
    StateWord{"stopping", stopping},
    StateWord{"auslaufen", stopping},
    StateWord{"auslauf", stopping},
    StateWord{"anhalten", stopping},
    StateWord{"arret cours", stopping},
    StateWord{"parando", stopping},
    StateWord{"run up", starting},
    StateWord{"runup", starting},
    StateWord{"ramp", starting},
    StateWord{"starting", starting},
    StateWord{"start", starting},
    StateWord{"startup", starting},
    StateWord{"start up", starting},
    StateWord{"hochlauf", starting},
    StateWord{"demarrage", starting},
    StateWord{"arranque", starting},
    StateWord{"arrancando", starting},
    StateWord{"avviamento", starting},
    StateWord{"starten", starting},
    StateWord{"off load", running},
    StateWord{"no load", running},
    StateWord{"offload", running},
    StateWord{"noload", running},
    StateWord{"unloaded", running},
    StateWord{"idle running", running},
    StateWord{"idling", running},
    StateWord{"warm", running},
    StateWord{"warmup", running},
    StateWord{"leerlauf", running},
    StateWord{"on load", loaded},
    StateWord{"onload", loaded},
    StateWord{"loaded", loaded},
    StateWord{"load", loaded},
    StateWord{"supplying", loaded},
    StateWord{"supply", loaded},
    StateWord{"generating", loaded},
    StateWord{"exporting", loaded},
    StateWord{"parallel", loaded},
    StateWord{"synchronised", loaded},
    StateWord{"synchronized", loaded},
    StateWord{"lastbetrieb", loaded},
    StateWord{"unter last", loaded},
    StateWord{"en charge", loaded},
    StateWord{"en carga", loaded},
    StateWord{"in carico", loaded},
    StateWord{"run", running},
    StateWord{"running", running},
    StateWord{"on", running},
    StateWord{"online", running},
    StateWord{"operating", running},
    StateWord{"operation", running},
    StateWord{"lauft", running},
    StateWord{"laeuft", running},
    StateWord{"betrieb", running},
    StateWord{"lauf", running},
    StateWord{"marche", running},
    StateWord{"en marcha", running},
    StateWord{"funcionando", running},
    StateWord{"in marcia", running},
    StateWord{"draait", running},
    StateWord{"bedrijf", running},
    StateWord{"drift", running},
    StateWord{"gar", running},
    StateWord{"stop", stopped},
    StateWord{"stopped", stopped},
    StateWord{"off", stopped},
    StateWord{"offline", stopped},
    StateWord{"rest", stopped},
    StateWord{"at rest", stopped},
    StateWord{"ready", stopped},
    StateWord{"standby", stopped},
    StateWord{"stand by", stopped},
    StateWord{"idle", stopped},
    StateWord{"waiting", stopped},
    StateWord{"wait", stopped},
    StateWord{"standstill", stopped},
    StateWord{"aus", stopped},
    StateWord{"bereit", stopped},
    StateWord{"betriebsbereit", stopped},
    StateWord{"stillstand", stopped},
    StateWord{"gestoppt", stopped},
    StateWord{"arret", stopped},
    StateWord{"arrete", stopped},
    StateWord{"pret", stopped},
    StateWord{"parado", stopped},
    StateWord{"listo", stopped},
    StateWord{"fermo", stopped},
    StateWord{"pronto", stopped},
    StateWord{"spento", stopped},
    StateWord{"uit", stopped},
    StateWord{"gereed", stopped},
    StateWord{"gestopt", stopped},
    StateWord{"stoppet", stopped},
    StateWord{"klar", stopped},
    StateWord{"av", stopped},
};

bool has_all(const std::vector<std::string>& tokens, std::string_view words) {
  while (!words.empty()) {
    const std::size_t end = std::min(words.find(' '), words.size());
    const std::string_view word = words.substr(0, end);
    if (std::find(tokens.begin(), tokens.end(), word) == tokens.end()) {
      return false;
    }
    words.remove_prefix(std::min(end + 1, words.size()));
  }
  return true;
}

std::string_view trim(std::string_view text) {
  while (!text.empty() && (text.front() == ' ' || text.front() == '\t')) {
    text.remove_prefix(1);
  }
  while (!text.empty() && (text.back() == ' ' || text.back() == '\t')) {
    text.remove_suffix(1);
  }
  return text;
}

}  // namespace

EngineState state_of_text(std::string_view text) {
  if (text.size() > 60) return unknown;
  const std::vector<std::string> tokens = split_words(text);
  for (const StateWord& word : kStates) {
    if (has_all(tokens, word.words)) return word.state;
  }
  return unknown;
}

bool means_no_alarm(std::string_view text) {
  if (is_missing_word(text)) {
    // "ERROR", "FAULT", "OPEN" in an alarm column are alarms.
    const std::string folded = fold_letters(text);
    constexpr std::array<std::string_view, 12> kAlarms = {
        "err",   "error", "fault",   "fail",    "failed",       "open",
        "short", "bad",   "shorted", "invalid", "open circuit", "overload"};
    return std::find(kAlarms.begin(), kAlarms.end(), folded) == kAlarms.end();
  }
  constexpr std::array<std::string_view, 28> kNone = {
      "ok",         "0",        "0.0",       "normal",     "no alarm",
      "no alarms",  "no fault", "no faults", "no warning", "no warnings",
      "clear",      "cleared",  "inactive",  "healthy",    "good",
      "no",         "false",    "off",       "keine",      "kein",
      "kein alarm", "aucun",    "aucune",    "ninguna",    "nessuno",
      "geen",       "ingen",    "0x0"};
  const std::string folded = fold_letters(text);
  return std::find(kNone.begin(), kNone.end(), folded) != kNone.end() ||
         (folded.find_first_not_of("0x") == folded.npos);
}

bool means_yes(std::string_view text) {
  constexpr std::array<std::string_view, 17> kYes = {
      "1",   "on", "true", "yes", "active", "alarm", "fault", "y",      "t",
      "ein", "an", "ja",   "oui", "si",     "set",   "high",  "tripped"};
  const std::string folded = fold_letters(text);
  return std::find(kYes.begin(), kYes.end(), folded) != kYes.end();
}

bool means_no(std::string_view text) {
  constexpr std::array<std::string_view, 5> kNo = {"n", "f", "aus", "nein",
                                                   "non"};
  const std::string folded = fold_letters(text);
  return means_no_alarm(text) ||
         std::find(kNo.begin(), kNo.end(), folded) != kNo.end();
}

EngineState StateReader::read(std::string_view text) {
  if (text != last_) {
    last_ = text;
    state_ = state_of_text(text);
  }
  return state_;
}

AlarmMask AlarmReader::bit_of(std::string_view text) {
  const auto found = bits_.find(std::string(text));
  if (found != bits_.end()) return AlarmMask{1} << found->second;
  const std::size_t number = std::min(names_.size(), kOwnBits);
  if (number == kOwnBits) {
    if (names_.size() == kOwnBits) names_.emplace_back("other alarms");
    return AlarmMask{1} << kOwnBits;
  }
  names_.emplace_back(text);
  bits_.emplace(text, number);
  return AlarmMask{1} << number;
}

AlarmMask AlarmReader::read_contact(std::string_view name,
                                    std::string_view text) {
  // "1" and "0" are what most contacts say.
  if (text.size() == 1 && text[0] == '0') return 0;
  return means_yes(text) ? bit_of(name) : 0;
}

AlarmMask AlarmReader::read(std::string_view text) {
  const auto known = known_.find(std::string(text));
  if (known != known_.end()) return known->second;
  AlarmMask mask = 0;
  std::string_view rest = text;
  while (!rest.empty()) {
    std::size_t end = rest.find_first_of(";|");
    std::size_t width = 1;
    const std::size_t slash = rest.find(" / ");
    if (slash < end) {
      end = slash;
      width = 3;
    }
    if (end == rest.npos) end = rest.size();
    const std::string_view one = trim(rest.substr(0, end));
    if (!means_no_alarm(one)) mask |= bit_of(one);
    rest.remove_prefix(std::min(end + width, rest.size()));
  }
  constexpr std::size_t kMostKnown = 1024;
  if (known_.size() < kMostKnown) known_.emplace(text, mask);
  return mask;
}

}  // namespace telltale::host

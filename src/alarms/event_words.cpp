// What journals say, in words.
#include "alarms/event_words.hpp"

#include <algorithm>
#include <array>
#include <string>
#include <vector>

#include "ingest/fold_letters.hpp"
#include "ingest/split_words.hpp"

namespace telltale::host {
namespace {

template <std::size_t N>
bool has_any(const std::vector<std::string>& words,
             const std::array<std::string_view, N>& list) {
  return std::any_of(words.begin(), words.end(), [&](const std::string& word) {
    return std::find(list.begin(), list.end(), word) != list.end();
  });
}

constexpr std::array<std::string_view, 42> kWent = {
    "off",       "cleared",    "clear",       "clears",      "rtn",
    "return",    "returned",   "normal",      "norm",        "reset",
    "gone",      "went",       "inactive",    "end",         "ended",
    "closed",    "resolved",   "released",    "recovered",   "recovery",
    "ok",        "false",      "geht",        "gegangen",    "ging",
    "aus",       "weg",        "disparu",     "disparition", "fin",
    "desactive", "borrado",    "normalizado", "rientrato",   "rientro",
    "cessato",   "uit",        "hersteld",    "opgeheven",   "av",
    "borte",     "deactivated"};
constexpr std::array<std::string_view, 40> kCame = {
    "on",         "raised",  "raise",    "raises",     "active",   "activated",
    "alarm",      "alm",     "came",     "set",        "start",    "started",
    "begin",      "began",   "open",     "opened",     "occurred", "new",
    "triggered",  "tripped", "true",     "kommt",      "gekommen", "kam",
    "ein",        "an",      "apparu",   "apparition", "actif",    "activo",
    "activado",   "attivo",  "attivato", "intervento", "aan",      "actief",
    "opgetreden", "pa",      "kommet",   "annunciated"};
constexpr std::array<std::string_view, 12> kSeen = {
    "ack",       "acked",   "acknowledged", "acknowledge", "acknowledgement",
    "quittiert", "quit",    "acquitte",     "reconocida",  "riconosciuto",
    "bevestigd", "kvittert"};

// Negations that hide in a state: "UNACK" is no acknowledgement.
constexpr std::array<std::string_view, 2> kNotSeen = {"unack",
                                                      "unacknowledged"};

constexpr std::array<std::string_view, 17> kStops = {
    "shutdown",     "shutdowns",     "trip",        "tripped",    "trips",
    "lockout",      "estop",         "abschaltung", "abstellung", "notstop",
    "nothalt",      "declenchement", "parada",      "arresto",    "scatto",
    "afschakeling", "utkobling"};
constexpr std::array<std::string_view, 2> kSpeed = {"overspeed",
                                                    "uberdrehzahl"};

constexpr std::array<std::string_view, 12> kMessages = {
    "info",      "information", "message", "msg",     "event",  "status",
    "operation", "journal",     "log",     "meldung", "notice", "diagnostic"};

bool together(const std::vector<std::string>& words, std::string_view first,
              std::string_view second) {
  for (std::size_t i = 0; i + 1 < words.size(); ++i) {
    if (words[i] == first && words[i + 1] == second) return true;
  }
  return false;
}

}  // namespace

std::optional<EventKind> event_of_text(std::string_view text) {
  if (text.empty() || text.size() > 40) return std::nullopt;
  if (text == "1") return EventKind::raised;
  if (text == "0") return EventKind::cleared;
  const std::vector<std::string> words = split_words(text);
  if (words.empty()) return std::nullopt;
  const bool no = words.front() == "not" || words.front() == "no";
  const bool unseen = has_any(words, kNotSeen) || together(words, "un", "ack");
  if (has_any(words, kSeen) && !unseen && !no) {
    // "RTN ACK" went; "ALM ACK" is an alarm that somebody has seen.
    return has_any(words, kWent) ? EventKind::cleared : EventKind::acknowledged;
  }
  if (has_any(words, kWent)) {
    return no ? EventKind::raised : EventKind::cleared;
  }
  if (has_any(words, kCame)) {
    return no ? EventKind::cleared : EventKind::raised;
  }
  return std::nullopt;
}

void settle_role(AlarmName& alarm) {
  const std::vector<std::string> priority = split_words(alarm.priority);
  for (const std::string_view text :
       {std::string_view(alarm.priority), std::string_view(alarm.name),
        std::string_view(alarm.text)}) {
    const std::vector<std::string> words = split_words(text);
    // "Failed to shut down" is a warning about a stop, and stops nothing.
    const bool failed =
        has_any(words, std::array<std::string_view, 2>{"fail", "failed"}) &&
        has_any(words, std::array<std::string_view, 1>{"to"});
    const bool stops =
        has_any(words, kStops) || has_any(words, kSpeed) ||
        together(words, "shut", "down") || together(words, "over", "speed") ||
        together(words, "emergency", "stop") ||
        together(words, "lock", "out") || together(words, "most", "severe");
    if (stops && !failed) {
      alarm.role = AlarmRole::shutdown;
      alarm.why_role = "its words say so: " + std::string(text);
      return;
    }
  }
  if (priority.size() <= 2 && has_any(priority, kMessages)) {
    alarm.role = AlarmRole::message;
  }
}

}  // namespace telltale::host

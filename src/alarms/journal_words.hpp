// What headers and cells of alarm journals say.
#pragma once

#include <algorithm>
#include <initializer_list>
#include <span>
#include <string_view>

#include "alarms/event_words.hpp"
#include "ingest/column.hpp"
#include "ingest/stamp_reader.hpp"
#include "ingest/text_columns.hpp"

namespace telltale::host {

using Words = std::span<const std::string_view>;

inline constexpr std::string_view kOnWords[] = {
    "on",          "start",    "started", "begin",    "begins",   "beginn",
    "raised",      "raise",    "came",    "from",     "active",   "activated",
    "set",         "occurred", "kommt",   "gekommen", "debut",    "inicio",
    "inizio",      "van",      "fra",     "onset",    "appeared", "triggered",
    "annunciated", "alarm"};
inline constexpr std::string_view kOffWords[] = {
    "off",  "end",  "ended",    "ends",   "cleared", "clear", "gone",
    "went", "to",   "until",    "reset",  "rtn",     "ende",  "gegangen",
    "fin",  "stop", "returned", "normal", "closed",  "bis",   "geht",
    "tot",  "til",  "resolved", "finish", "inactive"};
// When somebody saw the alarm is neither its beginning nor its end.
inline constexpr std::string_view kSeenWords[] = {
    "ack",       "acked",     "acknowledge", "acknowledged", "acknowledgement",
    "quittiert", "quittung",  "acquitte",    "acquittement", "reconocido",
    "bevestigd", "kvitteret", "riconosciuto"};
inline constexpr std::string_view kNameWords[] = {
    "alarm",     "alarms",  "tag",      "fault",   "faults", "event",
    "message",   "point",   "signal",   "warning", "trip",   "code",
    "meldung",   "storung", "stoerung", "fehler",  "alarme", "defaut",
    "alarma",    "allarme", "storing",  "melding", "alm",    "dtc",
    "condition", "item",    "tagname",  "variable"};
inline constexpr std::string_view kTextWords[] = {
    "description",  "text",    "descr",   "desc",
    "beschreibung", "comment", "details", "long"};
inline constexpr std::string_view kPriorityWords[] = {
    "priority", "prio",      "severity",   "class",      "level",
    "category", "cat",       "prioritat",  "prioritaet", "klasse",
    "priorite", "prioridad", "importance", "kind",       "type"};
inline constexpr std::string_view kStateWords[] = {
    "state",   "status", "action", "transition", "edge",     "event",
    "zustand", "etat",   "estado", "stato",      "toestand", "tilstand",
    "active",  "value",  "type",   "change",     "onoff",    "on"};
inline constexpr std::string_view kDurationWords[] = {
    "duration", "dauer",  "duree",    "duracion", "durata",
    "duur",     "length", "varighet", "standing"};

inline bool says(const HeaderName& header, Words words) {
  return std::any_of(header.tokens.begin(), header.tokens.end(),
                     [&](const std::string& token) {
                       return std::find(words.begin(), words.end(), token) !=
                              words.end();
                     });
}

inline bool says(const HeaderName& header,
                 std::initializer_list<std::string_view> words) {
  return says(header, Words(words.begin(), words.size()));
}

inline bool is_moment(StampKind kind) {
  return kind == StampKind::calendar || kind == StampKind::epoch ||
         kind == StampKind::serial;
}

// Cells of a column that say what happened, as shares of those that are not
// blank.
struct Happenings {
  std::size_t came = 0;
  std::size_t went = 0;
  std::size_t other = 0;
};

inline Happenings happenings_of(const ColumnStats& stats) {
  Happenings h;
  const auto count = [&h](std::string_view text, std::size_t times) {
    const auto kind = event_of_text(text);
    if (!kind) {
      h.other += times;
    } else if (*kind == EventKind::cleared) {
      h.went += times;
    } else {
      h.came += times;
    }
  };
  for (const auto& [word, times] : stats.words) count(word, times);
  for (const double value : stats.values) {
    value == 0.0 ? ++h.went : value == 1.0 ? ++h.came : ++h.other;
  }
  return h;
}

inline bool is_yes_no(const Column& column) {
  const ColumnStats& stats = column.stats;
  if (stats.numbers + stats.texts == 0) return false;
  return std::all_of(stats.values.begin(), stats.values.end(),
                     [](double v) { return v == 0.0 || v == 1.0; }) &&
         std::all_of(stats.words.begin(), stats.words.end(), [](const auto& w) {
           return means_yes(w.first) || means_no(w.first);
         });
}

}  // namespace telltale::host

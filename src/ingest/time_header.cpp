// Words of time, in the languages of the word table.
#include "ingest/time_header.hpp"

#include <algorithm>

namespace telltale::host {
namespace {

// "time2" says time.
std::string_view without_number(std::string_view token) {
  while (token.size() > 1 && token.back() >= '0' && token.back() <= '9') {
    token.remove_suffix(1);
  }
  return token;
}

// "t", "t (s)", "t_ms"; but "air T" is a temperature.
bool is_symbol_of_time(const HeaderName& header) {
  if (header.tokens.empty() || without_number(header.tokens.front()) != "t") {
    return false;
  }
  return header.tokens.size() == 1 ||
         (header.unit && quantity_of(header.unit->unit) == Quantity::time);
}

}  // namespace

bool says(const HeaderName& header,
          std::initializer_list<std::string_view> words) {
  return std::any_of(header.tokens.begin(), header.tokens.end(),
                     [&](const std::string& token) {
                       return std::find(words.begin(), words.end(),
                                        without_number(token)) != words.end();
                     });
}

bool says_date(const HeaderName& header) {
  return says(header, {"date", "datum", "fecha", "data", "dato", "day", "jour",
                       "dag", "tag", "datetime", "timestamp"});
}

bool says_clock(const HeaderName& header) {
  return says(header, {"time",        "clock",       "zeit",      "uhrzeit",
                       "heure",       "hora",        "ora",       "tijd",
                       "tid",         "klokkeslett", "datetime",  "timestamp",
                       "zeitstempel", "horodatage",  "tidspunkt", "stamp",
                       "ts",          "utc",         "gmt",       "uhr"});
}

bool says_elapsed(const HeaderName& header) {
  return says(header, {"elapsed", "runtime", "seconds", "secs", "sec", "millis",
                       "uptime", "duration", "laufzeit", "sekunden", "secondes",
                       "segundos", "since"}) ||
         is_symbol_of_time(header) ||
         (says(header, {"run", "running", "rel", "relative", "since"}) &&
          says_clock(header));
}

bool says_epoch(const HeaderName& header) {
  return says(header, {"epoch", "unix", "posix", "unixtime", "timestamp", "ts",
                       "time", "datetime", "stamp", "utc", "epochtime"});
}

bool is_time_header(const HeaderName& header) {
  return says_date(header) || says_clock(header) || says_elapsed(header);
}

}  // namespace telltale::host

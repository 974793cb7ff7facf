// Names to channels.
#include "alarms/alarm_clue.hpp"

#include <algorithm>
#include <array>
#include <string>
#include <string_view>

#include "alarms/fault_codes.hpp"
#include "ingest/channel_match.hpp"
#include "ingest/header_name.hpp"
#include "ingest/split_words.hpp"

namespace telltale::host {
namespace {

template <std::size_t N>
bool is_one_of(std::string_view word,
               const std::array<std::string_view, N>& list) {
  return std::find(list.begin(), list.end(), word) != list.end();
}

constexpr std::array<std::string_view, 14> kAbove = {
    "high", "hi",   "over", "above", "overload", "hoch", "zu_hoch",
    "haut", "alto", "alta", "hoog",  "uber",     "max",  "hh"};
constexpr std::array<std::string_view, 14> kBelow = {
    "low",  "lo",   "under", "below", "tief", "niedrig", "bas",
    "baja", "bajo", "bassa", "basso", "laag", "unter",   "min"};
constexpr std::array<std::string_view, 13> kNothing = {
    "alarm", "alm",  "warning", "warn",  "pre",   "prealarm", "fault",
    "too",   "very", "zu",      "range", "limit", "active"};

std::optional<AlarmClue> clue_of_text(std::string_view text) {
  AlarmClue clue;
  bool directed = false;
  std::string rest;
  for (const std::string& word : split_words(text)) {
    if (is_one_of(word, kAbove) || is_one_of(word, kBelow)) {
      if (directed && clue.above != is_one_of(word, kAbove)) return {};
      directed = true;
      clue.above = is_one_of(word, kAbove);
      if (word == "overload") rest += " load";
    } else if (!is_one_of(word, kNothing)) {
      rest += ' ' + word;
    }
  }
  if (!directed) return std::nullopt;
  const auto claims = claims_of(parse_header(rest));
  if (claims.empty()) return std::nullopt;
  clue.channel = claims.front().channel;
  return clue;
}

}  // namespace

std::optional<AlarmClue> clue_of(const AlarmName& alarm) {
  if (const auto clue = clue_of_text(alarm.name)) return clue;
  return clue_of_text(alarm.text);
}

}  // namespace telltale::host

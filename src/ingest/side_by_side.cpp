// Sets by their places and numbers.
#include "ingest/side_by_side.hpp"

#include <algorithm>
#include <array>
#include <map>
#include <optional>
#include <set>
#include <string_view>

#include "ingest/channel_match.hpp"

namespace telltale::host {
namespace {

constexpr std::size_t kMostSets = 8;

struct Side {
  std::string_view spellings;  // parted by blanks
  std::string_view key;
};
constexpr std::array kSides = {
    Side{"port babord backbord bb", "Port"},
    Side{"stbd starboard stb steuerbord tribord styrbord sb", "Starboard"},
    Side{"centre center middle", "Centre"},
    Side{"fwd forward", "Forward"},
    Side{"aft", "Aft"},
};
// Words that a set's number stands behind.
constexpr std::array<std::string_view, 18> kSetWords = {
    "generator", "gen",    "genset", "dg",     "gs",     "g",
    "ge",        "set",    "unit",   "engine", "eng",    "motor",
    "aggregat",  "moteur", "groupe", "grupo",  "gruppo", "me"};

bool holds_word(std::string_view words, std::string_view word) {
  while (!words.empty()) {
    const std::size_t end = std::min(words.find(' '), words.size());
    if (words.substr(0, end) == word) return true;
    words.remove_prefix(std::min(end + 1, words.size()));
  }
  return false;
}

bool is_small_number(std::string_view token) {
  return !token.empty() && token.size() <= 2 &&
         std::all_of(token.begin(), token.end(),
                     [](char c) { return c >= '0' && c <= '9'; });
}

bool is_set_word(std::string_view token) {
  return std::find(kSetWords.begin(), kSetWords.end(), token) !=
         kSetWords.end();
}

/// What a header says of its set.
struct Marker {
  std::string key;   // the same for all columns of a set
  std::string name;  // for people
};

// "G1" and "gen 1" by their number, places by their side.
std::optional<Marker> marker_of(const std::vector<std::string>& tokens) {
  for (std::size_t i = 0; i < tokens.size(); ++i) {
    const std::string& token = tokens[i];
    for (const Side& side : kSides) {
      if (holds_word(side.spellings, token)) {
        return Marker{std::string(side.key), std::string(side.key)};
      }
    }
    const std::size_t digit = token.find_first_of("0123456789");
    const std::string word = token.substr(0, digit);
    if (!is_set_word(word)) continue;
    std::string number;
    if (digit != std::string::npos) {
      number = token.substr(digit);
    } else if (i + 1 < tokens.size()) {
      number = tokens[i + 1];
    }
    if (is_small_number(number)) return Marker{number, "Set " + number};
  }
  return std::nullopt;
}

// Channels that columns of each key claim.
using Claims = std::map<std::string, std::set<Channel>>;

bool shares_a_channel(const Claims& claims, const std::string& key) {
  const std::set<Channel>& own = claims.at(key);
  return std::any_of(claims.begin(), claims.end(), [&](const auto& other) {
    return other.first != key &&
           std::any_of(own.begin(), own.end(), [&](Channel channel) {
             return other.second.contains(channel);
           });
  });
}

}  // namespace

void name_sets(std::vector<Column>& columns) {
  Claims claims;
  std::vector<std::optional<Marker>> markers;
  for (const Column& column : columns) {
    markers.push_back(marker_of(column.header.tokens));
    if (!markers.back()) continue;
    const auto claimed = claims_of(column.header);
    if (!claimed.empty()) {
      claims[markers.back()->key].insert(claimed.front().channel);
    }
  }
  if (claims.size() < 2 || claims.size() > kMostSets) return;
  for (const auto& [key, channels] : claims) {
    if (!shares_a_channel(claims, key)) return;
  }
  for (std::size_t i = 0; i < columns.size(); ++i) {
    if (markers[i] && claims.contains(markers[i]->key)) {
      columns[i].plan.set = markers[i]->name;
      columns[i].header.numbered = false;  // the number was the set's
    }
  }
}

std::vector<std::string> sets_in_use(const std::vector<Column>& columns) {
  std::vector<std::string> sets = sets_of(columns);
  std::erase_if(sets, [&columns](const std::string& set) {
    return std::none_of(columns.begin(), columns.end(), [&](const Column& c) {
      return c.plan.set == set && c.plan.role != Role::ignored;
    });
  });
  return sets;
}

std::vector<std::string> sets_of(const std::vector<Column>& columns) {
  std::vector<std::string> names;
  for (const Column& column : columns) {
    const std::string& name = column.plan.set;
    if (!name.empty() &&
        std::find(names.begin(), names.end(), name) == names.end()) {
      names.push_back(name);
    }
  }
  return names;
}

}  // namespace telltale::host

// Matching of header words with the words of channels.def.
#include "ingest/channel_match.hpp"

#include <algorithm>
#include <set>
#include <string_view>

#include "ingest/split_words.hpp"
#include "ingest/words.hpp"

namespace telltale::host {
namespace {

struct Alternative {
  Channel channel;
  std::set<std::string> words;
};

void add_alternatives(Channel channel, std::string_view text,
                      std::vector<Alternative>& all) {
  while (!text.empty()) {
    const std::size_t end = std::min(text.find(';'), text.size());
    Alternative alternative{channel, {}};
    for (const std::string& word : split_words(text.substr(0, end))) {
      // The table folds these words as it folds a header's.
      if (const auto meaning = look_up_word(word)) {
        for (const HeaderWord& part : *meaning) {
          if (part.kind == WordKind::concept_word) {
            alternative.words.insert(part.text);
          }
        }
      } else {
        alternative.words.insert(word);
      }
    }
    if (!alternative.words.empty()) all.push_back(std::move(alternative));
    text.remove_prefix(std::min(end + 1, text.size()));
  }
}

const std::vector<Alternative>& alternatives() {
  static const std::vector<Alternative> all = [] {
    std::vector<Alternative> built;
    for (const ChannelInfo& info : kChannels) {
      add_alternatives(info.channel, info.words, built);
      add_alternatives(info.channel, more_words_for(info.slug), built);
    }
    return built;
  }();
  return all;
}

bool unit_fits(const HeaderName& name, Channel channel) {
  if (!name.unit) return true;
  const LogUnit unit = name.unit->unit;
  if (unit == LogUnit::none || unit == LogUnit::kVA) return false;
  return conversion(unit, info_of(channel).unit).has_value();
}

}  // namespace

std::vector<ChannelClaim> claims_of(const HeaderName& name) {
  std::vector<ChannelClaim> claims;
  if (!name.foreign.empty()) return claims;
  for (const Alternative& alternative : alternatives()) {
    int explicit_words = 0;
    int implied_words = 0;
    bool all = true;
    for (const std::string& word : alternative.words) {
      if (name.concepts.contains(word)) {
        ++explicit_words;
      } else if (word == name.implied) {
        ++implied_words;
      } else {
        all = false;
      }
    }
    if (!all || !unit_fits(name, alternative.channel)) continue;
    int left_over = 0;
    bool contradicts = false;
    for (const std::string& word : name.concepts) {
      if (alternative.words.contains(word)) continue;
      ++left_over;
      contradicts |= !may_be_left_over(word);
    }
    const auto unknown = static_cast<int>(name.unknown.size());
    if (contradicts || (unknown > 0 && explicit_words < 2)) continue;
    ChannelClaim claim{alternative.channel,
                       10 * explicit_words + 6 * implied_words - 4 * unknown -
                           left_over - (name.numbered ? 2 : 0) -
                           (name.concepts.contains("average") ? 2 : 0),
                       "its header"};
    const auto same = std::find_if(
        claims.begin(), claims.end(),
        [&](const ChannelClaim& c) { return c.channel == claim.channel; });
    if (same == claims.end()) {
      claims.push_back(std::move(claim));
    } else if (same->score < claim.score) {
      *same = std::move(claim);
    }
  }
  std::stable_sort(claims.begin(), claims.end(),
                   [](const ChannelClaim& a, const ChannelClaim& b) {
                     return a.score > b.score;
                   });
  return claims;
}

}  // namespace telltale::host

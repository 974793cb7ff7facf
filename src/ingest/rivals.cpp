// Settling of rival claims.
#include "ingest/rivals.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <string_view>

namespace telltale::host {
namespace {

bool always_missing(const Column& column) { return column.stats.numbers == 0; }

bool same_readings(const Column& a, const Column& b) {
  return a.stats.values == b.stats.values && a.stats.numbers > 0;
}

std::string quoted_headers(const std::vector<Column>& columns,
                           const std::vector<Bid>& bids) {
  std::string text;
  for (std::size_t i = 0; i < bids.size(); ++i) {
    if (i > 0) text += i + 1 == bids.size() ? " and " : ", ";
    text += fmt::format("{} (\"{}\")", bids[i].column + 1,
                        columns[bids[i].column].header.text);
  }
  return text;
}

}  // namespace

std::optional<std::size_t> settle(std::vector<Column>& columns,
                                  std::vector<Bid> bids,
                                  std::vector<std::string>& notes) {
  const Channel channel = bids.front().claim.channel;
  const std::string_view slug = info_of(channel).slug;
  // A column without any reading can't be meant where another has some.
  const bool some_live = std::any_of(
      bids.begin(), bids.end(),
      [&](const Bid& b) { return !always_missing(columns[b.column]); });
  if (some_live) {
    std::erase_if(bids, [&](const Bid& bid) {
      Column& column = columns[bid.column];
      if (!always_missing(column)) return false;
      column.use.why = fmt::format("would be {}, but holds no reading", slug);
      return true;
    });
  }
  std::stable_sort(bids.begin(), bids.end(), [](const Bid& a, const Bid& b) {
    return a.claim.score > b.claim.score;
  });
  if (bids.size() == 1) return bids.front().column;
  const int best = bids[0].claim.score;
  const bool tie = bids[1].claim.score >= best - 1;
  if (!tie) {
    for (std::size_t i = 1; i < bids.size(); ++i) {
      columns[bids[i].column].use.why =
          fmt::format("\"{}\" is the better match for {}",
                      columns[bids[0].column].header.text, slug);
    }
    columns[bids[0].column].use.why = fmt::format(
        "better match than \"{}\"", columns[bids[1].column].header.text);
    return bids.front().column;
  }
  const bool equal = std::all_of(bids.begin(), bids.end(), [&](const Bid& bid) {
    return same_readings(columns[bids[0].column], columns[bid.column]);
  });
  if (equal) {
    for (std::size_t i = 1; i < bids.size(); ++i) {
      columns[bids[i].column].use.why =
          fmt::format("the same readings as column {}", bids[0].column + 1);
    }
    return bids.front().column;
  }
  for (const Bid& bid : bids) {
    columns[bid.column].use.why =
        fmt::format("one of {} columns that could be {}", bids.size(), slug);
  }
  std::string lines;
  for (const Bid& bid : bids) {
    if (!lines.empty()) lines += " or ";
    lines += fmt::format("[[column]] index = {}, channel = \"{}\"",
                         bid.column + 1, slug);
  }
  notes.push_back(fmt::format(
      "columns {} could all be {}; none is used. A map settles it: {}",
      quoted_headers(columns, bids), slug, lines));
  return std::nullopt;
}

}  // namespace telltale::host

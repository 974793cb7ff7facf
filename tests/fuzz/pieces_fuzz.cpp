// libFuzzer target over the small pieces of reading, each against a twin or a
// rule: records pulled and pushed, stamps fast and plain, numbers and strtod,
// texts made printable, headers and units.
#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <string>
#include <vector>

#include "ingest/byte_store.hpp"
#include "ingest/channel_match.hpp"
#include "ingest/csv_source.hpp"
#include "ingest/header_name.hpp"
#include "ingest/line_buffer.hpp"
#include "ingest/missing.hpp"
#include "ingest/stamp_reader.hpp"
#include "ingest/text_columns.hpp"
#include "ingest/unit_text.hpp"
#include "support/number.hpp"
#include "support/safe_text.hpp"

namespace {

using namespace telltale::host;

void require(bool holds) {
  if (!holds) std::abort();
}

// Pulled from a store and pushed in pieces, records are the same.
void fuzz_records(std::string_view bytes, std::size_t step) {
  const EncodingGuess encoding = guess_encoding(bytes);
  const auto store = ByteStore::of_memory(std::string(bytes), "fuzz");
  if (store->compressed()) return;
  CsvSource pulled(store->cursor(), encoding, ',');
  LineBuffer pushed(encoding, ',');
  for (std::size_t at = 0; at < bytes.size(); at += step) {
    pushed.feed(bytes.substr(at, step));
  }
  pushed.close();
  Record a;
  Record b;
  std::vector<Cell> cells;
  while (pulled.next(a)) {
    require(pushed.next(b));
    require(a.text() == b.text());
    require(a.line == b.line && a.lines == b.lines);
    require(a.quoting == b.quoting && a.has_nul == b.has_nul);
    cut_cells(a, ',', cells);
    unquote_cells(a, cells);
    for (const Cell cell : cells) {
      require(cell.data() >= a.begin && cell.data() + cell.size() <= a.end);
    }
  }
  require(!pushed.next(b));
}

void fuzz_stamps(std::string_view bytes) {
  const std::size_t end = std::min(bytes.find('\n'), bytes.size());
  const std::string_view first = bytes.substr(0, end);
  for (const bool digits : {false, true}) {
    for (const std::string& pattern : guess_patterns(first, digits)) {
      const auto style = stamp_style_named(pattern);
      require(style.has_value());
      auto fast = StampReader::of(*style, '.');
      require(fast.has_value());
      std::string_view rest = bytes;
      while (!rest.empty()) {
        const std::size_t stop = std::min(rest.find('\n'), rest.size());
        std::int64_t x = 0;
        std::int64_t y = 0;
        bool zone_x = false;
        bool zone_y = false;
        const std::string_view text = rest.substr(0, stop);
        const bool got = fast->read(text, x, zone_x);
        require(got == fast->read_plainly(text, y, zone_y));
        require(!got || (x == y && zone_x == zone_y));
        rest.remove_prefix(std::min(stop + 1, rest.size()));
      }
    }
  }
  (void)parse_elapsed(first);
  (void)parse_zone(first);
  (void)StampFormat::compile(first);
}

void fuzz_numbers(std::string_view bytes) {
  const std::string text(bytes.substr(0, 64));
  if (const auto value = parse_number(text)) {
    require(std::isfinite(*value));
    require(*value == std::strtod(text.c_str(), nullptr));
  }
  if (const auto comma = parse_number(text, ',')) {
    std::string point = text;
    for (char& c : point) c = c == ',' ? '.' : c;
    require(*comma == std::strtod(point.c_str(), nullptr));
  }
  for (const char mark : {'.', ','}) {
    (void)parse_grouped_number(text, mark, Grouping::proven);
    (void)parse_number_prefix(text, mark);
  }
}

void fuzz_texts(std::string_view bytes) {
  const std::string shown = printable(bytes, 200);
  require(is_utf8(shown) && shown.size() <= 203);
  for (const char c : shown) {
    const auto byte = static_cast<unsigned char>(c);
    require(byte >= 0x20 && byte != 0x7F);
  }
  require(csv_cell(bytes).size() >= bytes.size());
  require(html(bytes).find('<') == std::string::npos);
  const HeaderName name = parse_header(bytes);
  for (const ChannelClaim& claim : claims_of(name)) {
    require(claim.channel != telltale::Channel::none);
  }
  (void)unit_of_text(bytes);
  (void)is_missing_word(bytes);
  (void)state_of_text(bytes);
  (void)means_no_alarm(bytes);
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data,
                                      std::size_t size) {
  if (size < 2) return 0;
  const unsigned choice = data[0];
  const std::string_view bytes(reinterpret_cast<const char*>(data) + 1,
                               size - 1);
  switch (choice & 3U) {
    case 0:
      fuzz_records(bytes, 1 + (choice >> 2));
      break;
    case 1:
      fuzz_stamps(bytes);
      break;
    case 2:
      fuzz_numbers(bytes);
      break;
    default:
      fuzz_texts(bytes);
  }
  return 0;
}

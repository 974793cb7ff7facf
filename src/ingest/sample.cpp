// Taking samples.
#include "ingest/sample.hpp"

#include <algorithm>

namespace telltale::host {
namespace {

// Reads records into the sample until a limit; returns the bytes taken.
std::size_t read_records(CsvSource& source, std::size_t most_records,
                         std::size_t most_bytes, bool lines_known,
                         Sample& sample, bool& at_end) {
  Record record;
  std::size_t bytes = 0;
  std::size_t count = 0;
  at_end = false;
  while (count < most_records && bytes < most_bytes) {
    if (!source.next(record)) {
      at_end = true;
      break;
    }
    SampleRecord kept;
    // A line of megabytes is no row; its first part is enough.
    kept.text = record.text().substr(0, kHeadBytes / 4);
    kept.line = lines_known ? record.line : 0;
    kept.follows = count > 0 || lines_known;
    kept.shape = record;
    kept.shape.begin = kept.shape.end = nullptr;
    sample.any_nul |= record.has_nul;
    bytes += kept.text.size() + 1;
    sample.records.push_back(std::move(kept));
    ++count;
  }
  return bytes;
}

}  // namespace

Sample take_sample(const ByteStore& store, EncodingGuess encoding) {
  Sample sample;
  std::string first(std::size_t{16} << 10, '\0');
  first.resize(store.cursor()->read(first.data(), first.size()));
  sample.any_line_feed = first.find('\n') != std::string::npos;
  std::size_t head_bytes = 0;
  {
    CsvSource source(store.cursor(), encoding);
    head_bytes = read_records(source, kHeadRecords, kHeadBytes, true, sample,
                              sample.whole);
    sample.head_records = sample.records.size();
    if (sample.whole || store.compressed()) return sample;
  }
  // Stretches at even distances; the last reaches the log's end. A record that
  // spans several lines may be cut: such records have the wrong width.
  const bool wide = encoding.encoding == Encoding::utf16le ||
                    encoding.encoding == Encoding::utf16be;
  const std::uint64_t start = wide ? head_bytes * 2 : head_bytes;
  if (start >= store.size()) return sample;
  const std::uint64_t step = (store.size() - start) / kStretches;
  for (std::size_t i = 1; i <= kStretches; ++i) {
    std::uint64_t offset = start + step * i;
    if (i == kStretches) {
      const std::uint64_t tail = std::uint64_t{16} << 10;
      offset = std::max(start, store.size() - std::min(tail, store.size()));
    }
    if (wide) offset &= ~std::uint64_t{1};
    CsvSource source(store.cursor(offset), {encoding.encoding, 0});
    Record cut;
    if (!source.next(cut)) break;  // the rest of a line
    bool at_end = false;
    const std::size_t most = i == kStretches ? kTailRecords : kStretchRecords;
    read_records(source, most, kStretchBytes, false, sample, at_end);
  }
  return sample;
}

std::vector<std::string> cells_of(const SampleRecord& record, char delimiter) {
  std::string text = record.text;
  text.push_back('\0');
  Record whole = record.shape;
  whole.begin = text.data();
  whole.end = text.data() + text.size() - 1;
  whole.quoting = quoting_of(record.text, delimiter);
  std::vector<Cell> cells;
  cut_cells(whole, delimiter, cells);
  unquote_cells(whole, cells);
  return {cells.begin(), cells.end()};
}

}  // namespace telltale::host

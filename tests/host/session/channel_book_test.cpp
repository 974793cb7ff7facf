// Figures added up by the block against a summary that gets every reading at
// once.
#include "session/channel_book.hpp"

#include <array>
#include <random>

#include "catch.hpp"

namespace telltale::host {
namespace {

constexpr ChannelMask kTwo =
    bit(Channel::frequency) | bit(Channel::oil_pressure);

void check_same(const ChannelFigures& a, const ChannelFigures& b) {
  CHECK(a.samples == b.samples);
  CHECK(a.mean == b.mean);
  CHECK(a.sd == b.sd);
  CHECK(a.min == b.min);
  CHECK(a.p05 == b.p05);
  CHECK(a.median == b.median);
  CHECK(a.p95 == b.p95);
  CHECK(a.max == b.max);
}

/// A run of so many scans; oil pressure is missing in some, the last twenty
/// are a stop.
void run(ChannelBook& book, int scans, unsigned seed) {
  std::minstd_rand chance(seed);
  ChannelSummary hertz;
  ChannelSummary oil;
  for (int i = 0; i < scans; ++i) {
    const TimeMs at{i * 1000};
    const auto up_to = [&chance](unsigned most) {
      return static_cast<double>(chance() % most);
    };
    std::array<double, kChannelCount> values{};
    values[index_of(Channel::frequency)] = 60.0 + 0.01 * up_to(50);
    values[index_of(Channel::oil_pressure)] = 300.0 + 1e-4 * up_to(99999);
    const bool both = chance() % 5 != 0;
    JudgedScan scan;
    scan.at = at;
    scan.read(both ? kTwo : bit(Channel::frequency), values);
    if (i < scans - 20) {
      book.add(scan);
      hertz.add(at, values[index_of(Channel::frequency)]);
      if (both) oil.add(at, values[index_of(Channel::oil_pressure)]);
    } else {
      book.touch(at, scan.good);
      hertz.touch(at);
      if (both) oil.touch(at);
    }
  }
  const FiguresByChannel figures = book.finish();
  REQUIRE(figures[index_of(Channel::frequency)]);
  check_same(*figures[index_of(Channel::frequency)], hertz.finish());
  REQUIRE(figures[index_of(Channel::oil_pressure)]);
  check_same(*figures[index_of(Channel::oil_pressure)], oil.finish());
  CHECK_FALSE(figures[index_of(Channel::engine_speed)]);
}

TEST_CASE("channel book: as a summary that gets every reading") {
  ChannelBook book;
  unsigned seed = 1;
  // A block and less, whole blocks, and many; the runs follow each other.
  for (const int scans : {40, 256, 257, 512, 20'000, 30}) {
    INFO(scans << " scans");
    run(book, scans, seed++);
  }
}

TEST_CASE("channel book: a run without readings has no figures") {
  ChannelBook book;
  const FiguresByChannel figures = book.finish();
  for (std::size_t i = 0; i < kChannelCount; ++i) CHECK_FALSE(figures[i]);
}

}  // namespace
}  // namespace telltale::host

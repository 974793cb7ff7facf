#include "ingest/row_tally.hpp"

#include "catch.hpp"
#include "ingest/duplicate_set.hpp"

namespace telltale::host {
namespace {

TEST_CASE("lines are counted by what became of them") {
  RowTally tally;
  tally.add(LineFate::header, 1, 1);
  tally.add(LineFate::accepted, 2, 1);
  tally.add(LineFate::accepted, 3, 3);
  tally.add(LineFate::bad_time, 9, 1);
  tally.add(LineFate::bad_time, 7, 2);
  CHECK(tally.lines == 8);
  CHECK(tally.accepted == 4);
  CHECK(tally.skipped == 1);
  CHECK(tally.rejected == 3);
  tally.change(LineFate::duplicate, 3, 3);
  CHECK(tally.accepted == 1);
  CHECK(tally.skipped == 4);
  CHECK(tally.lines == 8);
  const auto reasons = tally.reasons();
  REQUIRE(reasons.size() == 3);
  CHECK(reasons[0].fate == LineFate::bad_time);  // rejects come first
  CHECK(reasons[0].first_line == 7);
  CHECK(reasons[1].fate == LineFate::duplicate);
}

TEST_CASE("every fate has words") {
  for (std::size_t i = 0; i < kLineFates; ++i) {
    CHECK_FALSE(text_of(static_cast<LineFate>(i)).empty());
  }
}

TEST_CASE("fingerprints tell texts apart by any byte and their length") {
  const std::string text = "2026-06-01 08:00:00,1800,41,180,13.9,60.0,7.1,abc";
  const std::uint64_t print = fingerprint(text, 0);
  CHECK(fingerprint(text, 0) == print);
  CHECK(fingerprint(text, 1) != print);
  for (std::size_t i = 0; i < text.size(); ++i) {
    std::string other = text;
    other[i] ^= 1;
    CHECK(fingerprint(other, 0) != print);
    CHECK(fingerprint(text.substr(0, i), 0) != print);
  }
  CHECK(fingerprint(std::string(7, '\0'), 0) != fingerprint("", 0));
}

TEST_CASE("the last hundred thousand fingerprints are remembered") {
  DuplicateSet seen;
  constexpr std::uint64_t kMany = 3 * DuplicateSet::kGeneration;
  for (std::uint64_t i = 0; i < kMany; ++i) {
    seen.insert(i * 0x9E3779B97F4A7C15U);
    if (i % 50000 == 7) CHECK(seen.contains((i - 3) * 0x9E3779B97F4A7C15U));
  }
  for (std::uint64_t i = kMany - DuplicateSet::kGeneration; i < kMany; ++i) {
    REQUIRE(seen.contains(i * 0x9E3779B97F4A7C15U));
  }
  CHECK_FALSE(seen.contains(12345));
  seen.insert(0);
  CHECK(seen.contains(0));
}

}  // namespace
}  // namespace telltale::host

// The first pass over a long log, in halves and in one.
#include "session/first_pass.hpp"

#include <fmt/format.h>

#include <cmath>
#include <string>
#include <vector>

#include "catch.hpp"
#include "ingest/byte_store.hpp"

namespace telltale::host {
namespace {

// Above 8 MB. The second half runs at more load than the first; with
// `switched` its columns stand in another order, and so do those of the last
// part of the first half.
std::string long_log(bool switched) {
  constexpr int kRows = 240'000;
  std::string text = "time,rpm,hz,volts l1,volts l2,power (kW)\n";
  for (int i = 0; i < kRows; ++i) {
    const bool late = i >= kRows / 3;
    if (switched && i == kRows / 3) {
      text += "time,volts l1,volts l2,hz,rpm,power (kW)\n";
    }
    const double kw = (i < kRows / 2 ? 3.0 : 5.0) + 0.5 * std::sin(i / 50.0);
    text += switched && late
                ? fmt::format("{},120.{},119.{},60.0{},1800,{:.2f}\n",
                              1'780'300'800 + 10 * i, i % 7, i % 9, i % 10, kw)
                : fmt::format("{},1800,60.0{},120.{},119.{},{:.2f}\n",
                              1'780'300'800 + 10 * i, i % 10, i % 7, i % 9, kw);
  }
  return text;
}

Log opened(const std::string& text) {
  auto log = Log::open(ByteStore::of_memory(text, "made.csv"), {});
  REQUIRE(log);
  REQUIRE(log->layout().bytes > (8U << 20));
  return std::move(*log);
}

struct Told {
  Profile profile;
  std::vector<std::string> sentences;
};
Told told(const Inference& unit) {
  Told out;
  out.profile = unit.complete({}, out.sentences);
  return out;
}
Told first_pass_of(const Log& log, Threads threads) {
  const auto units = first_pass(log, threads);
  REQUIRE(units);
  REQUIRE(units->size() == 1);
  return told(units->front());
}
/// All rows, one after the other.
Told in_one(const Log& log) {
  auto rows = log.rows(kInferenceChannels);
  REQUIRE(rows);
  Inference unit;
  Row row;
  while (rows->next(row)) unit.add(row);
  return told(unit);
}

TEST_CASE("the first pass finds in halves what it finds in one") {
  const Log log = opened(long_log(false));
  REQUIRE(log.middle());
  const Told halves = first_pass_of(log, Threads::more);
  CHECK(first_pass_of(log, Threads::one).sentences == halves.sentences);
  const Told whole = in_one(log);
  CHECK(halves.sentences.size() == whole.sentences.size());
  CHECK(halves.profile.rating.frequency_hz == 60.0F);
  CHECK(halves.profile.rating.poles == 4);
  CHECK(halves.profile.rating.voltage_v == 240.0F);
  // Of the second half's load, not the first's.
  CHECK(halves.profile.load_scale_kw == whole.profile.load_scale_kw);
  CHECK(halves.profile.load_scale_kw == Approx(5.5F).epsilon(0.02));
}

TEST_CASE("the first pass goes on in one where another header came") {
  const Log log = opened(long_log(true));
  REQUIRE(log.middle());
  const Told found = first_pass_of(log, Threads::more);
  CHECK(found.sentences == in_one(log).sentences);
  CHECK(found.profile.rating.poles == 4);
  CHECK(first_pass_of(log, Threads::one).sentences == found.sentences);
}

TEST_CASE("inference: what follows is appended") {
  Inference first;
  Inference second;
  Inference both;
  const auto add = [](Inference& to, int i, double hz) {
    Row row;
    row.at = row.logged = TimeMs{1000LL * i};
    row.present = bit(Channel::frequency) | bit(Channel::power);
    row.value[index_of(Channel::frequency)] = hz;
    row.value[index_of(Channel::power)] = hz / 10.0;
    to.add(row);
  };
  // Ten times as many at 50 Hz: the sample must keep the proportion, whose
  // median it is.
  for (int i = 0; i < 3000; ++i) add(first, i, 60.0);
  for (int i = 3000; i < 33'000; ++i) add(second, i, 50.0);
  SECTION("more behind") { first.append(second); }
  SECTION("more before") {
    std::swap(first, second);
    first.append(second);
  }
  CHECK(told(first).profile.rating.frequency_hz == 50.0F);
  CHECK(told(first).profile.load_scale_kw == Approx(6.0F));
}

}  // namespace
}  // namespace telltale::host

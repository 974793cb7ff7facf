// The first pass over a long log, of which it looks at a sample.
#include "session/first_pass.hpp"

#include <fmt/format.h>

#include <cmath>
#include <string>
#include <vector>

#include "catch.hpp"
#include "ingest/byte_store.hpp"

namespace telltale::host {
namespace {

// Above 8 MB in any of the ways it may be written.
std::string long_log(char delimiter, const char* line_end) {
  std::string text = fmt::format(
      "time{0}rpm{0}hz{0}volts l1{0}volts l2{0}"
      "power (kW){1}",
      delimiter, line_end);
  for (int i = 0; i < 240'000; ++i) {
    const double kw = (i < 120'000 ? 3.0 : 5.0) + 0.5 * std::sin(i / 50.0);
    text += fmt::format("{1}{0}1800{0}60.0{2}{0}120.{3}{0}119.{4}{0}{5:.2f}{6}",
                        delimiter, 1'780'300'800 + i, i % 10, i % 7, i % 9, kw,
                        line_end);
  }
  return text;
}

struct Told {
  Profile profile;
  std::vector<std::string> sentences;
};
Told first_pass_of(const std::string& text, Threads threads) {
  const auto log = Log::open(ByteStore::of_memory(text, "made.csv"), {});
  REQUIRE(log);
  REQUIRE(log->layout().bytes > (8U << 20));
  const auto units = first_pass(*log, threads);
  REQUIRE(units);
  REQUIRE(units->size() == 1);
  Told out;
  out.profile = units->front().complete({}, out.sentences);
  return out;
}

TEST_CASE("the first pass finds the same however it goes about it") {
  const std::string text = long_log(',', "\n");
  const Told told = first_pass_of(text, Threads::more);
  CHECK(told.profile.rating.frequency_hz == 60.0F);
  CHECK(told.profile.rating.poles == 4);
  CHECK(told.profile.rating.voltage_v == 240.0F);
  // Means of a minute swing by a little less than readings do.
  CHECK(told.profile.load_scale_kw == Approx(5.47F).epsilon(0.01));
  CHECK(first_pass_of(text, Threads::one).sentences == told.sentences);
  const Told other = first_pass_of(long_log(';', "\r\n"), Threads::more);
  CHECK(other.sentences == told.sentences);
  CHECK(other.profile.load_scale_kw == told.profile.load_scale_kw);
}

}  // namespace
}  // namespace telltale::host

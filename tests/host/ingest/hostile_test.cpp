// Logs that nobody means well: no crash, no hang, bounded memory, one clear
// error or counted rejects.
#include <fmt/format.h>
#include <malloc.h>

#include <cmath>
#include <cstdio>
#include <optional>
#include <random>
#include <string>
#include <vector>

#include "catch.hpp"
#include "ingest/columns_text.hpp"
#include "ingest/log_json.hpp"
#include "log_writer.hpp"
#include "read_log.hpp"

namespace telltale::host {
namespace {

using test::TempFile;

// Opens and reads whatever it is; checks what must hold of every log.
void survive(std::string_view bytes) {
  const TempFile file(bytes);
  auto log = Log::open(file.path(), {});
  if (!log) {
    CHECK_FALSE(log.error().what.empty());
    CHECK(log.error().where == file.path());
    CHECK(log.error().line().find('\n') == std::string::npos);
    return;
  }
  auto reader = log->rows();
  REQUIRE(reader);
  std::vector<TimeMs> last(300, kNoTime);
  Row row;
  std::uint64_t rows = 0;
  while (reader->next(row)) {
    ++rows;
    REQUIRE(row.unit < last.size());
    REQUIRE(row.at >= last[row.unit]);
    last[row.unit] = row.at;
    REQUIRE((row.present & row.blank) == 0);
    for (std::size_t i = 0; i < kChannelCount; ++i) {
      const bool here = (row.present >> i & 1U) != 0;
      REQUIRE(std::isfinite(row.value[i]) == here);
    }
  }
  const RowTally& tally = reader->tally();
  CHECK(tally.rows == rows);
  CHECK(tally.accepted + tally.rejected + tally.skipped == tally.lines);
  CHECK_FALSE(reader->next(row));
  CHECK_FALSE(columns_table(log->layout(), tally, reader->notes()).empty());
  CHECK_FALSE(log->map().empty());
  LogExtent extent;
  extent.tally = tally;
  CHECK_FALSE(log_json(log->layout(), extent).dump().empty());
}

std::string plain_log(std::size_t rows) {
  return test::write_log(test::made_up_rows(rows), {});
}

TEST_CASE("damaged logs are survived") {
  std::mt19937 random(23);
  for (const auto shape :
       {test::Shape::wide, test::Shape::long_format, test::Shape::pairs}) {
    test::Dialect dialect;
    dialect.shape = shape;
    dialect.embedded_line_breaks = true;
    const std::string good = test::write_log(test::made_up_rows(60), dialect);
    for (int round = 0; round < 120; ++round) {
      std::string bytes = good;
      for (std::size_t hits = 1 + random() % 12; hits > 0; --hits) {
        const std::size_t at = random() % bytes.size();
        switch (random() % 7) {
          case 0:
            bytes[at] = static_cast<char>(random() % 256);
            break;
          case 1:
            bytes.insert(at, 1, '"');
            break;
          case 2:
            bytes.erase(at, random() % 300);
            break;
          case 3:
            bytes.insert(at, bytes.substr(random() % bytes.size(), 400));
            break;
          case 4:
            bytes.insert(at, std::string(random() % 50, '\0'));
            break;
          case 5:
            bytes.insert(at, "\n");
            break;
          default:
            bytes.resize(at + 1);
        }
        if (bytes.empty()) bytes = "x";
      }
      survive(bytes);
    }
  }
}

TEST_CASE("noise is survived") {
  std::mt19937 random(29);
  for (int round = 0; round < 200; ++round) {
    std::string bytes(1 + random() % 4000, '\0');
    constexpr std::string_view kLikely = "0123456789.,;:-\n\r\t| \"TZaps";
    for (char& c : bytes) {
      c = round % 2 == 0 ? static_cast<char>(random() % 256)
                         : kLikely[random() % kLikely.size()];
    }
    survive(bytes);
  }
}

TEST_CASE("five thousand columns are read") {
  std::string text = "time";
  for (int c = 1; c < 5000; ++c) {
    text += c == 2500 ? ",oil_press_kpa" : fmt::format(",spare {}", c);
  }
  for (int r = 0; r < 40; ++r) {
    text += fmt::format("\n2026-06-15 08:00:{:02}", r);
    for (int c = 1; c < 5000; ++c) text += c == 2500 ? ",340" : ",1";
  }
  const auto read = test::read_log(text + "\n");
  CHECK(read.rows.size() == 40);
  CHECK(read.value(39, Channel::oil_pressure) == 340.0);
}

TEST_CASE("a line of many megabytes is one reject, whole in the reject file") {
  const TempFile rejects("");
  ReadOptions options;
  options.rejects_path = rejects.path();
  const std::string log = plain_log(50);
  const std::string line(std::size_t{20} << 20, 'x');
  const std::size_t middle = log.find('\n', log.size() / 2) + 1;
  const auto read = test::read_log(
      log.substr(0, middle) + line + "\n" + log.substr(middle), options);
  CHECK(read.rows.size() == 50);
  CHECK(read.tally.rejected == 1);
  const std::string kept = test::slurp(rejects.path());
  CHECK(kept.size() > line.size());
  CHECK(kept.substr(kept.find('\n') + 1) == line + "\n");
}

TEST_CASE("a file of one endless line is refused") {
  survive(std::string(std::size_t{8} << 20, '7'));
  survive("time,rpm\n" + std::string(std::size_t{8} << 20, ','));
  survive("time,rpm\n\"" + std::string(std::size_t{8} << 20, '\n'));
}

TEST_CASE("zero bytes of a power failure cost the lines they are in") {
  const std::string log = plain_log(80);
  const std::size_t middle = log.find('\n', log.size() / 2) + 1;
  const auto inside =
      test::read_log(log.substr(0, middle) + std::string(4096, '\0') + "\n" +
                     log.substr(middle));
  CHECK(inside.rows.size() == 80);
  CHECK(inside.tally.rejected == 1);
  const auto tail = test::read_log(log + std::string(4096, '\0'));
  CHECK(tail.rows.size() == 80);
  CHECK(tail.tally.rejected == 1);
}

TEST_CASE("numbers and years at the edge are read or refused, never wrapped") {
  const auto read = test::read_log(
      "time,rpm,power kW\n"
      "1970-01-01T00:00:00Z,1800,1e308\n"
      "1970-01-01T00:00:01Z,1800,-1e308\n"
      "1970-01-01T00:00:02Z,1e400,1\n"
      "2106-02-07T06:28:16Z,1800,1\n"
      "9999-12-31T23:59:59Z,1800,1\n"
      "10000-01-01T00:00:00Z,1800,1\n"
      "0000-01-01T00:00:00Z,1800,1\n");
  REQUIRE(read.rows.size() == 5);
  CHECK(read.tally.rejected == 2);
  CHECK(read.rows[2].blank == bit(Channel::engine_speed));
  CHECK(read.rows[3].logged.ms == 4294967296000);
  CHECK(format_time(read.rows[4].logged, read.layout) ==
        "9999-12-31T23:59:59Z");
}

TEST_CASE("a log in which nothing is a number is refused") {
  const Error error = test::open_error("a,b,c\nd,e,f\ng,h,i\n");
  CHECK(error.what.find("number") != std::string::npos);
}

TEST_CASE("mixed delimiters cost only the lines of the other kind") {
  std::string text = "time,rpm,oil kPa\n";
  for (int s = 0; s < 60; ++s) {
    const char d = s % 10 == 9 ? ';' : ',';
    text += fmt::format("2026-06-15 08:00:{:02}{}1800{}300\n", s, d, d);
  }
  const auto read = test::read_log(text);
  CHECK(read.rows.size() == 54);
  CHECK(read.tally.rejected == 6);
}

// Peak memory of this process since reset_peak(), in kB; nothing where the
// system does not tell.
std::optional<long> peak_kb() {
  std::FILE* file = std::fopen("/proc/self/status", "r");
  if (file == nullptr) return std::nullopt;
  char line[256];
  long kb = -1;
  while (std::fgets(line, sizeof line, file) != nullptr) {
    if (std::sscanf(line, "VmHWM: %ld", &kb) == 1) break;
  }
  std::fclose(file);
  return kb > 0 ? std::optional(kb) : std::nullopt;
}

bool reset_peak() {
  ::malloc_trim(0);
  std::FILE* file = std::fopen("/proc/self/clear_refs", "w");
  if (file == nullptr) return false;
  const bool ok = std::fputs("5", file) >= 0;
  return std::fclose(file) == 0 && ok;
}

// The whole program has 64 MB for a log of any size; reading is to take less
// than 25.
TEST_CASE("memory does not grow with the log") {
  const TempFile file("");
  {
    const std::string text = plain_log(400);
    const std::string body = text.substr(text.find('\n') + 1);
    std::FILE* out = std::fopen(file.path().c_str(), "wb");
    std::fwrite(text.data(), 1, text.size(), out);
    for (int i = 0; i < 600; ++i) {
      std::fwrite(body.data(), 1, body.size(), out);
    }
    std::fclose(out);
  }
  if (!reset_peak()) {
    WARN("peak memory can't be reset here: not measured");
    return;
  }
  const auto before = peak_kb();
  REQUIRE(before);
  auto log = Log::open(file.path(), {});
  REQUIRE(log);
  CHECK(log->layout().bytes > std::uint64_t{30} << 20);
  auto reader = log->rows();
  Row row;
  while (reader->next(row)) {
  }
  CHECK(*peak_kb() - *before < 25 * 1024);
}

}  // namespace
}  // namespace telltale::host

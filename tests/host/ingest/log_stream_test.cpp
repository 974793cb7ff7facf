#include "ingest/log_stream.hpp"

#include <fmt/format.h>

#include <string>
#include <vector>

#include "catch.hpp"
#include "log_writer.hpp"
#include "temp_file.hpp"

namespace telltale::host {
namespace {

// A live log gives the rows that the finished file gives, whatever the pieces
// it comes in.
TEST_CASE("rows of a stream are the rows of the file") {
  const std::vector<Row> rows = test::made_up_rows(300);
  for (const auto encoding :
       {test::WideEncoding::utf8_bom, test::WideEncoding::utf16le,
        test::WideEncoding::latin1}) {
    for (const auto ending :
         {test::Ending::lf, test::Ending::crlf, test::Ending::cr}) {
      test::Dialect dialect;
      dialect.encoding = encoding;
      dialect.ending = ending;
      dialect.embedded_line_breaks = true;
      const std::string bytes = test::write_log(rows, dialect);
      const test::TempFile file(bytes);
      auto log = Log::open(file.path(), {});
      REQUIRE(log);
      auto reader = log->rows();
      std::vector<Row> whole;
      Row row;
      while (reader->next(row)) whole.push_back(row);
      for (const std::size_t step : {1U, 7U, 4096U}) {
        const std::size_t head = bytes.size() / 2;
        auto stream = LogStream::sniff(std::string_view(bytes).substr(0, head),
                                       "live", {});
        if (!stream) FAIL(stream.error().line());
        std::vector<Row> live;
        while (stream->next(row)) live.push_back(row);
        const std::size_t early = live.size();
        CHECK(early > 100);  // no waiting for more
        for (std::size_t at = head; at < bytes.size(); at += step) {
          stream->feed(std::string_view(bytes).substr(at, step));
          while (stream->next(row)) live.push_back(row);
        }
        stream->close();
        while (stream->next(row)) live.push_back(row);
        REQUIRE(live.size() == whole.size());
        for (std::size_t i = 0; i < live.size(); ++i) {
          REQUIRE(live[i].logged == whole[i].logged);
          REQUIRE(live[i].at == whole[i].at);
          REQUIRE(live[i].line == whole[i].line);
          REQUIRE(live[i].present == whole[i].present);
        }
        CHECK(stream->tally().lines == reader->tally().lines);
      }
    }
  }
}

TEST_CASE("a row comes out with its line, not later") {
  std::string head = "time,rpm\n";
  for (int s = 0; s < 20; ++s) {
    head += fmt::format("2026-06-01 08:00:{:02},1800\n", s);
  }
  auto stream = LogStream::sniff(head, "live", {});
  REQUIRE(stream);
  Row row;
  int rows = 0;
  while (stream->next(row)) ++rows;
  CHECK(rows == 20);
  stream->feed("2026-06-01 08:00:20,17");
  CHECK_FALSE(stream->next(row));
  stream->feed("99\n");
  REQUIRE(stream->next(row));
  CHECK(row.value[index_of(Channel::engine_speed)] == 1799.0);
  // One row that comes late is dropped, and no clock was set.
  stream->feed("2026-06-01 08:00:15.5,1800\n2026-06-01 08:00:21,1800\n");
  REQUIRE(stream->next(row));
  CHECK(row.clock == ClockEvent::none);
  CHECK_FALSE(stream->next(row));
  CHECK(stream->tally().rejected == 1);
  // A clock that is set back: the next rows show it.
  stream->feed("2026-06-01 07:00:21,1800\n2026-06-01 07:00:22,1800\n");
  for (int s = 23; s < 40; ++s) {
    stream->feed(fmt::format("2026-06-01 07:00:{:02},1800\n", s));
  }
  std::int64_t last = 0;
  int back = 0;
  while (stream->next(row)) {
    back += row.clock == ClockEvent::set_back;
    CHECK(row.at.ms > last);
    last = row.at.ms;
  }
  CHECK(back == 1);
}

TEST_CASE("what can't be watched is refused") {
  test::Dialect dialect;
  dialect.shape = test::Shape::long_format;
  const std::string bytes = test::write_log(test::made_up_rows(40), dialect);
  CHECK_FALSE(LogStream::sniff(bytes, "live", {}));
  CHECK_FALSE(LogStream::sniff("\x89PNG\r\n", "live", {}));
}

// Each refusal names its own way out; of sets side by side the map is one.
TEST_CASE("sets side by side are watched one by one, by a map") {
  std::string bytes = "time,Gen 1 rpm,Gen 2 rpm\n";
  for (int s = 0; s < 20; ++s) {
    bytes += fmt::format("2026-06-01 08:00:{:02},1800,1500\n", s);
  }
  const auto refused = LogStream::sniff(bytes, "live", {});
  REQUIRE_FALSE(refused);
  CHECK(refused.error().what.find("2 sets side by side") != std::string::npos);
  CHECK(refused.error().remedy.find("map") != std::string::npos);
  const test::TempFile map(
      "[[column]]\nheader = \"Gen 1 rpm\"\nchannel = \"ignore\"\n");
  ReadOptions options;
  options.map_path = map.path();
  auto stream = LogStream::sniff(bytes, "live", options);
  REQUIRE(stream);
  Row row;
  REQUIRE(stream->next(row));
  CHECK(row.value[index_of(Channel::engine_speed)] == 1500.0);
}

}  // namespace
}  // namespace telltale::host

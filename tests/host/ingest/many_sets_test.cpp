// A log of a whole fleet: its sets are told apart by name.
#include <fmt/format.h>

#include <string>

#include "catch.hpp"
#include "ingest/byte_store.hpp"
#include "ingest/log.hpp"

namespace telltale::host {
namespace {

TEST_CASE("a hundred sets in one log are told apart") {
  std::string text = "time,set,rpm,hz\n";
  for (int i = 0; i < 2000; ++i) {
    text += fmt::format("{},G{},1500,50.0\n", 1'780'300'800 + i / 100, i % 100);
  }
  const auto log = Log::open(ByteStore::of_memory(text, "made.csv"), {});
  REQUIRE(log);
  auto reader = log->rows();
  REQUIRE(reader);
  Row row;
  while (reader->next(row)) continue;
  CHECK(reader->unit_names().size() == 100);
}

}  // namespace
}  // namespace telltale::host

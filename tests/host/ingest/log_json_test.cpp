#include "ingest/log_json.hpp"

#include <string>

#include "catch.hpp"
#include "log_writer.hpp"
#include "read_log.hpp"

namespace telltale::host {
namespace {

// Contract section 8.
TEST_CASE("the log object has the contract's members in their order") {
  test::Dialect dialect;
  dialect.unknown_columns = true;
  const test::TempFile file(test::write_log(test::made_up_rows(60), dialect));
  auto log = Log::open(file.path(), {});
  REQUIRE(log);
  const auto extent = extent_of(*log);
  REQUIRE(extent);
  const auto json = log_json(log->layout(), *extent);
  std::string members;
  for (const auto& [key, value] : json.items()) members += key + " ";
  CHECK(members ==
        "file bytes rows rejected first last interval_s delimiter encoding "
        "time_format columns notes ");
  CHECK(json["rows"] == 60);
  CHECK(json["rejected"] == 0);
  CHECK(json["first"] == "2026-06-14T23:57:00");
  CHECK(json["last"] == "2026-06-14T23:57:59");
  CHECK(json["delimiter"] == ",");
  CHECK(json["encoding"] == "utf-8");
  CHECK(json["interval_s"] == 1.0);
  REQUIRE(json["columns"].size() == log->layout().columns.size());
  CHECK(json["columns"][0]["channel"] == "time");
  CHECK(json["columns"][0]["unit"].is_null());
  CHECK(json["columns"][1]["channel"] == "engine_speed");
  CHECK(json["columns"][1]["unit"] == "rpm");
  CHECK(json["columns"][3]["channel"].is_null());
  CHECK(json["notes"].size() >= 1);
}

TEST_CASE("what can't be had is null") {
  LogExtent extent;
  const auto json = log_json({}, extent);
  CHECK(json["first"].is_null());
  CHECK(json["last"].is_null());
  CHECK(json["interval_s"].is_null());
}

TEST_CASE("any bytes in a header make valid JSON without control characters") {
  LogLayout layout;
  layout.file = "b\xFF\x01";
  layout.columns.push_back(
      {"\xFF\xFE\x1B[0m", "", Channel::none, LogUnit::none, "\x01"});
  const std::string text = log_json(layout, {}).dump();
  CHECK(nlohmann::json::accept(text));
  CHECK(text.find("\\u001b") == std::string::npos);
}

}  // namespace
}  // namespace telltale::host

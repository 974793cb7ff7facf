#include "ingest/row_decoder.hpp"

#include <string>

#include "catch.hpp"
#include "ingest/header_switch.hpp"

namespace telltale::host {
namespace {

ColumnPlan column(std::string header, Role role,
                  Channel channel = Channel::none,
                  LogUnit unit = LogUnit::none) {
  ColumnPlan plan;
  plan.header = std::move(header);
  plan.role = role;
  plan.channel = channel;
  plan.unit = unit;
  if (role == Role::channel) {
    plan.to_canonical = *conversion(unit, info_of(channel).unit);
  }
  return plan;
}

DecodePlan small_plan() {
  DecodePlan plan;
  plan.columns = {
      column("time", Role::time),
      column("oil", Role::channel, Channel::oil_pressure, LogUnit::psi),
      column("note", Role::ignored)};
  plan.first_columns = plan.columns;
  plan.time = {StampKind::calendar, "%Y-%m-%d %H:%M:%S", 1.0};
  plan.header_line = 1;
  plan.header_text = "time,oil,note";
  plan.header_start = 't';
  return plan;
}

// A record over its own text, as the source would hand it out.
struct OwnRecord {
  explicit OwnRecord(std::string text, std::uint64_t line = 5)
      : bytes(std::move(text)) {
    bytes.push_back('\n');
    record.begin = bytes.data();
    record.end = bytes.data() + bytes.size() - 1;
    record.line = line;
    record.quoting = quoting_of(record.text(), ',');
    record.has_nul = record.text().find('\0') != std::string_view::npos;
  }
  std::string bytes;
  Record record;
};

LineFate fate_of(RowDecoder& decoder, const std::string& text, Row& row) {
  OwnRecord own(text);
  return decoder.decode(own.record, row);
}

TEST_CASE("each record has the fate it deserves") {
  RowDecoder decoder(small_plan());
  Row row;
  CHECK(fate_of(decoder, "2026-06-01 08:00:00,41,x", row) ==
        LineFate::accepted);
  CHECK(row.value[index_of(Channel::oil_pressure)] == Approx(282.685049));
  CHECK(fate_of(decoder, "2026-06-01 08:00:00,41,x,", row) ==
        LineFate::accepted);
  CHECK(fate_of(decoder, "2026-06-01 08:00:00,41,\"a,b\"", row) ==
        LineFate::accepted);
  CHECK(fate_of(decoder, "2026-06-01 08:00:00,41", row) ==
        LineFate::wrong_count);
  CHECK(fate_of(decoder, "2026-06-01 08:00:00,41,x,y", row) ==
        LineFate::wrong_count);
  CHECK(fate_of(decoder, "yesterday,41,x", row) == LineFate::bad_time);
  CHECK(fate_of(decoder, "", row) == LineFate::blank);
  CHECK(fate_of(decoder, " \t\r", row) == LineFate::blank);
  CHECK(fate_of(decoder, ",,", row) == LineFate::blank);
  CHECK(fate_of(decoder, ",,,,,", row) == LineFate::blank);
  CHECK(fate_of(decoder, "time,oil,note", row) == LineFate::header);
  CHECK(fate_of(decoder, "time,oil,note\r\r", row) == LineFate::header);
  CHECK(fate_of(decoder, "# a remark", row) == LineFate::comment);
  CHECK(fate_of(decoder, std::string("2026\0,41,x", 10), row) ==
        LineFate::zero_bytes);
  CHECK(fate_of(decoder, "\"2026-06-01 08:00:00,41,x", row) ==
        LineFate::unclosed_quote);
}

TEST_CASE("a record that is not accepted leaves its text as it was") {
  RowDecoder decoder(small_plan());
  OwnRecord own("yesterday,\"4\"\"1\",x,y");
  const std::string before(own.record.text());
  Row row;
  CHECK(decoder.decode(own.record, row) == LineFate::wrong_count);
  // Unless it was looked at as a header; its bytes up to there are the same.
  CHECK(before.substr(0, 10) == own.record.text().substr(0, 10));
}

TEST_CASE("lines above the header are preamble where they are no rows") {
  DecodePlan plan = small_plan();
  plan.header_line = 10;
  RowDecoder decoder(plan);
  Row row;
  CHECK(fate_of(decoder, "a,b,c", row) == LineFate::preamble);
  CHECK(fate_of(decoder, "title", row) == LineFate::preamble);
  CHECK(fate_of(decoder, "2026-06-01 08:00:00,41,x", row) ==
        LineFate::accepted);
}

TEST_CASE("cells in another unit of the quantity are converted by it") {
  RowDecoder decoder(small_plan());
  Row row;
  const auto value = [&](const char* text) {
    CHECK(fate_of(decoder, std::string("2026-06-01 08:00:00,") + text + ",x",
                  row) == LineFate::accepted);
    return row.value[index_of(Channel::oil_pressure)];
  };
  CHECK(value("41 psi") == Approx(282.685049));
  CHECK(value("2.8 bar") == Approx(280));
  CHECK(value("280kPa") == Approx(280));
  CHECK(std::isnan(value("41 furlongs")));
  REQUIRE(decoder.odd_cells().size() == 1);
  CHECK(decoder.odd_cells()[0].count == 1);
}

TEST_CASE("more units than can be told apart are rejected") {
  DecodePlan plan = small_plan();
  plan.columns[2] = column("unit", Role::unit);
  plan.first_columns = plan.columns;
  RowDecoder decoder(plan);
  Row row;
  for (std::size_t i = 0; i < UnitNames::kMost; ++i) {
    REQUIRE(fate_of(decoder, "2026-06-01 08:00:00,41,set " + std::to_string(i),
                    row) == LineFate::accepted);
    CHECK(row.unit == i);
  }
  CHECK(fate_of(decoder, "2026-06-01 08:00:00,41,one more", row) ==
        LineFate::too_many_units);
  CHECK(fate_of(decoder, "2026-06-01 08:00:00,41,set 7", row) ==
        LineFate::accepted);
}

HeaderSwitch switched(const DecodePlan& plan, std::vector<Cell> cells) {
  return switch_header(plan, cells);
}

TEST_CASE("a later header is known by its names") {
  const DecodePlan plan = small_plan();
  using Kind = HeaderSwitch::Kind;
  CHECK(switched(plan, {"note", "time", "oil"}).kind == Kind::known_header);
  CHECK(switched(plan, {"note", "TIME", "Oil"}).columns[1].role == Role::time);
  CHECK(switched(plan, {"2026-06-01 08:00:00", "41", "x"}).kind ==
        Kind::no_header);
  CHECK(switched(plan, {"41", "42", "43"}).kind == Kind::no_header);
  CHECK(switched(plan, {"name", "size", "colour"}).kind ==
        Kind::unknown_header);
  CHECK(switched(plan, {"one", "two"}).kind == Kind::no_header);
  const HeaderSwitch unit =
      switched(plan, {"time", "Oil Pressure (kPa)", "note"});
  CHECK(unit.kind == Kind::known_header);
  CHECK(unit.columns[1].channel == Channel::oil_pressure);
  CHECK(unit.columns[1].unit == LogUnit::kPa);
}

}  // namespace
}  // namespace telltale::host

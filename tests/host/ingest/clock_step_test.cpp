#include "ingest/clock_step.hpp"

#include <vector>

#include "catch.hpp"

namespace telltale::host {
namespace {

Row row_at(double second, double rpm, double coolant, double hours = -1,
           double starts = -1) {
  Row row;
  row.logged = TimeMs{static_cast<std::int64_t>(second * 1000)};
  const auto set = [&](Channel channel, double value) {
    if (value < 0) return;
    row.value[index_of(channel)] = value;
    row.present |= bit(channel);
  };
  set(Channel::engine_speed, rpm);
  set(Channel::coolant_temperature, coolant);
  set(Channel::engine_hours, hours);
  set(Channel::start_count, starts);
  return row;
}

bool is_step(std::vector<Row> before, std::vector<Row> after) {
  return is_clock_set_forward(before, after);
}

TEST_CASE("a leap at which nothing changes is the clock's doing") {
  CHECK(is_step({row_at(0, 1800, 82), row_at(1, 1801, 82)},
                {row_at(3601, 1800, 82), row_at(3602, 1801, 82)}));
  CHECK(is_step({row_at(1, 1800, 82, 1234.5, 7)},
                {row_at(3601, 1800, 82, 1234.5, 7)}));
  // The meter may tick over just there.
  CHECK(
      is_step({row_at(1, 1800, 82, 1234.5)}, {row_at(3601, 1800, 82, 1234.6)}));
}

TEST_CASE("meter, counter, cold and rest speak for a gap") {
  CHECK_FALSE(
      is_step({row_at(1, 1800, 82, 1234.5)}, {row_at(3601, 1800, 82, 1235.5)}));
  CHECK_FALSE(is_step({row_at(1, 1800, 82, 1234.5, 7)},
                      {row_at(3601, 1800, 82, 1234.5, 8)}));
  CHECK_FALSE(is_step({row_at(1, 1800, 82)}, {row_at(3601, 1800, 35)}));
  CHECK_FALSE(is_step({row_at(1, 0, 82)}, {row_at(3601, 0, 82)}));
  CHECK_FALSE(is_step({row_at(1, 1800, 82)}, {row_at(3601, 0, 82)}));
  CHECK_FALSE(is_step({row_at(1, -1, 82)}, {row_at(3601, -1, 82)}));
}

TEST_CASE("a meter of whole hours says nothing of twenty minutes") {
  CHECK(is_step({row_at(1, 1800, 82, 1234)}, {row_at(1201, 1800, 82, 1234)}));
}

}  // namespace
}  // namespace telltale::host

// UnitHistory: running hours over meters that stop, jump or are changed.
#include "season/history.hpp"

#include "catch.hpp"

namespace telltale::host::season {
namespace {

PastRun run_on(int day, double meter) {
  PastRun run;
  run.start = TimeMs{1'767'225'600'000 + day * std::int64_t{86'400'000}};
  run.seconds = 7200.0;
  run.hours_start = meter;
  return run;
}

TEST_CASE("hours are the meter's") {
  UnitHistory history;
  history.runs = {run_on(0, 100), run_on(1, 102), run_on(5, 110)};
  count_hours(history);
  CHECK(history.metered);
  CHECK(history.runs[2].hours == 110.0);
}

TEST_CASE("a new meter goes on where the old one was") {
  UnitHistory history;
  history.runs = {run_on(0, 4000), run_on(1, 4002), run_on(2, 0), run_on(3, 2)};
  count_hours(history);
  CHECK(history.runs[2].hours == 4004.0);
  CHECK(history.runs[3].hours == 4006.0);
}

TEST_CASE("no set runs more hours than go by") {
  UnitHistory history;
  history.runs = {run_on(0, 100), run_on(1, 9999), run_on(2, 10001)};
  count_hours(history);
  CHECK(history.runs[1].hours == 102.0);
  CHECK(history.runs[2].hours == 104.0);
}

TEST_CASE("without a meter the runs are counted") {
  UnitHistory history;
  history.runs = {run_on(0, kNone), run_on(1, kNone), run_on(2, kNone)};
  count_hours(history);
  CHECK_FALSE(history.metered);
  CHECK(history.runs[2].hours == Approx(4.0));
}

}  // namespace
}  // namespace telltale::host::season

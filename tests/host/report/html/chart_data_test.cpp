// The readings behind the charts: no excursion of a log is lost on the way into
// the page, however many readings share a column. The yardstick is the log.
#include "report/html/chart_data.hpp"

#include <algorithm>
#include <map>
#include <nlohmann/json.hpp>

#include "made_page.hpp"

namespace telltale::test {
namespace {

using Json = nlohmann::json;

/// Tells excursions apart: no two are equally high.
double height(int k) { return 20.0 + 0.01 * k; }

/// Whether some column that covers `t` reaches `value` (to the five digits that
/// are written).
bool reaches(const Json& run, const std::string& track, double t,
             double value) {
  const Json& times = run["t"];
  const Json& data = run["tracks"][track];
  const Json& high = data.contains("hi") ? data["hi"] : data["lo"];
  for (std::size_t i = 0; i < times.size(); ++i) {
    const bool last = i + 1 == times.size();
    if (times[i].get<double>() > t) return false;
    if (!last && times[i + 1].get<double>() <= t) continue;
    return !high[i].is_null() &&
           std::abs(high[i].get<double>() - value) < value * 1e-4;
  }
  return false;
}

}  // namespace

TEST_CASE("chart data: each single reading's excursion is in the page") {
  MadeRun run;
  run.rest(30.0).start().warm().load(50.0, 9000.0).stop();
  std::map<double, double> told;  // seconds since the log began, volts
  for (int k = 0; k < 150; ++k) {
    const double at = 400.0 + 58.0 * k + k % 7;
    run.single(Channel::battery_voltage, at, height(k));
    told[at] = height(k);
  }
  const std::string page = page_of({csv_of(run)});
  const Json data =
      Json::parse(between(page, "id=\"telltale-data\">", "</script>"));
  REQUIRE(data.size() == 1);
  const Json& drawn = data[0];
  // Several readings share a column, or the test would show nothing.
  REQUIRE(drawn["t"].size() < 4000);
  const double start_s =
      MadeRun::seconds_of(TimeMs{drawn["start"].get<std::int64_t>()});
  for (const auto& [at, volts] : told) {
    INFO(at);
    CHECK(reaches(drawn, "battery_voltage", (at - start_s) * 1000.0, volts));
  }
}

}  // namespace telltale::test

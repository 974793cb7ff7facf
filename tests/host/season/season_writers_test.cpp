// The writers of a season report: width, schema, escapes, one story in all.
#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <sstream>

#include "catch.hpp"
#include "noise.hpp"
#include "report/page.hpp"
#include "season/fleet.hpp"
#include "season/season_csv.hpp"
#include "season/season_html.hpp"
#include "season/season_json.hpp"
#include "season/season_text.hpp"
#include "small_digest.hpp"
#include "temp_folder.hpp"

namespace telltale::host::season {
namespace {

/// Six sets of a kind, one of them with falling oil pressure and a name that
/// no format may stumble over.
SeasonReport six_sets() {
  test::TempFolder folder;
  Result<Store> store = Store::open(folder.path() + "/s.db", Access::write);
  REQUIRE(store);
  Noise noise(31);
  for (const char* name : {"=Aft <b>\"1\"</b>, port", "Dunlin", "Heron",
                           "Plover", "Skua", "Tern"}) {
    LogDigest log = small_digest(name, 0, 50);
    for (RunDigest& run : log.runs) {
      const double fall =
          name[0] == '=' ? 0.8 * (run.hours_start - 100.0) : 0.0;
      run.figures[0].value = 300.0 - fall + noise.normal();
      RunFigure volts = run.figures[0];
      volts.kind = FigureKind::charging_voltage;
      volts.basis = "battery";
      volts.value = 14.2 + 0.01 * noise.normal();
      run.figures.push_back(volts);
    }
    REQUIRE(store->add({&log, 1}));
  }
  return *season_of(*store);
}
template <class Write>
std::string written(Write&& write) {
  fmt::memory_buffer out;
  write(out);
  return fmt::to_string(out);
}

TEST_CASE("text keeps to 80 columns and tells what to book") {
  const SeasonReport report = six_sets();
  for (const UnitSystem units :
       {UnitSystem::as_logged, UnitSystem::metric, UnitSystem::us}) {
    const std::string text = written([&](fmt::memory_buffer& out) {
      write_season_text(report, {units, false}, out);
    });
    std::istringstream lines(text);
    for (std::string line; std::getline(lines, line);) {
      INFO(line);
      CHECK(host::columns_of(line) <= Page::kWidth);
      CHECK(telltale::host::columns_of(line) <= Page::kWidth);
    }
    CHECK(text.find("Hot oil pressure falls by") != std::string::npos);
    CHECK((text.find("psi") != std::string::npos) == (units == UnitSystem::us));
  }
}

std::string text_of(const SeasonReport& report) {
  return written([&](fmt::memory_buffer& out) {
    write_season_text(report, {UnitSystem::metric, false}, out);
  });
}
bool says(const std::string& text, const std::string& what) {
  return text.find(what) != std::string::npos;
}

TEST_CASE("of many sets only those with findings are told in full") {
  SeasonReport report = six_sets();
  CHECK(says(text_of(report), "5 sets are healthy; --unit NAME shows one"));
  CHECK_FALSE(says(text_of(report), "\nDunlin\n------"));
  report.units.pop_back();
  CHECK(says(text_of(report), "\nDunlin\n------"));
}

// The service of its oil, a limit that comes nearer, what no run tells: what a
// set's own lines are there for.
TEST_CASE("a set's own lines say what is missing, and why") {
  LogDigest log = small_digest("Heron", 0, 5);
  log.units[0].rating.power_kw = kUnknown;
  log.units[0].model.clear();
  LogDigest other = small_digest("Tern", 0, 5);
  other.units[0].rating.power_kw = kUnknown;
  other.units[0].model.clear();
  test::TempFolder folder;
  Result<Store> store = Store::open(folder.path() + "/s.db", Access::write);
  REQUIRE(store->add({&log, 1}));
  REQUIRE(store->add({&other, 1}));
  const std::string text = text_of(*season_of(*store));
  CHECK(says(text, "no trend not enough data: 5 runs, 8 needed"));
  CHECK(says(text, "not seen frequency at load, droop, volts at load"));
  CHECK(says(text, "the rated power is not known"));
  CHECK(says(text, "not seen charging volts, crank time"));
  CHECK(says(text, "Nothing says which sets are of a kind"));
}

TEST_CASE("a meter that does not go on is told") {
  LogDigest log = small_digest("Heron", 0, 20);
  for (std::size_t i = 12; i < 20; ++i) log.runs[i].hours_start -= 90.0;
  test::TempFolder folder;
  Result<Store> store = Store::open(folder.path() + "/s.db", Access::write);
  REQUIRE(store->add({&log, 1}));
  CHECK(says(text_of(*season_of(*store)),
             "hour meter does not go on once, on 2026-01-13"));
}

// A limit far ahead in running hours is planned by the calendar; plural titles
// take a plural verb.
TEST_CASE("a trend reads as a sentence and names the month") {
  LogDigest log = small_digest("Heron", 0, 60);
  Noise noise(32);
  for (RunDigest& run : log.runs) {
    run.figures[0].kind = FigureKind::charging_voltage;
    run.figures[0].basis = "battery";
    run.figures[0].value =
        14.2 - 0.005 * (run.hours_start - 100.0) + 0.01 * noise.normal();
  }
  test::TempFolder folder;
  Result<Store> store = Store::open(folder.path() + "/s.db", Access::write);
  REQUIRE(store->add({&log, 1}));
  const std::string text = text_of(*season_of(*store));
  CHECK(says(text, "Charging volts fall by 0.4"));
  // 0.6 V of 1.2 V in 120 h of 60 days: the other half by the end of April.
  CHECK(says(text, "at 61 h a month from 2026-04"));
}

TEST_CASE("a spell is told as one, with its end") {
  LogDigest log = small_digest("Heron", 0, 45);
  Noise noise(33);
  for (std::size_t i = 0; i < log.runs.size(); ++i) {
    RunFigure& figure = log.runs[i].figures[0];
    figure.value = 300.0 + noise.normal() - (i >= 15 && i < 28 ? 40.0 : 0.0);
  }
  test::TempFolder folder;
  Result<Store> store = Store::open(folder.path() + "/s.db", Access::write);
  REQUIRE(store->add({&log, 1}));
  const SeasonReport report = *season_of(*store);
  CHECK(report.verdict() == Severity::note);
  CHECK(says(text_of(report), "on 2026-01-16 and came back"));
}

TEST_CASE("JSON keeps the names of the schema") {
  const SeasonReport report = six_sets();
  const auto json = nlohmann::json::parse(written(
      [&](fmt::memory_buffer& out) { write_season_json(report, out); }));
  CHECK(json["schema"] == "telltale.season/1");
  REQUIRE(json["units"].size() == 6);
  const auto& unit = json["units"][0];
  CHECK(unit["unit"] == "=Aft <b>\"1\"</b>, port");
  CHECK(unit["runs"] == 50);
  CHECK(unit["hours"] == Approx(200.0));
  const auto& oil = unit["figures"][0];
  CHECK(oil["figure"] == "hot_oil_pressure");
  CHECK(oil["unit"] == "kPa");
  CHECK(oil["reference"]["oil_degc"] == 90.0);
  CHECK(oil["runs"] == 50);
  CHECK(oil["trend"]["low"] <= oil["trend"]["slope_per_100h"]);
  CHECK(oil["trend"]["slope_per_100h"] == Approx(-80.0).margin(2.0));
  CHECK(oil["trend"]["p"] < 0.001);
  // Nominal speed is not known: 110 kPa, at 0.8 kPa an hour.
  CHECK(oil["forecast"]["limit"] == 110.0);
  CHECK(oil["forecast"]["state"] == "ahead");
  CHECK(oil["forecast"]["low"] < oil["forecast"]["hours"]);
  CHECK(oil["forecast"]["hours"] < oil["forecast"]["high"]);
  const double left = (oil["latest"].get<double>() - 110.0) / 0.8;
  CHECK(oil["forecast"]["hours"] == Approx(left).margin(4.0));
  CHECK(oil["changes"].empty());
  CHECK(oil["peers"]["rank"] == 1);
  CHECK(oil["peers"]["of"] == 6);
  CHECK(oil["peers"]["z"] > 4.0);
  REQUIRE(unit["findings"].size() >= 1);
  CHECK(unit["findings"][0]["about"] == "hot_oil_pressure");
  CHECK(unit["service"].size() == 1);
  for (std::size_t i = 1; i < 6; ++i) {
    for (const auto& finding : json["units"][i]["findings"]) {
      CHECK(finding["kind"] == "service");
    }
  }
}

TEST_CASE("CSV has a line a figure and no formula") {
  const SeasonReport report = six_sets();
  const std::string csv =
      written([&](fmt::memory_buffer& out) { write_season_csv(report, out); });
  CHECK(std::count(csv.begin(), csv.end(), '\n') == 1 + 12);
  CHECK(csv.find("\n\"'=Aft <b>\"\"1\"\"</b>, port\"") != std::string::npos);
}

TEST_CASE("HTML escapes names and needs nothing else") {
  const SeasonReport report = six_sets();
  const std::string page = written([&](fmt::memory_buffer& out) {
    write_season_html(report, UnitSystem::metric, out);
  });
  CHECK(page.find("<b>") == std::string::npos);
  CHECK(page.find("=Aft &lt;b&gt;") != std::string::npos);
  CHECK(page.find("://") == std::string::npos);
  CHECK(page.find("nan") == std::string::npos);
  CHECK(page.find("inf") == std::string::npos);
  std::size_t pictures = 0;
  for (std::size_t at = page.find("<svg"); at != std::string::npos;
       at = page.find("<svg", at + 1)) {
    ++pictures;
  }
  CHECK(pictures == 12);
}

TEST_CASE("an empty store has an empty report") {
  const SeasonReport report = season_of(std::vector<UnitHistory>{});
  CHECK(written([&](fmt::memory_buffer& out) {
          write_season_text(report, {}, out);
        }).find("No run in this store") != std::string::npos);
  const auto json = nlohmann::json::parse(written(
      [&](fmt::memory_buffer& out) { write_season_json(report, out); }));
  CHECK(json["units"].empty());
}

}  // namespace
}  // namespace telltale::host::season

// One set of runs, written in many ways, gives one report.
#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <vector>

#include "catch.hpp"
#include "dialects.hpp"
#include "log_writer.hpp"
#include "report/json_writer.hpp"
#include "session/session.hpp"
#include "support/civil_time.hpp"
#include "temp_file.hpp"

namespace telltale::host {
namespace {

using Json = nlohmann::json;
using test::Dialect;

// A run of 24 minutes with faults that no rounding can hide or make: the
// battery is not charged, the speed is set too high for a minute, and oil
// pressure is lost for half a minute.
std::vector<Row> ailing_run() {
  std::vector<Row> rows = test::made_up_rows(1500);
  const auto set = [&](std::size_t from, std::size_t to, Channel channel,
                       double value) {
    for (std::size_t i = from; i < to; ++i) {
      if ((rows[i].present & bit(channel)) != 0) {
        rows[i].value[index_of(channel)] = value;
      }
    }
  };
  set(40, 1460, Channel::battery_voltage, 12.08);
  set(500, 560, Channel::frequency, 64.2);
  set(500, 560, Channel::engine_speed, 1926);
  set(900, 930, Channel::oil_pressure, 51);
  return rows;
}

// Milliseconds of "2026-06-01T08:00:00.5Z" or "t+12.5"; nothing for any other
// text.
std::optional<double> ms_of(const std::string& text, double origin_ms) {
  if (text.starts_with("t+")) {
    return origin_ms + 1000 * std::strtod(text.c_str() + 2, nullptr);
  }
  if (text.size() < 19 || text[4] != '-' || text[10] != 'T') {
    return std::nullopt;
  }
  const auto number = [&](std::size_t at, std::size_t count) {
    return std::atoi(text.substr(at, count).c_str());
  };
  const double days = static_cast<double>(
      days_from_civil(number(0, 4), number(5, 2), number(8, 2)));
  return 86400e3 * days + 3600e3 * number(11, 2) + 60e3 * number(14, 2) +
         1e3 * std::strtod(text.c_str() + 17, nullptr);
}

// Compares what does not depend on how the log is written.
class Comparison {
 public:
  Comparison(const Dialect& dialect, double origin_ms)
      : dialect_(dialect), origin_ms_(origin_ms) {}

  void compare(const Json& want, const Json& got, const std::string& path) {
    if (want.is_object() && got.is_object()) {
      for (const auto& [key, value] : want.items()) {
        if (is_wording(key)) continue;
        if (!got.contains(key)) {
          differ(path + "." + key, value, nullptr);
        } else {
          compare(value, got[key], path + "." + key);
        }
      }
      return;
    }
    if (want.is_array() && got.is_array() && want.size() == got.size()) {
      for (std::size_t i = 0; i < want.size(); ++i) {
        compare(want[i], got[i], path + "[" + std::to_string(i) + "]");
      }
      return;
    }
    if (want.is_number() && got.is_number()) {
      if (!is_near(want.get<double>(), got.get<double>(), path)) {
        differ(path, want, got);
      }
      return;
    }
    if (want.is_string() && got.is_string()) {
      const auto a = ms_of(want.get<std::string>(), origin_ms_);
      const auto b = ms_of(got.get<std::string>(), origin_ms_);
      if (a && b) {
        // Eight digits of a day are a millisecond or so.
        const double slack = dialect_.time == test::TimeStyle::serial ? 2 : 0.1;
        if (std::abs(*a - *b) > slack) differ(path, want, got);
        return;
      }
    }
    if (want != got) differ(path, want, got);
  }

  std::vector<std::string> differences;

 private:
  // Sentences quote lines of the log and its own units.
  static bool is_wording(const std::string& key) {
    return key == "summary" || key == "evidence";
  }

  // A channel's figures may move as far as its readings do.
  [[nodiscard]] bool is_near(double a, double b,
                             const std::string& path) const {
    if (!dialect_.us_units) return std::abs(a - b) <= 1e-9 * std::abs(a);
    for (const ChannelInfo& info : kChannels) {
      const std::string part = ".channels." + std::string(info.slug) + ".";
      if (path.find(part) == std::string::npos) continue;
      Dialect metric = dialect_;
      metric.us_units = false;
      return std::abs(a - b) <= test::tolerance_of(info.channel, dialect_) +
                                    test::tolerance_of(info.channel, metric);
    }
    return std::abs(a - b) <= 0.01 * std::abs(a) + 1e-6;
  }

  void differ(const std::string& path, const Json& want, const Json& got) {
    differences.push_back(path + ": " + want.dump() + " became " + got.dump());
  }

  const Dialect& dialect_;
  double origin_ms_;
};

Json report_of(const std::vector<Row>& rows, const Dialect& dialect) {
  const test::TempFile file(test::write_log(rows, dialect));
  const auto report = examine(file.path(), {});
  if (!report) FAIL(report.error().line());
  fmt::memory_buffer out;
  write_json(*report, out);
  Json json = Json::parse(fmt::to_string(out));
  // What a log says of itself stays; how it is written does not count.
  for (const char* key : {"file", "bytes", "delimiter", "encoding",
                          "time_format", "columns", "notes"}) {
    json["log"].erase(key);
  }
  return json;
}

TEST_CASE("one set of runs gives the same report from every dialect") {
  const std::vector<Row> rows = ailing_run();
  const auto origin = static_cast<double>(rows.front().logged.ms);
  const std::vector<Dialect> all = test::dialects();
  REQUIRE(all.size() >= 40);
  const Json plain = report_of(rows, all.front());
  REQUIRE(plain["runs"].size() == 1);
  std::vector<std::string> checks;
  for (const Json& finding : plain["runs"][0]["findings"]) {
    checks.push_back(finding["check"]);
  }
  for (const char* expected :
       {"charging-low", "frequency-high", "oil-pressure-low"}) {
    INFO(expected);
    CHECK(std::find(checks.begin(), checks.end(), expected) != checks.end());
  }
  for (const Dialect& dialect : all) {
    Comparison comparison(dialect, origin);
    comparison.compare(plain, report_of(rows, dialect), "");
    INFO("dialect: " << dialect.name);
    for (std::size_t i = 0; i < comparison.differences.size() && i < 8; ++i) {
      UNSCOPED_INFO(comparison.differences[i]);
    }
    CHECK(comparison.differences.empty());
  }
}

}  // namespace
}  // namespace telltale::host

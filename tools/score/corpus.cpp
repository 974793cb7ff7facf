#include "score/corpus.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <atomic>
#include <chrono>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <thread>

#include "profile/profile_file.hpp"
#include "report/json_writer.hpp"
#include "session/session.hpp"
#include "simulate/profile_writer.hpp"
#include "simulate/random_scenario.hpp"
#include "simulate/truth/truth_writer.hpp"
#include "simulate/write.hpp"

namespace telltale::tool {
namespace {

namespace sim = host::sim;
using Json = nlohmann::json;

/// Seconds of an ISO stamp or of "t+123.0"; good for differences only.
double seconds_of(const std::string& stamp) {
  if (stamp.rfind("t+", 0) == 0) return std::stod(stamp.substr(2));
  int y = 0, mo = 0, d = 0, h = 0, mi = 0;
  double s = 0.0;
  if (std::sscanf(stamp.c_str(), "%d-%d-%dT%d:%d:%lf", &y, &mo, &d, &h, &mi,
                  &s) < 6) {
    return 0.0;
  }
  using std::chrono::day;
  using std::chrono::month;
  using std::chrono::year;
  const std::chrono::sys_days date = year(y) /
                                     month(static_cast<unsigned>(mo)) /
                                     day(static_cast<unsigned>(d));
  return static_cast<double>(date.time_since_epoch().count()) * 86400.0 +
         h * 3600.0 + mi * 60.0 + s;
}

int rank(const std::string& severity) {
  return severity == "urgent" ? 3 : severity == "attention" ? 2 : 1;
}

struct Files {
  std::string log;
  sim::Scenario scenario;
  Json truth;
  std::string profile;
};

host::Result<Files> write_case(const CorpusCase& which,
                               const std::string& folder) {
  Files out;
  out.scenario = sim::random_scenario(which.seed, "", which.fault);
  const std::string name = which.fault
                               ? std::string(sim::info_of(*which.fault).check)
                               : std::string("healthy");
  out.log = fmt::format("{}/{}-{}.csv", folder, name, which.seed);
  std::ofstream file(out.log, std::ios::binary);
  std::vector<sim::SetTruth> truth;
  const auto facts = sim::write_log(
      out.scenario,
      [&file](std::string_view bytes) {
        file.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
        return static_cast<bool>(file);
      },
      &truth);
  if (!facts) return facts.error();
  out.truth = Json::parse(sim::write_truth(truth));
  out.profile = sim::write_profile(truth.front().scenario.set);
  return out;
}

/// Every check that the truth allows: the faults, what follows from them, and
/// what the true state shows besides.
std::vector<std::string> allowed_checks(const Json& truth) {
  std::vector<std::string> out;
  for (const Json& fault : truth["faults"]) {
    out.push_back(fault["check"]);
    for (const Json& follows : fault["consequences"]) {
      out.push_back(follows["check"]);
    }
  }
  const auto add_findings = [&out](const Json& findings) {
    for (const Json& finding : findings) out.push_back(finding["check"]);
  };
  add_findings(truth["findings"]);
  for (const Json& run : truth["runs"]) add_findings(run["findings"]);
  return out;
}

void compare(const Json& truth, const Json& report, CaseResult& result) {
  const std::vector<std::string> allowed = allowed_checks(truth);
  const Json* fault =
      truth["faults"].empty() ? nullptr : &truth["faults"].front();
  if (fault != nullptr) result.observable = (*fault)["observable"];
  const auto look_at = [&](const Json& finding) {
    const std::string check = finding["check"];
    const std::string severity = finding["severity"];
    const bool own = fault != nullptr && check == (*fault)["check"];
    const int wanted =
        own ? std::min(2, rank((*fault).value("severity", "attention"))) : 0;
    if (own && rank(severity) >= wanted) {
      const bool first = !result.found;
      result.found = true;
      const double delay =
          (*fault)["from"].is_string()
              ? seconds_of(finding["from"]) - seconds_of((*fault)["from"])
              : 0.0;
      if (first || std::abs(delay) < std::abs(result.delay_s)) {
        result.delay_s = delay;
      }
      result.severity_right =
          result.severity_right || severity == (*fault)["severity"];
      return;
    }
    if (std::find(allowed.begin(), allowed.end(), check) != allowed.end()) {
      return;
    }
    const Json& channel = finding["channel"];
    FalseFinding wrong{check, severity,
                       channel.is_string() ? channel.get<std::string>() : "",
                       finding["from"]};
    (rank(severity) >= 2 ? result.false_findings : result.false_notes)
        .push_back(std::move(wrong));
  };
  for (const Json& finding : report["log"]["findings"]) look_at(finding);
  for (const Json& run : report["runs"]) {
    for (const Json& finding : run["findings"]) look_at(finding);
    result.running_h += run["seconds"].get<double>() / 3600.0;
  }
}

}  // namespace

CaseResult examine_case(const CorpusCase& which, const std::string& folder) {
  CaseResult result;
  result.which = which;
  const host::Result<Files> files = write_case(which, folder);
  if (!files) {
    result.error = files.error().line();
    return result;
  }
  if (!files->truth["faults"].empty()) {
    result.sudden = files->truth["faults"].front().value("ramp_s", 0.0) < 5.0;
  }
  host::SessionOptions options;
  const auto profile = host::parse_profile(files->profile, "profile");
  if (!profile) {
    result.error = profile.error().line();
    return result;
  }
  options.profile = *profile;
  // What a person would answer when the log leaves the order open.
  const std::string order = files->truth["log"].value("date_order", "");
  if (order == "dmy") options.read.date_order = host::DateOrder::dmy;
  if (order == "mdy") options.read.date_order = host::DateOrder::mdy;
  const host::Result<host::HealthReport> report =
      host::examine(files->log, options);
  if (!report) {
    result.error = report.error().line();
    return result;
  }
  fmt::memory_buffer json;
  host::write_json(*report, json);
  compare(files->truth, Json::parse(json.data(), json.data() + json.size()),
          result);
  std::error_code ignored;
  std::filesystem::remove(files->log, ignored);
  return result;
}

std::vector<CaseResult> examine_corpus(const std::vector<CorpusCase>& cases,
                                       const std::string& folder,
                                       unsigned threads) {
  std::vector<CaseResult> results(cases.size());
  std::atomic<std::size_t> next{0};
  const auto work = [&] {
    for (std::size_t i = next++; i < cases.size(); i = next++) {
      results[i] = examine_case(cases[i], folder);
    }
  };
  std::vector<std::thread> pool;
  for (unsigned i = 1; i < threads; ++i) pool.emplace_back(work);
  work();
  for (std::thread& thread : pool) thread.join();
  return results;
}

}  // namespace telltale::tool

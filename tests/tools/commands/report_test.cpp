// The program itself, run in a folder of its own: exit codes, one clear line on
// standard error, files written (contract section 2).
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <string>
#include <string_view>
#include <vector>

#include "catch.hpp"
#include "made_log.hpp"
#include "temp_file.hpp"

namespace telltale::test {
namespace {

/// What the program did.
struct Ran {
  int code = -1;
  std::string out;
  std::string err;
};

/// A folder with the logs of these tests; gone at the end.
class Folder {
 public:
  Folder() {
    const char* base = std::getenv("TMPDIR");
    path_ =
        std::string(base != nullptr ? base : "/tmp") + "/telltale-tool.XXXXXX";
    if (::mkdtemp(path_.data()) == nullptr) std::abort();
  }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  ~Folder() { std::filesystem::remove_all(path_); }

  void write(const std::string& name, std::string_view bytes) const {
    std::FILE* file = std::fopen((path_ + "/" + name).c_str(), "wb");
    REQUIRE(file != nullptr);
    REQUIRE(std::fwrite(bytes.data(), 1, bytes.size(), file) == bytes.size());
    std::fclose(file);
  }
  [[nodiscard]] std::string read(const std::string& name) const {
    return slurp(path_ + "/" + name);
  }
  [[nodiscard]] const std::string& path() const { return path_; }

  [[nodiscard]] Ran run(const std::string& arguments,
                        const std::string& before = "") const {
    const std::string command = "cd '" + path_ + "' && " + before + " '" +
                                TELLTALE_PROGRAM + "' " + arguments +
                                " >.out 2>.err";
    Ran out;
    const int status = std::system(command.c_str());
    out.code = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
    out.out = read(".out");
    out.err = read(".err");
    return out;
  }

 private:
  std::string path_;
};

/// Healthy, note only, attention, urgent.
void write_logs(const Folder& folder) {
  folder.write("healthy.csv", csv_of(usual_run(10.0)));
  MadeRun note = usual_run(10.0);
  folder.write("note.csv", csv_of(note.gap(700.0, 760.0)));
  MadeRun attention = usual_run(20.0);
  attention.fault(Channel::battery_voltage, during(900.0, 200.0, to(12.7)));
  folder.write("attention.csv", csv_of(attention));
  MadeRun urgent = usual_run(20.0);
  urgent.fault(Channel::battery_voltage, during(900.0, 200.0, to(12.0)));
  folder.write("urgent.csv", csv_of(urgent));
  folder.write("set.toml", toml_of(Plate{}));
}

/// Exit code 2 and one line that says these things; nothing on standard output.
void check_refused(const Ran& ran, const std::vector<std::string>& says) {
  INFO(ran.err);
  CHECK(ran.code == 2);
  CHECK(ran.out.empty());
  CHECK(lines_of(ran.err).size() == 1);
  CHECK(ran.err.rfind("telltale: ", 0) == 0);
  for (const std::string& word : says) {
    INFO(word);
    CHECK(ran.err.find(word) != std::string::npos);
  }
}

TEST_CASE("report: exit codes follow --fail-on") {
  const Folder folder;
  write_logs(folder);
  const auto code = [&](const std::string& log, const std::string& fail_on) {
    return folder
        .run("report " + log + ".csv --profile set.toml" +
             (fail_on.empty() ? "" : " --fail-on " + fail_on))
        .code;
  };
  CHECK(code("healthy", "") == 0);
  CHECK(code("note", "") == 0);
  CHECK(code("attention", "") == 1);
  CHECK(code("urgent", "") == 1);
  CHECK(code("healthy", "note") == 0);
  CHECK(code("note", "note") == 1);
  CHECK(code("attention", "urgent") == 0);
  CHECK(code("urgent", "urgent") == 1);
  CHECK(code("urgent", "never") == 0);
}

TEST_CASE("report: what can't be read is refused in one clear line") {
  const Folder folder;
  folder.write("empty.csv", "");
  folder.write("picture.csv", std::string("\x89PNG\r\n\x1a\n\0\0\0\rIHDR", 16));
  folder.write("words.csv", "dear all,\nthe set runs well\n");
  ::mkdir((folder.path() + "/logs").c_str(), 0700);
  check_refused(folder.run("report none.csv"), {"none.csv", "no such file"});
  check_refused(folder.run("report logs"), {"logs", "folder"});
  check_refused(folder.run("report empty.csv"), {"empty.csv", "empty"});
  check_refused(folder.run("report picture.csv"), {"picture.csv", "PNG"});
  check_refused(folder.run("report words.csv"), {"words.csv"});
  check_refused(folder.run("columns none.csv"), {"none.csv"});
  if (::geteuid() != 0) {
    folder.write("secret.csv", "time,frequency\n");
    ::chmod((folder.path() + "/secret.csv").c_str(), 0);
    check_refused(folder.run("report secret.csv"), {"secret.csv"});
  }
}

TEST_CASE("report: a log that shows no engine turning is not called healthy") {
  const Folder folder;
  std::string log = "time,Oil temp (C)\n";
  for (int s = 0; s < 60; ++s) log += std::to_string(s) + ",80\n";
  folder.write("temperatures.csv", log);
  const Ran ran = folder.run("report temperatures.csv");
  CHECK(ran.code == 2);
  CHECK(ran.err.find("no column tells whether the engine turns") !=
        std::string::npos);
  CHECK(std::count(ran.err.begin(), ran.err.end(), '\n') == 1);
  CHECK(ran.out.find("Oil temp") != std::string::npos);
}

// A journal that a log reader refuses, and one whose states it could take for
// the set's.
TEST_CASE("columns: a journal of alarms is shown as one, and report says so") {
  const Folder folder;
  folder.write("intervals.csv",
               "alarm,time on,time off\n"
               "oil low,2026-06-01 08:00:00,2026-06-01 08:00:05\n"
               "bilge high,2026-06-01 09:00:00,2026-06-01 09:00:05\n");
  folder.write("states.csv",
               "time,tag,state\n2026-06-01 08:00:00,OIL LOW,ON\n"
               "2026-06-01 08:00:05,OIL LOW,OFF\n");
  for (const char* name : {"intervals.csv", "states.csv"}) {
    INFO(name);
    const Ran ran = folder.run(std::string("columns ") + name);
    CHECK(ran.code == 0);
    CHECK(ran.err.empty());
    CHECK(ran.out.find("names the alarm") != std::string::npos);
    CHECK(ran.out.find("a journal: each row an") != std::string::npos);
    CHECK(ran.out.find("telltale alarms") != std::string::npos);
    check_refused(folder.run(std::string("report ") + name),
                  {name, "telltale alarms"});
  }
  // A log of nothing but the set's state is none.
  folder.write("running.csv",
               "time,running\n2026-06-01 08:00:00,0\n2026-06-01 08:00:05,1\n"
               "2026-06-01 08:00:10,1\n2026-06-01 08:00:15,0\n");
  CHECK(folder.run("columns running.csv").out.find("journal") ==
        std::string::npos);
  const Ran json = folder.run("columns intervals.csv --json");
  const auto log = nlohmann::json::parse(json.out);
  CHECK(log["rows"] == 2);
  CHECK(log["first"] == "2026-06-01T08:00:00");
  CHECK(log["columns"][2]["channel"] == "time");
  // From standard input, which is read but once.
  CHECK(folder.run("columns - < intervals.csv").out.find("names the alarm") !=
        std::string::npos);
}

TEST_CASE("report: bad options and bad profiles are refused by name") {
  const Folder folder;
  write_logs(folder);
  folder.write("hz.toml", "[rating]\nfrequency_hz = 61\n");
  folder.write("key.toml", "[rating]\nfrequency_hz = 60\npowr_kw = 8\n");
  folder.write("limit.toml",
               "[limits]\n\n\"coolant-high\" = { attention = 100, urgent = 90 }"
               "\n");
  const std::string log = "report healthy.csv ";
  check_refused(folder.run(log + "--nosuch"), {"--nosuch"});
  check_refused(folder.run("report"), {"LOG"});
  check_refused(folder.run(""), {"--help"});
  check_refused(folder.run(log + "--timezone 99"), {"--timezone", "99"});
  check_refused(folder.run(log + "--profile none.toml"), {"none.toml"});
  check_refused(folder.run(log + "--profile hz.toml"), {"hz.toml:2", "61"});
  check_refused(folder.run(log + "--profile key.toml"),
                {"key.toml:3", "powr_kw"});
  check_refused(folder.run(log + "--profile limit.toml"),
                {"limit.toml:3", "coolant-high"});
  check_refused(folder.run(log + "--map none.toml"), {"none.toml"});
  check_refused(folder.run(log + "--json nowhere/x.json --quiet"),
                {"nowhere/x.json"});
  check_refused(folder.run(log + "--json - --csv -"), {"standard output"});
  check_refused(folder.run("checks nosuch"), {"nosuch"});
}

TEST_CASE("report: a wrong word is named") {
  const Folder folder;
  write_logs(folder);
  check_refused(folder.run("nosuch"), {"nosuch"});
  check_refused(folder.run("report healthy.csv --units furlong"),
                {"furlong", "metric"});
}

TEST_CASE("report: an output never replaces a log") {
  const Folder folder;
  write_logs(folder);
  const std::string before = folder.read("healthy.csv");
  for (const char* option : {"--json", "--csv", "--rejects"}) {
    check_refused(folder.run(std::string("report healthy.csv ") + option +
                             " healthy.csv"),
                  {"healthy.csv", "one of the logs"});
    CHECK((folder.read("healthy.csv") == before));
  }
}

TEST_CASE("report: an output never replaces a log by another name") {
  const Folder folder;
  write_logs(folder);
  ::symlink("healthy.csv", (folder.path() + "/link.csv").c_str());
  const std::string before = folder.read("healthy.csv");
  for (const char* name : {"./healthy.csv", "link.csv"}) {
    const Ran ran =
        folder.run(std::string("report healthy.csv --json ") + name);
    CHECK(ran.code == 2);
    CHECK((folder.read("healthy.csv") == before));
  }
}

TEST_CASE("report: one log that fails does not keep the others from it") {
  const Folder folder;
  write_logs(folder);
  const Ran ran = folder.run("report none.csv healthy.csv --json r.json");
  CHECK(ran.code == 2);
  CHECK(lines_of(ran.err).size() == 1);
  CHECK(ran.out.find("healthy.csv") != std::string::npos);
  const auto json = nlohmann::json::parse(folder.read("r.json"));
  REQUIRE(json.is_array());
  CHECK(json.size() == 1);
}

TEST_CASE("report: standard input and standard output") {
  const Folder folder;
  write_logs(folder);
  const Ran ran =
      folder.run("report - --json - --profile set.toml", "cat urgent.csv |");
  CHECK(ran.code == 1);
  const auto json = nlohmann::json::parse(ran.out);
  CHECK(json["runs"][0]["verdict"] == "urgent");
  const Ran csv = folder.run("report healthy.csv --csv -");
  CHECK(lines_of(csv.out).size() == 2);
}

TEST_CASE("report: --quiet says nothing, no colour and no bar off a terminal") {
  const Folder folder;
  write_logs(folder);
  const Ran quiet = folder.run("report urgent.csv --quiet");
  CHECK(quiet.code == 1);
  CHECK(quiet.out.empty());
  CHECK(quiet.err.empty());
  const Ran loud = folder.run("report urgent.csv");
  CHECK(loud.out.find('\x1b') == std::string::npos);
  CHECK(loud.err.empty());
}

TEST_CASE("report: lines that can't be read are kept byte for byte") {
  const Folder folder;
  std::string log = csv_of(usual_run(5.0));
  log += "total nonsense;;; \xff\n2026-06-99T25:00:00Z,1,2\n";
  folder.write("log.csv", log);
  const Ran ran = folder.run("report log.csv --rejects bad.txt --json r.json");
  CHECK(ran.code == 0);
  const auto json = nlohmann::json::parse(folder.read("r.json"));
  CHECK(json["log"]["rejected"] == 2);
  CHECK(folder.read("bad.txt").find("total nonsense;;; \xff\n") !=
        std::string::npos);
}

TEST_CASE("the program explains itself") {
  const Folder folder;
  for (const char* arguments :
       {"--help", "--version", "report --help", "columns --help",
        "checks --help", "checks", "checks oil-pressure-fade"}) {
    INFO(arguments);
    const Ran ran = folder.run(arguments);
    CHECK(ran.code == 0);
    CHECK(!ran.out.empty());
    CHECK(ran.err.empty());
  }
  // Every check of the contract, and limits as the profile sets them.
  folder.write("set.toml", "[limits]\n\"coolant-high\" = { attention = 91 }\n");
  const std::string all = folder.run("checks --profile set.toml").out;
  CHECK(all.find("coolant-high") != std::string::npos);
  CHECK(all.find("91") != std::string::npos);
}

}  // namespace
}  // namespace telltale::test

// The real program watching streams and growing files.
#include <csignal>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>
#include <string>
#include <thread>
#include <vector>

#include "catch.hpp"
#include "child.hpp"
#include "left_out.hpp"
#include "run_command.hpp"

namespace telltale::test {
namespace {

using Json = nlohmann::json;
namespace fs = std::filesystem;

const std::string kProgram = TELLTALE_PROGRAM;

/// A folder of its own, gone at the end.
struct Scratch {
  Scratch() {
    std::string name = (fs::temp_directory_path() / "watch-XXXXXX").string();
    path = ::mkdtemp(name.data());
  }
  ~Scratch() { fs::remove_all(path); }
  [[nodiscard]] std::string file(const std::string& name) const {
    return (path / name).string();
  }
  fs::path path;
};

std::string text_of(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  std::ostringstream out;
  out << in.rdbuf();
  return out.str();
}
void append(const std::string& path, const std::string& text) {
  std::ofstream(path, std::ios::binary | std::ios::app) << text;
}

/// 45 min with weak charging from the 25th minute on, as the program's own
/// simulator makes it; header first, the rest as lines.
struct Log {
  explicit Log(const Scratch& scratch)
      : path(scratch.file("made.csv")), profile(scratch.file("set.toml")) {
    REQUIRE(run_command(kProgram +
                        " simulate --seed 5 --duration 45m --interval 1 "
                        "--fault charging-low@25m --out " +
                        path + " --profile-out " + profile));
    text = text_of(path);
  }
  /// Where line `n` begins (0: the header).
  [[nodiscard]] std::size_t line(std::size_t n) const {
    std::size_t at = 0;
    while (n-- > 0) at = text.find('\n', at) + 1;
    return at;
  }
  [[nodiscard]] std::string lines(std::size_t from, std::size_t to) const {
    return text.substr(line(from), line(to) - line(from));
  }
  std::string path;
  std::string profile;
  std::string text;
};

std::vector<Json> lines_of(const std::string& output) {
  std::vector<Json> out;
  std::istringstream in(output);
  for (std::string line; std::getline(in, line);) {
    out.push_back(Json::parse(line));
  }
  return out;
}
/// Findings without the summary, as "event check severity from to value".
std::string story(const std::vector<Json>& lines) {
  std::string out;
  for (const Json& line : lines) {
    if (line["event"] == "summary") continue;
    out += line["event"].get<std::string>() + " " +
           line["check"].get<std::string>() + " " +
           line["severity"].get<std::string>() + " " +
           line["from"].get<std::string>() + " " +
           line["to"].get<std::string>() + " " + line["value"].dump() + "\n";
  }
  return out;
}

TEST_CASE("a whole log through standard input: what the report finds") {
  const Scratch scratch;
  const Log log(scratch);
  const auto report =
      run_command(kProgram + " report --fail-on never --json - " + log.path +
                  " --profile " + log.profile);
  REQUIRE(report);
  const Json run = Json::parse(*report)["runs"][0];
  Child child({kProgram, "watch", "--profile", log.profile});
  REQUIRE(child.write(log.text));
  child.close_input();
  int code = 0;
  const std::vector<Json> lines = lines_of(child.wait_for_end(code));
  CHECK(code == 1);
  REQUIRE(lines.size() >= 3);
  CHECK(lines.back()["event"] == "summary");
  CHECK(lines.back()["verdict"] == run["verdict"]);
  bool found = false;
  for (const Json& line : lines) {
    if (line["event"] != "closed" || line["check"] != "charging-low") continue;
    for (const Json& finding : run["findings"]) {
      if (finding["check"] != "charging-low") continue;
      found = true;
      CHECK(line["severity"] == finding["severity"]);
      CHECK(line["from"] == finding["from"]);
      CHECK(line["to"] == finding["to"]);
      CHECK(line["value"] == finding["value"]);
    }
  }
  CHECK(found);
}

TEST_CASE("a finding is told while the stream stays open") {
  const Scratch scratch;
  const Log log(scratch);
  Child child({kProgram, "watch", "--profile", log.profile});
  REQUIRE(child.write(log.text.substr(0, log.line(2300))));
  CHECK(child.wait_for("charging-low").find("\"opened\"") != std::string::npos);
  child.signal(SIGTERM);
  int code = -1;
  const std::vector<Json> lines = lines_of(child.wait_for_end(code));
  CHECK(code == 1);
  CHECK(lines.back()["event"] == "summary");
}

#if defined(__SANITIZE_ADDRESS__)
#define TELLTALE_HOARDS_MEMORY 1
#elif defined(__has_feature)
#if __has_feature(address_sanitizer)
#define TELLTALE_HOARDS_MEMORY 1
#endif
#endif
#ifndef TELLTALE_HOARDS_MEMORY
/// One reading a second of a set that runs well, from second `from` on.
std::string healthy_rows(int from, int to) {
  std::string out;
  unsigned seed = 1;
  for (int s = from; s < to; ++s) {
    seed = seed * 1664525U + 1013904223U;
    const unsigned noise = seed >> 20U;
    out += std::to_string(s) + "," + std::to_string(1795 + noise % 10) +
           ",60.0" + std::to_string(noise % 10) + "," +
           std::to_string(318 + noise % 7) + ",14." +
           std::to_string(10 + noise % 9) + "\n";
  }
  return out;
}

TEST_CASE("a million rows take no more memory than ten thousand") {
  Child child({kProgram, "watch"});
  REQUIRE(
      child.write("elapsed (s),engine speed (rpm),frequency (Hz),"
                  "oil pressure (kPa),battery (V)\n"));
  constexpr int kBlock = 10'000;
  // What the pipe still holds is less than a block.
  REQUIRE(child.write(healthy_rows(0, kBlock)));
  REQUIRE(child.write(healthy_rows(kBlock, 2 * kBlock)));
  const std::size_t early = child.resident_bytes();
  for (int from = 2 * kBlock; from < 1'000'000; from += kBlock) {
    REQUIRE(child.write(healthy_rows(from, from + kBlock)));
  }
  const std::size_t late = child.resident_bytes();
  child.close_input();
  int code = -1;
  const std::vector<Json> lines = lines_of(child.wait_for_end(code));
  REQUIRE(!lines.empty());
  CHECK(lines.back()["event"] == "summary");
  REQUIRE(early > 0);
  // What is remembered of the newest rows fills up in the first few hours; four
  // bytes a row more would show.
  CHECK(late < early + 4 * 1024 * 1024);
}
#endif

TEST_CASE("a growing file, rotated and cut short") {
  const Scratch scratch;
  const Log log(scratch);
  const std::string live = scratch.file("live.csv");
  append(live, log.lines(0, 400));
  Child child({kProgram, "watch", "--follow", live, "--profile", log.profile});
  std::this_thread::sleep_for(std::chrono::milliseconds(300));
  append(live, log.lines(400, 900));
  std::this_thread::sleep_for(std::chrono::milliseconds(600));
  // Rotation: the name goes to a new file, the old one gets a last few rows.
  fs::rename(live, live + ".1");
  append(live + ".1", log.lines(900, 920));
  append(live, log.lines(0, 1) + log.lines(920, 1500));
  std::this_thread::sleep_for(std::chrono::milliseconds(1200));
  // Truncation: the same file from its beginning.
  fs::resize_file(live, 0);
  std::this_thread::sleep_for(std::chrono::milliseconds(600));
  append(live, log.lines(0, 1) + log.text.substr(log.line(1500)));
  child.wait_for("\"closed\"");
  std::this_thread::sleep_for(std::chrono::milliseconds(800));
  child.signal(SIGINT);
  int code = -1;
  const std::vector<Json> lines = lines_of(child.wait_for_end(code));
  CHECK(code == 1);
  REQUIRE(!lines.empty());
  const auto rows = static_cast<std::uint64_t>(
      std::count(log.text.begin(), log.text.end(), '\n') - 1);
  CHECK(lines.back()["event"] == "summary");
  CHECK(lines.back()["rows"] == rows);

  Child whole({kProgram, "watch", log.path, "--profile", log.profile});
  CHECK(story(lines) == story(lines_of(whole.wait_for_end(code))));
}

TEST_CASE("a restart with --state goes on mid-run and mid-finding") {
  const Scratch scratch;
  const Log log(scratch);
  const std::string state = scratch.file("state");
  int code = -1;
  Child whole({kProgram, "watch", "--state", scratch.file("other"), "--profile",
               log.profile, log.path});
  const std::string expected = story(lines_of(whole.wait_for_end(code)));
  for (const std::size_t cut : {700U, 2000U, 2300U}) {
    fs::remove(state);
    std::string told;
    for (const std::string& part :
         {log.text.substr(0, log.line(cut)),
          log.lines(0, 1) + log.text.substr(log.line(cut))}) {
      Child child(
          {kProgram, "watch", "--state", state, "--profile", log.profile});
      REQUIRE(child.write(part));
      child.close_input();
      told += story(lines_of(child.wait_for_end(code)));
    }
    INFO("cut at line " << cut);
    CHECK(told == expected);
  }
  append(state, "x");
  Child child({kProgram, "watch", "--state", state, "--profile", log.profile});
  child.close_input();
  CHECK(child.wait_for_end(code).empty());
  CHECK(code == 2);
}

TEST_CASE("what can't be watched is refused in one line") {
  int code = 0;
  Child nothing({kProgram, "watch"});
  nothing.close_input();
  CHECK(nothing.wait_for_end(code).empty());
  CHECK(code == 2);
  Child temperatures({kProgram, "watch"});
  REQUIRE(temperatures.write(
      "time,Oil temp (C)\n2026-06-01 08:00:00,80\n2026-06-01 08:00:01,80\n"));
  temperatures.close_input();
  CHECK(temperatures.wait_for_end(code).empty());
  CHECK(code == 2);  // not healthy
  Child absent({kProgram, "watch", "/nowhere/at/all.csv"});
  absent.wait_for_end(code);
  CHECK(code == 2);
  Child follow({kProgram, "watch", "--follow"});
  follow.wait_for_end(code);
  CHECK(code == 2);
}

// What a boat would send home by a pipe, with a real broker on loopback.
TEST_CASE("findings reach an MQTT broker by a pipe") {
  // The broker's folder is not on the path of a plain user.
  const auto broker_path = run_command(
      "PATH=$PATH:/usr/sbin; command -v mosquitto_pub >&2 && "
      "command -v mosquitto_sub >&2 && printf %s \"$(command -v mosquitto)\"");
  if (!broker_path || broker_path->empty()) {
    left_out("mosquitto is not installed");
    return;
  }
  const Scratch scratch;
  const Log log(scratch);
  const std::string port = std::to_string(20000 + ::getpid() % 20000);
  append(scratch.file("broker.conf"),
         "listener " + port + " 127.0.0.1\nallow_anonymous true\n");
  Child broker({*broker_path, "-c", scratch.file("broker.conf")});
  for (int i = 0; i < 50; ++i) {
    if (run_command("mosquitto_pub -p " + port + " -t boat/ready -m yes"))
      break;
    std::this_thread::sleep_for(std::chrono::milliseconds(100));
  }
  Child listener({"mosquitto_sub", "-p", port, "-t", "boat/telltale", "-C", "2",
                  "-W", "20"});
  std::this_thread::sleep_for(std::chrono::milliseconds(1000));
  run_command(kProgram + " watch --profile " + log.profile + " " + log.path +
              " | mosquitto_pub -p " + port + " -t boat/telltale -l");
  int code = -1;
  const std::string heard = listener.wait_for_end(code);
  CHECK(heard.find("charging-low") != std::string::npos);
}

}  // namespace
}  // namespace telltale::test

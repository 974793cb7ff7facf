// The store: adding twice, overlaps, crashes, two writers, versions.
#include "season/store.hpp"

#include <sys/wait.h>
#include <unistd.h>

#include <csignal>
#include <cstdio>
#include <fstream>
#include <functional>
#include <sstream>

#include "catch.hpp"
#include "left_out.hpp"
#include "other_store.hpp"
#include "run_command.hpp"
#include "season/digest_file.hpp"
#include "season/history.hpp"
#include "season/schema.hpp"
#include "small_digest.hpp"
#include "temp_folder.hpp"

namespace telltale::host::season {
namespace {

Store opened(const std::string& where) {
  Result<Store> store = Store::open(where, Access::write);
  if (!store) FAIL(store.error().what << ": " << store.error().where);
  return std::move(*store);
}
std::int64_t count(Store& store, const std::string& sql) {
  auto rows = store.database().query(sql);
  REQUIRE(rows);
  REQUIRE((*rows)->next());
  return (*rows)->whole(0);
}
std::vector<AddOutcome> added(Store& store, const LogDigest& digest) {
  const auto outcomes = store.add({&digest, 1});
  REQUIRE(outcomes);
  return *outcomes;
}
constexpr const char* kTables[] = {
    "unit",    "unit_service", "log",        "run",
    "phase",   "channel",      "load_bin",   "load_step",
    "finding", "figure",       "unit_limit", "temperature_bin"};

/// What must hold of every store, wherever it is kept.
void behaves(const std::string& where) {
  {
    Store store = opened(where);
    CHECK(added(store, small_digest("Heron", 0, 10))[0].runs == 10);
    CHECK(added(store, small_digest("Heron", 0, 10))[0].kind ==
          AddOutcome::Kind::known);
    // Another log that holds three of those runs again, and four new ones.
    const AddOutcome overlap = added(store, small_digest("Heron", 7, 7))[0];
    CHECK(overlap.runs == 4);
    CHECK(overlap.runs_known == 3);
    CHECK(added(store, small_digest("Tern", 3, 5))[0].runs == 5);
  }
  Result<Store> store = Store::open(where, Access::read);
  REQUIRE(store);
  const auto units = store->units();
  REQUIRE(units);
  REQUIRE(units->size() == 2);
  CHECK((*units)[0].about.name == "Heron");
  CHECK((*units)[0].runs == 14);
  CHECK((*units)[0].about.model == "M 8");
  REQUIRE((*units)[0].about.service.size() == 1);
  CHECK((*units)[0].about.service[0].done_h == 50.0);
  const auto history = load_history(store->database(), (*units)[0]);
  REQUIRE(history);
  REQUIRE(history->runs.size() == 14);
  CHECK(history->metered);
  const PastFigure& last = history->of(FigureKind::hot_oil_pressure).back();
  CHECK(last.value == 300.0 - 0.1 * 13);
  CHECK(last.basis == Basis::oil);
  CHECK(history->findings.size() == 14);
  const auto runs = store->runs("Heron");
  REQUIRE(runs);
  CHECK(runs->size() == 14);
  CHECK(count(*store, "SELECT COUNT(*) FROM figure_list") == 19);
  CHECK(count(*store,
              "SELECT COUNT(*) FROM finding WHERE summary = "
              "'light; \"quoted\"\nsecond line, naïve'") == 19);

  Result<Store> change = Store::open(where, Access::change);
  REQUIRE(change);
  ForgetFilter heron;
  heron.unit = "Heron";
  const auto gone = change->forget(heron);
  REQUIRE(gone);
  CHECK(*gone == 14);
  CHECK(count(*change, "SELECT COUNT(*) FROM run") == 5);
  CHECK(count(*change, "SELECT COUNT(*) FROM unit") == 1);
  CHECK(count(*change, "SELECT COUNT(*) FROM figure") == 5);
}

TEST_CASE("a store in a file") {
  test::TempFolder folder;
  behaves(folder.path() + "/s.db");
}

// Debian's package brings the server; without it there is nothing to test.
TEST_CASE("a store on a server gives the same answers") {
  const std::string bin = "/usr/lib/postgresql/15/bin/";
  if (::access((bin + "initdb").c_str(), X_OK) != 0) {
    test::left_out("no PostgreSQL server on this machine");
    return;
  }
  test::TempFolder folder;
  const std::string& at = folder.path();
  // The server refuses to run as root.
  const bool root = ::geteuid() == 0;
  if (root) {
    REQUIRE(test::run_command("chown nobody " + at));
  }
  const auto as_user = [&](const std::string& command) {
    return test::run_command(
        root ? "setpriv --reuid=nobody --regid=nogroup --clear-groups env "
               "HOME=" +
                   at + " " + command
             : command);
  };
  REQUIRE(as_user(bin + "initdb -D " + at + "/data -A trust -U telltale"));
  REQUIRE(as_user(bin + "pg_ctl -D " + at + "/data -w -l " + at +
                  "/log -o \"-c listen_addresses='' -k " + at + "\" start"));
  struct Stop {
    std::function<void()> stop;
    ~Stop() { stop(); }
  } const stop{[&] {
    (void)as_user(bin + "pg_ctl -D " + at + "/data -m immediate stop");
  }};
  behaves("postgresql:///postgres?user=telltale&host=" + at);
}

// Each child adds log after log and is killed at some moment: what it had told
// as added must be there, whole, and the store must be sound.
TEST_CASE("a writer that is killed loses nothing and harms nothing") {
  test::TempFolder folder;
  const std::string path = folder.path() + "/s.db";
  opened(path);
  int told = 0;
  for (int round = 0; round < 6; ++round) {
    int ends[2];
    REQUIRE(::pipe(ends) == 0);
    const pid_t child = ::fork();
    REQUIRE(child >= 0);
    if (child == 0) {
      ::close(ends[0]);
      Result<Store> store = Store::open(path, Access::write);
      for (int i = 0; store; ++i) {
        const LogDigest digest =
            small_digest("Set " + std::to_string(round), i * 4, 4);
        if (!store->add({&digest, 1})) break;
        if (::write(ends[1], "x", 1) != 1) break;
      }
      ::_exit(1);
    }
    ::close(ends[1]);
    // Some further logs after the first, at another place each round.
    char byte = 0;
    for (int i = 0; i <= round && ::read(ends[0], &byte, 1) == 1; ++i) ++told;
    ::usleep(static_cast<useconds_t>(500 * round));
    ::kill(child, SIGKILL);
    while (::read(ends[0], &byte, 1) == 1) ++told;
    ::close(ends[0]);
    int status = 0;
    ::waitpid(child, &status, 0);
    CHECK(WIFSIGNALED(status));
  }
  Store store = opened(path);
  auto sound = store.database().query("PRAGMA integrity_check");
  REQUIRE(sound);
  REQUIRE((*sound)->next());
  CHECK((*sound)->text(0) == "ok");
  const std::int64_t logs = count(store, "SELECT COUNT(*) FROM log");
  CHECK(told > 6);
  CHECK(logs >= told);
  CHECK(count(store, "SELECT COUNT(*) FROM run") == 4 * logs);
  CHECK(count(store, "SELECT COUNT(*) FROM figure") == 4 * logs);
}

TEST_CASE("two processes that add at once lose nothing") {
  test::TempFolder folder;
  const std::string path = folder.path() + "/s.db";
  constexpr int kLogs = 15;
  std::vector<pid_t> children;
  for (int who = 0; who < 2; ++who) {
    const pid_t child = ::fork();
    REQUIRE(child >= 0);
    if (child == 0) {
      Result<Store> store = Store::open(path, Access::write);
      bool good = static_cast<bool>(store);
      for (int i = 0; good && i < kLogs; ++i) {
        // Every third log is the same for both.
        const LogDigest digest = small_digest(
            i % 3 == 0 ? "Both" : "Set " + std::to_string(who), i * 3, 3);
        good = static_cast<bool>(store->add({&digest, 1}));
      }
      ::_exit(good ? 0 : 1);
    }
    children.push_back(child);
  }
  for (const pid_t child : children) {
    int status = 0;
    ::waitpid(child, &status, 0);
    CHECK((WIFEXITED(status) && WEXITSTATUS(status) == 0));
  }
  Store store = opened(path);
  CHECK(count(store, "SELECT COUNT(*) FROM log") == 25);
  CHECK(count(store, "SELECT COUNT(*) FROM run") == 75);
  CHECK(count(store, "SELECT COUNT(*) FROM unit") == 3);
}

TEST_CASE("a digest by way of a file fills the same tables") {
  test::TempFolder folder;
  Store direct = opened(folder.path() + "/a.db");
  Store by_file = opened(folder.path() + "/b.db");
  const LogDigest digest = small_digest("Heron", 0, 3);
  added(direct, digest);
  fmt::memory_buffer text;
  write_digest(digest, text);
  CHECK(looks_like_digest({text.data(), text.size()}));
  std::istringstream in(fmt::to_string(text));
  DigestReader reader(in, "test");
  const auto read = reader.next();
  REQUIRE(read);
  REQUIRE(*read);
  added(by_file, **read);
  CHECK_FALSE(reader.next());
  // The moment of adding is the one thing that may differ.
  for (Store* store : {&direct, &by_file}) {
    REQUIRE(store->database().run("UPDATE log SET added_ms = 0"));
  }
  OtherStore other(direct, folder.path() + "/b.db");
  for (const char* table : kTables) {
    INFO(table);
    CHECK(count(direct, std::string("SELECT COUNT(*) FROM ") + table) > 0);
    CHECK(other.rows_apart(table) == 0);
  }
}

TEST_CASE("a digest file that was cut off is told and passed over") {
  fmt::memory_buffer text;
  write_digest(small_digest("Heron", 0, 3), text);
  const std::string whole = fmt::to_string(text);
  const std::string cut = whole.substr(0, whole.size() / 2) + "\n" + whole;
  std::istringstream in(cut);
  DigestReader reader(in, "test");
  const auto first = reader.next();
  REQUIRE(first);
  CHECK_FALSE(*first);
  const auto second = reader.next();
  REQUIRE(second);
  REQUIRE(*second);
  CHECK((**second).runs.size() == 3);
}

TEST_CASE("a store of the first version is brought up to date") {
  test::TempFolder folder;
  const std::string path = folder.path() + "/s.db";
  {
    auto db = open_database(path, Access::write);
    REQUIRE(db);
    CHECK_FALSE(migrate_to(**db, 1));
    CHECK(*schema_version(**db) == 1);
  }
  Store store = opened(path);
  CHECK(*schema_version(store.database()) == kSchemaVersion);
  CHECK(count(store, "SELECT COUNT(*) FROM run_list") == 0);
}

TEST_CASE("what is no store is refused, and stays as it was") {
  test::TempFolder folder;
  const std::string path = folder.path() + "/log.csv";
  std::ofstream(path) << "Time,Oil Pressure (psi)\n";
  CHECK_FALSE(Store::open(path, Access::write));
  std::ifstream in(path);
  std::string line;
  std::getline(in, line);
  CHECK(line == "Time,Oil Pressure (psi)");
  CHECK_FALSE(Store::open(folder.path() + "/none.db", Access::read));
  CHECK_FALSE(Store::open(folder.path() + "/none.db", Access::change));
}

}  // namespace
}  // namespace telltale::host::season

// telltale watch [LOG] [--follow] [--state FILE] [options]
//
// The same checks on a live stream: a line of JSON the moment a finding opens,
// changes or closes, and a summary at the end.
#include "commands/watch.hpp"

#include <chrono>
#include <csignal>
#include <cstdio>
#include <fstream>
#include <iterator>
#include <memory>
#include <string>

#include "support/exit_codes.hpp"
#include "support/options.hpp"
#include "support/output.hpp"
#include "watch/byte_follower.hpp"
#include "watch/live_log.hpp"

namespace telltale::tool {
namespace {

using Clock = std::chrono::steady_clock;

struct WatchOptions {
  CommonOptions common;
  std::string log = "-";
  bool follow = false;
  std::string state;
};

volatile std::sig_atomic_t asked_to_end = 0;
void ask_to_end(int) { asked_to_end = 1; }

class WatchCommand {
 public:
  explicit WatchCommand(const WatchOptions& options) : options_(options) {}

  int run() {
    if (options_.follow && options_.log == "-") {
      return fail({"--follow needs the name of a file", "",
                   "standard input is followed to its end anyway"});
    }
    auto read = read_options(options_.common);
    if (!read) return fail(read.error());
    auto profile = profile_of(options_.common);
    if (!profile) return fail(profile.error());
    auto bytes = host::ByteFollower::open(options_.log, options_.follow);
    if (!bytes) return fail(bytes.error());
    host::LiveLog log(options_.log, {*read, *profile, options_.common.unit},
                      [this](const std::string& line) { write(line); });
    if (const auto error = read_state(log)) return fail(*error);
    std::signal(SIGINT, ask_to_end);
    std::signal(SIGTERM, ask_to_end);
    std::signal(SIGPIPE, SIG_IGN);
    if (const auto error = watch(*bytes, log)) return fail(*error);
    return finish(log);
  }

 private:
  static constexpr int kWaitMs = 200;
  static constexpr auto kIdle = std::chrono::seconds(2);
  static constexpr auto kSaveEvery = std::chrono::seconds(30);

  static int fail(const host::Error& error) {
    complain(error);
    return kCouldNotDo;
  }

  std::optional<host::Error> watch(host::ByteFollower& bytes,
                                   host::LiveLog& log) {
    std::string block;
    Clock::time_point last_bytes = Clock::now();
    Clock::time_point last_save = last_bytes;
    while (asked_to_end == 0 && !output_lost_) {
      std::optional<host::Error> error;
      switch (bytes.read(block, kWaitMs)) {
        case host::ByteFollower::Got::bytes:
          last_bytes = Clock::now();
          error = log.feed(block);
          break;
        case host::ByteFollower::Got::nothing:
          if (Clock::now() - last_bytes >= kIdle) error = log.idle();
          break;
        case host::ByteFollower::Got::restart:
          error = log.restart();
          break;
        case host::ByteFollower::Got::end:
          return {};
      }
      if (error) return error;
      if (Clock::now() - last_save >= kSaveEvery) {
        last_save = Clock::now();
        if (auto trouble = write_state(log)) return trouble;
      }
    }
    return {};
  }

  int finish(host::LiveLog& log) {
    // With a state the runs go on when the program comes back.
    if (const auto error = log.finish(options_.state.empty())) {
      return fail(*error);
    }
    if (const auto error = write_state(log)) return fail(*error);
    if (log.rows() == 0 && asked_to_end == 0) {
      return fail({"not one usable row", options_.log,
                   "see telltale columns for how it was read"});
    }
    write(log.summary());
    if (output_lost_) return kCouldNotDo;
    const auto least = options_.common.fail_on;
    return least && log.verdict() >= *least ? kSomethingFound : kNothingFound;
  }

  /// Each line is out before the next row is read.
  void write(const std::string& line) {
    const bool out =
        std::fwrite(line.data(), 1, line.size(), stdout) == line.size() &&
        std::fflush(stdout) == 0;
    if (!out) output_lost_ = true;
  }

  std::optional<host::Error> read_state(host::LiveLog& log) const {
    if (options_.state.empty()) return {};
    std::ifstream file(options_.state, std::ios::binary);
    if (!file) return {};  // the first time there is none
    const std::string bytes((std::istreambuf_iterator<char>(file)), {});
    auto error = log.take_state(bytes);
    if (error) error->where = options_.state;
    return error;
  }
  std::optional<host::Error> write_state(const host::LiveLog& log) const {
    if (options_.state.empty()) return {};
    return write_output(options_.state, log.state());
  }

  const WatchOptions& options_;
  bool output_lost_ = false;
};

}  // namespace

void add_watch(CLI::App& program, int& exit_code) {
  CLI::App* command = program.add_subcommand(
      "watch", "the same checks on a live stream, findings as lines of JSON");
  auto options = std::make_shared<WatchOptions>();
  command->add_option("LOG", options->log,
                      "a log; without it, or with -, standard input");
  command->add_flag("--follow", options->follow,
                    "wait for more at the end of the file, across rotation "
                    "and truncation");
  command
      ->add_option("--state", options->state,
                   "keep what must survive a restart in this file")
      ->type_name("FILE");
  declare_reading(*command, options->common);
  declare_judging(*command, options->common);
  command->callback(
      [options, &exit_code] { exit_code = WatchCommand(*options).run(); });
}

}  // namespace telltale::tool

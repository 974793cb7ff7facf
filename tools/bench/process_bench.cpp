// Whole programs beside each other, by turns, as their user meets them.
//
//   process_bench ROUNDS NAME COMMAND [NAME COMMAND]...
//
// Every command is run by the shell, its output thrown away, once to warm up
// and then ROUNDS times, A B C A B C. Printed as a table: the median time on
// the wall with the quickest and the slowest, processor time, peak memory, and
// the ratio of the medians to that of the first. A command that fails ends it.
#include <fcntl.h>
#include <spawn.h>
#include <sys/resource.h>
#include <sys/wait.h>

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <string>
#include <vector>

extern char** environ;

namespace {

struct Run {
  double wall_s = 0;
  double processor_s = 0;
  double peak_mb = 0;
};

struct Program {
  std::string name;
  std::string command;
  std::vector<Run> runs;
};

double seconds_of(const timeval& t) {
  return static_cast<double>(t.tv_sec) + static_cast<double>(t.tv_usec) / 1e6;
}

[[noreturn]] void give_up(const Program& program) {
  std::fprintf(stderr, "process_bench: %s failed: %s\n", program.name.c_str(),
               program.command.c_str());
  std::exit(1);
}

Run run(const Program& program) {
  posix_spawn_file_actions_t quiet;
  posix_spawn_file_actions_init(&quiet);
  posix_spawn_file_actions_addopen(&quiet, 1, "/dev/null", O_WRONLY, 0);
  std::string shell = "sh";
  std::string option = "-c";
  std::string command = "exec " + program.command;
  char* words[] = {shell.data(), option.data(), command.data(), nullptr};
  const auto from = std::chrono::steady_clock::now();
  pid_t child = 0;
  if (::posix_spawn(&child, "/bin/sh", &quiet, nullptr, words, environ) != 0) {
    give_up(program);
  }
  int status = 0;
  rusage usage{};
  if (::wait4(child, &status, 0, &usage) != child) give_up(program);
  const std::chrono::duration<double> wall =
      std::chrono::steady_clock::now() - from;
  posix_spawn_file_actions_destroy(&quiet);
  // 1: something was found, which is no failure of the program's.
  if (!WIFEXITED(status) || WEXITSTATUS(status) > 1) give_up(program);
  return {wall.count(), seconds_of(usage.ru_utime) + seconds_of(usage.ru_stime),
          static_cast<double>(usage.ru_maxrss) / 1024.0};
}

struct Spread {
  double least, middle, most;
};

Spread spread_of(const std::vector<Run>& runs, double Run::*figure) {
  std::vector<double> x;
  x.reserve(runs.size());
  for (const Run& r : runs) x.push_back(r.*figure);
  std::sort(x.begin(), x.end());
  return {x.front(), x[x.size() / 2], x.back()};
}

}  // namespace

int main(int count, char** words) {
  const int rounds = count > 1 ? std::atoi(words[1]) : 0;
  if (count < 4 || count % 2 != 0 || rounds < 1) {
    std::fprintf(
        stderr, "usage: process_bench ROUNDS NAME COMMAND [NAME COMMAND]...\n");
    return 2;
  }
  std::vector<Program> programs;
  for (int i = 2; i + 1 < count; i += 2) {
    programs.push_back({words[i], words[i + 1], {}});
  }
  for (Program& program : programs) (void)run(program);
  for (int i = 0; i < rounds; ++i) {
    for (Program& program : programs) program.runs.push_back(run(program));
  }
  const double first = spread_of(programs[0].runs, &Run::wall_s).middle;
  std::printf(
      "| | seconds | quickest to slowest | processor seconds | peak, MB | "
      "times the first |\n|---|---|---|---|---|---|\n");
  for (const Program& program : programs) {
    const Spread wall = spread_of(program.runs, &Run::wall_s);
    std::printf("| %s | %.2f | %.2f to %.2f | %.2f | %.0f | %.2f |\n",
                program.name.c_str(), wall.middle, wall.least, wall.most,
                spread_of(program.runs, &Run::processor_s).middle,
                spread_of(program.runs, &Run::peak_mb).most,
                wall.middle / first);
  }
  return 0;
}

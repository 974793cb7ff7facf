// A program of the system as a child, its output read as it comes.
#pragma once

#include <fcntl.h>
#include <poll.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <chrono>
#include <cstddef>
#include <fstream>
#include <string>
#include <vector>

namespace telltale::test {

class Child {
 public:
  /// Starts it; its input is written by write().
  explicit Child(const std::vector<std::string>& words) {
    std::array<int, 2> in{};
    std::array<int, 2> out{};
    if (::pipe2(in.data(), O_CLOEXEC) != 0) return;
    if (::pipe2(out.data(), O_CLOEXEC) != 0) return;
    std::vector<char*> argv;
    for (const std::string& word : words) {
      argv.push_back(const_cast<char*>(word.c_str()));
    }
    argv.push_back(nullptr);
    pid_ = ::fork();
    if (pid_ == 0) {
      ::dup2(in[0], STDIN_FILENO);
      ::dup2(out[1], STDOUT_FILENO);
      ::execvp(argv[0], argv.data());
      ::_exit(127);
    }
    ::close(in[0]);
    ::close(out[1]);
    in_ = in[1];
    out_ = out[0];
  }
  Child(const Child&) = delete;
  Child& operator=(const Child&) = delete;
  ~Child() {
    close_input();
    if (pid_ > 0) {
      ::kill(pid_, SIGKILL);
      ::waitpid(pid_, nullptr, 0);
    }
    if (out_ >= 0) ::close(out_);
  }

  bool write(const std::string& text) const {
    std::size_t done = 0;
    while (done < text.size()) {
      const ssize_t n = ::write(in_, text.data() + done, text.size() - done);
      if (n <= 0) return false;
      done += static_cast<std::size_t>(n);
    }
    return true;
  }
  void close_input() {
    if (in_ >= 0) ::close(in_);
    in_ = -1;
  }
  /// Memory that it holds now, in bytes; 0 where /proc does not tell.
  [[nodiscard]] std::size_t resident_bytes() const {
    std::ifstream in("/proc/" + std::to_string(pid_) + "/statm");
    std::size_t all = 0;
    std::size_t resident = 0;
    in >> all >> resident;
    return resident * static_cast<std::size_t>(::sysconf(_SC_PAGESIZE));
  }
  void signal(int number) const { ::kill(pid_, number); }

  /// Output until it holds `text`, or 20 s have passed; all output so far.
  std::string wait_for(const std::string& text) {
    const auto give_up =
        std::chrono::steady_clock::now() + std::chrono::seconds(20);
    while (seen_.find(text) == std::string::npos &&
           std::chrono::steady_clock::now() < give_up && read_some()) {
    }
    return seen_;
  }
  /// Output up to its end, and the exit code (-1: it did not exit by itself).
  std::string wait_for_end(int& exit_code) {
    const auto give_up =
        std::chrono::steady_clock::now() + std::chrono::seconds(20);
    while (std::chrono::steady_clock::now() < give_up && read_some()) {
    }
    int status = 0;
    ::waitpid(pid_, &status, 0);
    pid_ = -1;
    exit_code = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
    return seen_;
  }

 private:
  /// False at the end.
  bool read_some() {
    pollfd waiting{out_, POLLIN, 0};
    if (::poll(&waiting, 1, 100) <= 0) return true;
    std::array<char, 4096> block{};
    const ssize_t n = ::read(out_, block.data(), block.size());
    if (n > 0) seen_.append(block.data(), static_cast<std::size_t>(n));
    return n > 0;
  }

  pid_t pid_ = -1;
  int in_ = -1;
  int out_ = -1;
  std::string seen_;
};

}  // namespace telltale::test

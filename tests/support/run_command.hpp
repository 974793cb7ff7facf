// Runs a program of the system, for tests that compare with one.
#pragma once

#include <array>
#include <cstdio>
#include <optional>
#include <string>

namespace telltale::test {

/// What the command writes; nothing where it fails or is not there.
inline std::optional<std::string> run_command(const std::string& command) {
  std::FILE* pipe = ::popen((command + " 2>/dev/null").c_str(), "r");
  if (pipe == nullptr) return std::nullopt;
  std::string output;
  std::array<char, 4096> block;
  std::size_t got = 0;
  while ((got = std::fread(block.data(), 1, block.size(), pipe)) > 0) {
    output.append(block.data(), got);
  }
  if (::pclose(pipe) != 0) return std::nullopt;
  return output;
}

}  // namespace telltale::test

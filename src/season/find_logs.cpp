#include "season/find_logs.hpp"

#include <glob.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <filesystem>
#include <optional>
#include <string_view>
#include <unordered_set>

namespace telltale::host::season {
namespace {

namespace fs = std::filesystem;

bool looks_like_log(const fs::path& path) {
  std::string name = path.filename().string();
  if (name.empty() || name[0] == '.') return false;
  for (char& c : name) {
    c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  }
  if (name.ends_with(".gz")) name.resize(name.size() - 3);
  constexpr std::array<std::string_view, 6> kEndings = {
      ".csv", ".tsv", ".txt", ".log", ".dat", ".digest"};
  return std::any_of(kEndings.begin(), kEndings.end(),
                     [&name](std::string_view e) { return name.ends_with(e); });
}

std::vector<std::string> in_folder(const std::string& folder) {
  std::vector<std::string> found;
  std::error_code error;
  fs::recursive_directory_iterator it(
      folder, fs::directory_options::skip_permission_denied, error);
  for (; !error && it != fs::recursive_directory_iterator();
       it.increment(error)) {
    std::error_code ignored;
    if (it->is_regular_file(ignored) && looks_like_log(it->path())) {
      found.push_back(it->path().string());
    }
  }
  std::sort(found.begin(), found.end());
  return found;
}

std::vector<std::string> by_pattern(const std::string& pattern) {
  glob_t matches{};
  std::vector<std::string> found;
  if (glob(pattern.c_str(), GLOB_TILDE, nullptr, &matches) == 0) {
    for (std::size_t i = 0; i < matches.gl_pathc; ++i) {
      found.emplace_back(matches.gl_pathv[i]);
    }
  }
  globfree(&matches);
  return found;
}

class Finder {
 public:
  std::optional<Error> add(const std::string& name) {
    std::error_code ignored;
    if (fs::is_directory(name, ignored)) {
      const std::vector<std::string> inside = in_folder(name);
      if (inside.empty()) {
        return Error{"no log in this folder", name,
                     "logs end in .csv, .tsv, .txt, .log or .dat; name other "
                     "files one by one"};
      }
      for (const std::string& file : inside) take(file);
      return std::nullopt;
    }
    if (fs::exists(name, ignored)) {
      take(name);
      return std::nullopt;
    }
    if (name.find_first_of("*?[") == std::string::npos) {
      return Error{"there is no such file", name, "check the name"};
    }
    const std::vector<std::string> matches = by_pattern(name);
    if (matches.empty()) {
      return Error{"no file fits this pattern", name, "check the pattern"};
    }
    for (const std::string& match : matches) {
      if (auto error = add(match)) return error;
    }
    return std::nullopt;
  }
  [[nodiscard]] std::vector<std::string> files() && {
    return std::move(files_);
  }

 private:
  void take(const std::string& file) {
    std::error_code error;
    const fs::path real = fs::weakly_canonical(file, error);
    if (seen_.insert(error ? file : real.string()).second) {
      files_.push_back(file);
    }
  }

  std::vector<std::string> files_;
  std::unordered_set<std::string> seen_;
};

}  // namespace

Result<std::vector<std::string>> find_logs(
    const std::vector<std::string>& named) {
  Finder finder;
  for (const std::string& name : named) {
    if (auto error = finder.add(name)) return *error;
  }
  return std::move(finder).files();
}

}  // namespace telltale::host::season

// Files that live as long as a test.
#pragma once

#include <unistd.h>

#include <cstdio>
#include <cstdlib>
#include <string>
#include <string_view>

namespace telltale::test {

/// A file in the temporary folder with the given bytes; gone at the end.
class TempFile {
 public:
  explicit TempFile(std::string_view bytes, std::string_view suffix = ".csv") {
    const char* folder = std::getenv("TMPDIR");
    path_ = folder != nullptr ? folder : "/tmp";
    path_ += "/telltale-test.XXXXXX";
    path_ += suffix;
    const int fd = ::mkstemps(path_.data(), static_cast<int>(suffix.size()));
    if (fd < 0) std::abort();
    std::FILE* file = ::fdopen(fd, "wb");
    if (std::fwrite(bytes.data(), 1, bytes.size(), file) != bytes.size()) {
      std::abort();
    }
    std::fclose(file);
  }
  TempFile(const TempFile&) = delete;
  TempFile& operator=(const TempFile&) = delete;
  ~TempFile() { ::unlink(path_.c_str()); }

  [[nodiscard]] const std::string& path() const { return path_; }

 private:
  std::string path_;
};

/// All bytes of a file; empty where it can't be read.
inline std::string slurp(const std::string& path) {
  std::string bytes;
  std::FILE* file = std::fopen(path.c_str(), "rb");
  if (file == nullptr) return bytes;
  char block[4096];
  std::size_t got = 0;
  while ((got = std::fread(block, 1, sizeof block, file)) > 0) {
    bytes.append(block, got);
  }
  std::fclose(file);
  return bytes;
}

}  // namespace telltale::test

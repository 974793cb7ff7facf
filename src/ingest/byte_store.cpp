// Files, pipes and memory behind one interface.
#include "ingest/byte_store.hpp"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <cstdlib>
#include <cstring>
#include <system_error>
#include <utility>

#include "ingest/file_kind.hpp"
#include "ingest/gzip_cursor.hpp"

namespace telltale::host {
namespace {

std::string system_text(int error) {
  return std::generic_category().message(error);
}

class FileDescriptor {
 public:
  explicit FileDescriptor(int fd) : fd_(fd) {}
  FileDescriptor(const FileDescriptor&) = delete;
  FileDescriptor& operator=(const FileDescriptor&) = delete;
  FileDescriptor(FileDescriptor&& other) noexcept
      : fd_(std::exchange(other.fd_, -1)) {}
  FileDescriptor& operator=(FileDescriptor&&) = delete;
  ~FileDescriptor() {
    if (fd_ > STDERR_FILENO) ::close(fd_);
  }
  [[nodiscard]] int get() const { return fd_; }

 private:
  int fd_;
};

// read(2) until `count` bytes are there or the source ends.
std::size_t read_fully(int fd, char* to, std::size_t count, int& error) {
  std::size_t have = 0;
  while (have < count) {
    const ssize_t got = ::read(fd, to + have, count - have);
    if (got > 0) {
      have += static_cast<std::size_t>(got);
    } else if (got == 0) {
      break;
    } else if (errno != EINTR) {
      error = errno;
      break;
    }
  }
  return have;
}

bool write_fully(int fd, const char* from, std::size_t count, int& error) {
  while (count > 0) {
    const ssize_t put = ::write(fd, from, count);
    if (put > 0) {
      from += put;
      count -= static_cast<std::size_t>(put);
    } else if (errno != EINTR) {
      error = errno;
      return false;
    }
  }
  return true;
}

class FileStore final : public ByteStore {
 public:
  FileStore(std::string name, std::uint64_t size, FileDescriptor fd)
      : ByteStore(std::move(name), size), fd_(std::move(fd)) {
    look_at_start();
  }

  std::size_t read_at(std::uint64_t offset, char* to, std::size_t count,
                      int& error) const override {
    if (offset >= size_) return 0;
    count = static_cast<std::size_t>(
        std::min<std::uint64_t>(count, size_ - offset));
    std::size_t have = 0;
    while (have < count) {
      const ssize_t got = ::pread(fd_.get(), to + have, count - have,
                                  static_cast<off_t>(offset + have));
      if (got > 0) {
        have += static_cast<std::size_t>(got);
      } else if (got == 0) {
        break;
      } else if (errno != EINTR) {
        error = errno;
        break;
      }
    }
    return have;
  }

 private:
  FileDescriptor fd_;
};

class MemoryStore final : public ByteStore {
 public:
  MemoryStore(std::string name, std::string bytes)
      : ByteStore(std::move(name), bytes.size()), bytes_(std::move(bytes)) {
    look_at_start();
  }

  std::size_t read_at(std::uint64_t offset, char* to, std::size_t count,
                      int& /*error*/) const override {
    if (offset >= bytes_.size()) return 0;
    const auto from = static_cast<std::size_t>(offset);
    count = std::min(count, bytes_.size() - from);
    std::memcpy(to, bytes_.data() + from, count);
    return count;
  }

 private:
  std::string bytes_;
};

class PlainCursor final : public ByteCursor {
 public:
  PlainCursor(std::shared_ptr<const ByteStore> store, std::uint64_t offset)
      : store_(std::move(store)), offset_(offset) {}

  std::size_t read(char* to, std::size_t count) override {
    int error = 0;
    const std::size_t got = store_->read_at(offset_, to, count, error);
    offset_ += got;
    stored_read_ += got;
    if (error != 0) {
      trouble_ = "reading failed: " + system_text(error);
    } else if (got < count && offset_ < store_->size() && trouble_.empty()) {
      trouble_ = "the file became shorter while it was read";
    }
    return got;
  }

 private:
  std::shared_ptr<const ByteStore> store_;
  std::uint64_t offset_;
};

// A temporary file that has no name, so that nothing is left behind.
int open_nameless_file() {
  const char* folder = std::getenv("TMPDIR");
  std::string path = folder != nullptr && *folder != '\0' ? folder : "/tmp";
  path += "/telltale.XXXXXX";
  const int fd = ::mkstemp(path.data());
  if (fd >= 0) ::unlink(path.c_str());
  return fd;
}

using StoreResult = Result<std::shared_ptr<const ByteStore>>;

StoreResult spool(int source, const std::string& name) {
  std::string held;
  constexpr std::size_t kStep = std::size_t{64} << 10;
  int error = 0;
  while (held.size() < ByteStore::kMemoryLimit) {
    const std::size_t before = held.size();
    held.resize(before + kStep);
    const std::size_t got =
        read_fully(source, held.data() + before, kStep, error);
    held.resize(before + got);
    if (error != 0)
      return Error{"reading failed: " + system_text(error), name, ""};
    // Refused before a endless stream of zeros fills the disk.
    if (before == 0) {
      if (auto kind = refuse_binary(held, name)) return *kind;
    }
    if (got < kStep) return ByteStore::of_memory(std::move(held), name);
  }
  FileDescriptor file(open_nameless_file());
  if (file.get() < 0) {
    return Error{"no temporary file could be made: " + system_text(errno), name,
                 "point TMPDIR at a folder that can be written"};
  }
  std::uint64_t size = 0;
  for (;;) {
    if (!write_fully(file.get(), held.data(), held.size(), error)) {
      return Error{
          "the temporary copy could not be written: " + system_text(error),
          name, "point TMPDIR at a folder with more room"};
    }
    size += held.size();
    held.resize(kStep * 4);
    const std::size_t got = read_fully(source, held.data(), held.size(), error);
    held.resize(got);
    if (error != 0)
      return Error{"reading failed: " + system_text(error), name, ""};
    if (got == 0) break;
  }
  return finish_store(std::make_shared<FileStore>(name, size, std::move(file)));
}

}  // namespace

std::shared_ptr<const ByteStore> finish_store(
    std::shared_ptr<ByteStore> store) {
  store->self_ = store;
  return store;
}

void ByteStore::look_at_start() {
  std::array<char, 3> start{};
  int error = 0;
  const std::size_t got = read_at(0, start.data(), start.size(), error);
  // Magic number and method "deflate": RFC 1952 section 2.3.1.
  compressed_ = got == 3 && start[0] == '\x1f' && start[1] == '\x8b' &&
                start[2] == '\x08';
}

std::shared_ptr<const ByteStore> ByteStore::of_memory(std::string bytes,
                                                      std::string name) {
  return finish_store(
      std::make_shared<MemoryStore>(std::move(name), std::move(bytes)));
}

std::unique_ptr<ByteCursor> ByteStore::cursor(std::uint64_t offset) const {
  auto self = self_.lock();
  if (compressed_) return std::make_unique<GzipCursor>(std::move(self));
  return std::make_unique<PlainCursor>(std::move(self), offset);
}

StoreResult ByteStore::open(const std::string& path) {
  const bool standard_input = path == "-";
  const std::string name = standard_input ? "standard input" : path;
  FileDescriptor fd(standard_input
                        ? STDIN_FILENO
                        : ::open(path.c_str(), O_RDONLY | O_CLOEXEC));
  if (fd.get() < 0) {
    const int error = errno;
    switch (error) {
      case ENOENT:
      case ENOTDIR:
        return Error{"no such file", name, "check the name"};
      case EACCES:
        return Error{"no permission to read it", name,
                     "change its permissions or copy it"};
      default:
        return Error{"it can't be opened: " + system_text(error), name, ""};
    }
  }
  struct stat info {};
  if (::fstat(fd.get(), &info) != 0) {
    return Error{"it can't be examined: " + system_text(errno), name, ""};
  }
  if (S_ISDIR(info.st_mode)) {
    return Error{"that is a folder, not a log", name, "name a file in it"};
  }
  const bool terminal = S_ISCHR(info.st_mode) && ::isatty(fd.get()) != 0;
  if ((S_ISCHR(info.st_mode) && !terminal && !standard_input) ||
      S_ISBLK(info.st_mode)) {
    return Error{"that is a device, not a log", name, "name a file"};
  }
  StoreResult store = Error{};
  // A file that is redirected to standard input needs no copy.
  const bool from_start =
      !standard_input || ::lseek(fd.get(), 0, SEEK_CUR) == 0;
  if (S_ISREG(info.st_mode) && from_start) {
    store = finish_store(std::make_shared<FileStore>(
        name, static_cast<std::uint64_t>(info.st_size), std::move(fd)));
  } else {
    store = spool(fd.get(), name);
  }
  if (!store) return store;
  std::string head(std::size_t{64} << 10, '\0');
  const auto cursor = (*store)->cursor();
  head.resize(cursor->read(head.data(), head.size()));
  if (head.empty() && !cursor->trouble().empty()) {
    return Error{cursor->trouble(), name, "copy it again from the logger"};
  }
  if (head.empty()) {
    return Error{"the file is empty", name, "copy it again from the logger"};
  }
  if (auto refusal = refuse_binary(head, name)) return *refusal;
  return store;
}

}  // namespace telltale::host
